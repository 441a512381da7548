// SPDX-License-Identifier: MIT

package geomtest_test

import (
	"math"
	"testing"

	"earline/geometry/geomtest"
)

// recorder is a test that only remembers whether it failed.
type recorder struct {
	testing.TB
	failed bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Errorf(string, ...any) { r.failed = true }

func TestWithinFailsWhenItShould(t *testing.T) {
	for _, tt := range []struct {
		got, want, tol float64
		fails          bool
	}{
		{1, 1, 0, false},
		{1, 1.05, 0.1, false},
		{1, 1.2, 0.1, true},
		{math.NaN(), 1, 10, true},
		{1, math.NaN(), 10, true},
		{math.Inf(1), math.Inf(1), 0, false},
		{math.Inf(1), 1, 10, true},
	} {
		r := recorder{}
		geomtest.Within(&r, "x", tt.got, tt.want, tt.tol)
		if r.failed != tt.fails {
			t.Errorf("Within(%g, %g, %g): failed %v, want %v", tt.got, tt.want, tt.tol, r.failed, tt.fails)
		}
	}
}

func TestMotionsKeepShapesRigid(t *testing.T) {
	r := geomtest.Rand(t)
	for range 100 {
		m := geomtest.RandomMotion(r)
		a, b := geomtest.Point(r, 3), geomtest.Point(r, 3)
		geomtest.Within(t, "distance", m.Point(a).Dist(m.Point(b)), a.Dist(b), 1e-12)
		e := m.Ellipsoid(geomtest.Ellipsoid(r))
		geomtest.WithinVec(t, "u cross v", e.Basis.U.Cross(e.Basis.V), e.Basis.W, 1e-12)
	}
}
