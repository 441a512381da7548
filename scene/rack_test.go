// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/scene"
)

// A rack stands in its box, and its fronts look into the room, wherever it stands.
func TestARackShowsItsFrontsToTheRoom(t *testing.T) {
	d := demo(t, "small")
	lo, hi := d.Room.Polygon().Bounds()
	mid := d.Room.Polygon().Centroid()
	for _, stands := range [][2]float64{{hi.X - 0.3, mid.Y}, {lo.X + 0.3, mid.Y}, {mid.X, lo.Y + 0.3}, {mid.X, hi.Y - 0.3}} {
		c := d.Clone()
		f := project.Feature{Kind: project.Rack, Length: 0.6, Width: 0.6, Height: 1.2}
		f.At.X, f.At.Y = unit.Length(stands[0]), unit.Length(stands[1])
		c.Room.Features = []project.Feature{f}
		if err := c.Validate(); err != nil {
			t.Fatal(err)
		}
		m := mesh(scene.Build(c, nil, scene.Default()), "features")
		fronts, in := 0, [2]float64{mid.X - stands[0], mid.Y - stands[1]}
		for v := range len(m.Pos) / 3 {
			p, n := at(m.Pos, v), at(m.Nor, v)
			if math.Abs(p.X-stands[0]) > 0.305 || math.Abs(p.Y-stands[1]) > 0.305 || p.Z < -0.001 || p.Z > 1.201 {
				t.Fatalf("%v of a rack at %v", p, stands)
			}
			if m.Mat[v].Kind() == scene.Metal && n.X*in[0]+n.Y*in[1] > 0.99*math.Hypot(in[0], in[1]) {
				fronts++
			}
		}
		if fronts < 20 {
			t.Errorf("%d vertices of fronts look into the room from %v", fronts, stands)
		}
	}
}
