// SPDX-License-Identifier: MIT

package tour_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/scene"
	"earline/scene/tour"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %q", name)
	}
	return d.Clone()
}

type failer interface {
	Fatalf(string, ...any)
	Errorf(string, ...any)
}

// smooth fails the test where the eyes jump, rush, spin or go through something.
func smooth(t failer, r *place.Room, p *tour.Tour) {
	const (
		step    = 1. / 60
		fastest = 1.6               // m/s
		spin    = 110 * unit.Degree // a second
		off     = 0.05              // m: what is nearer is not drawn
	)
	walls := r.Design.Room.Polygon()
	before := p.At(0)
	for s := step; s <= p.Length()+step; s += step {
		m := p.At(s)
		if by := m.Eye.Dist(before.Eye); by > fastest*step {
			t.Fatalf("at %.2f s the eyes go %.3f m, from %v to %v", s, by, before.Eye, m.Eye)
		}
		if by := math.Abs(math.Remainder(m.Az-before.Az, 2*math.Pi)); by > spin*step {
			t.Fatalf("at %.2f s of %.2f one turns by %.1f°", s, p.Length(), by/unit.Degree)
		}
		before = m
		if m.Stays {
			continue
		}
		at := geometry.Vec2{X: m.Eye.X, Y: m.Eye.Y}
		if !walls.Contains(at) || m.Eye.Z > r.Design.Room.CeilingAt(at.X, at.Y) {
			t.Fatalf("at %.2f s the eyes are outside, at %v", s, m.Eye)
		}
		for i := range r.Parts {
			part := &r.Parts[i]
			if part.Person() || part.ChairPart() {
				if k := m.Seat; k != scene.None && part.Row == r.Seats[k].Row && part.Seat == r.Seats[k].Number {
					continue // one's own
				}
			}
			solid := part.Solid()
			if d, _ := solid.Clearance(geometry.Segment{A: m.Eye, B: m.Eye.Add(geometry.Vec{Z: 1e-6})}); d < off {
				t.Fatalf("at %.2f s the eyes at %v are in %s", s, m.Eye, part)
			}
		}
	}
}

// The usual tour of every demo passes through nothing and never jumps.
func TestTheUsualTourPassesThroughNothing(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		r := place.Of(demo(t, name))
		p := tour.Plan(r)
		if len(p.Stops) != 4 || len(p.Notes) > 0 {
			t.Errorf("%s: %d stops, %q", name, len(p.Stops), p.Notes)
		}
		smooth(t, r, p)
		for i, s := range p.Stops {
			for _, at := range []float64{s.Arrive, (s.Arrive + s.Leave) / 2} {
				if m := p.At(at); !m.Stays || m.Stop != i || m.Pose != s.Pose || m.Light.To != s.Scene {
					t.Errorf("%s: at %.1f s %+v, want %+v", name, at, m, s)
				}
			}
		}
	}
}

// From every seat to every other the way leads through nothing.
func TestAWayFromSeatToSeatPassesThroughNothing(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		r := place.Of(d)
		for i, s := range r.Seats {
			to := r.Seats[(i*7+3)%len(r.Seats)]
			d := d.Clone()
			d.Viewpoints = []project.Viewpoint{
				{Name: "a", Kind: project.Seated, Seat: d.Seating.Rows[s.Row-1].SeatID(s.Number), Heading: 20},
				{Name: "b", Kind: project.Seated, Seat: d.Seating.Rows[to.Row-1].SeatID(to.Number), Heading: -20, Scene: project.Show}}
			r := place.Of(d)
			p := tour.Plan(r)
			if len(p.Notes) > 0 {
				t.Errorf("%s, %s to %s: %q", name, s.Name(), to.Name(), p.Notes)
				continue
			}
			smooth(t, r, p)
		}
	}
}

// In any room, of any viewpoints: the time runs from stop to stop, and nothing jumps but
// where a note says so.
func TestAnyTourIsSmooth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Seats: 8, Speakers: 4}.Draw(t)
		d.Identify()
		d.Viewpoints = nil
		r := place.Of(d)
		p := tour.Plan(r)
		end := 0.0
		for _, s := range p.Stops {
			if s.Arrive < end || s.Leave <= s.Arrive {
				t.Fatalf("stops %+v", p.Stops)
			}
			end = s.Leave
		}
		if p.Length() != end {
			t.Fatalf("%v s long, the last stop ends at %v", p.Length(), end)
		}
		for s := 0.0; s < end; s += 0.37 {
			m := p.At(s)
			for _, v := range []float64{m.Eye.X, m.Eye.Y, m.Eye.Z, m.Az, m.El, m.Light.Share} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("at %v s: %+v", s, m)
				}
			}
			if next := p.Next(s); next <= s {
				t.Fatalf("next after %v s is %v s", s, next)
			}
		}
	})
}

// A place where nobody can stand and a seat that is not there are left out, and the tour
// says so.
func TestATourSaysWhatItCannotShow(t *testing.T) {
	d := demo(t, "small")
	lo, _ := d.Room.Polygon().Bounds()
	d.Viewpoints = []project.Viewpoint{
		{Name: "seat", Kind: project.Seated, Seat: "r1.1"},
		{Name: "wall", Kind: project.Standing, At: project.Point{X: unit.Length(lo.X), Y: unit.Length(lo.Y)}},
		{Name: "above", Kind: project.Free, At: project.Point{X: 1, Y: 1, Z: 2}},
		{Name: "gone", Kind: project.Seated, Seat: "r7.1"},
	}
	p := tour.Plan(place.Of(d))
	said := strings.Join(p.Notes, "\n")
	for _, want := range []string{`viewpoint "gone": found seat "r7.1"`, `viewpoint "wall": nobody can stand 0.000 m from the screen wall and 0.000 m from the left wall`} {
		if !strings.Contains(said, want) {
			t.Errorf("notes %q, want %q", p.Notes, want)
		}
	}
	if len(p.Stops) != 2 || p.Stops[1].Arrive != p.Stops[0].Leave || p.At(p.Stops[1].Arrive).Eye != (geometry.Vec{X: 1, Y: 1, Z: 2}) {
		t.Errorf("stops %+v", p.Stops)
	}
	if m := new(tour.Tour).At(1); m != (tour.Moment{}) {
		t.Errorf("no tour shows %+v", m)
	}
}

// A pose that is kept is found again.
func TestAViewpointLeadsBackToWhereItWasKept(t *testing.T) {
	d := demo(t, "large")
	r := place.Of(d)
	for _, v := range tour.Usual(r) {
		p, err := tour.Of(r, &v)
		if err != nil {
			t.Fatal(err)
		}
		again, err := tour.Of(r, ptr(tour.Keep(r, p, v.Kind == project.Standing)))
		if err != nil || again.Seat != p.Seat || again.Eye.Dist(p.Eye) > 0.002 || math.Abs(again.Az-p.Az) > 0.1*unit.Degree {
			t.Errorf("%s: %+v, kept from %+v (%v)", v.Name, again, p, err)
		}
	}
}

func ptr[T any](v T) *T { return &v }
