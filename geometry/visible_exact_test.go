// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// exactTol is what Visible promises, as a share of the target.
const exactTol = 1e-9

func sphere(c geometry.Vec, r float64) geometry.Solid {
	return geometry.Ellipsoid{Center: c, Basis: geometry.WorldBasis(), Radii: geometry.V(r, r, r)}.Solid()
}

func block(c, half geometry.Vec) geometry.Solid {
	return geometry.Box{Center: c, Basis: geometry.WorldBasis(), Half: half}.Solid()
}

// lens is the area common to discs of radius a and b with centres d apart
// (elementary: two circle segments).
func lens(a, b, d float64) float64 {
	x := (d*d + a*a - b*b) / (2 * d)
	seg := func(r, h float64) float64 { return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h) }
	return seg(a, x) + seg(b, d-x)
}

// The expected values are closed forms derived in each comment.
func TestVisibleClosedForms(t *testing.T) {
	v := geometry.V
	// Eye at the origin looks along x at a disc of radius 0.5 at x = 4.
	disc := geometry.Disc{Center: v(4, 0, 0), Normal: v(-1, 0, 0), Radius: 0.5}.Target()
	// The same plane, a square of 1 m.
	square := geometry.Rect{Center: v(4, 0, 0), U: v(0, 0.5, 0), V: v(0, 0, 0.5)}.Target()
	// A sphere of radius 0.1 at distance 2 shadows a disc of this radius at 4.
	rho := 4 * math.Tan(math.Asin(0.1/2))
	far := geometry.Disc{Center: v(4, 0, 0.45), Normal: v(-1, 0, 0), Radius: 0.5}.Target()
	// Parabola: a cone of 45 degrees about (1, 0, 1) meets z = 1 in x >= y^2/2.
	c := 0.6 / math.Sqrt2
	parabola := sphere(v(c, 0, c), c)
	// Hyperbola: a cone of 45 degrees about x meets z = 1 in x >= sqrt(1 + y^2).
	hyperbola := sphere(v(1.2, 0, 0), 1.2/math.Sqrt2)
	sill := block(v(2, 0, -1), v(0.1, 3, 1))

	for _, tt := range []struct {
		name   string
		target geometry.Target
		solids []geometry.Solid
		want   float64
	}{
		{"nothing between", disc, nil, 1},
		{"sphere in the middle", disc, []geometry.Solid{sphere(v(2, 0, 0), 0.1)}, 1 - rho*rho/0.25},
		{"the same sphere twice", disc, []geometry.Solid{sphere(v(2, 0, 0), 0.1), sphere(v(2, 0, 0), 0.1)}, 1 - rho*rho/0.25},
		{"a nested sphere", disc, []geometry.Solid{sphere(v(2, 0, 0), 0.1), sphere(v(2, 0, 0), 0.05)}, 1 - rho*rho/0.25},
		{"spheres with one outline", disc, []geometry.Solid{sphere(v(2, 0, 0), 0.1), sphere(v(1, 0, 0), 0.05), sphere(v(3, 0, 0), 0.15)}, 1 - rho*rho/0.25},
		{"sphere that hides all", disc, []geometry.Solid{sphere(v(2, 0, 0), 0.26)}, 0},
		{"sphere that just hides all", disc, []geometry.Solid{sphere(v(2, 0, 0), 2*math.Sin(math.Atan(0.5/4)))}, 0},
		{"sphere over the rim", far, []geometry.Solid{sphere(v(2, 0, 0), 0.1)}, 1 - lens(0.5, rho, 0.45)/(math.Pi*0.25)},
		{"sphere in a square", square, []geometry.Solid{sphere(v(2, 0, 0), 0.1)}, 1 - math.Pi*rho*rho},
		{"sphere behind the eye", disc, []geometry.Solid{sphere(v(-2, 0, 0), 0.1)}, 1},
		{"sphere beyond the disc", disc, []geometry.Solid{sphere(v(6, 0, 0), 0.1)}, 1},
		{"eye inside", disc, []geometry.Solid{sphere(v(0.1, 0, 0), 0.2)}, 0},
		{"eye inside a box", disc, []geometry.Solid{block(v(0, 0, 0), v(0.1, 0.1, 0.1))}, 0},
		// The disc's plane cuts these: in front of the polar plane it is the
		// section that hides, behind it the cone.
		{"disc halfway in a sphere", disc, []geometry.Solid{sphere(v(4, 0, 0), 0.3)}, 1 - (4*0.3/math.Sqrt(16-0.09))*(4*0.3/math.Sqrt(16-0.09))/0.25},
		{"disc cuts a sphere's near side", disc, []geometry.Solid{sphere(v(4.2, 0, 0), 0.3)}, 1 - (0.09-0.04)/0.25},
		{"disc inside a sphere", disc, []geometry.Solid{sphere(v(4, 0, 0), 0.7)}, 0},
		{"disc halfway in a box", disc, []geometry.Solid{block(v(4, 1, 0), v(1, 1, 3))}, 0.5},
		// A top edge at eye height shadows the lower half.
		{"half covered disc", disc, []geometry.Solid{sill}, 0.5},
		{"half covered square", square, []geometry.Solid{sill}, 0.5},
		{"half covered twice", disc, []geometry.Solid{sill, block(v(3, 0, -1), v(0.1, 3, 1))}, 0.5},
		{"both halves", disc, []geometry.Solid{sill, block(v(2, 0, 1), v(0.1, 3, 1))}, 0},
		// Its edge 0.1 below the eye at x = 1.9 (near side) is 0.4/1.9 below at
		// 4: a circle segment stays hidden.
		{"circle segment", disc, []geometry.Solid{block(v(2, 0, -1.1), v(0.1, 3, 1))},
			1 - (0.25*math.Acos(0.8/2.1)-0.4/2.1*math.Sqrt(0.25-0.16/(2.1*2.1)))/(math.Pi*0.25)},
		// A post 2w wide at x = 2 hides |y| <= 2w at 4; two touching ones the double.
		{"post", square, []geometry.Solid{block(v(2, 0, 0), v(0, 0.05, 3))}, 0.8},
		{"two posts side by side", square, []geometry.Solid{block(v(2, 0.05, 0), v(0, 0.05, 3)), block(v(2, -0.05, 0), v(0, 0.05, 3))}, 0.6},
		{"crossing posts", square, []geometry.Solid{block(v(2, 0, 0), v(0, 0.05, 3)), block(v(2, 0, 0), v(0, 3, 0.05))}, 0.64},
		{"post along the square's edge", square, []geometry.Solid{block(v(2, 0.2, 0), v(0, 0.05, 3))}, 0.8},
		{"parabola", geometry.Rect{Center: v(1, 0, 1), U: v(1, 0, 0), V: v(0, 2, 0)}.Target(), []geometry.Solid{parabola}, 1. / 3},
		{"parabola, other way round", geometry.Rect{Center: v(1, 0, 1), U: v(0, 2, 0), V: v(1, 0, 0)}.Target(), []geometry.Solid{parabola}, 1. / 3},
		{"hyperbola", geometry.Rect{Center: v(1, 0, 1), U: v(1, 0, 0), V: v(0, 1, 0)}.Target(), []geometry.Solid{hyperbola}, (math.Sqrt2 + math.Asinh(1)) / 4},
		{"hyperbola, other way round", geometry.Rect{Center: v(1, 0, 1), U: v(0, 1, 0), V: v(1, 0, 0)}.Target(), []geometry.Solid{hyperbola}, (math.Sqrt2 + math.Asinh(1)) / 4},
		{"a point, seen", geometry.Disc{Center: v(4, 0, 0)}.Target(), []geometry.Solid{sphere(v(2, 1, 0), 0.1)}, 1},
		{"a point, hidden", geometry.Rect{Center: v(4, 0, 0), U: v(1, 0, 0), V: v(1, 0, 0)}.Target(), []geometry.Solid{sphere(v(2, 0, 0), 0.1)}, 0},
		{"solid of no size", disc, []geometry.Solid{sphere(v(2, 0, 0), 0), block(v(3, 0, 0), v(0, 0, 0))}, 1},
		// The eye is in the plane of this square; a sphere hides its wedge.
		{"edge on", geometry.Rect{Center: v(4, 0, 0), U: v(1, 0, 0), V: v(0, 2, 0)}.Target(), []geometry.Solid{sphere(v(1, 0, 0), math.Sin(math.Atan(0.25)))}, 0.5},
		{"edge on, box", geometry.Rect{Center: v(4, 0, 0), U: v(1, 0, 0), V: v(0, 2, 0)}.Target(), []geometry.Solid{block(v(2, 0, 0), v(1, 0.25, 1))}, 0.5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var sc geometry.Scratch
			// A post of no thickness is given 1e-9 m.
			geomtest.Within(t, "share", sc.Visible(geometry.Vec{}, tt.target, tt.solids, nil), tt.want, exactTol)
		})
	}
}

func TestVisiblePicksSolids(t *testing.T) {
	v := geometry.V
	disc := geometry.Disc{Center: v(4, 0, 0), Normal: v(1, 0, 0), Radius: 0.5}.Target()
	solids := []geometry.Solid{sphere(v(2, 0, 0), 0.1), block(v(2, 0, -1), v(0.1, 3, 1)), sphere(v(2, 0, 0), 1)}
	var sc geometry.Scratch
	for _, tt := range []struct {
		pick []int32
		want float64
	}{
		{nil, 0}, {[]int32{}, 1}, {[]int32{1}, 0.5}, {[]int32{2}, 0}, {[]int32{0, 1}, 0.5 - 8*math.Pow(math.Tan(math.Asin(0.05)), 2)/0.25},
	} {
		geomtest.Within(t, "share", sc.Visible(geometry.Vec{}, disc, solids, tt.pick), tt.want, exactTol)
	}
}

// TestVisibleLaws: a share does not change when the scene is moved, scaled, or
// its solids are shuffled or doubled; one more solid never uncovers anything;
// the halves of a picture average to the whole.
func TestVisibleLaws(t *testing.T) {
	r := geomtest.Rand(t)
	var sc geometry.Scratch
	for range cases() / 5 {
		eye := geomtest.Point(r, 1)
		center := eye.Add(geomtest.Unit(r).Mul(geomtest.Between(r, 1, 4)))
		rect := geometry.Rect{Center: center, U: geomtest.Unit(r).Mul(geomtest.Size(r, 0.1, 1)), V: geomtest.Unit(r).Mul(geomtest.Size(r, 0.1, 1))}
		disc := geometry.Disc{Center: center, Normal: geomtest.Unit(r), Radius: geomtest.Size(r, 0.02, 1)}
		e, b := geomtest.Ellipsoid(r), geomtest.Box(r)
		e.Center = eye.Lerp(center, geomtest.Between(r, 0.3, 1.1)).Add(geomtest.Point(r, 0.4))
		b.Center = eye.Lerp(center, geomtest.Between(r, 0.3, 1.1)).Add(geomtest.Point(r, 0.4))
		b.Half, e.Radii = b.Half.Mul(0.4), e.Radii.Mul(0.4)
		m, k := geomtest.RandomMotion(r), geomtest.Size(r, 0.1, 10)
		moved := func(p geometry.Vec) geometry.Vec { return m.Point(p).Mul(k) }
		turned := func(p geometry.Vec) geometry.Vec { return m.Turn.World(p).Mul(k) }
		e2 := geometry.Ellipsoid{Center: e.Center.Add(geomtest.Point(r, 0.2)), Basis: geomtest.Basis(r), Radii: e.Radii.Mul(1.2)}
		me, mb, me2 := m.Ellipsoid(e), m.Box(b), m.Ellipsoid(e2)
		me2.Center, me2.Radii = me2.Center.Mul(k), me2.Radii.Mul(k)
		me.Center, me.Radii = me.Center.Mul(k), me.Radii.Mul(k)
		mb.Center, mb.Half = mb.Center.Mul(k), mb.Half.Mul(k)
		there := []geometry.Solid{me.Solid(), mb.Solid(), me2.Solid()}
		here := []geometry.Solid{e.Solid(), b.Solid(), e2.Solid()}

		share := sc.Visible(eye, rect.Target(), here, nil)
		mrect := geometry.Rect{Center: moved(rect.Center), U: turned(rect.U), V: turned(rect.V)}
		geomtest.Within(t, "moved picture", sc.Visible(moved(eye), mrect.Target(), there, nil), share, exactTol)
		geomtest.Within(t, "other order", sc.Visible(eye, rect.Target(), here, []int32{1, 2, 0, 1}), share, exactTol)
		geomtest.Within(t, "U and V swapped", sc.Visible(eye, geometry.Rect{Center: rect.Center, U: rect.V, V: rect.U}.Target(), here, nil), share, exactTol)
		left := geometry.Rect{Center: rect.Center.Sub(rect.U.Mul(0.5)), U: rect.U.Mul(0.5), V: rect.V}
		right := geometry.Rect{Center: rect.Center.Add(rect.U.Mul(0.5)), U: rect.U.Mul(0.5), V: rect.V}
		geomtest.Within(t, "halves", (sc.Visible(eye, left.Target(), here, nil)+sc.Visible(eye, right.Target(), here, nil))/2, share, exactTol)

		share = sc.Visible(eye, disc.Target(), here, nil)
		mdisc := geometry.Disc{Center: moved(disc.Center), Normal: m.Turn.World(disc.Normal), Radius: disc.Radius * k}
		geomtest.Within(t, "moved disc", sc.Visible(moved(eye), mdisc.Target(), there, nil), share, exactTol)
		mdisc.Normal = mdisc.Normal.Neg()
		geomtest.Within(t, "disc turned over", sc.Visible(moved(eye), mdisc.Target(), there, nil), share, exactTol)
		for _, one := range []int32{0, 1, 2} {
			if alone := sc.Visible(eye, disc.Target(), here, []int32{one}); share > alone+exactTol {
				t.Errorf("more solids uncover: %g, alone %g", share, alone)
			}
		}
		if t.Failed() {
			t.Fatalf("eye %v %+v %+v %+v %+v %+v", eye, rect, disc, e, b, e2)
		}
	}
}
