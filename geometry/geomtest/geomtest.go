// SPDX-License-Identifier: MIT

// Package geomtest helps the tests of geometry and of all that stands on it:
// comparison with a stated tolerance, and seeded random shapes.
package geomtest

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
)

// One flag per test binary; a flag cannot live elsewhere.
var seed = flag.Uint64("seed", 1, "seed of the random shapes")

// Within fails the test when got is farther than tol from want, or is not a
// number. what says what was computed, from which input. An infinite want is
// met only by itself.
func Within(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if got == want {
		return
	}
	if diff := math.Abs(got - want); !(diff <= tol) {
		t.Errorf("%s: got %.15g, want %.15g (difference %.3g, allowed %.3g)", what, got, want, diff, tol)
	}
}

// WithinVec fails the test when got lies farther than tol from want.
func WithinVec(t testing.TB, what string, got, want geometry.Vec, tol float64) {
	t.Helper()
	if diff := got.Dist(want); !(diff <= tol) {
		t.Errorf("%s: got %v, want %v (difference %.3g, allowed %.3g)", what, got, want, diff, tol)
	}
}

// Rand returns a random source seeded by the flag -seed, and prints the seed if
// the test fails.
func Rand(t testing.TB) *rand.Rand {
	t.Helper()
	s := *seed
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("repeat with -seed=%d", s)
		}
	})
	return rand.New(rand.NewPCG(s, 0x9e3779b97f4a7c15))
}

// Between returns a number evenly spread over [lo, hi).
func Between(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// Size returns a number in [lo, hi) whose logarithm is evenly spread. lo must
// be positive.
func Size(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// Unit returns a unit vector, evenly spread over the sphere.
func Unit(r *rand.Rand) geometry.Vec {
	for {
		u, ok := geometry.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
		if ok {
			return u
		}
	}
}

// Point returns a point in the cube of half-size half about the origin, in
// metres.
func Point(r *rand.Rand, half float64) geometry.Vec {
	return geometry.V(Between(r, -half, half), Between(r, -half, half), Between(r, -half, half))
}

// Basis returns evenly spread right-handed axes.
func Basis(r *rand.Rand) geometry.Basis {
	w := Unit(r)
	for {
		u, ok := w.Cross(Unit(r)).Unit()
		if ok {
			return geometry.Basis{U: u, V: w.Cross(u), W: w}
		}
	}
}

// Ellipsoid returns an ellipsoid centred within 1 m of the origin along each
// axis, with half-axes between 2 cm and 1 m; now and then two of them are equal,
// or it stands square to the room.
func Ellipsoid(r *rand.Rand) geometry.Ellipsoid {
	e := geometry.Ellipsoid{Center: Point(r, 1), Basis: Basis(r), Radii: sizes(r)}
	if r.IntN(6) == 0 {
		e.Basis = geometry.WorldBasis()
	}
	return e
}

// Box returns a box in the same way as Ellipsoid.
func Box(r *rand.Rand) geometry.Box {
	e := Ellipsoid(r)
	return geometry.Box{Center: e.Center, Basis: e.Basis, Half: e.Radii}
}

// Cylinder returns a cylinder in the same way as Ellipsoid.
func Cylinder(r *rand.Rand) geometry.Cylinder {
	e := Ellipsoid(r)
	return geometry.Cylinder{Center: e.Center, Basis: e.Basis, Radius: e.Radii.X, Half: e.Radii.Z}
}

func sizes(r *rand.Rand) geometry.Vec {
	v := geometry.V(Size(r, 0.02, 1), Size(r, 0.02, 1), Size(r, 0.02, 1))
	switch r.IntN(8) {
	case 0:
		v.Y = v.X
	case 1:
		v.Z = v.Y
	case 2:
		v.Y, v.Z = v.X, v.X
	}
	return v
}

// Segment returns a segment between two points within half of the origin along
// each axis; one in ten is of no length, one in ten is parallel to an axis of
// the room.
func Segment(r *rand.Rand, half float64) geometry.Segment {
	s := geometry.Segment{A: Point(r, half), B: Point(r, half)}
	switch r.IntN(10) {
	case 0:
		s.B = s.A
	case 1:
		s.B = s.A
		s.B.X = Between(r, -half, half)
	}
	return s
}

// Motion is a turn about the origin, then a shift.
type Motion struct {
	Turn  geometry.Basis
	Shift geometry.Vec
}

// RandomMotion returns a motion with any turn and a shift of up to 3 m along
// each axis.
func RandomMotion(r *rand.Rand) Motion { return Motion{Basis(r), Point(r, 3)} }

// Point returns p moved.
func (m Motion) Point(p geometry.Vec) geometry.Vec { return m.Turn.World(p).Add(m.Shift) }

// Segment returns s moved.
func (m Motion) Segment(s geometry.Segment) geometry.Segment {
	return geometry.Segment{A: m.Point(s.A), B: m.Point(s.B)}
}

// Basis returns b turned.
func (m Motion) Basis(b geometry.Basis) geometry.Basis {
	return geometry.Basis{U: m.Turn.World(b.U), V: m.Turn.World(b.V), W: m.Turn.World(b.W)}
}

// Ellipsoid returns e moved.
func (m Motion) Ellipsoid(e geometry.Ellipsoid) geometry.Ellipsoid {
	return geometry.Ellipsoid{Center: m.Point(e.Center), Basis: m.Basis(e.Basis), Radii: e.Radii}
}

// Cylinder returns c moved.
func (m Motion) Cylinder(c geometry.Cylinder) geometry.Cylinder {
	return geometry.Cylinder{Center: m.Point(c.Center), Basis: m.Basis(c.Basis), Radius: c.Radius, Half: c.Half}
}

// Box returns b moved.
func (m Motion) Box(b geometry.Box) geometry.Box {
	return geometry.Box{Center: m.Point(b.Center), Basis: m.Basis(b.Basis), Half: b.Half}
}
