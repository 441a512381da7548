// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/words"
)

// Tick is Fyne's check box with a ring while it has the keyboard and a tip. Space
// ticks it; all other keys go on.
type Tick struct {
	widget.Check
	// Tip is shown when the pointer rests on the tick; empty for none.
	Tip   string
	ring  *Ring
	whole fyne.Widget // what embeds it, or itself
}

// NewTick returns a tick of that text.
func NewTick(text string, changed func(bool)) *Tick {
	t := &Tick{}
	t.init(t)
	t.Text, t.OnChanged = words.Of(text), changed
	return t
}

// SetText shows a text, in the language of the window.
func (t *Tick) SetText(text string) { t.Check.SetText(words.Of(text)) }

// init makes whole, which embeds t, a widget.
func (t *Tick) init(whole fyne.Widget) {
	t.ring, t.whole = NewRing(), whole
	t.ExtendBaseWidget(whole)
}

// CreateRenderer implements fyne.Widget.
func (t *Tick) CreateRenderer() fyne.WidgetRenderer {
	return ringed{t.Check.CreateRenderer(), t.ring}
}

// FocusGained implements fyne.Focusable, as do the methods below.
func (t *Tick) FocusGained() {
	t.ring.Show(true)
	t.Check.FocusGained()
	Reveal(t.whole)
	TipSoon(t.whole, t.Tip, under(t.whole))
}

// FocusLost hides the ring.
func (t *Tick) FocusLost() {
	t.ring.Show(false)
	t.Check.FocusLost()
	TipGone(t.whole)
}

// TypedKey passes a key on. Space arrives as a character.
func (t *Tick) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name != fyne.KeySpace {
		Pass(t.whole, ev)
	}
}

// TypedRune ticks or unticks, or passes a character on.
func (t *Tick) TypedRune(r rune) {
	if r == ' ' {
		t.Check.TypedRune(r)
		return
	}
	PassRune(t.whole, r)
}

// MouseIn implements desktop.Hoverable.
func (t *Tick) MouseIn(ev *desktop.MouseEvent) {
	t.Check.MouseIn(ev)
	TipSoon(t.whole, t.Tip, under(t.whole))
}

// MouseOut implements desktop.Hoverable.
func (t *Tick) MouseOut() {
	t.Check.MouseOut()
	TipGone(t.whole)
}
