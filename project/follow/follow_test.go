// SPDX-License-Identifier: MIT

package follow_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/follow"
	"earline/project/projecttest"
)

// changed returns d after an edit of its shell and what follows.
func changed(d *project.Design, edit func(*project.Room)) (*project.Design, follow.Moved) {
	after := d.Clone()
	edit(&after.Room)
	return after, follow.Shell(d, after)
}

// wide makes a room wider by moving the walls at its right edge; long the same at
// its back.
func wide(by float64) func(*project.Room) {
	return func(r *project.Room) {
		_, hi := r.Polygon().Bounds()
		for i := range r.Footprint {
			if float64(r.Footprint[i].Y) == hi.Y {
				r.Footprint[i].Y += unit.Length(by)
			}
		}
	}
}

func long(by float64) func(*project.Room) {
	return func(r *project.Room) {
		_, hi := r.Polygon().Bounds()
		for i := range r.Footprint {
			if float64(r.Footprint[i].X) == hi.X {
				r.Footprint[i].X += unit.Length(by)
			}
		}
	}
}

func at(t *testing.T, d *project.Design, name string) project.Point {
	t.Helper()
	for _, l := range d.Speakers {
		if l.Name() == name {
			return l.At
		}
	}
	t.Fatalf("no loudspeaker %s", name)
	return project.Point{}
}

func close(a unit.Length, b float64) bool { return math.Abs(float64(a)-b) < 1e-6 }

// Seen: a room of 4.0 m made 3.9 m left screen, row and loudspeakers 50 mm off the
// middle, the right surround in the wall; made 4.3 m it hung 0.3 m off the wall.
func TestWhatWasCentredStaysCentredWhenTheWidthChanges(t *testing.T) {
	for _, by := range []float64{-0.1, 0.3} {
		d, m := changed(file.New(), wide(by))
		mid := 2 + by/2
		if !close(d.Screen.Centre, mid) || !close(d.Seating.Rows[0].Centre, mid) || !close(at(t, d, "M+000").Y, mid) {
			t.Errorf("by %v: screen %v, row %v, M+000 %v, want %v", by, d.Screen.Centre, d.Seating.Rows[0].Centre, at(t, d, "M+000").Y, mid)
		}
		left, right := at(t, d, "M+030"), at(t, d, "M-030")
		if !close(left.Y, 0.45+by/2) || !close(right.Y, 3.55+by/2) {
			t.Errorf("by %v: the front pair is at %v and %v", by, left.Y, right.Y)
		}
		left, right = at(t, d, "M+110"), at(t, d, "M-110")
		// They aim at the row, which moves: a box that turns keeps off its wall.
		if math.Abs(float64(left.Y)-0.34) > 0.02 || math.Abs(float64(right.Y)-3.66-by) > 0.02 || !close(left.Y+right.Y, 4+by) {
			t.Errorf("by %v: the surrounds are at %v and %v", by, left.Y, right.Y)
		}
		if fs := fit.Findings(d); len(fs) > 0 {
			t.Errorf("by %v: %v", by, fs)
		}
		if want := "screen, 1 row and 5 loudspeakers moved along"; m.Words() != want {
			t.Errorf("by %v: %q, want %q", by, m.Words(), want)
		}
	}
}

func TestWhatHangsOnTheBackWallGoesWithIt(t *testing.T) {
	d, _ := file.Demo("small")
	window := d.Room.Features[1]
	after, m := changed(d, long(0.4))
	if got := after.Room.Features[1]; !close(got.At.X, float64(window.At.X)+0.4) || got.At.Y != window.At.Y {
		t.Errorf("the window is at %v", got.At)
	}
	if after.Room.Features[0] != d.Room.Features[0] || at(t, after, "M+110") != at(t, d, "M+110") || after.Screen != d.Screen {
		t.Error("what hangs elsewhere moved")
	}
	if m.Words() != "1 feature, 2 treatments and 1 light group moved along" {
		t.Error(m.Words())
	}
}

func TestCeilingLoudspeakersFollowTheCeiling(t *testing.T) {
	d, _ := file.Demo("large")
	after, m := changed(d, func(r *project.Room) { r.Ceiling.Height -= 0.2 })
	for i, l := range after.Speakers {
		want := d.Speakers[i].At
		if l.Mount == project.OnCeiling {
			want.Z -= 0.2
		}
		if !close(l.At.Z, float64(want.Z)) || l.At.X != want.X || l.At.Y != want.Y {
			t.Errorf("%s is at %v, want %v", l.Name(), l.At, want)
		}
	}
	for i, f := range after.Room.Features {
		moved := f.Kind != project.Door
		if down := float64(d.Room.Features[i].At.Z - f.At.Z); moved != (math.Abs(down-0.2) < 1e-6) {
			t.Errorf("%s went down by %v", f.Words(), down)
		}
	}
	if m.Screen || m.Rows > 0 || m.Speakers != 6 || m.Features != 6 {
		t.Errorf("%+v", m)
	}
}

// A wall of the large demo, drawn by its corners: what hangs on it goes with it.
func TestAWallMovedByItsCornersTakesAlongWhatHangsOnIt(t *testing.T) {
	d, _ := file.Demo("large")
	after, m := changed(d, func(r *project.Room) { // the left wall, 0.3 m out of the way
		r.Footprint[0].Y, r.Footprint[1].Y = 0.3, 0.3
	})
	for _, name := range []string{"M+060", "M+090", "M+090 b"} {
		was := at(t, d, name)
		if got := at(t, after, name); got.X != was.X || !close(got.Y, 0.3) || got.Z != was.Z {
			t.Errorf("%s is at %v", name, got)
		}
	}
	if got := at(t, after, "M-090"); got != at(t, d, "M-090") {
		t.Errorf("M-090 moved to %v", got)
	}
	if got := after.Room.Features[0]; !close(got.At.Y, 0.5) || !close(got.Length, 8.4) {
		t.Errorf("the left soffit is at %v", got.At)
	}
	if !close(after.Screen.Centre, 2.95) || m.None() {
		t.Errorf("the screen is at %v; %s", after.Screen.Centre, m.Words())
	}
	// The back wall turned: its loudspeaker stays in it, its panel on it.
	after, _ = changed(d, func(r *project.Room) { r.Footprint[1].X = 8.9 })
	got := at(t, after, "M+135")
	if off := after.Room.Polygon().Distance(geometry.Vec2{X: float64(got.X), Y: float64(got.Y)}); off > 1e-6 {
		t.Errorf("M+135 is %v off its wall", off)
	}
}

func TestAPanelOverAWholeWallGoesOnToCoverIt(t *testing.T) {
	d := file.New()
	d.Room.Materials = append(d.Room.Materials, project.Material{ID: "felt", Absorption: make([]float64, project.OctaveCount)})
	d.Room.Treatments = []project.Treatment{
		{Material: "felt", Wall: 2, From: 0, To: 4, Low: 0.5, High: 2.5},   // the back wall, up to the ceiling
		{Material: "felt", Wall: 3, From: 1, To: 2, Low: 0.5, High: 1},     // the right wall, 3 to 4 m from the screen wall
		{Material: "felt", Wall: 4, From: 1.5, To: 2.5, Low: 0.5, High: 1}, // in the middle of the screen wall
	}
	after, m := changed(d, func(r *project.Room) {
		wide(0.6)(r)
		long(1)(r)
		r.Ceiling.Height = 2.4
	})
	ts := after.Room.Treatments
	if !close(ts[0].To, 4.6) || ts[0].From != 0 || !close(ts[0].High, 2.4) {
		t.Errorf("the back wall's is %+v", ts[0])
	}
	if !close(ts[1].From, 2) || !close(ts[1].To, 3) || ts[1].High != 1 {
		t.Errorf("the right wall's is %+v, no longer 3 to 4 m from the screen wall", ts[1])
	}
	if !close(ts[2].From, 1.8) || !close(ts[2].To, 2.8) {
		t.Errorf("the screen wall's is %+v", ts[2])
	}
	if m.Treatments != 3 {
		t.Errorf("%d moved", m.Treatments)
	}
}

// A room made larger puts nothing into a wall or out of the room that was not. What
// follows a wall may meet what does not, which is said by fit.Findings.
func TestALargerRoomBreaksNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Convex: true, Inside: true}.Draw(t)
		known := map[string]bool{}
		for _, f := range fit.Findings(d) {
			known[f.Where] = true
		}
		by := rapid.Float64Range(0, 1).Draw(t, "by")
		edit := rapid.SampledFrom([]func(float64) func(*project.Room){wide, long}).Draw(t, "way")(by)
		after, m := changed(d, edit)
		if err := after.Validate(); err != nil {
			t.Fatal(err)
		}
		if after.Room.Ceiling.Slope != project.Flat {
			return // a sloping ceiling comes lower somewhere
		}
		p, q := d.Room.Polygon(), after.Room.Polygon()
		for i := range p {
			if math.Abs(p.InwardNormal(i).Cross(q.InwardNormal(i))) > 1e-9 {
				return // a wall that turns pinches what stands in its corners
			}
		}
		for _, f := range fit.Findings(after) {
			shell := strings.Contains(f.Text, "wall") || strings.Contains(f.Text, "room") || strings.Contains(f.Text, "ceiling")
			if !known[f.Where] && shell {
				t.Fatalf("%s (%s)", f, m.Words())
			}
		}
	})
}

// Nothing moves that is not said to.
func TestNothingMovesUnsaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Draw(t)
		after, m := changed(d, wide(rapid.Float64Range(-0.5, 0.5).Draw(t, "by")))
		if after.Validate() != nil {
			return // is not done
		}
		n := 0
		for i := range d.Speakers {
			if d.Speakers[i] != after.Speakers[i] {
				n++
			}
		}
		if n != m.Speakers || m.Screen != (d.Screen != after.Screen) {
			t.Fatalf("%d loudspeakers moved, said %q", n, m.Words())
		}
		same, none := changed(d, func(*project.Room) {})
		if !none.None() || same.Screen != d.Screen {
			t.Fatal("an edit that leaves the shell moved something")
		}
	})
}

// Whatever change of the shell is possible is possible with what follows.
func TestWhatFollowsNeverRefusesAChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, _ := file.Demo(rapid.SampledFrom([]string{"small", "two-row", "large"}).Draw(t, "demo"))
		after := d.Clone()
		by := rapid.Float64Range(-3, 3)
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			wide(by.Draw(t, "by"))(&after.Room)
		case 1:
			long(by.Draw(t, "by"))(&after.Room)
		case 2:
			after.Room.Ceiling = project.Ceiling{Slope: rapid.SampledFrom([]project.Slope{project.Flat, project.FrontToBack, project.LeftToRight}).Draw(t, "slope"),
				Height: unit.Length(rapid.Float64Range(0.5, 4).Draw(t, "height")), FarHeight: unit.Length(rapid.Float64Range(0.5, 4).Draw(t, "far"))}
		case 3:
			c := &after.Room.Ceiling
			c.Planes = append(c.Planes, project.CeilingPlane{FromHeight: unit.Length(rapid.Float64Range(0.5, 2).Draw(t, "knee")),
				To: project.Corner{Y: 1}, ToHeight: unit.Length(rapid.Float64Range(1, 3).Draw(t, "higher"))})
		default:
			c := &after.Room.Footprint[rapid.IntRange(0, len(after.Room.Footprint)-1).Draw(t, "corner")]
			c.X, c.Y = c.X+unit.Length(by.Draw(t, "x")), c.Y+unit.Length(by.Draw(t, "y"))
		}
		if after.Validate() != nil {
			return
		}
		m := follow.Shell(d, after)
		if err := after.Validate(); err != nil {
			t.Fatalf("%v (%s)", err, follow.Sentence(d, after, m))
		}
	})
}

// Seen: nothing said what had moved.
func TestWhatMovedIsSaid(t *testing.T) {
	d := file.New()
	after, m := changed(d, wide(-0.1))
	if got, want := follow.Sentence(d, after, m), "Width 3.900 m; screen, 1 row and 5 loudspeakers moved along."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	after, m = changed(d, func(r *project.Room) { r.Ceiling.Height = 2.6 })
	if got := follow.Sentence(d, after, m); got != "" {
		t.Errorf("nothing hangs from the ceiling, but %q", got)
	}
}

// A round column that reaches from wall to wall of a notch, or stands against a wall that
// moves, keeps its diameter.
func TestARoundColumnStaysRound(t *testing.T) {
	d := file.New()
	lo, hi := d.Room.Polygon().Bounds()
	across := unit.Length(hi.Y - lo.Y)
	d.Room.Features = []project.Feature{{Kind: project.Column, Name: "pillar", Length: across, Height: 2, Round: true,
		At: project.Point{X: 2, Y: across / 2}}}
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	after, _ := changed(d, wide(0.3))
	if f := after.Room.Features[0]; !f.Round || f.Length != across || f.Width != 0 {
		t.Errorf("now %+v", f)
	}
	if err := after.Validate(); err != nil {
		t.Error(err)
	}
}
