// SPDX-License-Identifier: MIT

package walk_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/assets"
	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/scene/walk"
)

func demo(t *testing.T, name string) *place.Room {
	t.Helper()
	a, ok := assets.DemoNamed(name)
	if !ok {
		t.Fatalf("no demo %q", name)
	}
	d, err := file.Decode(a.Data, name)
	if err != nil {
		t.Fatal(err)
	}
	return place.Of(d)
}

// level is the highest edge that is stepped over; common practice, as walk has it.
const level = 0.4

// inside reports whether who stands on p is in a wall, in a chair or in what stands in the
// room: told by points, without the distances that walk goes by.
func inside(r *place.Room, p geometry.Vec) string {
	at := geometry.Vec2{X: p.X, Y: p.Y}
	if !r.Design.Room.Polygon().Contains(at) {
		return "a wall"
	}
	for _, s := range r.Seats {
		for _, part := range s.ChairParts() { // what is beside the back and behind an arm is free
			for up := 0.2; up < 1.3; up += 0.05 {
				d := p.Add(geometry.Vec{Z: up}).Sub(part.Box.Center)
				if b := part.Box; math.Abs(d.Dot(b.Basis.U)) < b.Half.X && math.Abs(d.Dot(b.Basis.V)) < b.Half.Y && math.Abs(d.Dot(b.Basis.W)) < b.Half.Z {
					return "chair " + s.Name()
				}
			}
		}
	}
	for _, f := range r.Design.Room.Features {
		if f.Kind.Standing() && f.Kind != project.Stage && f.Holds(p.Add(geometry.Vec{Z: 0.3}), 0) {
			return f.Words()
		}
	}
	return ""
}

// However one walks, one stands on the floor, in no wall and in no chair, and climbs no
// edge higher than a step up.
func TestNobodyWalksIntoAWallOrAChair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := place.Of(projecttest.Rooms{Seats: 8, Speakers: 4}.Draw(t))
		g := walk.In(r)
		foot, _, ok := g.Entrance()
		if !ok {
			t.Skip("nobody can stand in it")
		}
		for range 12 {
			s, c := math.Sincos(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "way"))
			l := rapid.Float64Range(0, 0.3).Draw(t, "metres")
			next := g.Go(foot, geometry.Vec2{X: l * c, Y: l * s})
			if in := inside(r, next); in != "" {
				t.Fatalf("from %v into %s at %v", foot, in, next)
			}
			if !g.Free(next) {
				t.Fatalf("from %v to %v, where one cannot stand", foot, next)
			}
			if gone := math.Hypot(next.X-foot.X, next.Y-foot.Y); gone > l+1e-9 {
				t.Fatalf("%v m gone, %v wanted", gone, l)
			}
			if up := math.Abs(next.Z - foot.Z); up > level*math.Ceil(l/0.04)+1e-9 {
				t.Fatalf("stepped %v m", up)
			}
			if eyes := g.Eyes(next).Z - next.Z; eyes > walk.EyeLevel+1e-9 || eyes < 1.2 {
				t.Fatalf("eyes at %v", eyes)
			}
			foot = next
		}
	})
}

// flood returns the seats that one comes to from the entrance, step by step.
func flood(t *testing.T, g *walk.Ground, seats int) map[int]bool {
	t.Helper()
	const step = 0.2 // m
	start, _, ok := g.Entrance()
	if !ok {
		t.Fatal("nobody can stand in it")
	}
	key := func(p geometry.Vec) [2]int { return [2]int{int(math.Round(p.X / step)), int(math.Round(p.Y / step))} }
	seen, open, come := map[[2]int]bool{key(start): true}, []geometry.Vec{start}, map[int]bool{}
	for len(open) > 0 && len(come) < seats {
		p := open[len(open)-1]
		open = open[:len(open)-1]
		if i, ok := g.Seat(p); ok {
			come[i] = true
		}
		for _, by := range []geometry.Vec2{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
			q := g.Go(p, by)
			if k := key(q); !seen[k] {
				seen[k] = true
				open = append(open, q)
			}
		}
	}
	return come
}

// Every seat of the demos, whose aisles and passages keep the rules, is come to from the
// entrance, and one gets up from each.
func TestEverySeatIsComeTo(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		r := demo(t, name)
		g := walk.In(r)
		come := flood(t, g, len(r.Seats))
		for i, s := range r.Seats {
			if !come[i] {
				t.Errorf("%s: nobody comes to seat %s", name, s.Name())
			}
			foot, ok := g.Rise(i)
			if !ok || !g.Free(foot) || math.Abs(foot.Z-s.Ref.Z) > level {
				t.Errorf("%s: from seat %s one gets up at %v, %v", name, s.Name(), foot, ok)
			}
			if _, near := g.Seat(foot); !near {
				t.Errorf("%s: who got up from seat %s is near no seat", name, s.Name())
			}
		}
	}
}

// A platform higher than one steps up stops who walks, until it has steps.
func TestAHighPlatformNeedsSteps(t *testing.T) {
	d := demo(t, "two-row").Design.Clone()
	d.Seating.Rows[1].Riser = 0.6
	up := func() bool {
		r := place.Of(d)
		for i := range flood(t, walk.In(r), len(r.Seats)) {
			if r.Seats[i].Row == 2 {
				return true
			}
		}
		return false
	}
	if up() {
		t.Error("row 2 was come to over an edge of 0.6 m")
	}
	d.Seating.Rows[1].Steps = []project.Steps{{Side: project.FrontSide, At: 0.5, Width: 0.8, Tread: 0.28, Rise: 0.2}}
	if !up() {
		t.Error("three steps do not lead up to row 2")
	}
}

// Who walks at a wall aslant goes along it.
func TestWhoWalksIntoAWallSlidesAlongIt(t *testing.T) {
	g := walk.In(demo(t, "small"))
	foot, _, _ := g.Entrance()
	for range 100 { // to the right wall, then on
		foot = g.Go(foot, geometry.Vec2{Y: 0.1})
	}
	next := g.Go(foot, geometry.Vec2{X: -0.3, Y: 0.3})
	if along := math.Abs(next.X - foot.X); along < 0.15 {
		t.Errorf("%v m along the wall, from %v to %v", along, foot, next)
	}
}
