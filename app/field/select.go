// SPDX-License-Identifier: MIT

package field

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/words"
)

// Select is Fyne's drop-down with a ring while it has the keyboard, and a tip where
// what is selected is cut. Space, Enter, Up and Down open it, Left and Right step;
// all other keys go on. In a dialog Enter goes on too.
type Select struct {
	widget.Select
	// Tip is shown when the pointer rests on the drop-down, under what is selected
	// where that is cut.
	Tip     string
	english []string // the options, as they were given
	ring    *Ring
	whole   fyne.Widget // what embeds it, or itself
}

// NewSelect returns a drop-down of options, which are shown in the language of the window.
func NewSelect(options []string, changed func(string)) *Select {
	s := &Select{}
	s.init(s)
	s.english, s.Options, s.OnChanged = options, words.All(options), changed
	return s
}

// Offered returns the options, as they were given.
func (s *Select) Offered() []string { return s.english }

// SetOptions offers other options.
func (s *Select) SetOptions(options []string) {
	s.english = options
	s.Select.SetOptions(words.All(options))
}

// ShowIndex shows the option of that number without choosing it, which would call OnChanged;
// -1 is none.
func (s *Select) ShowIndex(i int) {
	now := ""
	if i >= 0 && i < len(s.Options) {
		now = s.Options[i]
	}
	if s.Selected != now {
		s.Selected = now
		s.Refresh()
	}
}

// init makes whole, which embeds s, a widget.
func (s *Select) init(whole fyne.Widget) {
	s.ring, s.whole = NewRing(), whole
	s.ExtendBaseWidget(whole)
}

func (s *Select) tip() string {
	th := s.Theme()
	room := s.Size().Width - th.Size(base.SizeNameInlineIcon) - 4*th.Size(base.SizeNameInnerPadding)
	if fyne.MeasureText(s.Selected, th.Size(base.SizeNameText), fyne.TextStyle{}).Width > room {
		return strings.TrimSuffix(s.Selected+"\n"+s.Tip, "\n")
	}
	return s.Tip
}

// CreateRenderer implements fyne.Widget.
func (s *Select) CreateRenderer() fyne.WidgetRenderer {
	return ringed{s.Select.CreateRenderer(), s.ring}
}

// FocusGained implements fyne.Focusable, as do the methods below.
func (s *Select) FocusGained() {
	s.ring.Show(true)
	s.Select.FocusGained()
	Reveal(s.whole)
	TipSoon(s.whole, s.tip(), under(s.whole))
}

// FocusLost hides the ring.
func (s *Select) FocusLost() {
	s.ring.Show(false)
	s.Select.FocusLost()
	TipGone(s.whole)
}

// TypedKey opens the list, steps through it, or passes the key on.
func (s *Select) TypedKey(ev *fyne.KeyEvent) {
	c := canvasOf(s.whole)
	if c == nil {
		return
	}
	TipGone(s.whole)
	enter := ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter
	switch {
	case enter && c.Overlays().Top() == nil:
		s.Select.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	case ev.Name == fyne.KeySpace, ev.Name == fyne.KeyUp, ev.Name == fyne.KeyDown, ev.Name == fyne.KeyLeft, ev.Name == fyne.KeyRight:
		if len(s.Options) > 0 {
			s.Select.TypedKey(ev)
		}
	default:
		Pass(s.whole, ev)
	}
}

// TypedRune passes a character on.
func (s *Select) TypedRune(r rune) {
	if r != ' ' {
		PassRune(s.whole, r)
	}
}

// MouseIn implements desktop.Hoverable.
func (s *Select) MouseIn(ev *desktop.MouseEvent) {
	s.Select.MouseIn(ev)
	TipSoon(s.whole, s.tip(), under(s.whole))
}

// MouseOut implements desktop.Hoverable.
func (s *Select) MouseOut() {
	s.Select.MouseOut()
	TipGone(s.whole)
}

// Tapped implements fyne.Tappable.
func (s *Select) Tapped(at *fyne.PointEvent) {
	if Painted(s.whole) {
		TipGone(s.whole)
		s.Select.Tapped(at)
	}
}
