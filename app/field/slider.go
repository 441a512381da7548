// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
)

// Slider is Fyne's slider with a ring while it has the keyboard and a tip. Left and
// Right step it, Home and End go to its ends; all other keys go on.
type Slider struct {
	widget.Slider
	// Tip is shown when the pointer rests on the slider; empty for none.
	Tip  string
	ring *Ring
}

// NewSlider returns a slider from lo to hi.
func NewSlider(lo, hi, step float64, changed func(float64)) *Slider {
	s := &Slider{ring: NewRing()}
	s.Min, s.Max, s.Step, s.OnChanged = lo, hi, step, changed
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer implements fyne.Widget.
func (s *Slider) CreateRenderer() fyne.WidgetRenderer {
	r := s.Slider.CreateRenderer()
	if way, ok := r.Objects()[0].(*canvas.Rectangle); ok { // which has no edge, and on black no ground either
		way.StrokeColor, way.StrokeWidth = theme.Edge, 1
	}
	return ringed{r, s.ring}
}

// FocusGained implements fyne.Focusable, as do the methods below.
func (s *Slider) FocusGained() {
	s.ring.Show(true)
	s.Slider.FocusGained()
	Reveal(s)
	TipSoon(s, s.Tip, under(s))
}

// FocusLost hides the ring.
func (s *Slider) FocusLost() {
	s.ring.Show(false)
	s.Slider.FocusLost()
	TipGone(s)
}

// TypedKey moves the slider, or passes the key on.
func (s *Slider) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyLeft, fyne.KeyRight:
		s.Slider.TypedKey(ev)
	case fyne.KeyHome:
		s.SetValue(s.Min)
	case fyne.KeyEnd:
		s.SetValue(s.Max)
	default:
		Pass(s, ev)
	}
}

// TypedRune passes a character on.
func (s *Slider) TypedRune(r rune) { PassRune(s, r) }

// MouseIn implements desktop.Hoverable.
func (s *Slider) MouseIn(ev *desktop.MouseEvent) {
	s.Slider.MouseIn(ev)
	TipSoon(s, s.Tip, under(s))
}

// MouseOut implements desktop.Hoverable.
func (s *Slider) MouseOut() {
	s.Slider.MouseOut()
	TipGone(s)
}
