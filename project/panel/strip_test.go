// SPDX-License-Identifier: MIT

package panel

import (
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// Strips in joints lie in the middle of each joint that has light, close to the wall, and
// shine off it; a joint that a door or a loudspeaker takes has none there.
func TestStripsLieInTheLitJoints(t *testing.T) {
	d := bareRoom()
	d.Panels[0].ID, d.Panels[0].LightGap, d.Panels[0].High = "p1", 0.05, 2.4
	g := project.LightGroup{Kind: project.Strip, Panels: "p1", Flux: 100}
	runs := Of(d)
	strips := Strips(d, runs, &g)
	if want := len(runs[0].Joints); len(strips) != want {
		t.Fatalf("%d strips in %d joints", len(strips), want)
	}
	for i, s := range strips {
		j := runs[0].Joints[i]
		a, b := s.Path[0], s.Path[1]
		if !near(a.X, (j.From+j.To)/2) || !near(a.X, b.X) || a.Z != 0 || !near(b.Z, 2.4) || !near(a.Y, 0.01) || s.Aim != (geometry.Vec{Y: 1}) {
			t.Errorf("joint %v: from %v to %v, shines along %v", j.Rect, a, b, s.Aim)
		}
	}
	d.Room.Features = []project.Feature{{Kind: project.Door, At: project.Point{X: unit.Length(runs[0].Joints[3].From)}, Length: 0.9, Width: 0.04, Height: 2, Swing: project.InLeft}}
	for _, s := range Strips(d, Of(d), &g) {
		if x := s.Path[0].X; x > runs[0].Joints[3].From-0.4 && x < runs[0].Joints[3].From+0.4 && s.Path[0].Z < 2 {
			t.Errorf("a strip at %v runs through the door", s.Path[0])
		}
	}
}

// Under the front edges of a platform and of the steps up to it.
func TestStripsLieUnderNosings(t *testing.T) {
	d := bareRoom()
	d.Seating.Rows = []project.Row{{Distance: 4, Riser: 0.3, Front: 0.5, Back: 0.5}}
	strips := Strips(d, nil, &project.LightGroup{Kind: project.Strip, Nosings: true})
	if len(strips) != 1 || !near(StripLength(strips), 4.2) || strips[0].Path[0].Z >= 0.3 || strips[0].Path[0].X >= 3.5 || strips[0].Aim.Z > -0.999 {
		t.Errorf("%+v", strips)
	}
}
