// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/project"
	"earline/project/picture"
	"earline/scene"
)

// beamed returns the large demo with the lens of a projector in the middle of the room.
func beamed(t testing.TB) *project.Design {
	d := demo(t, "large")
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Light: 3000, Calibrated: 1, Aged: 1, PixelsWide: 3840, PixelsHigh: 2160,
		ThrowMin: 1, ThrowMax: 3, ShiftUp: 0.6, ShiftRight: 0.3, ShiftShape: project.ShiftDiamond, Width: 0.5, Height: 0.2, Depth: 0.5}}
	d.Projector = project.Projector{Model: "p", At: project.Point{X: 6, Y: d.Screen.Centre, Z: 2.6}, Mount: project.CeilingMount, Fill: project.Zoom}
	d.Picture = project.Picture{Held: project.HeldHeight, Aspects: []project.Aspect{{Aspect: 2.39}, {Aspect: 16.0 / 9}}}
	return d
}

// The beam of a shape runs from the lens to its raster, black bars and all, which is
// larger for the wider shape; what shift reaches is drawn on the plane of the screen.
func TestTheBeamIsDrawnForTheChosenShape(t *testing.T) {
	d := beamed(t)
	o := scene.Default()
	if mesh(scene.Build(d, nil, o), "beam") != nil {
		t.Error("a beam nobody asked for")
	}
	o.Beam = true
	var wide [2]float64
	for o.Shape = range wide {
		l := scene.Build(d, nil, o)
		m := mesh(l, "beam")
		if m == nil || m.Alpha >= 1 || len(m.Index) != 4*3 {
			t.Fatalf("shape %d: %+v, want four faces one can see through", o.Shape, m)
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for v := range len(m.Pos) / 3 {
			p := at(m.Pos, v)
			lo, hi = min(lo, p.Y), max(hi, p.Y)
			if p.X > float64(d.Projector.At.X)+1e-5 || p.X < float64(d.Screen.Distance)-1e-5 {
				t.Errorf("a corner at %v", p)
			}
		}
		wide[o.Shape] = hi - lo
		if want := picture.Of(d).Shapes[o.Shape].Fills[0].Raster.Width; math.Abs(hi-lo-want) > 1e-5 {
			t.Errorf("shape %d is %g wide, its raster %g", o.Shape, hi-lo, want)
		}
	}
	if !(wide[0] > wide[1]) {
		t.Errorf("2.39:1 is %g wide, 16:9 %g", wide[0], wide[1])
	}
	o.Shape = 7
	if mesh(scene.Build(d, nil, o), "beam") == nil {
		t.Error("a shape that there is not leaves the beam out")
	}
	d.Projector.At.X = 0
	if mesh(scene.Build(d, nil, o), "beam") != nil {
		t.Error("a beam from behind the screen")
	}
}

// A projector in the room is drawn as a part of its own, its lens where the design says,
// its pole up to the ceiling; a proposal shows where it is moved to. One behind a port is
// in another room.
func TestTheProjectorIsDrawn(t *testing.T) {
	d := beamed(t)
	l := scene.Build(d, nil, scene.Default())
	box, fittings := mesh(l, "projector"), mesh(l, "lens and mount")
	if box == nil || fittings == nil {
		t.Fatal("no projector, or no lens")
	}
	top, first := 0.0, math.Inf(1)
	for v := range len(fittings.Pos) / 3 {
		p := at(fittings.Pos, v)
		top, first = max(top, p.Z), min(first, p.X)
	}
	if want := d.Room.CeilingAt(6.25, float64(d.Screen.Centre)); math.Abs(top-want) > 1e-4 {
		t.Errorf("the pole ends at %g, the ceiling is at %g", top, want)
	}
	if math.Abs(first-6) > 0.011 { // the lens stands a little proud
		t.Errorf("the lens is at %g", first)
	}
	groups := map[string]int{}
	for _, o := range scene.Objects(d, false) {
		groups[o.Group]++
	}
	if groups["Projector"] != 1 {
		t.Errorf("groups %v", groups)
	}
	o := scene.Default()
	o.Ghost = d.Clone()
	o.Ghost.Projector.At.X = 5.5
	if m := mesh(scene.Build(d, nil, o), "proposed"); m == nil || len(m.Index) == 0 {
		t.Error("a proposed place that is not shown")
	}
	d.Projector.Mount = project.PortMount
	if mesh(scene.Build(d, nil, scene.Default()), "projector") != nil {
		t.Error("a projector behind a port is drawn in the room")
	}
}
