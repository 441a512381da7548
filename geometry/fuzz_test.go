// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"earline/geometry"
)

// roomSize returns x brought into [-100, 100] m; what is no number becomes 0.
func roomSize(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	if math.Abs(x) > 100 {
		return math.Mod(x, 100)
	}
	return x
}

// solidSize returns x brought into [1e-4, 100] m, or 0.
func solidSize(x float64) float64 {
	x = math.Abs(roomSize(x))
	if x > 0 && x < 1e-4 {
		return 1e-4
	}
	return x
}

func FuzzSegmentEllipsoid(f *testing.F) {
	f.Add(0., 0., 1.1, 3.5, 0., 1.0, 0.08, 0.1, 0.12, 0.0)
	f.Add(1., 0., 0., 1., 0., 0., 1., 1., 1., 0.0)
	f.Add(0., 0., 3., 0., 0., -0.02, 1., 1., 0.1, 0.4)
	f.Add(0., 0., 0., 0., 0., 0., 0., 0., 0., 0.0)
	f.Fuzz(func(t *testing.T, ax, ay, az, bx, by, bz, rx, ry, rz, yaw float64) {
		e := geometry.Ellipsoid{
			Basis: geometry.BasisOf(mgl64.AnglesToQuat(roomSize(yaw), 0.3, roomSize(rx), mgl64.ZYX)),
			Radii: geometry.V(solidSize(rx)+1e-4, solidSize(ry)+1e-4, solidSize(rz)+1e-4),
		}
		seg := geometry.Segment{A: geometry.V(roomSize(ax), roomSize(ay), roomSize(az)), B: geometry.V(roomSize(bx), roomSize(by), roomSize(bz))}
		s := e.Solid()
		d, at := s.Clearance(seg)
		if math.IsNaN(d) || math.IsInf(d, 0) || !(at >= 0 && at <= 1) {
			t.Fatalf("clearance %g at %g", d, at)
		}
		back, _ := s.Clearance(geometry.Segment{A: seg.B, B: seg.A})
		if math.Abs(back-d) > 1e-9 {
			t.Fatalf("%g from A to B, %g from B to A", d, back)
		}
		t0, t1, hit := s.Hit(seg)
		if hit && !(0 <= t0 && t0 <= t1 && t1 <= 1) {
			t.Fatalf("hit from %g to %g", t0, t1)
		}
		if math.Abs(d) > 1e-9 && hit != (d < 0) {
			t.Fatalf("clearance %g, hit %v", d, hit)
		}
		// The point found is that far from the solid: the nearest point of the
		// surface, by the slow way.
		if d > 1e-9 {
			if far := pointToEllipsoid(seg.At(at), e); math.Abs(far-d) > 1e-8 {
				t.Fatalf("clearance %g, but its point is %g away", d, far)
			}
		}
	})
}

func FuzzVisible(f *testing.F) {
	// Targets of 200 m, needles of 1 nm and eyes a hundredth of a millimetre off
	// a solid come up here: the worst error found was 2e-7.
	const fuzzTol = 1e-6

	f.Add(0., 0., 1.1, 4., 0.1, 1.0, 0.1, 2., 0.05, 1.1, 0.08, 0.1, 0.12, 0.4, uint8(0))
	f.Add(0., 0., 0., 4., 0., 0., 0.5, 4., 0., 0., 0.3, 0.3, 0.3, 0., uint8(1))
	f.Add(0., 0., 1., 4., 0., 1., 1., 2., 0., 1., 1., 1., 1., 0., uint8(7))
	f.Fuzz(func(t *testing.T, ex, ey, ez, cx, cy, cz, size, sx, sy, sz, rx, ry, rz, yaw float64, kind uint8) {
		v := func(x, y, z float64) geometry.Vec { return geometry.V(roomSize(x), roomSize(y), roomSize(z)) }
		eye, c := v(ex, ey, ez), v(cx, cy, cz)
		basis := geometry.BasisOf(mgl64.AnglesToQuat(roomSize(yaw), 0.3, roomSize(rx), mgl64.ZYX))
		if kind&1 != 0 {
			basis = geometry.WorldBasis()
		}
		half := geometry.V(solidSize(rx), solidSize(ry), solidSize(rz))
		solids := []geometry.Solid{
			geometry.Ellipsoid{Center: v(sx, sy, sz), Basis: basis, Radii: half}.Solid(),
			geometry.Box{Center: v(sx, sy, cz), Basis: basis, Half: half}.Solid(),
		}
		target := geometry.Disc{Center: c, Normal: basis.W, Radius: solidSize(size)}.Target()
		if kind&2 != 0 {
			target = geometry.Rect{Center: c, U: basis.U.Mul(solidSize(size)), V: basis.W.Mul(solidSize(size))}.Target()
		}
		var sc geometry.Scratch
		both := sc.Visible(eye, target, solids, nil)
		swapped := sc.Visible(eye, target, solids, []int32{1, 0})
		if !(both >= 0 && both <= 1) {
			t.Fatalf("share %g", both)
		}
		if math.Abs(both-swapped) > fuzzTol {
			t.Fatalf("share %g, with the solids swapped %g", both, swapped)
		}
		a := sc.Visible(eye, target, solids, []int32{0})
		b := sc.Visible(eye, target, solids, []int32{1})
		if both > min(a, b)+fuzzTol || both < a+b-1-fuzzTol {
			t.Fatalf("share %g past both, %g and %g past one", both, a, b)
		}
	})
}
