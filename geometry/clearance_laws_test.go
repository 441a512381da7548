// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// lawTol is what a clearance may change by rounding, in metres.
const lawTol = 1e-9

// solidOf returns e, or the box of the same size, so that each law is tried on
// both.
func solidOf(e geometry.Ellipsoid, box bool) geometry.Solid {
	if box {
		return geometry.Box{Center: e.Center, Basis: e.Basis, Half: e.Radii}.Solid()
	}
	return e.Solid()
}

// TestClearanceLaws: the clearance is the same from B to A, unchanged by a
// motion, scaled by scaling, and never raised by growing the solid; the bound
// never promises more.
func TestClearanceLaws(t *testing.T) {
	r := geomtest.Rand(t)
	for i := range cases() {
		e := geomtest.Ellipsoid(r)
		box := i%2 == 0
		seg := pass(r, e.Center)
		s := solidOf(e, box)
		d, at := s.Clearance(seg)

		back, atBack := s.Clearance(geometry.Segment{A: seg.B, B: seg.A})
		geomtest.Within(t, "from B to A", back, d, lawTol)
		if d > 1e-6 && !box && seg.Len() > 0 { // a box may have many nearest points
			geomtest.Within(t, "t from B to A", seg.At(1-atBack).Dist(seg.At(at)), 0, 1e-5)
		}

		m := geomtest.RandomMotion(r)
		moved := solidOf(m.Ellipsoid(e), box)
		got, _ := moved.Clearance(m.Segment(seg))
		geomtest.Within(t, "moved", got, d, lawTol)

		k := geomtest.Size(r, 0.01, 100)
		big := solidOf(geometry.Ellipsoid{Center: e.Center.Mul(k), Basis: e.Basis, Radii: e.Radii.Mul(k)}, box)
		got, _ = big.Clearance(geometry.Segment{A: seg.A.Mul(k), B: seg.B.Mul(k)})
		geomtest.Within(t, "scaled", got/k, d, lawTol)

		grown := e
		grown.Radii = e.Radii.Add(geometry.V(r.Float64()*0.1, r.Float64()*0.1, 0))
		g := solidOf(grown, box)
		if got, _ = g.Clearance(seg); got > d+lawTol {
			t.Errorf("grown: clearance rose from %g to %g", d, got)
		}

		if gap := s.Bound().Gap(seg); d > 0 && gap > d+lawTol {
			t.Errorf("the bound promises %g, the clearance is %g", gap, d)
		}
		_, _, hit := s.Hit(seg)
		if hit != (d <= 0) && math.Abs(d) > lawTol {
			t.Errorf("Hit says %v, clearance %g", hit, d)
		}
		if t.Failed() {
			t.Fatalf("case %d: %+v box %v %+v", i, e, box, seg)
		}
	}
}

// TestDepthIsTheLeastMove: moved by the depth along some direction the segment
// only touches, moved by less along any it still penetrates.
func TestDepthIsTheLeastMove(t *testing.T) {
	r := geomtest.Rand(t)
	done := 0
	for i := 0; done < cases()/10; i++ {
		e := geomtest.Ellipsoid(r)
		s := solidOf(e, i%2 == 0)
		seg := pass(r, e.Center)
		d, _ := s.Clearance(seg)
		if d >= 0 {
			continue
		}
		done++
		for range 20 {
			v := geomtest.Unit(r).Mul(-d * 0.999)
			if c, _ := s.Clearance(geometry.Segment{A: seg.A.Add(v), B: seg.B.Add(v)}); c > 0 {
				t.Fatalf("depth %g, but moved by %v it is clear by %g (%+v %+v)", -d, v, c, e, seg)
			}
		}
	}
}

// The deepest point of a segment that pokes through a flat solid is the end
// that came through, and the way out is back: not the nearest surface.
func TestDepthOfAnEndThatCameThrough(t *testing.T) {
	v := geometry.V
	for _, tt := range []struct {
		name string
		half geometry.Vec
		z    float64 // of the end B
		want float64
	}{
		{"inside, before the middle", v(1, 1, 0.1), 0.02, -0.08},
		{"inside, past the middle", v(1, 1, 0.1), -0.02, -0.12},
		{"just through", v(1, 1, 0.1), -0.11, -0.21},
		{"far through: aside is shorter", v(1, 0.3, 0.1), -5, -0.3},
	} {
		for _, box := range []bool{false, true} {
			s := solidOf(geometry.Ellipsoid{Basis: geometry.WorldBasis(), Radii: tt.half}, box)
			seg := geometry.Segment{A: v(0, 0, 3), B: v(0, 0, tt.z)}
			d, at := s.Clearance(seg)
			geomtest.Within(t, tt.name, d, tt.want, 1e-12)
			if tt.want > -0.3 && at != 1 {
				t.Errorf("%s: deepest at t = %g, want the end", tt.name, at)
			}
		}
	}
}

// SL-035 of the project's reference table, a closed form: the distance from a
// sphere's centre to the segment, by projection.
func TestClearanceOfASphereClosedForm(t *testing.T) {
	seg := geometry.Segment{A: geometry.V(0, 0, 1.1), B: geometry.V(3.5, 0, 1.0)}
	for _, r := range []float64{0, 0.077, 0.1, 0.113046, 0.5} {
		s := sphere(geometry.V(1.8, 0.05, 1.15), r)
		d, at := s.Clearance(seg)
		geomtest.Within(t, "clearance", d, 0.113046-r, 1e-6)
		geomtest.Within(t, "u", at, 0.513458, 1e-6)
		geomtest.Within(t, "bound", s.Bound().Gap(seg), d, 2e-9)
	}
}

// Shapes and segments without extent give numbers, and the right ones.
func TestClearanceOfDegenerateShapes(t *testing.T) {
	v := geometry.V
	through := geometry.Segment{A: v(0.2, 0.1, 1), B: v(0.2, 0.1, -1)}
	above := geometry.Segment{A: v(-1, 0.1, 0.3), B: v(1, 0.1, 0.3)}
	for _, tt := range []struct {
		name string
		half geometry.Vec
		box  bool
		seg  geometry.Segment
		want float64
	}{
		{"plate above", v(1, 1, 0), true, above, 0.3},
		{"disc above", v(1, 1, 0), false, above, 0.3},
		{"needle", v(1, 0, 0), false, above, math.Hypot(0.1, 0.3)},
		{"rod", v(1, 0, 0), true, above, math.Hypot(0.1, 0.3)},
		{"point", v(0, 0, 0), false, above, math.Hypot(0.1, 0.3)},
		{"point box", v(0, 0, 0), true, above, math.Hypot(0.1, 0.3)},
		{"through a plate: aside", v(1, 0.5, 0), true, through, -0.4},
		{"through a disc: aside", v(0.5, 0.5, 0), false, through, -(0.5 - math.Hypot(0.2, 0.1))},
		{"negative size", v(-1, -1, -1), true, above, math.Hypot(0.1, 0.3)},
		{"point in a ball", v(1, 1, 1), false, geometry.Segment{A: v(0.5, 0, 0), B: v(0.5, 0, 0)}, -0.5},
		{"middle of a ball", v(1, 1, 1), false, geometry.Segment{}, -1},
		{"middle of an ellipsoid", v(3, 2, 1), false, geometry.Segment{}, -1},
		{"middle of a box", v(3, 2, 1), true, geometry.Segment{}, -1},
		{"along the axis of a ball", v(1, 1, 1), false, geometry.Segment{A: v(-3, 0, 0), B: v(3, 0, 0)}, -1},
		{"along a face", v(1, 1, 1), true, geometry.Segment{A: v(-3, 0, 1), B: v(3, 0, 1)}, 0},
		{"on the surface", v(1, 1, 1), false, geometry.Segment{A: v(1, 0, 0), B: v(2, 0, 0)}, 0},
		{"focal stretch", v(2, 1, 1), false, geometry.Segment{A: v(0.5, 0, 0), B: v(0.5, 0, 0)}, -math.Sqrt(1 - 0.25/3)},
	} {
		s := solidOf(geometry.Ellipsoid{Basis: geometry.WorldBasis(), Radii: tt.half}, tt.box)
		d, at := s.Clearance(tt.seg)
		geomtest.Within(t, tt.name, d, tt.want, 2e-9) // a thickness of 1e-9 m is given
		geomtest.Within(t, tt.name+", t", at, 0.5, 0.5)
	}
}
