// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"earline/project"
	"earline/project/practice"
	"earline/project/projecttest"
	"earline/project/sight"
)

// upgraded returns a room of three rows of four recliners under 2.7 m, risers of 0.2 m, a
// picture of 1.78:1 with its lower edge at 0.75 m: as found, rows 2 and 3 miss up to a tenth
// of it, and with the screen alone it would be 2.0 m wide.
func upgraded(t *testing.T) *project.Design {
	t.Helper()
	d := hall(3, 4, 0)
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 8.4, Y: 0}, {X: 8.4, Y: 5}, {X: 0, Y: 5}}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 2.7}
	s := &d.Screen
	s.Aspect, s.Width, s.Bottom, s.Distance, s.Centre, s.Border, s.Transparent = 1.78, 3, 0.75, 0.5, 2.5, 0.05, true
	for i := range d.Seating.Rows {
		r := &d.Seating.Rows[i]
		r.Distance, r.Centre, r.Pitch, r.Stagger, r.Curve = 3.6, 2.5, 0.8, 0, 0
		if i > 0 {
			r.Distance, r.Riser, r.Front, r.Back = r.Distance+1.6, 0.2, 1, 0.6
		}
		if i > 1 {
			r.Distance, r.Riser = r.Distance+1.6, 0.4
		}
	}
	d.Seating.Sitters.Others = 95
	d.Seating.Main = project.MainPosition{Row: 2}
	d.Speakers = nil
	return d
}

// The screen solver knew one answer for a low room with three rows: a picture two metres
// wide, hung over everybody's heads. A wide picture with the rows raised comes before it, and
// it says which row stands in the way.
func TestAWidePictureOnRaisedRowsComesBeforeASmallOne(t *testing.T) {
	d := upgraded(t)
	p, err := Screen(context.Background(), d, ScreenOptions{Ways: true})
	if err != nil {
		t.Fatal(err)
	}
	small := 0.0
	for _, s := range p.Sizes {
		small = max(small, s.Width)
	}
	if len(p.Ways) == 0 || p.Ways[0].Aspect != 2.39 || p.Ways[0].Width < 3 || p.Ways[0].Width < small+0.3 || p.Ways[0].Bottom > 1.15 || p.Ways[0].Risers == nil {
		t.Fatalf("%+v, with the screen alone %.3f m", p.Ways, small)
	}
	if !slices.ContainsFunc(p.Ways, func(w ScreenWay) bool { return w.Drop == 3 }) {
		t.Errorf("no picture without row 3: %+v", p.Ways)
	}
	if !reflect.DeepEqual(p.Design.Seating.Rows, d.Seating.Rows) {
		t.Error("the rows were raised, which nobody asked for")
	}
}

// Asked to, it raises the rows, and every rule on picture and steps that it works by holds
// in what it proposes.
func TestWhatTheScreenSolverRaisesItsOwnRulesAccept(t *testing.T) {
	d := upgraded(t)
	p, err := Screen(context.Background(), d, ScreenOptions{Raise: true, Aspect: 2.39})
	if err != nil {
		t.Fatal(err)
	}
	if p.Design.Screen.Width < 3 || p.Design.Seating.Rows[2].Riser <= d.Seating.Rows[2].Riser || p.After.PictureBlocked > 0 {
		t.Fatalf("%v wide, %+v", p.Design.Screen.Width, p.After)
	}
	for _, m := range practice.Check(p.Design, nil, practice.Standard{}).Failing() {
		if slices.Contains([]string{"picture-whole", "picture-margin", "look-up-top", "step-height", "headroom", "picture-angle-least"}, m.Rule) {
			t.Errorf("%s: %s", m.Rule, m.Text)
		}
	}
}

// In rooms of all kinds every way that is offered shows everybody all of the picture.
func TestEveryWayShowsAllOfThePicture(t *testing.T) {
	for seed := range uint64(12) {
		d := projecttest.Room(seed)
		p, err := Screen(context.Background(), d, ScreenOptions{Ways: true})
		if err != nil {
			t.Fatal(seed, err)
		}
		for i := range p.Ways {
			w := &p.Ways[i]
			c := d.Clone()
			if w.Drop > 0 {
				c = withoutRow(d, w.Drop-1)
			}
			if w.Others > 0 {
				c.Seating.Sitters.Others = w.Others
			}
			w.apply(c)
			v := sight.NewViewer(c)
			for k := range v.Room().Seats {
				if got := v.View(k); got.Verdict != sight.Clear {
					t.Errorf("room %d, %s: row %d seat %d %v", seed, w.Words(d.Units), v.Room().Seats[k].Row, v.Room().Seats[k].Number, got.Verdict)
				}
			}
		}
	}
}

// A screen is only sized in shapes that hold all pictures by what they keep of it, and each
// picture gets what it is said to get.
func TestTheScreenHoldsEveryShape(t *testing.T) {
	d := upgraded(t)
	d.Picture = project.Picture{Held: project.HeldHeight, Aspects: []project.Aspect{{Aspect: 1.78}, {Aspect: 2.39, Name: "Scope"}}}
	p, err := Screen(context.Background(), d, ScreenOptions{Ways: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Sizes) != 1 || p.Sizes[0].Aspect != 2.39 || len(p.Sizes[0].Shapes) != 2 {
		t.Fatalf("%+v", p.Sizes)
	}
	s := p.Sizes[0]
	if tv := s.Shapes[0]; tv.Height-s.Height > 1e-9 || tv.Width >= s.Width || s.Shapes[1].Name != "Scope 2.39:1" {
		t.Errorf("%+v", s)
	}
	d.Picture.Held = project.HeldWidth
	if got := screenAspects(d); !slices.Equal(got, []float64{1.78}) {
		t.Errorf("constant width: screens of %v", got)
	}
}
