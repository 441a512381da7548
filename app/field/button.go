// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/words"
)

// Button is Fyne's button with a ring while it has the keyboard and a tip. Enter
// presses it as Space does; all other keys go on.
type Button struct {
	widget.Button
	// Tip is shown when the pointer rests on the button; empty for none.
	Tip  string
	ring *Ring
}

// NewButton returns a button of that text.
func NewButton(text string, tapped func()) *Button { return NewButtonWithIcon(text, nil, tapped) }

// NewButtonWithIcon returns a button of that text and icon.
func NewButtonWithIcon(text string, icon fyne.Resource, tapped func()) *Button {
	b := &Button{ring: NewRing()}
	b.Text, b.Icon, b.OnTapped = words.Of(text), icon, tapped
	b.ExtendBaseWidget(b)
	return b
}

// SetText shows a text, in the language of the window.
func (b *Button) SetText(text string) { b.Button.SetText(words.Of(text)) }

// CreateRenderer implements fyne.Widget.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	return ringed{b.Button.CreateRenderer(), b.ring}
}

// FocusGained implements fyne.Focusable, as do the methods below.
func (b *Button) FocusGained() {
	b.ring.Show(true)
	b.Button.FocusGained()
	Reveal(b)
	TipSoon(b, b.Tip, under(b))
}

// FocusLost hides the ring.
func (b *Button) FocusLost() {
	b.ring.Show(false)
	b.Button.FocusLost()
	TipGone(b)
}

// TypedKey presses the button, or passes the key on.
func (b *Button) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		TipGone(b)
		b.Tapped(&fyne.PointEvent{})
	default:
		Pass(b, ev)
	}
}

// TypedRune passes a character on.
func (b *Button) TypedRune(r rune) {
	if r != ' ' {
		PassRune(b, r)
	}
}

// MouseIn implements desktop.Hoverable.
func (b *Button) MouseIn(ev *desktop.MouseEvent) {
	b.Button.MouseIn(ev)
	TipSoon(b, b.Tip, under(b))
}

// MouseOut implements desktop.Hoverable.
func (b *Button) MouseOut() {
	b.Button.MouseOut()
	TipGone(b)
}

// Tapped implements fyne.Tappable.
func (b *Button) Tapped(at *fyne.PointEvent) {
	TipGone(b)
	b.Button.Tapped(at)
}
