// SPDX-License-Identifier: MIT

package geometry_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// pass returns a random segment, two in three close to c so that many
// penetrate.
func pass(r *rand.Rand, c geometry.Vec) geometry.Segment {
	if r.IntN(3) == 0 {
		return geomtest.Segment(r, 2)
	}
	s := geomtest.Segment(r, 0.6)
	return geometry.Segment{A: s.A.Add(c), B: s.B.Add(c)}
}

// cases returns 10,000, or fewer when tests are asked to be short.
func cases() int {
	if testing.Short() {
		return 1000
	}
	return 10000
}

// count fails the test unless each kind is a tenth of the whole at least.
func count(t *testing.T, apart, within int) {
	t.Helper()
	t.Logf("%d apart, %d penetrating", apart, within)
	if all := apart + within; apart < all/10 || within < all/10 {
		t.Errorf("too few of a kind")
	}
}

func TestEllipsoidClearanceAgainstSearch(t *testing.T) {
	r := geomtest.Rand(t)
	apart, within := 0, 0
	for i := range cases() {
		e := geomtest.Ellipsoid(r)
		seg := pass(r, e.Center)
		s := e.Solid()
		d, at := s.Clearance(seg)
		what := fmt.Sprintf("case %d %+v %+v", i, e, seg)
		want := denseDistance(func(u float64) float64 { return pointToEllipsoid(seg.At(u), e) })
		if want > 1e-12 { // m, rounding
			apart++
			geomtest.Within(t, what, d, want, 1e-9)
			geomtest.Within(t, what+" at t", pointToEllipsoid(seg.At(at), e), want, 1e-9)
			continue
		}
		within++
		// The search stops within 1e-7 rad of a crest, or on a crease.
		geomtest.Within(t, what, -d, ellipsoidDepth(r, e, seg), 1e-7)
		if t.Failed() && i > 300 {
			break
		}
	}
	count(t, apart, within)
}

func TestBoxClearanceAgainstSearch(t *testing.T) {
	r := geomtest.Rand(t)
	apart, within := 0, 0
	for i := range cases() {
		b := geomtest.Box(r)
		seg := pass(r, b.Center)
		s := b.Solid()
		d, at := s.Clearance(seg)
		what := fmt.Sprintf("case %d %+v %+v", i, b, seg)
		want := denseDistance(func(u float64) float64 { return pointToBox(seg.At(u), b) })
		if want > 1e-12 { // m, rounding
			apart++
			geomtest.Within(t, what+" at t", pointToBox(seg.At(at), b), want, 1e-9)
			geomtest.Within(t, what, d, want, 1e-9)
			continue
		}
		within++
		geomtest.Within(t, what, -d, boxDepth(b, seg), 1e-8)
		if t.Failed() && i > 300 {
			break
		}
	}
	count(t, apart, within)
}
