// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
)

func drawVec(t *rapid.T, name string, reach float64) geometry.Vec {
	f := rapid.Float64Range(-reach, reach)
	return geometry.V(f.Draw(t, name+" x"), f.Draw(t, name+" y"), f.Draw(t, name+" z"))
}

func drawTriangle(t *rapid.T) geometry.Triangle {
	return geometry.Triangle{drawVec(t, "a", 1), drawVec(t, "b", 1), drawVec(t, "c", 1)}
}

// hitByVolumes is the test of Möller and Trumbore 1997, "Fast, Minimum Storage
// Ray/Triangle Intersection": another formula than the kernel's.
func hitByVolumes(from, to geometry.Vec, tri geometry.Triangle) (at float64, hit, near bool) {
	const edge = 1e-9
	d, e1, e2 := to.Sub(from), tri[1].Sub(tri[0]), tri[2].Sub(tri[0])
	p := d.Cross(e2)
	det := e1.Dot(p)
	if math.Abs(det) < edge {
		return 0, false, true
	}
	s := from.Sub(tri[0])
	u := s.Dot(p) / det
	q := s.Cross(e1)
	v, at := d.Dot(q)/det, e2.Dot(q)/det
	for _, x := range [5]float64{u, v, 1 - u - v, at, 1 - at} {
		near = near || math.Abs(x) < 1e-6
	}
	return at, u >= 0 && v >= 0 && u+v <= 1 && at >= 0 && at <= 1, near
}

// A segment meets a triangle where another formula says so, and nowhere else; apart,
// no two points are nearer than the clearance; and a move by the depth along some
// direction frees it.
func TestClearanceOfATriangle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tri := drawTriangle(t)
		seg := geometry.Segment{A: drawVec(t, "from", 2), B: drawVec(t, "to", 2)}
		s := tri.Solid()
		d, at := s.Clearance(seg)
		by, hit, near := hitByVolumes(seg.A, seg.B, tri)
		if near {
			t.Skip("within rounding of a side or an end")
		}
		if hit != (d < 0) {
			t.Fatalf("clearance %v, hit %v", d, hit)
		}
		t0, _, ok := s.Hit(seg)
		if ok != hit || hit && math.Abs(t0-by) > 1e-6 {
			t.Fatalf("hit at %v %v, want %v %v", t0, ok, by, hit)
		}
		// By supports alone, with no formula of the triangle's: Distance of geometry.
		b := geometry.Distance(&segment{seg}, &s, geometry.Vec{Z: 1}, math.Inf(1), 1e-9)
		if d > 0 && (b.Lower > d+1e-7 || b.Upper < d-1e-7) {
			t.Fatalf("clearance %v, bracketed %v to %v", d, b.Lower, b.Upper)
		}
		if d > 0 {
			p := seg.At(at)
			if near, _ := s.Clearance(geometry.Segment{A: p, B: p}); math.Abs(near-d) > 1e-9 {
				t.Fatalf("at %v it is %v, not %v", at, near, d)
			}
			return
		}
		// Every direction gives a lower bound of the depth's negative: none beats it.
		u, ok := drawVec(t, "direction", 1).Unit()
		if !ok {
			return
		}
		reach, _ := s.Support(u)
		_, far := s.Support(u)
		if bound := min(u.Dot(seg.A), u.Dot(seg.B)) - u.Dot(far); bound > d+1e-9 {
			t.Fatalf("depth %v, along %v it is %v (reach %v)", -d, u, -bound, reach)
		}
	})
}

// segment makes a segment a Convex.
type segment struct{ geometry.Segment }

func (s *segment) Support(n geometry.Vec) (float64, geometry.Vec) {
	if n.Dot(s.A) > n.Dot(s.B) {
		return n.Dot(s.A), s.A
	}
	return n.Dot(s.B), s.B
}

// The depth is the least move that frees: for a square of two triangles crossed in the
// middle of one of them, to its nearest side.
func TestDepthInATriangle(t *testing.T) {
	tri := geometry.Triangle{geometry.V(0, 0, 0), geometry.V(1, 0, 0), geometry.V(0, 1, 0)}
	s := tri.Solid()
	for _, c := range []struct {
		from, to geometry.Vec
		depth    float64
	}{
		{geometry.V(0.2, 0.3, -1), geometry.V(0.2, 0.3, 1), 0.2},                  // to the side x = 0
		{geometry.V(0.2, 0.1, -1), geometry.V(0.2, 0.1, 1), 0.1},                  // to the side y = 0
		{geometry.V(0.2, 0.3, -0.05), geometry.V(0.2, 0.3, 1), 0.05},              // its end back through the plane
		{geometry.V(0.45, 0.45, -1), geometry.V(0.45, 0.45, 1), 0.1 / math.Sqrt2}, // to the long side
	} {
		if d, _ := s.Clearance(geometry.Segment{A: c.from, B: c.to}); math.Abs(d+c.depth) > 1e-12 {
			t.Errorf("%v to %v: depth %v, want %v", c.from, c.to, -d, c.depth)
		}
	}
}

// The share of a picture or a disc that triangles leave visible is that of rays.
func TestTrianglesHideWhatRaysSay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		eye := geometry.V(2, 0, 0)
		var target geometry.Target
		at := func(x, y float64) geometry.Vec { return geometry.V(0, x*0.8, y*0.5) }
		round := rapid.Bool().Draw(t, "disc")
		if round {
			at = func(x, y float64) geometry.Vec { return geometry.V(0, x*0.5, y*0.5) }
			target = geometry.Disc{Normal: geometry.V(1, 0, 0), Radius: 0.5}.Target()
		} else {
			target = geometry.Rect{U: geometry.V(0, 0.8, 0), V: geometry.V(0, 0, 0.5)}.Target()
		}
		var tris []geometry.Triangle
		var solids []geometry.Solid
		for range rapid.IntRange(1, 5).Draw(t, "triangles") {
			tri := drawTriangle(t)
			for i := range tri {
				tri[i] = tri[i].Mul(0.6).Add(geometry.V(0.9, 0, 0))
			}
			tris, solids = append(tris, tri), append(solids, tri.Solid())
		}
		var sc geometry.Scratch
		got := sc.Visible(eye, target, solids, nil)
		const n = 60
		seen, all := 0, 0
		for i := range n {
			for k := range n {
				x, y := (float64(i)+0.5)/n*2-1, (float64(k)+0.5)/n*2-1
				if round && x*x+y*y > 1 {
					continue
				}
				all++
				free := true
				for _, tri := range tris {
					_, hit, _ := hitByVolumes(eye, at(x, y), tri)
					free = free && !hit
				}
				if free {
					seen++
				}
			}
		}
		// Each outline of a triangle errs by at most one cell along each of its sides.
		tol := float64(len(tris)*3*2+4) * n / float64(n*n) / 4
		if want := float64(seen) / float64(all); math.Abs(got-want) > tol {
			t.Fatalf("visible %v, by rays %v", got, want)
		}
	})
}

// A triangle without area, and one on edge, hide nothing and are never entered.
func TestATriangleWithoutArea(t *testing.T) {
	line := geometry.Triangle{geometry.V(0, 0, 0), geometry.V(1, 0, 0), geometry.V(2, 0, 0)}.Solid()
	point := geometry.Triangle{}.Solid()
	edge := geometry.Triangle{geometry.V(1, -1, 0), geometry.V(1, 1, 0), geometry.V(0.5, 0, 0)}.Solid()
	seg := geometry.Segment{A: geometry.V(2, 0, 0), B: geometry.V(-2, 0, 0)}
	target := geometry.Disc{Center: seg.B, Normal: geometry.V(1, 0, 0), Radius: 0.3}.Target()
	for i, s := range []geometry.Solid{line, point, edge} {
		if d, _ := s.Clearance(seg); math.Abs(d) > 1e-12 {
			t.Errorf("%d: clearance %v", i, d)
		}
		var sc geometry.Scratch
		if v := sc.Visible(seg.A, target, []geometry.Solid{s}, nil); v != 1 && !(i == 0 && v == 0) {
			t.Errorf("%d: visible %v", i, v)
		}
	}
}
