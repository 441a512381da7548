// SPDX-License-Identifier: MIT

package shell

import (
	"math"
	"testing"

	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
)

func plane(x0, y0, h0, x1, y1, h1 unit.Length) project.CeilingPlane {
	return project.CeilingPlane{From: project.Corner{X: x0, Y: y0}, FromHeight: h0, To: project.Corner{X: x1, Y: y1}, ToHeight: h1}
}

// gable returns an attic 5.8 by 4.4 m, knee walls 1.6 m, ridge 3.1 m in the middle.
func gable() *project.Design {
	d := box(5.8, 4.4, 3.1)
	d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: 1.6, FarHeight: 4.6,
		Planes: []project.CeilingPlane{plane(0, 2.2, 3.1, 0, 4.4, 1.6)}}
	return d
}

// A gable is a box with a prism upon it.
func TestShellOfAGable(t *testing.T) {
	s := Of(gable())
	closed(t, "gable", s)
	geomtest.Within(t, "volume", s.Volume(), 5.8*4.4*1.6+5.8*4.4*1.5/2, 1e-9)
	got := areas(s)
	geomtest.Within(t, "ceiling", got["ceiling"], 2*5.8*math.Hypot(2.2, 1.5), 1e-9)
	geomtest.Within(t, "knee walls and gables", got["walls"], 2*5.8*1.6+2*(4.4*1.6+4.4*1.5/2), 1e-9)
}

// A hip over 7 by 4 m from 2 m up, 0.5 m a metre, is a box with a prism 3 m long and
// two half pyramids upon it.
func TestShellOfAHip(t *testing.T) {
	d := box(7, 4, 3)
	d.Room.Ceiling.Planes = []project.CeilingPlane{plane(0, 0, 2, 1, 0, 2.5), plane(7, 0, 2, 6, 0, 2.5), plane(0, 0, 2, 0, 1, 2.5), plane(0, 4, 2, 0, 3, 2.5)}
	s := Of(d)
	closed(t, "hip", s)
	geomtest.Within(t, "volume", s.Volume(), 7*4*2+(7-4)*4*1.0/2+4*4*1.0/3, 1e-9)
	got := areas(s)
	geomtest.Within(t, "ceiling", got["ceiling"], 7*4*math.Hypot(1, 0.5), 1e-9)
	geomtest.Within(t, "walls", got["walls"], 2*(7+4)*2, 1e-9)
}

// A pillar under the ridge takes what of it is under both slopes; a panel under the
// ceiling that lies across the ridge is on both.
func TestAPillarAndAPanelUnderTheRidge(t *testing.T) {
	d := gable()
	empty := Of(d).Volume()
	d.Room.Features = []project.Feature{{Kind: project.Column, At: project.Point{X: 3, Y: 2.2}, Length: 0.5, Width: 0.44, Height: 5}}
	// Its foot by the mean height: the ridge less a quarter of its width down the slope.
	geomtest.Within(t, "pillar", empty-Of(d).Volume(), 0.5*0.44*(3.1-0.11*1.5/2.2), 1e-9)
	d = gable()
	d.Room.Treatments = []project.Treatment{{Material: "panel", From: 1, To: 3, Low: 1.2, High: 3.2}}
	geomtest.Within(t, "panel", areas(Of(d))["panel"], 2*2*math.Hypot(2.2, 1.5)/2.2, 1e-9)
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 3.1, Planes: []project.CeilingPlane{plane(0, 0, 1.6, 0, 2.2, 3.1), plane(0, 4.4, 1.6, 0, 2.2, 3.1)}}
	geomtest.Within(t, "the same as a flat one with two planes", areas(Of(d))["panel"], 2*2*math.Hypot(2.2, 1.5)/2.2, 1e-9)
	geomtest.Within(t, "its air", Of(d).Volume(), empty, 1e-9)
}
