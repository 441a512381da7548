// SPDX-License-Identifier: MIT

package bake

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/light"
)

// The light of a strip close to a wall was a row of bright triangles on it: corners lay
// far from the strip and near to it in turn.
func TestAStripLightsAWallInStraightBands(t *testing.T) {
	for _, off := range []float64{0.005, 0.02, 0.06, 0.2} {
		m := lampsIn(4, 3, 2.5, project.LightGroup{Kind: project.Strip, Flux: 1000, Tilt: 180,
			Path: []project.Point{{X: 0.1, Y: unit.Length(off), Z: 1.8}, {X: 3.9, Y: unit.Length(off), Z: 1.8}}})
		own := slices.DeleteFunc(m.Emitters, func(e light.Emitter) bool { return e.Layer == m.Picture })
		r := Of(box(4, 3, 2.5, grey(0)), white(own, m.Layers), Apart)
		l, err := r.Light(context.Background(), Quality{Shadows: 64, Gather: 4})
		if err != nil {
			t.Fatal(err)
		}
		brightest := 0.0
		for _, above := range []float64{0.07, 0.03, 0.01, 0.15, 0.3} {
			low, high := math.Inf(1), 0.0
			for x := 1.0; x < 3; x += 0.013 {
				p := geometry.Vec{X: x, Y: 1, Z: 1.8 + above}
				h := r.tree.nearest(p, geometry.Vec{Y: -1})
				lux := 0.0
				for k, share := range [3]float64{1 - h.u - h.v, h.u, h.v} {
					lux += share * float64(l.lux[int(r.site[r.corner[h.triangle][k]])*m.Layers][1])
				}
				low, high = min(low, lux), max(high, lux)
			}
			brightest = max(brightest, high)
			if high > 1.15*low && high-low > 0.1*brightest { // little falls off slowly where it begins
				t.Errorf("a strip %.3f m off the wall, %.2f m above it: from %.0f to %.0f lux along it", off, above, low, high)
			}
		}
	}
}

// Cut along strips, a wall has the same area, no triangle turned over, and each edge
// within is of two triangles.
func TestAGradedWallIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		a := geometry.Vec{X: at("x", -1, 4), Y: at("y", -1, 2), Z: at("z", 0.001, 0.5)}
		along, ok := geometry.Vec{X: at("dx", -1, 1), Y: at("dy", -1, 1), Z: at("dz", -0.1, 0.1)}.Unit()
		if !ok {
			return
		}
		axis, _ := geometry.Vec{Y: at("ay", -1, 1), Z: -1}.Unit()
		m := grade(face([4]geometry.Vec{{}, {X: 3.1}, {X: 3.1, Y: 0.2}, {Y: 1.7}}, Colour{1, 1, 1}), []line{{a, along, at("long", 0.1, 4), axis}})
		edges := map[[2]uint32]int{}
		area := 0.0
		for i := 0; i < len(m.Index); i += 3 {
			p := [3]geometry.Vec{position(m.Pos, m.Index[i]), position(m.Pos, m.Index[i+1]), position(m.Pos, m.Index[i+2])}
			n := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
			if n.Z < -1e-6 {
				t.Fatal("a triangle is turned over")
			}
			area += n.Z / 2
			for k := range 3 {
				a, b := m.Index[i+k], m.Index[i+(k+1)%3]
				edges[[2]uint32{min(a, b), max(a, b)}]++
			}
		}
		if want := 3.1 * (0.2 + 1.7) / 2; math.Abs(area-want) > 1e-4 {
			t.Errorf("area %g, want %g", area, want)
		}
		rim := 0.0
		for e, n := range edges {
			if n > 2 {
				t.Fatalf("edge %v is of %d triangles", e, n)
			}
			if n == 1 {
				rim += position(m.Pos, e[0]).Dist(position(m.Pos, e[1]))
			}
		}
		if want := 3.1 + 0.2 + 1.7 + math.Hypot(3.1, 1.5); math.Abs(rim-want) > 1e-4 {
			t.Errorf("%g m of edges are of one triangle, want the outline, %g m", rim, want)
		}
	})
}
