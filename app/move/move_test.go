// SPDX-License-Identifier: MIT

package move

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/pair"
	"earline/project/place"
	"earline/scene"
)

var (
	inPlan  = scene.Axes{X: true, Y: true}
	inLong  = scene.Axes{X: true, Z: true}
	inCross = scene.Axes{Y: true, Z: true}
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

func index(t testing.TB, d *project.Design, name string) int {
	t.Helper()
	for i, l := range d.Speakers {
		if l.Name() == name {
			return i
		}
	}
	t.Fatalf("no loudspeaker %s", name)
	return 0
}

// free returns the design with that loudspeaker standing free, and its item.
func free(t testing.TB, name string) (*project.Design, place.Item) {
	d := demo(t, "large")
	i := index(t, d, name)
	for k := range d.Models {
		d.Models[k].Flush = false
	}
	return d, place.Item{Kind: place.SpeakerItem, Index: i}
}

// after returns d with the step made.
func after(d *project.Design, s Step) *project.Design {
	c := d.Clone()
	s.Edit(c)
	return c
}

func start(t testing.TB, d *project.Design, it place.Item, a scene.Axes) *Move {
	t.Helper()
	m, ok := Start(d, it, a)
	if !ok {
		t.Fatalf("%+v cannot be taken hold of", it)
	}
	return m
}

func TestALoudspeakerMovesInThePlaneOfTheDrawing(t *testing.T) {
	for _, c := range []struct {
		name string
		axes scene.Axes
		want geometry.Vec // where it goes when pulled by (0.333, 0.214, -0.111), from (1.005, 2, 1.5)
	}{
		{"plan", inPlan, geometry.V(1.34, 2.21, 1.5)},
		{"long section", inLong, geometry.V(1.34, 2, 1.39)},
		{"cross section", inCross, geometry.V(1.005, 2.21, 1.39)},
	} {
		d, it := free(t, "M+090")
		d.Speakers[it.Index].At = project.PointOf(geometry.V(1.005, 2, 1.5))
		got := after(d, start(t, d, it, c.axes).To(geometry.V(0.333, 0.214, -0.111), Grip{})).Speakers[it.Index].At.Vec()
		if got.Dist(c.want) > 1e-9 {
			t.Errorf("%s: at %v, want %v", c.name, got, c.want)
		}
	}
}

func TestControlMovesByCoarseSteps(t *testing.T) {
	d, it := free(t, "M+090")
	d.Speakers[it.Index].At = project.PointOf(geometry.V(1, 2, 1.5))
	got := after(d, start(t, d, it, inPlan).To(geometry.V(0.13, 0, 0), Grip{Other: true})).Speakers[it.Index].At
	if math.Abs(float64(got.X)-1.15) > 1e-9 {
		t.Errorf("x %v, want 1.15 m, the nearest 50 mm", got.X)
	}
	d.Units = project.Imperial
	got = after(d, start(t, d, it, inPlan).To(geometry.V(0.13, 0, 0), Grip{})).Speakers[it.Index].At
	if n := float64(got.X) / float64(unit.Inch/2); math.Abs(n-math.Round(n)) > 1e-5 { // places are kept to 0.1 micrometre
		t.Errorf("x %v, want whole half inches", got.X.Format(false))
	}
}

func TestALoudspeakerSnapsToTheMirrorImageOfItsPartner(t *testing.T) {
	d, it := free(t, "M+090")
	other := index(t, d, "M-090")
	main := place.MainPoint(d)
	d.Speakers[other].At = project.PointOf(geometry.V(4.123, main.Y+2.345, 1.2))
	d.Speakers[it.Index].At = project.PointOf(geometry.V(4, main.Y-2.2, 1.2))
	s := start(t, d, it, inPlan).To(geometry.V(0.11, -0.13, 0), Grip{Reach: 0.03})
	got := after(d, s).Speakers[it.Index].At.Vec()
	if want := geometry.V(4.123, main.Y-2.345, 1.2); got.Dist(want) > 1e-9 {
		t.Errorf("at %v, want the image of its partner %v", got, want)
	}
	if len(s.Guides) != 1 || s.Guides[0].Text != "mirrors M-090" || !s.Guides[0].Guide {
		t.Errorf("guides %+v, want one that says what it mirrors", s.Guides)
	}
}

func TestALoudspeakerSnapsToTheHeightOfAnother(t *testing.T) {
	d, it := free(t, "M+090")
	for i := range d.Speakers {
		d.Speakers[i].At.Z = 3
	}
	d.Speakers[index(t, d, "M+030")].At.Z = 1.237
	s := start(t, d, it, inLong).To(geometry.V(0, 0, 1.25-3), Grip{Reach: 0.03})
	if got := after(d, s).Speakers[it.Index].At.Z; got != 1.237 {
		t.Errorf("height %v, want 1.237 m, that of M+030", got)
	}
	if len(s.Guides) != 1 || s.Guides[0].Text != "level with M+030" {
		t.Errorf("guides %+v", s.Guides)
	}
	far := after(d, start(t, d, it, inLong).To(geometry.V(0, 0, 1.29-3), Grip{Reach: 0.03})).Speakers[it.Index].At.Z
	if math.Abs(float64(far)-1.29) > 1e-9 {
		t.Errorf("height %v snapped from too far away", far)
	}
}

// A flush loudspeaker stays as far from its wall as it was, whatever the pull,
// and its box within the wall.
func TestAFlushLoudspeakerSlidesAlongItsWall(t *testing.T) {
	base := demo(t, "large")
	base.Models[0].Flush = true
	// A wall that runs along neither axis.
	base.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 8, Y: 1}, {X: 8, Y: 5}, {X: 0, Y: 5.5}}
	poly := base.Room.Polygon()
	rapid.Check(t, func(t *rapid.T) {
		d := base.Clone()
		edge := rapid.IntRange(0, 3).Draw(t, "wall")
		a, b := poly.Edge(edge)
		share := rapid.Float64Range(0.2, 0.8).Draw(t, "share")
		at := a.Add(b.Sub(a).Mul(share))
		d.Speakers[0] = project.Loudspeaker{Label: "M+090", Model: d.Models[0].ID, Mount: project.OnWall,
			At: project.PointOf(geometry.V(at.X, at.Y, 1.5))}
		axes := rapid.SampledFrom([]scene.Axes{inPlan, inLong, inCross}).Draw(t, "drawing")
		pull := rapid.Float64Range(-20, 20)
		m, ok := Start(d, place.Item{Kind: place.SpeakerItem}, axes)
		if !ok {
			t.Fatal("not taken hold of")
		}
		by := geometry.V(pull.Draw(t, "x"), pull.Draw(t, "y"), pull.Draw(t, "z"))
		got := after(d, m.To(by, Grip{Reach: 0.05})).Speakers[0].At.Vec()
		foot := geometry.Vec2{X: got.X, Y: got.Y}
		run := b.Sub(a)
		const tol = 1e-6 // m: places are rounded to 0.1 micrometre
		if off := math.Abs(foot.Sub(a).Cross(run)) / run.Len(); off > tol {
			t.Errorf("%v off its wall", off)
		}
		if s := foot.Sub(a).Dot(run) / run.Len(); s < -tol || s > run.Len()+tol {
			t.Errorf("%v along a wall of %v", s, run.Len())
		}
	})
}

func TestAFlushLoudspeakerFollowsTheCeiling(t *testing.T) {
	d := demo(t, "large")
	d.Models[0].Flush = true
	d.Room.Ceiling = project.Ceiling{Slope: project.FrontToBack, Height: 3, FarHeight: 2.4}
	d.Speakers[0] = project.Loudspeaker{Label: "U+045", Model: d.Models[0].ID, Mount: project.OnCeiling,
		At: project.PointOf(geometry.V(2, 2, d.Room.CeilingAt(2, 2)))}
	for _, axes := range []scene.Axes{inPlan, inLong, inCross} {
		got := after(d, start(t, d, place.Item{Kind: place.SpeakerItem}, axes).To(geometry.V(1.1, 0.6, -1), Grip{})).Speakers[0].At
		if want := d.Room.CeilingAt(float64(got.X), float64(got.Y)); math.Abs(float64(got.Z)-want) > 1e-9 {
			t.Errorf("%+v: height %v, the ceiling is at %v", axes, got.Z, want)
		}
	}
}

func TestARowMovesBackAndForthOrUpAndDown(t *testing.T) {
	d := demo(t, "large")
	it := place.Item{Kind: place.RowItem, Index: 1}
	was := d.Seating.Rows[1]
	by := geometry.V(0.2, 0.7, 0.1)
	row := func(axes scene.Axes, other bool) (project.Row, string) {
		s := start(t, d, it, axes).To(by, Grip{Other: other})
		return after(d, s).Seating.Rows[1], s.Label
	}
	moved, label := row(inLong, false)
	if math.Abs(float64(moved.Distance-was.Distance)-0.2) > 0.005+1e-9 || moved.Riser != was.Riser || moved.Centre != was.Centre || label != "move row 2" {
		t.Errorf("%s: %+v", label, moved)
	}
	raised, label := row(inLong, true)
	if math.Abs(float64(raised.Riser-was.Riser)-0.1) > 0.005+1e-9 || raised.Distance != was.Distance || label != "raise row 2" {
		t.Errorf("%s: %+v", label, raised)
	}
	across, _ := row(inCross, false) // a cross section shows no back and forth
	if across.Riser == was.Riser || across.Distance != was.Distance {
		t.Errorf("in the cross section: %+v", across)
	}
	by.Z = -5
	if low, _ := row(inLong, true); low.Riser != 0 {
		t.Errorf("pulled below the floor: riser %v", low.Riser)
	}
	floor := place.Item{Kind: place.RowItem}
	d.Seating.Rows[0].Riser, d.Seating.Rows[0].Front, d.Seating.Rows[0].Back = 0, 0, 0
	up := after(d, start(t, d, floor, inLong).To(geometry.V(0, 0, 0.3), Grip{Other: true}))
	if err := up.Validate(); err != nil {
		t.Errorf("a row raised off the floor: %v", err)
	}
}

func TestARowSnapsToEvenRows(t *testing.T) {
	d := demo(t, "large")
	rows := d.Seating.Rows
	rows[0].Distance, rows[1].Distance, rows[2].Distance = 3, 4.213, 6
	s := start(t, d, place.Item{Kind: place.RowItem, Index: 2}, inPlan).To(geometry.V(-0.56, 0, 0), Grip{Reach: 0.03})
	if got := after(d, s).Seating.Rows[2].Distance; math.Abs(float64(got)-5.426) > 1e-9 || len(s.Guides) != 1 {
		t.Errorf("at %v with guides %+v, want 5.426 m: as far behind row 2 as that is behind row 1", got, s.Guides)
	}
}

func TestTheScreenMoves(t *testing.T) {
	d := demo(t, "large")
	d.Screen.Distance, d.Screen.Bottom = 0.3, 0.8
	s := start(t, d, place.Item{Kind: place.ScreenItem}, inLong).To(geometry.V(0.104, 0.5, -0.096), Grip{})
	got := after(d, s).Screen
	if math.Abs(float64(got.Distance)-0.4) > 1e-9 || math.Abs(float64(got.Bottom)-0.7) > 1e-9 || got.Centre != d.Screen.Centre {
		t.Errorf("%+v", got)
	}
}

func TestNothingMovesUntilHalfAStep(t *testing.T) {
	d, it := free(t, "M+090")
	d.Speakers[it.Index].At = project.PointOf(geometry.V(1.0034, 2.0017, 1.5))
	s := start(t, d, it, inPlan).To(geometry.V(0.004, -0.004, 0), Grip{Reach: 0.001})
	if got := after(d, s).Speakers[it.Index].At; got != d.Speakers[it.Index].At {
		t.Errorf("at %+v", got)
	}
}

func TestWhatDoesNotExistIsNotTakenHoldOf(t *testing.T) {
	d := demo(t, "small")
	for _, it := range []place.Item{{}, {Kind: place.SpeakerItem, Index: -1}, {Kind: place.SpeakerItem, Index: 99},
		{Kind: place.RowItem, Index: 99}, {Kind: place.FeatureItem}} {
		if _, ok := Start(d, it, inPlan); ok {
			t.Errorf("%+v", it)
		}
	}
}

// Seen: dragging said "mirrors M-110" but moved one only.
func TestAPairIsDraggedAsAPair(t *testing.T) {
	d, it := free(t, "M+090")
	p, ok := pair.Of(d, it)
	if !ok || !p.Mirrored {
		t.Fatal("M+090 has no mirror image")
	}
	for _, axes := range []scene.Axes{inPlan, inLong, inCross} {
		m := start(t, d, it, axes)
		m.Pair(p)
		s := m.To(geometry.V(0.31, 0.22, 0.13), Grip{Reach: 0.03})
		got := after(d, s)
		one, other := got.Speakers[p.One].At, got.Speakers[p.Other].At
		if one == d.Speakers[p.One].At || other.X != one.X || other.Z != one.Z || math.Abs(float64(one.Y+other.Y)-2*p.Line) > 1e-6 {
			t.Errorf("%+v: %v and %v", axes, one, other)
		}
		if s.Label != "move M+090 and M-090" {
			t.Errorf("the drag is called %q", s.Label)
		}
	}
	alone := start(t, d, it, inPlan).To(geometry.V(0.3, 0, 0), Grip{})
	if got := after(d, alone); got.Speakers[p.Other] != d.Speakers[p.Other] {
		t.Error("set apart, M-090 moved too")
	}
}

// In line with where its image would be, and no more, it does not claim to mirror.
func TestADragSaysItMirrorsOnlyWhenItDoes(t *testing.T) {
	d, it := free(t, "M+090")
	other := index(t, d, "M-090")
	main := place.MainPoint(d)
	d.Speakers[other].At = project.PointOf(geometry.V(4.123, main.Y+2.345, 1.2))
	d.Speakers[it.Index].At = project.PointOf(geometry.V(6.5, main.Y-2.2, 1.2))
	s := start(t, d, it, inPlan).To(geometry.V(0, -0.13, 0), Grip{Reach: 0.03})
	if len(s.Guides) != 1 || s.Guides[0].Text != "in line with the mirror image of M-090" {
		t.Errorf("guides %+v", s.Guides)
	}
}
