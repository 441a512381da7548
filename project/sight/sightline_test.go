// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/project/air"
)

// cValue computes the C value of the sightline formula with the kernel that
// draws the rays: the clearance of the eye's line to the focus over a speck at
// the eye of the person in front, turned from square to the line to upright.
//
// d is the horizontal distance of the front eye from the focus, r its height
// above it, n the riser, t the depth of the row; metres.
func cValue(d, r, n, t float64) float64 {
	const speck = 1e-9
	eye := geometry.V(d+t, 0, r+n)
	focus := geometry.V(0, 0, 0)
	front := geometry.V(d, 0, r)
	s := geometry.Ellipsoid{Center: front, Basis: geometry.WorldBasis(), Radii: geometry.V(speck, speck, speck)}.Solid()
	c, at := s.Clearance(geometry.Segment{A: eye, B: focus})
	c += speck
	slope := math.Atan2(eye.Z, eye.X)
	up := c / math.Cos(slope)
	if (geometry.Segment{A: eye, B: focus}).At(at).Z < front.Z {
		up = -up // the line passes below the front eye
	}
	return up
}

// The published worked examples of C = D(N+R)/(D+T) - R, from the kernel.
func TestPublishedSightlines(t *testing.T) {
	for _, c := range []struct {
		source     string
		d, r, n, t float64
		want, tol  float64
	}{
		// Inputs seen in print, answers computed from the closed form.
		{"SL-008 Plus Maths stadium sightline sheet, problem 1: riser for no blocking", 30, 10, 1.0 / 3, 1, 0, 1e-6},
		{"SL-009 the same, riser for C = 150 mm", 30, 10, 0.48833, 1, 0.150, 1e-5},
		// Printed answers: sight-line study R-020 (2026), results table, printed
		// to 1 mm; rows 2 to 6 of a telescopic stand, focus 25 ft and 10 ft before it.
		{"SUP-SIGHT-study-25ft-L2", 8.0796, 1.2, 0.295275, 0.6096, 0.190, 0.0005},
		{"SUP-SIGHT-study-25ft-L3", 8.0796 + 0.6096, 1.2 + 0.295275, 0.295275, 0.6096, 0.178, 0.0005},
		{"SUP-SIGHT-study-25ft-L4", 8.0796 + 2*0.6096, 1.2 + 2*0.295275, 0.295275, 0.6096, 0.167, 0.0005},
		{"SUP-SIGHT-study-25ft-L5", 8.0796 + 3*0.6096, 1.2 + 3*0.295275, 0.295275, 0.6096, 0.157, 0.0005},
		{"SUP-SIGHT-study-25ft-L6", 8.0796 + 4*0.6096, 1.2 + 4*0.295275, 0.295275, 0.6096, 0.149, 0.0005},
		{"SUP-SIGHT-study-10ft-L2", 3.5076, 1.2, 0.295275, 0.6096, 0.074, 0.0005},
		{"SUP-SIGHT-study-10ft-L3", 3.5076 + 0.6096, 1.2 + 0.295275, 0.295275, 0.6096, 0.064, 0.0005},
		{"SUP-SIGHT-study-10ft-L4", 3.5076 + 2*0.6096, 1.2 + 2*0.295275, 0.295275, 0.6096, 0.057, 0.0005},
		{"SUP-SIGHT-study-10ft-L5", 3.5076 + 3*0.6096, 1.2 + 3*0.295275, 0.295275, 0.6096, 0.051, 0.0005},
		{"SUP-SIGHT-study-10ft-L6", 3.5076 + 4*0.6096, 1.2 + 4*0.295275, 0.295275, 0.6096, 0.046, 0.0005},
		// Home-room examples, closed form.
		{"SL-017 home room", 3.5, 0.42, 0.2, 1.8, -0.010566, 1e-6},
		{"SL-018 home room", 3.5, 0.42, 0.3977142857, 1.8, 0.120, 1e-6},
		{"SL-019 picture at eye height", 3.5, 0, 0.18, 1.8, 0.118868, 1e-6},
		{"SL-020 picture above the eye", 3.5, -0.2, 0, 1.8, 0.067925, 1e-6},
	} {
		if got := cValue(c.d, c.r, c.n, c.t); math.Abs(got-c.want) > c.tol {
			t.Errorf("%s: C = %.6f m, want %v within %v", c.source, got, c.want, c.tol)
		}
	}
}

// The constant-C chain (SL-003: R/D grows by C/D from row to row) and the home
// rows SL-021 to SL-024 computed from it.
func TestConstantCChain(t *testing.T) {
	d, r := 3.5, 0.42
	for k, n := range []float64{0.39771, 0.43847, 0.46889, 0.49316} {
		if got := cValue(d, r, n, 1.8); math.Abs(got-0.12) > 1e-5 {
			t.Errorf("step %d: C = %.6f, want 0.12", k+1, got)
		}
		exact := (r+0.12)*(d+1.8)/d - r
		d, r = d+1.8, r+exact
	}
}

// An ear-to-driver line over a head in front: SUP-SIGHT-ear-1, -2, -3 (closed
// form of a straight line; heights upright at the head).
func TestEarLineOverAHead(t *testing.T) {
	over := func(earZ, driverZ float64) float64 {
		const speck = 1e-9
		seg := geometry.Segment{A: geometry.V(5.2, 0, earZ), B: geometry.V(0.2, 0, driverZ)}
		top := geometry.V(3.4, 0, 1.25)
		s := geometry.Ellipsoid{Center: top, Basis: geometry.WorldBasis(), Radii: geometry.V(speck, speck, speck)}.Solid()
		c, at := s.Clearance(seg)
		up := (c + speck) / math.Cos(math.Atan2(math.Abs(earZ-driverZ), 5))
		if seg.At(at).Z < top.Z {
			return -up
		}
		return up
	}
	for _, c := range []struct{ ear, driver, want, tol float64 }{
		{1.42, 1.10, 0.05480, 1e-5},
		{1.12, 1.10, -0.13720, 1e-5},
		{1.42, 1.0867, 0.05, 5e-5}, // the height is printed to 0.1 mm
	} {
		if got := over(c.ear, c.driver); math.Abs(got-c.want) > c.tol {
			t.Errorf("ear %v driver %v: %.5f m over the head, want %v", c.ear, c.driver, got, c.want)
		}
	}
}

// Knife-edge loss against print and closed form. Sources: Rec. ITU-R P.526
// equation 31 (AC-109); values of the Fresnel integral, to which the equation is
// a 0.1 dB fit (AC-112 to AC-120); a head as an edge (AC-121); SUP-SIGHT-diff-1
// and -2 (J(v) evaluated).
func TestKnifeEdge(t *testing.T) {
	// With d1 = d2 = 1 and f such that lambda = 1, v = 2 h.
	atV := func(v float64) float64 { return KnifeEdge(v/2, 1, 1, air.Speed20) }
	for _, c := range []struct{ v, printed, exact float64 }{
		{-2, 0, 0.737}, {-1, 0, -1.001}, {-0.5, 1.959, 1.859}, {0, 6.033, 6.021}, {0.5, 10.288, 10.234},
		{1, 13.926, 13.864}, {1.5, 16.784, 16.777}, {2, 19.043, 19.091}, {2.4, 20.539, 20.618},
		{3, 22.416, 22.522}, {5, 26.814, 26.936},
	} {
		got := atV(c.v)
		if math.Abs(got-c.printed) > 0.001 {
			t.Errorf("v = %v: %.3f dB, equation 31 gives %v", c.v, got, c.printed)
		}
		if c.v >= -0.5 && math.Abs(got-c.exact) > 0.13 {
			t.Errorf("v = %v: %.3f dB, Fresnel integral gives %v", c.v, got, c.exact)
		}
	}
	for _, c := range []struct {
		source             string
		h, d1, d2, f, want float64
	}{
		{"AC-121", 0.060, 1.0, 2.5, 2000, 8.132},
		{"SUP-SIGHT-diff-1", -0.05, 3.2, 1.8, 2000, 4.674},
		{"SUP-SIGHT-diff-2", 0.05, 3.2, 1.8, 2000, 7.412},
	} {
		if got := KnifeEdge(c.h, c.d1, c.d2, c.f); math.Abs(got-c.want) > 0.01 {
			t.Errorf("%s: %.3f dB, want %v", c.source, got, c.want)
		}
	}
	if atV(-0.8) != 0 || KnifeEdge(math.NaN(), 1, 1, 1) > 0 || KnifeEdge(1, 0, 1, 1) != 0 {
		t.Error("no loss below v = -0.78, nor without a path")
	}
}
