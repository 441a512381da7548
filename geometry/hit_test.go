// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// lpHit finds the least and greatest t of a segment in a box as two linear
// programs, solved by gonum's simplex method.
func lpHit(b geometry.Box, seg geometry.Segment) (t0, t1 float64, ok bool) {
	p := b.Basis.Local(seg.A.Sub(b.Center))
	q := b.Basis.Local(seg.B.Sub(seg.A))
	a := mat.NewDense(7, 8, nil) // t and seven slacks
	rhs := make([]float64, 7)
	row := 0
	limit := func(coef, bound float64) { // coef t <= bound
		sign := 1.0
		if bound < 0 { // the method wants no negative right-hand sides
			sign = -1
		}
		a.Set(row, 0, sign*coef)
		a.Set(row, 1+row, sign)
		rhs[row] = sign * bound
		row++
	}
	for _, ax := range [3][3]float64{{p.X, q.X, b.Half.X}, {p.Y, q.Y, b.Half.Y}, {p.Z, q.Z, b.Half.Z}} {
		limit(ax[1], ax[2]-ax[0])
		limit(-ax[1], ax[2]+ax[0])
	}
	limit(1, 1)
	cost := make([]float64, 8)
	cost[0] = 1
	t0, _, err := lp.Simplex(cost, a, rhs, 1e-12, nil)
	if err != nil {
		return 0, 0, false
	}
	cost[0] = -1
	t1, _, err = lp.Simplex(cost, a, rhs, 1e-12, nil)
	return t0, -t1, err == nil
}

func TestBoxHitAgainstLinearProgram(t *testing.T) {
	r := geomtest.Rand(t)
	hits := 0
	n := 500
	for i := range n {
		b := geomtest.Box(r)
		seg := pass(r, b.Center)
		if seg.Len() == 0 {
			seg.B = b.Center
		}
		s := b.Solid()
		if d, _ := s.Clearance(seg); math.Abs(d) < 1e-6 {
			continue // the two may differ on a touch
		}
		t0, t1, ok := s.Hit(seg)
		w0, w1, wok := lpHit(b, seg)
		if ok != wok {
			t.Fatalf("case %d %+v %+v: got %v, linear program %v", i, b, seg, ok, wok)
		}
		if ok {
			hits++
			geomtest.Within(t, "t0", t0, w0, 1e-9)
			geomtest.Within(t, "t1", t1, w1, 1e-9)
		}
	}
	if hits < n/10 {
		t.Errorf("only %d of %d hit", hits, n)
	}
}

// The expected values solve |c + t d|^2 = r^2 by the schoolbook formula.
func TestSphereHitClosedForm(t *testing.T) {
	r := geomtest.Rand(t)
	hits := 0
	for range cases() {
		c, radius := geomtest.Point(r, 1), geomtest.Size(r, 0.05, 1)
		seg := pass(r, c)
		if seg.Len() == 0 {
			continue
		}
		s := geometry.Ellipsoid{Center: c, Basis: geomtest.Basis(r), Radii: geometry.V(radius, radius, radius)}.Solid()
		t0, t1, ok := s.Hit(seg)
		d, o := seg.B.Sub(seg.A), seg.A.Sub(c)
		qa, qb, qc := d.Dot(d), 2*d.Dot(o), o.Dot(o)-radius*radius
		disc := qb*qb - 4*qa*qc
		if math.Abs(disc) < 1e-9 {
			continue
		}
		w0, w1 := 2.0, -1.0
		if disc > 0 {
			w0 = math.Max(0, (-qb-math.Sqrt(disc))/(2*qa))
			w1 = math.Min(1, (-qb+math.Sqrt(disc))/(2*qa))
		}
		if ok != (w0 <= w1) && math.Abs(w0-w1) > 1e-9 {
			t.Fatalf("%v %g %+v: got %v, want %v", c, radius, seg, ok, w0 <= w1)
		}
		if ok {
			hits++
			geomtest.Within(t, "t0", t0, w0, 1e-9)
			geomtest.Within(t, "t1", t1, w1, 1e-9)
		}
	}
	if hits < cases()/10 {
		t.Errorf("only %d hit", hits)
	}
}

// Where an ellipsoid is entered and left, the point is on its surface, unless
// the end of the segment is inside.
func TestEllipsoidHitIsOnTheSurface(t *testing.T) {
	r := geomtest.Rand(t)
	for range cases() {
		e := geomtest.Ellipsoid(r)
		seg := pass(r, e.Center)
		s := e.Solid()
		t0, t1, ok := s.Hit(seg)
		if !ok || seg.Len() == 0 {
			continue
		}
		level := func(p geometry.Vec) float64 {
			l := e.Basis.Local(p.Sub(e.Center))
			return geometry.V(l.X/e.Radii.X, l.Y/e.Radii.Y, l.Z/e.Radii.Z).Len()
		}
		for _, at := range []float64{t0, t1} {
			if (at == 0 || at == 1) && level(seg.At(at)) < 1 {
				continue
			}
			geomtest.Within(t, "level", level(seg.At(at)), 1, 1e-9)
		}
	}
}
