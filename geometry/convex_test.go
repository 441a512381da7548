// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// The bracket holds the exact clearance of a segment (a cone over one point) from
// ellipsoids and boxes, and closes on it. Source of the exact value: Clearance,
// which has its own slow ways.
func TestDistanceAgainstExactClearance(t *testing.T) {
	r := geomtest.Rand(t)
	const cases = 10_000
	apart, closed := 0, 0
	for i := range cases {
		var solid geometry.Solid
		if i%2 == 0 {
			solid = geomtest.Ellipsoid(r).Solid()
		} else {
			solid = geomtest.Box(r).Solid()
		}
		seg := geomtest.Segment(r, 1+2*float64(i%3)/2)
		exact, _ := solid.Clearance(seg)
		cone := geometry.Cone{Base: seg.A, Tips: []geometry.Vec{seg.B}}
		b := geometry.Distance(&cone, &solid, geomtest.Unit(r), math.Inf(1), 1e-10)
		const rounding = 1e-12 // m, of coordinates below 10 m
		if b.Lower > exact+rounding || b.Upper < exact-rounding {
			t.Fatalf("case %d: bracket %v to %v, exactly %v", i, b.Lower, b.Upper, exact)
		}
		if exact > 0 {
			apart++
			if b.Upper-b.Lower < 1e-9 {
				closed++
			} else if b.Upper-b.Lower > 1e-3 {
				t.Errorf("case %d: bracket %v to %v stays open, exactly %v", i, b.Lower, b.Upper, exact)
			}
		} else if b.Upper > 1e-9 {
			t.Errorf("case %d: they meet %v deep, bracket %v to %v", i, -exact, b.Lower, b.Upper)
		}
		// The normal is the certificate: the plane square to it parts them.
		p, _ := cone.Support(b.Normal.Neg())
		_, q := solid.Support(b.Normal)
		if got := -p - b.Normal.Dot(q); math.Abs(got-b.Lower) > 1e-12 && b.Upper > 0 {
			t.Fatalf("case %d: the normal parts them by %v, Lower is %v", i, got, b.Lower)
		}
	}
	if apart < cases/4 || closed < apart*9/10 {
		t.Errorf("%d of %d apart, %d of those to 1e-9", apart, cases, closed)
	}
	t.Logf("%d apart, %d brackets closed to 1e-9 m", apart, closed)
}

// Extent holds every point of a sweep and each of its faces is touched; Bound
// holds it too.
func TestSweepExtent(t *testing.T) {
	r := geomtest.Rand(t)
	for range 200 {
		from := geomtest.Between(r, -0.5, 1)
		s := geometry.Sweep{Origin: geometry.Vec{X: 3, Y: -1, Z: 2}, Basis: geometry.YawBasis(geomtest.Between(r, -2, 2)),
			Turns: [3]geometry.Turn{geometry.NewTurn(-0.1, 0.1, 0.2, 0.6, from, from+r.Float64())},
			Low:   geometry.Vec{Y: -0.2}, High: geometry.Vec{Y: 0.1, Z: 0.1},
			Radii: geometry.Vec{X: 0.1, Y: 0.07, Z: 0.12}, Ball: 0.01}
		s.Lean[0], s.Lean[1] = math.Sincos(from)
		lo, hi := s.Extent()
		ball := s.Bound()
		const rounding = 1e-12
		for range 50 {
			_, p := s.Support(geomtest.Unit(r))
			if p.X < lo.X-rounding || p.Y < lo.Y-rounding || p.Z < lo.Z-rounding || p.X > hi.X+rounding || p.Y > hi.Y+rounding || p.Z > hi.Z+rounding {
				t.Fatalf("%v is outside %v to %v", p, lo, hi)
			}
			if ball.Center.Dist(p) > ball.Radius+rounding {
				t.Fatalf("%v is outside %v", p, ball)
			}
		}
		if _, p := s.Support(geometry.Vec{Z: 1}); p.Z != hi.Z {
			t.Fatalf("the top is at %v, the extent's at %v", p.Z, hi.Z)
		}
	}
}

// A sweep's support is that of its densely sampled members: none reaches
// farther, and the sampling comes near.
func TestSweepSupport(t *testing.T) {
	r := geomtest.Rand(t)
	for range 300 {
		s, member := randomSweep(r)
		n := geomtest.Unit(r)
		reach, at := s.Support(n)
		if d := math.Abs(n.Dot(at) - reach); d > 1e-12 {
			t.Fatalf("reach %v, its point %v", reach, n.Dot(at))
		}
		best := math.Inf(-1)
		for range 3000 {
			e := member(r)
			solid := e.Solid()
			h, _ := solid.Support(n)
			best = max(best, n.Dot(e.Center)+h)
		}
		if best > reach+1e-12 {
			t.Fatalf("a member reaches %v, the sweep %v", best, reach)
		}
		if best < reach-0.2 { // 3000 samples of eight numbers are coarse
			t.Errorf("members reach %v, the sweep claims %v", best, reach)
		}
		if b := s.Bound(); n.Dot(at.Sub(b.Center)) > b.Radius+1e-12 {
			t.Errorf("bound %v does not hold %v", b, at)
		}
	}
}

// randomSweep returns a sweep and a source of solids in it.
func randomSweep(r *rand.Rand) (geometry.Sweep, func(*rand.Rand) geometry.Ellipsoid) {
	pair := func(lo, hi float64) [2]float64 {
		a, b := geomtest.Between(r, lo, hi), geomtest.Between(r, lo, hi)
		return [2]float64{min(a, b), max(a, b)}
	}
	x, z, tip, angle := pair(-0.1, 0.1), pair(0.3, 0.8), pair(0, 0.2), pair(-0.2, 1.4)
	s := geometry.Sweep{
		Origin: geomtest.Point(r, 2), Basis: geomtest.Basis(r),
		Turns: [3]geometry.Turn{
			geometry.NewTurn(x[0], x[1], z[0], z[1], angle[0], angle[1]),
			geometry.NewTurn(0, 0, tip[0], tip[1], angle[0]/2, angle[1]/2),
		},
		Low: geometry.V(0, -0.1, 0), High: geometry.V(0, 0.1, 0.05),
		Radii: geometry.V(0.1, 0.2, 0.15),
	}
	s.Lean[0], s.Lean[1] = math.Sincos(geomtest.Between(r, -1, 1))
	at := func(r *rand.Rand, p [2]float64) float64 { // ends are what reaches farthest
		switch r.IntN(3) {
		case 0:
			return p[0]
		case 1:
			return p[1]
		}
		return geomtest.Between(r, p[0], p[1])
	}
	return s, func(r *rand.Rand) geometry.Ellipsoid {
		a, px, pz, pt := at(r, angle), at(r, x), at(r, z), at(r, tip)
		sin, cos := math.Sincos(a)
		hs, hc := math.Sincos(a / 2)
		p := geometry.V(px*cos+pz*sin+pt*hs, at(r, [2]float64{-0.1, 0.1}), pz*cos-px*sin+pt*hc+at(r, [2]float64{0, 0.05}))
		ls, lc := s.Lean[0], s.Lean[1]
		b := s.Basis
		return geometry.Ellipsoid{Center: s.Origin.Add(b.World(p)), Radii: s.Radii, Basis: geometry.Basis{
			U: b.U.Mul(lc).Sub(b.W.Mul(ls)), V: b.V, W: b.W.Mul(lc).Add(b.U.Mul(ls))}}
	}
}

// The difference of two sweeps that turn together holds the difference of any
// two places at one angle.
func TestSweepsThatTurnTogether(t *testing.T) {
	r := geomtest.Rand(t)
	for range 300 {
		basis := geomtest.Basis(r)
		from, to := -0.1, geomtest.Between(r, 0, 1.2)
		a := geometry.Sweep{Origin: geomtest.Point(r, 1), Basis: basis,
			Turns: [3]geometry.Turn{geometry.NewTurn(0.04, 0.04, 0.5, 0.6, from, to)},
			Low:   geometry.V(0, -0.08, 0), High: geometry.V(0, 0.08, 0)}
		b := geometry.Sweep{Origin: geomtest.Point(r, 1), Basis: basis,
			Turns: [3]geometry.Turn{geometry.NewTurn(0, 0.16, 0, 0.6, from, to), geometry.NewTurn(0, 0.1, 0, 0.1, from/2, to/2)},
			Low:   geometry.V(0, -0.3, 0), High: geometry.V(0, 0.3, 0)}
		d := a.Minus(&b)
		for range 200 {
			at := geomtest.Between(r, from, to)
			one := func(s *geometry.Sweep) geometry.Vec {
				sin, cos := math.Sincos(at)
				hs, hc := math.Sincos(at / 2)
				t0, t1 := s.Turns[0], s.Turns[1]
				x, z := geomtest.Between(r, t0.X[0], t0.X[1]), geomtest.Between(r, t0.Z[0], t0.Z[1])
				u, w := geomtest.Between(r, t1.X[0], t1.X[1]), geomtest.Between(r, t1.Z[0], t1.Z[1])
				return s.Origin.Add(s.Basis.World(geometry.V(x*cos+z*sin+u*hc+w*hs,
					geomtest.Between(r, s.Low.Y, s.High.Y), z*cos-x*sin+w*hc-u*hs)))
			}
			n := geomtest.Unit(r)
			p := one(&a).Sub(one(&b))
			if reach, _ := d.Support(n); n.Dot(p) > reach+1e-12 {
				t.Fatalf("a difference reaches %v, the sweep %v", n.Dot(p), reach)
			}
		}
	}
}

func BenchmarkDistance(b *testing.B) {
	ears := geometry.Sweep{Origin: geometry.V(4, 2, 0.7), Basis: geometry.WorldBasis(),
		Turns: [3]geometry.Turn{geometry.NewTurn(0.04, 0.04, 0.5, 0.66, 0.14, 1.05)},
		Low:   geometry.V(0, -0.08, 0), High: geometry.V(0, 0.08, 0)}
	head := ears
	head.Origin = geometry.V(2.4, 2.2, 0.45)
	head.Radii = geometry.V(0.1, 0.08, 0.12)
	cone := geometry.Cone{Base: &ears, Tips: []geometry.Vec{geometry.V(0.3, 1, 1.4)}}
	b.ReportAllocs()
	for b.Loop() {
		if geometry.Distance(&cone, &head, geometry.V(0, 0, 1), math.Inf(1), 1e-3).Lower > 1 {
			b.Fatal("far apart")
		}
	}
}
