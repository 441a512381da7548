// SPDX-License-Identifier: MIT

package geometry_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// ell is an L-shaped room of 27 m2.
func ell() geometry.Polygon {
	return geometry.Polygon{{0, 0}, {6, 0}, {6, 3}, {3, 3}, {3, 6}, {0, 6}}
}

func reversed(p geometry.Polygon) geometry.Polygon {
	q := make(geometry.Polygon, len(p))
	for i := range p {
		q[len(p)-1-i] = p[i]
	}
	return q
}

// star returns a random simple outline, star-shaped about c, either way round,
// now and then with a corner on a straight run.
func star(r *rand.Rand, c geometry.Vec2) geometry.Polygon {
	n := 3 + r.IntN(12)
	var p geometry.Polygon
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.9*r.Float64()) / float64(n)
		l := geomtest.Between(r, 0.5, 4)
		p = append(p, c.Add(geometry.Vec2{X: l * math.Cos(a), Y: l * math.Sin(a)}))
		if i > 0 && r.IntN(5) == 0 {
			p = append(p[:len(p)-1], p[len(p)-1].Add(p[len(p)-2]).Mul(0.5), p[len(p)-1])
		}
	}
	if r.IntN(2) == 0 {
		return reversed(p)
	}
	return p
}

func point2(r *rand.Rand, half float64) geometry.Vec2 {
	return geometry.Vec2{X: geomtest.Between(r, -half, half), Y: geomtest.Between(r, -half, half)}
}

// turnsAround is the slow way to Contains: the angle that the outline turns
// about q, 0 or a whole turn.
func turnsAround(p geometry.Polygon, q geometry.Vec2) bool {
	sum := 0.0
	for i := range p {
		a, b := p.Edge(i)
		a, b = a.Sub(q), b.Sub(q)
		sum += math.Atan2(a.Cross(b), a.Dot(b))
	}
	return math.Abs(sum) > math.Pi
}

func TestPolygonKnownShapes(t *testing.T) {
	p := ell()
	geomtest.Within(t, "area", p.Area(), 27, 1e-12)
	geomtest.Within(t, "area, other way round", reversed(p).Area(), -27, 1e-12)
	if lo, hi := p.Bounds(); lo != (geometry.Vec2{}) || hi != (geometry.Vec2{X: 6, Y: 6}) {
		t.Errorf("bounds %v %v", lo, hi)
	}
	if err := p.Simple(); err != nil {
		t.Errorf("simple: %v", err)
	}
	if p.Convex() {
		t.Error("an L is convex")
	}
	square := geometry.Polygon{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}}
	if !square.Convex() || !reversed(square).Convex() {
		t.Error("a square with a corner on its edge is not convex")
	}
	for i, want := range []geometry.Vec2{{X: 0, Y: 1}, {X: -1, Y: 0}, {X: 0, Y: -1}, {X: -1, Y: 0}, {X: 0, Y: -1}, {X: 1, Y: 0}} {
		if got := p.InwardNormal(i); got.Dist(want) > 1e-15 {
			t.Errorf("inward normal of edge %d: got %v, want %v", i, got, want)
		}
	}
	for _, tt := range []struct {
		q    geometry.Vec2
		in   bool
		dist float64
	}{
		{geometry.Vec2{X: 1, Y: 1}, true, 1},
		{geometry.Vec2{X: 4, Y: 4}, false, 1},
		{geometry.Vec2{X: 2.5, Y: 2.5}, true, math.Sqrt2 / 2},
		{geometry.Vec2{X: 3, Y: 3}, true, 0},
		{geometry.Vec2{X: 3, Y: 5}, true, 0},
		{geometry.Vec2{X: 3 + 0.5e-9, Y: 5}, true, 0},
		{geometry.Vec2{X: 3 + 1e-8, Y: 5}, false, 1e-8},
		{geometry.Vec2{X: -3, Y: -4}, false, 5},
	} {
		if got := p.Contains(tt.q); got != tt.in {
			t.Errorf("contains %v: got %v, want %v", tt.q, got, tt.in)
		}
		geomtest.Within(t, "distance", p.Distance(tt.q), tt.dist, 1e-9)
	}
	edge, foot := p.Nearest(geometry.Vec2{X: 3.2, Y: 5})
	if edge != 3 || foot != (geometry.Vec2{X: 3, Y: 5}) {
		t.Errorf("nearest: edge %d at %v", edge, foot)
	}
}

func TestPolygonFaultsAreNamed(t *testing.T) {
	for _, tt := range []struct {
		name string
		p    geometry.Polygon
		want []error
	}{
		{"two corners", geometry.Polygon{{0, 0}, {1, 1}}, []error{geometry.ErrTooFewCorners}},
		{"bow tie", geometry.Polygon{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, []error{geometry.CrossingError{I: 0, J: 2}}},
		{"corner twice", geometry.Polygon{{0, 0}, {1, 0}, {1, 0}, {1, 1}}, []error{geometry.ShortEdgeError{Edge: 1}}},
		{"corner on an edge", geometry.Polygon{{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}, []error{geometry.CrossingError{I: 0, J: 2}, geometry.CrossingError{I: 0, J: 3}}},
		{"spike", geometry.Polygon{{0, 0}, {4, 0}, {4, 4}, {4, 2}, {0, 2}}, []error{geometry.CrossingError{I: 1, J: 2}}},
		{"fault at the seam", geometry.Polygon{{0, 0}, {4, 0}, {4, 4}, {-2, 4}, {-2, 0}, {2, 0}}, []error{geometry.CrossingError{I: 0, J: 5}}},
	} {
		err := tt.p.Simple()
		for _, want := range tt.want {
			if !errors.Is(err, want) {
				t.Errorf("%s: got %v, want it to hold %v", tt.name, err, want)
			}
		}
	}
	r := geomtest.Rand(t)
	for range cases() / 5 {
		p := star(r, point2(r, 2))
		if err := p.Simple(); err != nil {
			t.Fatalf("%v: %v", p, err)
		}
	}
}

func TestPolygonOfNoAreaNeverPanics(t *testing.T) {
	for _, p := range []geometry.Polygon{nil, {{1, 1}}, {{0, 0}, {1, 0}}, {{1, 1}, {1, 1}, {1, 1}}, {{0, 0}, {1, 0}, {2, 0}}, {{0, 0}, {2, 2}, {2, 0}, {0, 2}}} {
		q := geometry.Vec2{X: 0.3, Y: 0.2}
		p.Contains(q)
		p.Convex()
		p.Bounds()
		p.Nearest(q)
		p.InwardNormal(-1)
		p.InwardNormal(7)
		p.Triangulate()
		if d := p.Distance(q); math.IsNaN(d) {
			t.Errorf("%v: distance %g", p, d)
		}
		if depth, at, _, _ := p.Obstructs(q, geometry.Vec2{X: 5, Y: 1}); math.IsNaN(depth) || math.IsNaN(at) {
			t.Errorf("%v: depth %g at %g", p, depth, at)
		}
		if p.Simple() == nil {
			t.Errorf("%v is simple", p)
		}
	}
}

func TestPolygonAgainstSlowWays(t *testing.T) {
	r := geomtest.Rand(t)
	for range cases() / 10 {
		p := star(r, point2(r, 2))
		for range 10 {
			q := point2(r, 5)
			if p.Distance(q) < 1e-6 {
				continue
			}
			if got, want := p.Contains(q), turnsAround(p, q); got != want {
				t.Fatalf("%v contains %v: got %v, want %v", p, q, got, want)
			}
			// Distance: no sample of the outline is nearer, one is nearly as near.
			best := math.Inf(1)
			for i := range p {
				a, b := p.Edge(i)
				for k := range 2000 {
					best = math.Min(best, q.Dist(a.Add(b.Sub(a).Mul(float64(k)/2000))))
				}
			}
			// Samples stand 4 mm apart at most.
			if d := p.Distance(q); d > best+1e-12 || d < best-0.002 {
				t.Fatalf("%v: distance of %v is %g, sampled %g", p, q, d, best)
			}
		}
		for i := range p {
			a, b := p.Edge(i)
			in := a.Add(b).Mul(0.5).Add(p.InwardNormal(i).Mul(1e-6))
			if !p.Contains(in) {
				t.Fatalf("%v: edge %d: %v is outside", p, i, in)
			}
		}
	}
}

func TestTrianglesFillThePolygon(t *testing.T) {
	r := geomtest.Rand(t)
	for i := range cases() / 10 {
		p := star(r, point2(r, 2))
		if i == 0 {
			p = ell()
		}
		sum := 0.0
		for _, c := range p.Triangulate() {
			tri := geometry.Polygon{p[c[0]], p[c[1]], p[c[2]]}
			if tri.Area() <= 0 {
				t.Fatalf("%v: triangle %v has area %g", p, c, tri.Area())
			}
			sum += tri.Area()
			for range 5 { // points of it are points of the polygon
				a, b := r.Float64(), r.Float64()
				if a+b > 1 {
					a, b = 1-a, 1-b
				}
				q := tri[0].Add(tri[1].Sub(tri[0]).Mul(a)).Add(tri[2].Sub(tri[0]).Mul(b))
				if !p.Contains(q) {
					t.Fatalf("%v: triangle %v leaves it at %v", p, c, q)
				}
			}
		}
		// No overlap, no gap: inside and of the same area.
		geomtest.Within(t, "area", sum, math.Abs(p.Area()), 1e-9)
	}
}

func TestObstructsKnownPaths(t *testing.T) {
	p := ell()
	for _, tt := range []struct {
		name  string
		a, b  geometry.Vec2
		depth float64
		t     float64
		edge  int
		ok    bool
	}{
		{"inside", geometry.Vec2{X: 1, Y: 1}, geometry.Vec2{X: 5, Y: 2}, 0, 1, -1, false},
		// x + y = 7 passes the corner (3, 3) at 1/sqrt 2.
		{"over the corner", geometry.Vec2{X: 2, Y: 5}, geometry.Vec2{X: 5, Y: 2}, math.Sqrt2 / 2, 1. / 3, 3, true},
		{"through the corner", geometry.Vec2{X: 2, Y: 4}, geometry.Vec2{X: 4, Y: 2}, 0, 1, -1, false},
		{"along a wall", geometry.Vec2{X: 3, Y: 5}, geometry.Vec2{X: 3, Y: 1}, 0, 1, -1, false},
		{"corner to corner", geometry.Vec2{X: 6, Y: 3}, geometry.Vec2{X: 3, Y: 6}, 3 / math.Sqrt2, 0, 1, true},
		{"end outside", geometry.Vec2{X: 1, Y: 1}, geometry.Vec2{X: 1, Y: -1}, 1, 0.5, 0, true},
		{"start outside", geometry.Vec2{X: -2, Y: 1}, geometry.Vec2{X: 1, Y: 1}, 2, 0, 5, true},
		{"no path", geometry.Vec2{X: 1, Y: 1}, geometry.Vec2{X: 1, Y: 1}, 0, 1, -1, false},
		{"no path, outside", geometry.Vec2{X: 7, Y: 1}, geometry.Vec2{X: 7, Y: 1}, 1, 0, 1, true},
	} {
		for i, q := range []geometry.Polygon{p, reversed(p)} {
			depth, at, edge, ok := q.Obstructs(tt.a, tt.b)
			geomtest.Within(t, tt.name+": depth", depth, tt.depth, 1e-9)
			geomtest.Within(t, tt.name+": t", at, tt.t, 1e-9)
			if ok != tt.ok {
				t.Errorf("%s: got %v, want %v", tt.name, ok, tt.ok)
			}
			if i == 0 && edge != tt.edge {
				t.Errorf("%s: edge %d, want %d", tt.name, edge, tt.edge)
			}
		}
	}
}

// A path is obstructed exactly where samples of it lie outside, and from the
// other end by as much.
func TestObstructsAgainstSamples(t *testing.T) {
	r := geomtest.Rand(t)
	seen := 0
	for range cases() / 2 {
		p := star(r, geometry.Vec2{})
		// Near two corners, on the way to the point that sees them all.
		a, b := p[r.IntN(len(p))].Mul(0.9), p[r.IntN(len(p))].Mul(0.9)
		if !p.Contains(a) || !p.Contains(b) {
			continue
		}
		depth, at, edge, ok := p.Obstructs(a, b)
		out := 0.0
		first := 1.0
		for k := range 1001 {
			q := a.Add(b.Sub(a).Mul(float64(k) / 1000))
			if !p.Contains(q) {
				out = math.Max(out, p.Distance(q))
				first = math.Min(first, float64(k)/1000)
			}
		}
		if out > 0 && !ok || ok && depth > 0.05 && out == 0 {
			t.Fatalf("%v: %v to %v: got %v by %g, sampled %g", p, a, b, ok, depth, out)
		}
		if !ok {
			continue
		}
		seen++
		// The outline reaches at least as far across the path as the path runs
		// away from the outline.
		if depth < out-1e-9 {
			t.Fatalf("%v: %v to %v: depth %g, but a point is %g outside", p, a, b, depth, out)
		}
		if at > first || out > 0.02 && first-at > 0.05 && depth == 0 {
			t.Fatalf("%v: %v to %v: leaves at %g, sampled %g", p, a, b, at, first)
		}
		c, d := p.Edge(edge)
		if (geometry.Polygon{c, d, d}).Distance(a.Add(b.Sub(a).Mul(at))) > 1e-9 {
			t.Fatalf("%v: %v to %v: t = %g is not on edge %d", p, a, b, at, edge)
		}
		back, _, _, _ := p.Obstructs(b, a)
		geomtest.Within(t, "from the other end", back, depth, 1e-9)
	}
	if seen < cases()/50 {
		t.Errorf("only %d paths are obstructed", seen)
	}
}
