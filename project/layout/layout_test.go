// SPDX-License-Identifier: MIT

package layout_test

import (
	"context"
	"errors"
	"math"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/layout"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/projecttest"
	"earline/project/sight"
)

// room returns a room of testdata/rooms: room-a is plain, for two rows of three, room-b
// L-shaped with soffits, room-d has a bar behind the seats.
func room(t testing.TB, name string) *project.Design {
	t.Helper()
	data, err := os.ReadFile("../../testdata/rooms/" + name + ".earline")
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func plan(t testing.TB, d *project.Design, w layout.Wish) *layout.Proposal {
	t.Helper()
	p, err := layout.Plan(context.Background(), d, w)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// holds fails unless every option of p can stand: it is valid, nobody sits outside, the
// screen is in the middle of its own wall unless it was kept, and whatever must hold and
// does not is in its proof.
func holds(t testing.TB, p *layout.Proposal, w layout.Wish) {
	t.Helper()
	for _, o := range p.Options {
		d := o.Proposal.Design
		if err := d.Validate(); err != nil {
			t.Errorf("%s: %v", o.Name, err)
			continue
		}
		poly := d.Room.Polygon()
		seats := place.Seats(d)
		for _, s := range seats {
			if w.Keep.Rows {
				break
			}
			for _, q := range s.Outline(1) {
				if !poly.Contains(q) && poly.Distance(q) > 0.001 {
					t.Errorf("%s: row %d seat %d reaches out of the room", o.Name, s.Row, s.Number)
				}
			}
		}
		if left, right := wall(poly); o.Rows > 0 && len(p.Options[0].Proposal.Changes) > 0 && !w.Keep.Screen &&
			math.Abs(float64(d.Screen.Centre)-(left+right)/2) > 0.001 {
			t.Errorf("%s: the picture's middle is at %v of a wall from %v to %v", o.Name, d.Screen.Centre, left, right)
		}
		var proof []string
		for _, q := range o.Proposal.Proof {
			proof = append(proof, q.Text)
		}
		tells := func(text string) {
			if !slices.Contains(proof, text) {
				t.Errorf("%s: not told: %s", o.Name, text)
			}
		}
		r := sight.Audit(d)
		for _, m := range practice.Check(d, r, practice.Of(d)).Failing() {
			if m.Severity == practice.Must && m.Rule != "sight" && m.Rule != "picture-whole" {
				tells(m.Text)
			}
		}
		// What those two rules find is told seat by seat.
		for i := range r.Seats {
			for k := range r.Speakers {
				if r.Pair(i, k).Verdict == sight.Blocked {
					tells(r.Sentence(i, k, d.Units))
				}
			}
			if r.Views[i].Verdict == sight.Blocked {
				tells(r.PictureSentence(i, d.Units))
			}
		}
		for _, f := range fit.Findings(d) {
			if !slices.Contains(proof, f.String()) {
				t.Errorf("%s: not told: %s", o.Name, f)
			}
		}
	}
}

// wall returns the longest stretch of wall at the least x.
func wall(poly geometry.Polygon) (left, right float64) {
	lo, hi := poly.Bounds()
	left, right = lo.Y, hi.Y
	best := 0.0
	for i := range poly {
		if a, b := poly.Edge(i); a.X == lo.X && b.X == lo.X && math.Abs(a.Y-b.Y) > best {
			best, left, right = math.Abs(a.Y-b.Y), min(a.Y, b.Y), max(a.Y, b.Y)
		}
	}
	return left, right
}

// A riser of 0.57 m and a small low picture stood in a plain room of 6.1 by 4.2 m.
func TestTwoRowsOfThreeInAPlainRoom(t *testing.T) {
	w := layout.Wish{Seats: 6, System: "9.1.6"}
	p := plan(t, room(t, "room-a"), w)
	holds(t, p, w)
	o := p.Options[0]
	if o.Seats != 6 || o.Rows != 2 || o.Bottom < 0.85 || o.HighestRiser > 0.4 || o.LastAngle < 30 || o.Must > 0 || o.Blocked > 0 {
		t.Errorf("%+v", o.Figures)
	}
	if spare := o.TopLimit - o.Top; spare < 0 || spare > 0.35 || o.Limit == "" {
		t.Errorf("the picture ends %.3f m below what %s allows", spare, o.Limit)
	}
	if o.Width < 3 {
		t.Errorf("the picture is %.2f m wide on a wall of 4.2 m", o.Width)
	}
	d := p.Design
	for _, s := range d.Speakers {
		if strings.HasPrefix(s.Label, "LFE") && float64(s.At.Y) > 0.5 && float64(s.At.Y) < 3.7 {
			t.Errorf("%s stands at %v", s.Name(), s.At)
		}
	}
	last := 0.0
	for _, b := range sight.Audit(d).Bodies {
		last = max(last, b.Ear().X)
	}
	for _, s := range d.Speakers {
		if strings.HasPrefix(s.Label, "U+135") && float64(s.At.X) < last {
			t.Errorf("%s is at %v, before the last row's ears at %.2f", s.Name(), s.At.X, last)
		}
	}
}

// People sat outside an L-shaped room, and the screen hung in the middle of its bounds.
func TestTheLShapedRoomKeepsEverybodyInside(t *testing.T) {
	p := plan(t, room(t, "room-b"), layout.Wish{})
	holds(t, p, layout.Wish{})
	if o := p.Options[0]; o.Seats != 12 || p.Solved() {
		t.Errorf("%+v", o.Figures)
	}
	fewer := slices.IndexFunc(p.Options, func(o layout.Option) bool { return o.Rows < p.Options[0].Rows })
	if len(p.Options) < 3 || fewer < 1 || !strings.Contains(p.Options[fewer].Why, "in place of") {
		t.Fatalf("%d options", len(p.Options))
	}
	if a, b := p.Options[0], p.Options[fewer]; b.Must >= a.Must || b.Blocked > 0 {
		t.Errorf("fewer rows: %+v, was %+v", b.Figures, a.Figures)
	}
}

// The bar behind the seats was lost, and a single row of seven took its place.
func TestTheBarStays(t *testing.T) {
	d := room(t, "room-d")
	p := plan(t, d, layout.Wish{})
	holds(t, p, layout.Wish{})
	for _, o := range p.Options {
		got := o.Proposal.Design
		last := got.Seating.Rows[len(got.Seating.Rows)-1]
		if !reflect.DeepEqual(last, d.Seating.Rows[1]) || !reflect.DeepEqual(got.Room, d.Room) || !reflect.DeepEqual(got.Chairs, d.Chairs) {
			t.Errorf("%s: %+v", o.Name, last)
		}
		if o.Must > 0 || o.Seats != 5 {
			t.Errorf("%s: %+v", o.Name, o.Figures)
		}
		for _, m := range d.Models {
			if _, ok := got.Model(m.ID); !ok {
				t.Errorf("%s: model %s is gone", o.Name, m.ID)
			}
		}
	}
}

// What is said to stay, stays; the rest is planned around it.
func TestWhatIsKeptStays(t *testing.T) {
	d := room(t, "room-a")
	w := layout.Wish{Keep: layout.Keep{Screen: true, Rows: true}}
	p := plan(t, d, w)
	if !reflect.DeepEqual(p.Design.Seating, d.Seating) || p.Design.Screen != d.Screen {
		t.Error("loudspeakers alone were asked for")
	}
	if p.After.Findings >= p.Before.Findings {
		t.Errorf("%+v, then %+v", p.Before, p.After)
	}
	p = plan(t, d, layout.Wish{Keep: layout.Keep{Screen: true}})
	if p.Design.Screen != d.Screen {
		t.Error("the screen moved")
	}
	p = plan(t, d, layout.Wish{Keep: layout.Keep{Loudspeakers: true}})
	if !reflect.DeepEqual(p.Design.Speakers, d.Speakers) {
		t.Error("the loudspeakers moved")
	}
	p = plan(t, d, layout.Wish{Keep: layout.Keep{Rows: true}})
	if !reflect.DeepEqual(p.Design.Seating.Rows, d.Seating.Rows) {
		t.Error("the rows moved")
	}
	p = plan(t, d, layout.Wish{Width: 3, Aspect: 2.39})
	if p.Design.Screen.Width != 3 || p.Design.Screen.Aspect != 2.39 {
		t.Errorf("%+v", p.Design.Screen)
	}
}

func TestEqualWishesGiveEqualPlans(t *testing.T) {
	d := room(t, "room-d")
	if a, b := plan(t, d, layout.Wish{}), plan(t, d, layout.Wish{}); !reflect.DeepEqual(a, b) {
		t.Error("another answer the second time")
	}
}

func TestAPlanCanBeCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	w := layout.Wish{Progress: func(float64, string) { cancel() }}
	if _, err := layout.Plan(ctx, room(t, "room-b"), w); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestAWishOutOfItsLimitsIsRefused(t *testing.T) {
	d := room(t, "room-a")
	for _, w := range []layout.Wish{{Seats: -1}, {Seats: 1000}, {Rows: 9, Seats: 2}, {System: "6.1"}, {Aspect: 9}, {Width: -1},
		{Width: unit.Length(math.NaN())}, {Aspect: math.NaN()}} {
		var f *project.Fault
		if _, err := layout.Plan(context.Background(), d, w); !errors.As(err, &f) {
			t.Errorf("%+v: got %v", w, err)
		}
	}
	if _, err := layout.Plan(context.Background(), nil, layout.Wish{}); err == nil {
		t.Error("no design")
	}
}

// Whatever the room, a plan stands in it, and what must hold and does not is told.
func TestPlansOfDrawnRoomsTellWhatTheyBreak(t *testing.T) {
	rooms := 60
	if n, err := strconv.Atoi(os.Getenv("EARLINE_LAYOUT_ROOMS")); err == nil {
		rooms = n
	}
	if testing.Short() {
		rooms = 6
	}
	for seed := range rooms {
		t.Run(strconv.Itoa(seed), func(t *testing.T) {
			t.Parallel()
			d := projecttest.Room(uint64(seed))
			if d.Validate() != nil {
				return // not a room
			}
			w := layout.Wish{Seats: 1 + seed%9}
			p, err := layout.First(context.Background(), d, w)
			if err != nil {
				t.Fatal(err)
			}
			if p.Options[0].Rows > 0 && len(p.Changes) > 0 {
				holds(t, p, w)
			}
		})
	}
}

// BenchmarkPlan plans 24 seats.
func BenchmarkPlan(b *testing.B) {
	d := layout.Shell(9, 7, 3.2, project.Metric)
	start := file.New()
	d.Chairs, d.Seating.Rows, d.Models, d.Speakers = start.Chairs, start.Seating.Rows, start.Models, start.Speakers
	d.Screen = start.Screen
	for b.Loop() {
		plan(b, d, layout.Wish{Seats: 24, System: "9.1.6"})
	}
}
