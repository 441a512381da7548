// SPDX-License-Identifier: MIT

package geometry_test

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// pointToCylinder is the distance of p from c, 0 inside.
func pointToCylinder(p geometry.Vec, c geometry.Cylinder) float64 {
	l := c.Basis.Local(p.Sub(c.Center))
	return math.Hypot(math.Max(math.Hypot(l.X, l.Y)-c.Radius, 0), math.Max(math.Abs(l.Z)-c.Half, 0))
}

func TestCylinderClearanceAgainstSearch(t *testing.T) {
	r := geomtest.Rand(t)
	apart, within := 0, 0
	for i := range cases() {
		c := geomtest.Cylinder(r)
		seg := pass(r, c.Center)
		s := c.Solid()
		d, at := s.Clearance(seg)
		what := fmt.Sprintf("case %d %+v %+v", i, c, seg)
		want := denseDistance(func(u float64) float64 { return pointToCylinder(seg.At(u), c) })
		if want > 1e-12 { // m, rounding
			apart++
			geomtest.Within(t, what, d, want, 1e-9)
			geomtest.Within(t, what+" at t", pointToCylinder(seg.At(at), c), want, 1e-9)
			continue
		}
		within++
		depth := searchedDepth(r, seg, func(u geometry.Vec) float64 {
			l := c.Basis.Local(u)
			return math.Min(u.Dot(seg.A.Sub(c.Center)), u.Dot(seg.B.Sub(c.Center))) - c.Radius*math.Hypot(l.X, l.Y) - c.Half*math.Abs(l.Z)
		}, c.Basis.W)
		// The search stops within 1e-7 rad of a crest, or on a crease.
		geomtest.Within(t, what, -d, depth, 1e-7)
		if t.Failed() {
			t.FailNow()
		}
	}
	count(t, apart, within)
}

// The distance between two skew lines, less the radius, is the clearance of a path
// that passes a column's side: |(b - a) x w . (a - p)| / |(b - a) x w| (Weisstein,
// "Line-Line Distance", MathWorld, quoted from memory).
func TestPathBesideAColumnKeepsTheDistanceOfItsAxisLessTheRadius(t *testing.T) {
	r := geomtest.Rand(t)
	done := 0
	for range cases() {
		c := geometry.Cylinder{Center: geomtest.Point(r, 1), Basis: geometry.YawBasis(geomtest.Between(r, 0, 7)),
			Radius: geomtest.Size(r, 0.05, 0.5), Half: 20}
		seg := geomtest.Segment(r, 4)
		n, ok := seg.B.Sub(seg.A).Cross(c.Basis.W).Unit()
		if !ok {
			continue
		}
		d := geometry.Vec2{X: seg.B.X - seg.A.X, Y: seg.B.Y - seg.A.Y}
		at := geometry.Vec2{X: c.Center.X - seg.A.X, Y: c.Center.Y - seg.A.Y}.Dot(d) / d.Dot(d)
		beside := math.Abs(n.Dot(seg.A.Sub(c.Center)))
		if at < 0 || at > 1 || beside < c.Radius {
			continue
		}
		done++
		s := c.Solid()
		got, gotAt := s.Clearance(seg)
		geomtest.Within(t, fmt.Sprintf("%+v %+v", c, seg), got, beside-c.Radius, 1e-12)
		geomtest.Within(t, "where", gotAt, at, 1e-6)
	}
	if done < cases()/20 {
		t.Errorf("only %d paths passed beside", done)
	}
}

// A cylinder answers alike turned about its axis, from B to A, and moved; its bound
// never promises more than its clearance; no depth is beyond Deepest.
func TestCylinderLaws(t *testing.T) {
	r := geomtest.Rand(t)
	var sc geometry.Scratch
	for range cases() {
		c := geomtest.Cylinder(r)
		seg := pass(r, c.Center)
		s := c.Solid()
		d, _ := s.Clearance(seg)
		back, _ := s.Clearance(geometry.Segment{A: seg.B, B: seg.A})
		geomtest.Within(t, "from B to A", back, d, lawTol)
		sin, cos := math.Sincos(geomtest.Between(r, 0, 7))
		turned := c
		turned.Basis.U = c.Basis.U.Mul(cos).Add(c.Basis.V.Mul(sin))
		turned.Basis.V = c.Basis.V.Mul(cos).Sub(c.Basis.U.Mul(sin))
		ts := turned.Solid()
		got, _ := ts.Clearance(seg)
		geomtest.Within(t, "turned", got, d, lawTol)
		m := geomtest.RandomMotion(r)
		ms := m.Cylinder(c).Solid()
		got, _ = ms.Clearance(m.Segment(seg))
		geomtest.Within(t, "moved", got, d, lawTol)
		if gap := s.Bound().Gap(seg); d > 0 && gap > d+lawTol {
			t.Errorf("the bound promises %g, the clearance is %g", gap, d)
		}
		if -d > s.Deepest()+lawTol {
			t.Errorf("%g deep, deepest %g", -d, s.Deepest())
		}
		if _, _, hit := s.Hit(seg); hit != (d <= 0) && math.Abs(d) > lawTol {
			t.Errorf("Hit says %v, clearance %g", hit, d)
		}
		n := geomtest.Unit(r)
		reach, at := s.Support(n)
		geomtest.Within(t, "reach", reach, s.Reach(n), lawTol)
		geomtest.Within(t, "reach of the point", n.Dot(at.Sub(c.Center)), reach, lawTol)
		geomtest.Within(t, "the point is of it", pointToCylinder(at, c), 0, lawTol)
		disc := geometry.Disc{Center: seg.B, Normal: n, Radius: 0.1}.Target()
		geomtest.Within(t, "share past it turned", sc.Visible(seg.A, disc, []geometry.Solid{ts}, nil),
			sc.Visible(seg.A, disc, []geometry.Solid{s}, nil), 1e-7)
		if t.Failed() {
			t.Fatalf("%+v %+v", c, seg)
		}
	}
}

// What a round column hides lies between what the largest square column inside it
// and the smallest around it hide; and so does its clearance.
func TestRoundColumnHidesBetweenItsInnerAndOuterSquare(t *testing.T) {
	r := geomtest.Rand(t)
	var sc geometry.Scratch
	partly := 0
	for range cases() {
		c := geomtest.Cylinder(r)
		c.Basis = geometry.YawBasis(geomtest.Between(r, 0, 7))
		outer := c.Box()
		inner := outer
		inner.Half.X /= math.Sqrt2
		inner.Half.Y /= math.Sqrt2
		eye := c.Center.Add(geomtest.Point(r, 2))
		at := c.Center.Lerp(eye, -geomtest.Between(r, 0.1, 2)).Add(geomtest.Point(r, 0.3))
		disc := geometry.Disc{Center: at, Normal: geomtest.Unit(r), Radius: geomtest.Size(r, 0.02, 0.5)}.Target()
		see := func(s geometry.Solid) float64 { return sc.Visible(eye, disc, []geometry.Solid{s}, nil) }
		most, is, least := see(inner.Solid()), see(c.Solid()), see(outer.Solid())
		const tol = 1e-7
		if is > most+tol || is < least-tol {
			t.Fatalf("%+v seen from %v: %g, past the inner square %g, past the outer %g", c, eye, is, most, least)
		}
		if is > 0 && is < 1 {
			partly++
		}
		seg := geometry.Segment{A: eye, B: at}
		clear := func(s geometry.Solid) float64 { d, _ := s.Clearance(seg); return d }
		if d := clear(c.Solid()); d > clear(inner.Solid())+tol || d < clear(outer.Solid())-tol {
			t.Fatalf("%+v on %v: clearance %g, of the inner square %g, of the outer %g", c, seg, d, clear(inner.Solid()), clear(outer.Solid()))
		}
	}
	if partly < cases()/10 {
		t.Errorf("only %d are partly seen", partly)
	}
}

// Closed forms, derived beside each.
func TestVisiblePastAColumnClosedForms(t *testing.T) {
	v := geometry.V
	column := func(x, y, z, r, h float64) []geometry.Solid {
		return []geometry.Solid{geometry.Cylinder{Center: v(x, y, z), Basis: geometry.WorldBasis(), Radius: r, Half: h}.Solid()}
	}
	square := geometry.Rect{Center: v(4, 0, 0), U: v(0, 0.5, 0), V: v(0, 0, 0.5)}.Target()
	// Lines that touch a circle of radius 0.1, 2 m away, are 2 * 4 tan(asin(0.05)) apart at 4 m.
	wide := 8 * math.Tan(math.Asin(0.05))
	floor := geometry.Rect{Center: v(0, 0, -1), U: v(2, 0, 0), V: v(0, 2, 0)}.Target()
	for _, tt := range []struct {
		name   string
		target geometry.Target
		past   []geometry.Solid
		want   float64
	}{
		{"a tall column", square, column(2, 0, 0, 0.1, 5), 1 - wide},
		{"beside", square, column(2, 1, 0, 0.1, 5), 1},
		{"behind the eye", square, column(-2, 0, 0, 0.1, 5), 1},
		{"beyond", square, column(6, 0, 0, 0.1, 5), 1},
		{"the eye in it", square, column(0.05, 0, 0, 0.1, 5), 0},
		// Its axis in the picture: the section hides less than the cone before it.
		{"through the middle of the picture", square, column(4, 0, 0, 0.1, 5), 1 - 8*0.1/math.Sqrt(16-0.01)},
		{"the picture cuts its near side", square, column(4.05, 0, 0, 0.1, 5), 1 - 2*math.Sqrt(0.01-0.0025)},
		{"its side touches the picture from behind", square, column(4.1, 0, 0, 0.1, 5), 1},
		// A disc 1 m under the eye, of no height to speak of: its shadow 2 m down is twice
		// as large; here over a floor 1 m down with the disc half way.
		{"a disc below", floor, column(0, 0, -0.5, 0.3, 1e-9), 1 - math.Pi*0.36/16},
		{"a disc below, aside", floor, column(0.5, 0, -0.5, 0.3, 1e-9), 1 - math.Pi*0.36/16},
		// Standing on the floor under the eye, its top 0.5 m down: the top's shadow holds all.
		{"a post below", floor, column(0, 0, -0.75, 0.3, 0.25), 1 - math.Pi*0.36/16},
		// Aside: the hull of its foot and of the shadow of its top, circles of radius 0.3
		// and 0.6 whose middles are 0.5 apart: hullOfDiscs.
		{"a post aside", floor, column(0.5, 0, -0.75, 0.3, 0.25), 1 - hullOfDiscs(0.6, 0.3, 0.5)/16},
	} {
		var sc geometry.Scratch
		geomtest.Within(t, tt.name, sc.Visible(geometry.Vec{}, tt.target, tt.past, nil), tt.want, 1e-7)
	}
}

// hullOfDiscs is the area of the hull of discs of radius s >= r whose middles are d
// apart, none in the other: both sectors, and the two kites between (elementary).
func hullOfDiscs(s, r, d float64) float64 {
	a := math.Acos((s - r) / d)
	return s*s*(math.Pi-a) + r*r*a + (s+r)*d*math.Sin(a)
}

// The outline of 32 sides holds the circle and is nowhere more than 0.0049 of the
// radius outside it.
func TestOutlineOfAColumnHoldsIt(t *testing.T) {
	c := geometry.Cylinder{Center: geometry.V(1, 2, 3), Basis: geometry.WorldBasis(), Radius: 0.2, Half: 1}
	p := c.Outline()
	mid := geometry.Vec2{X: 1, Y: 2}
	geomtest.Within(t, "nearest", p.Distance(mid), 0.2, 1e-12)
	for _, q := range p {
		if d := q.Dist(mid) / 0.2; d < 1 || d > 1.0049 {
			t.Errorf("a corner at %g of the radius", d)
		}
	}
	if p.Area() < math.Pi*0.04 || p.Area() > 1.0033*math.Pi*0.04 {
		t.Errorf("area %g of a circle of %g", p.Area(), math.Pi*0.04)
	}
}

// Overlap of an upright box: across the floor a circle against a rectangle, whose
// least parting is square to a side or straight from a corner, and up.
func TestABoxOverlapsARoundColumn(t *testing.T) {
	c := geometry.Cylinder{Basis: geometry.WorldBasis(), Radius: 0.2, Half: 1}
	box := func(x, y, z, turn float64) geometry.Box {
		return geometry.Box{Center: geometry.V(x, y, z), Basis: geometry.YawBasis(turn), Half: geometry.V(0.1, 0.15, 0.2)}
	}
	for _, tt := range []struct {
		name string
		box  geometry.Box
		want float64
	}{
		{"beside it", box(0.31, 0, 0, 0), 0},
		{"touching its side", box(0.3, 0, 0, 0), 0},
		{"10 mm into its side", box(0.29, 0, 0, 0), 0.01},
		{"in the corner of the box about it", box(0.25, 0.3, 0, 0), 0}, // corner 0.15, 0.15: 0.212 off the axis
		{"its corner 6.2 mm in", box(0.25-0.013, 0.3-0.013, 0, 0), 0.2 - 0.137*math.Sqrt2},
		{"turned, 10 mm in", box(0.29*math.Cos(1), 0.29*math.Sin(1), 0, 1), 0.01},
		{"over it", box(0, 0, 1.2, 0), 0},
		{"30 mm into its top", box(0.05, 0, 1.17, 0.3), 0.03},
	} {
		geomtest.Within(t, tt.name, c.Overlap(tt.box), tt.want, 1e-8)
	}
}

// Of boxes turned in any way: apart or not is as two points of theirs tell, and moved
// by the depth along the best of many directions they are apart.
func TestOverlapOfTiltedBoxes(t *testing.T) {
	r := geomtest.Rand(t)
	apart, within := 0, 0
	for range cases() / 4 {
		c := geomtest.Cylinder(r)
		b := geomtest.Box(r)
		got := c.Overlap(b)
		cs, bs := c.Solid(), b.Solid()
		d := b.Center.Sub(c.Center)
		least := math.Inf(1)
		for range 500 {
			n := geomtest.Unit(r)
			least = math.Min(least, cs.Reach(n)+bs.Reach(n)-math.Abs(n.Dot(d)))
		}
		if got > least+lawTol && least > 0 {
			// Stated as never too little; how much too much is bounded by the box about it.
			if most := geometry.Overlap(c.Box(), b); got > most+lawTol {
				t.Fatalf("%+v %+v: %g deep, the box about the cylinder %g", c, b, got, most)
			}
		}
		if least < 0 && got > 0 {
			t.Fatalf("%+v %+v: apart by %g, said to overlap by %g", c, b, -least, got)
		}
		if got == 0 {
			apart++
			if gap := geometry.Distance(&cs, &bs, d.Neg(), 1e9, 1e-9); gap.Lower < -1e-6 {
				t.Fatalf("%+v %+v: said to be apart, %+v", c, b, gap)
			}
		} else {
			within++
		}
	}
	count(t, apart, within)
}
