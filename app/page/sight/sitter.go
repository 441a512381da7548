// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/session"
	"earline/app/words"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// sitter tries people of other sizes in the seat that is selected, farther back or more
// upright: two sliders beside the tabs. The design stays as it is.
type sitter struct {
	session        *session.Session
	object         fyne.CanvasObject
	all            *fyne.Container
	size, lean     *field.Slider
	sizeIs, leanIs *widget.Label
	planned        *field.Button
}

func newSitter(s *session.Session) *sitter {
	x := &sitter{session: s, sizeIs: widget.NewLabel(""), leanIs: widget.NewLabel("")}
	x.size = field.NewSlider(youngest(), 99, 1, func(float64) { x.try() })
	x.size.Tip = "Who sits in this seat: a child of 6 to 12 years, then from the smallest of a hundred adults to the tallest. The plan stays as it is."
	x.lean = field.NewSlider(0, 1, 1, func(float64) { x.try() })
	x.lean.Tip = "How far back this seat leans. The plan stays as it is."
	x.planned = field.NewButton("As planned", func() {
		if who, ok := s.Planned(s.Chosen.Seat); ok {
			s.TrySitter(s.Chosen.Seat, who)
		}
	})
	x.planned.Tip, x.planned.Importance = "Seat the person that the plan has here", widget.LowImportance
	long := func(o fyne.CanvasObject) fyne.CanvasObject {
		return container.New(layout.NewGridWrapLayout(fyne.NewSize(130, o.MinSize().Height)), o)
	}
	x.all = container.New(layout.NewCustomPaddedHBoxLayout(2), widget.NewLabel(words.Of("Sitter")), long(x.size), x.sizeIs,
		widget.NewLabel(words.Of("leans back")), long(x.lean), x.leanIs, x.planned)
	x.object = container.NewStack(x.all)
	x.all.Hide()
	return x
}

// try seats who the sliders say.
func (x *sitter) try() {
	if _, _, ok := x.session.Sitter(); ok {
		x.session.TrySitter(x.session.Chosen.Seat, sized(x.size.Value, x.lean.Value*unit.Degree))
	}
}

// update shows who sits in the selected seat.
func (x *sitter) update() {
	who, tried, ok := x.session.Sitter()
	if !ok {
		x.all.Hide()
		return
	}
	r := x.session.Tried()
	chair, body := r.Seats[x.session.Chosen.Seat].Chair, r.Bodies[x.session.Chosen.Seat]
	put := func(s *field.Slider, lo, hi, v float64) {
		changed := s.OnChanged
		s.OnChanged, s.Min, s.Max = nil, lo, hi
		s.SetValue(v)
		s.OnChanged = changed
	}
	put(x.size, youngest(), 99, sizeOf(who))
	put(x.lean, float64(chair.MinRecline), float64(chair.MaxRecline), who.Recline/unit.Degree)
	ear := unit.Length(body.Ear().Z - r.Seats[x.session.Chosen.Seat].Ref.Z)
	x.sizeIs.SetText(words.Of(fmt.Sprintf("%s, ear %s up", called(who), ear.Format(r.Design.Units != project.Imperial))))
	x.leanIs.SetText(fmt.Sprintf("%.0f°", math.Round(who.Recline/unit.Degree)))
	if tried {
		x.planned.Enable()
	} else {
		x.planned.Disable()
	}
	x.all.Show()
}

// The slider goes from the youngest child over the others to the percentiles of adults,
// which are above 0.

// youngest is where the slider begins.
func youngest() float64 { return float64(1 - len(place.ChildAges())) }

// sized returns the sitter at a place of the slider.
func sized(v, recline float64) place.Sitter {
	if v <= 0 {
		const middle = 50
		return place.Sitter{Percentile: middle, Age: place.ChildAges()[int(math.Round(v-youngest()))], Recline: recline}
	}
	return place.Sitter{Percentile: v, Recline: recline}
}

// sizeOf returns the place of a sitter on the slider.
func sizeOf(who place.Sitter) float64 {
	if i := slices.Index(place.ChildAges(), who.Age); i >= 0 {
		return youngest() + float64(i)
	}
	return who.Percentile
}

// called says who sits there.
func called(who place.Sitter) string {
	if who.Age > 0 {
		return fmt.Sprintf("child of %d", who.Age)
	}
	return fmt.Sprintf("P%.0f", who.Percentile)
}
