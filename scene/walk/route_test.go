// SPDX-License-Identifier: MIT

package walk_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/scene/walk"
)

// From the door one comes to every seat of every demo, and the way there leads through
// nothing.
func TestThereIsAWayToEverySeat(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		r := demo(t, name)
		g := walk.In(r)
		door, _, ok := g.Entrance()
		if !ok {
			t.Fatal("no way in")
		}
		for i, s := range r.Seats {
			foot, ok := g.Rise(i)
			if !ok {
				t.Fatalf("%s: nobody gets up from %s", name, s.Name())
			}
			way, ok := g.Route(door, foot)
			if !ok {
				t.Fatalf("%s: no way to %s", name, s.Name())
			}
			if way[0] != door || way[len(way)-1] != foot {
				t.Errorf("%s: it leads from %v to %v", name, way[0], way[len(way)-1])
			}
			through(t, r, g, way)
		}
	}
}

// through fails the test where a way leads through something or over too high an edge.
func through(t interface{ Fatalf(string, ...any) }, r *place.Room, g *walk.Ground, way []geometry.Vec) {
	const stride = 0.02 // m
	before, edge := way[0], false
	for k := 1; k < len(way); k++ {
		a, b := way[k-1], way[k]
		n := int(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)/stride)) + 1
		for i := range n {
			at := a.Lerp(b, float64(i)/float64(n))
			at.Z = r.Floor.At(at.X, at.Y)
			for _, f := range r.Design.Room.Features { // stages are stood on
				if top := float64(f.At.Z + f.Height); f.Kind == "stage" && top > at.Z && f.Holds(geometry.Vec{X: at.X, Y: at.Y, Z: top}, 0) {
					at.Z = top
				}
			}
			if in := inside(r, at); in != "" {
				t.Fatalf("the way leads through %s at %v", in, at)
			}
			high := math.Abs(at.Z-before.Z) > level+1e-9
			if high && edge { // a corner that is only touched is not
				t.Fatalf("the way climbs from %v to %v", before, at)
			}
			if edge = high; !high {
				before = at
			}
		}
	}
}

// In any room: where there is a way it leads through nothing, and there is one back.
func TestAWayThereIsAWayBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := place.Of(projecttest.Rooms{Seats: 8, Speakers: 4}.Draw(t))
		g := walk.In(r)
		from, _, ok := g.Entrance()
		if !ok || len(r.Seats) == 0 {
			return
		}
		to, ok := g.Rise(rapid.IntRange(0, len(r.Seats)-1).Draw(t, "seat"))
		if !ok {
			return
		}
		way, ok := g.Route(from, to)
		if !ok {
			return
		}
		through(t, r, g, way)
		if _, ok := g.Route(to, from); !ok {
			t.Fatalf("a way from %v to %v and none back", from, to)
		}
	})
}
