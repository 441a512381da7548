// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
)

// edgeClearance returns the least clearance c from s of all straight lines from
// the eye to the edge. It is found at t on the line (0 at the eye) that ends at u
// on the edge (0 to 1).
//
// As a function of u the clearance may have more than one local minimum, since a
// line deep in s may be freed upwards or to either side. It is sampled where the
// lines pass near s, and minimised from each sample that is lower than both
// neighbours.
func (sh *sheet) edgeClearance(s *geometry.Solid) (c, t, u float64) {
	const (
		most    = 8
		edgeTol = 1e-5 // of the edge's length: 0.03 mm on a 3 m picture
	)
	f := func(u float64) (float64, float64) {
		return s.Clearance(geometry.Segment{A: sh.eye, B: sh.foot.At(u)})
	}
	from, mid, to := sh.near(s.Bound())
	looks := most
	if to-from < 0.2 { // so few that they are all but parallel
		looks = most / 2
	}
	var at, of [most + 2]float64
	n := 0
	c = math.Inf(1)
	look := func(x float64) {
		if n > 0 && x <= at[n-1] {
			return
		}
		var tx float64
		at[n] = x
		if of[n], tx = f(x); of[n] < c {
			c, t, u = of[n], tx, x
		}
		n++
	}
	for k := range looks + 1 {
		x := from + (to-from)*float64(k)/float64(looks)
		if n > 0 && mid > at[n-1] && mid < x {
			look(mid)
		}
		look(x)
	}
	for k := range n {
		lo, hi := max(k-1, 0), min(k+1, n-1)
		// Where three samples are level, only the middle one is followed.
		if of[lo] < of[k] || of[hi] < of[k] || of[lo] == of[k] && of[hi] == of[k] && at[k] != mid {
			continue
		}
		x := lowest(at[lo], at[k], at[hi], of[k], edgeTol, func(x float64) float64 {
			v, _ := f(x)
			return v
		})
		if v, tx := f(x); v < c {
			c, t, u = v, tx, x
		}
	}
	return c, t, u
}

// near returns the stretch of the edge, 0 to 1, whose lines can come nearest to
// what s holds, and mid, whose line passes nearest to the centre of s. Lines
// farther from the centre than twice the radius are farther from what s holds than
// the line at mid.
func (sh *sheet) near(s geometry.Sphere) (from, mid, to float64) {
	const steep = 1.4 // rad: beside the eye the edge goes on for ever
	along, l := sh.foot.B.Sub(sh.foot.A), sh.foot.Len()
	if !(l > 0) {
		return 0, 0, 0
	}
	along = along.Mul(1 / l)
	start := sh.eye.Sub(sh.foot.A).Dot(along)
	square := sh.foot.A.Add(along.Mul(start)).Sub(sh.eye)
	ahead, _ := square.Unit()
	w := s.Center.Sub(sh.eye)
	x, y := w.Dot(along), w.Dot(ahead)
	angle, wide := math.Atan2(x, y), math.Pi
	if r := math.Hypot(x, y); r > 2*s.Radius {
		wide = math.Asin(2 * s.Radius / r)
	}
	at := func(angle float64) float64 {
		if angle < -steep {
			return 0
		}
		if angle > steep {
			return 1
		}
		return min(max((start+square.Len()*math.Tan(angle))/l, 0), 1)
	}
	return at(angle - wide), at(angle), at(angle + wide)
}

// sheet is the triangle of all lines from an eye to a level edge before it.
type sheet struct {
	eye   geometry.Vec
	foot  geometry.Segment
	n     geometry.Vec // unit normal, upwards
	sides [3]side
}

// side is a side of a sheet: a point of it, and the unit normal outwards of the
// plane through it that is square to the sheet.
type side struct{ at, out geometry.Vec }

func newSheet(eye, a, b geometry.Vec) sheet {
	n, _ := b.Sub(a).Cross(eye.Sub(a)).Unit()
	if n.Z < 0 {
		n = n.Neg()
	}
	sh := sheet{eye: eye, foot: geometry.Segment{A: a, B: b}, n: n}
	corners := [3]geometry.Vec{eye, a, b}
	for i, p := range corners {
		q, r := corners[(i+1)%3], corners[(i+2)%3]
		out, _ := q.Sub(p).Cross(n).Unit()
		if out.Dot(r.Sub(p)) > 0 {
			out = out.Neg()
		}
		sh.sides[i] = side{p, out}
	}
	return sh
}

// least returns a bound: no line of the sheet has less clearance from s. It is Far
// for what lies above the sheet, which does not count.
//
// The clearance is the greatest of min(v.A, v.B) - h(v) over all unit vectors v
// (see geometry.Solid.Clearance), so every v at right angles to a line gives a
// bound of it. The sheet's normal n serves all lines. For the line along w, m =
// n x w, the two v that lean to either side, cos n + sin m and cos n - sin m, give
// two; the greater is no less than their mean, in which eye and centre are apart by
// no more than the height of the centre over the sheet:
//
//	-cos height - (r(cos n + sin m) + r(cos n - sin m))/2
//
// with r the reach from the centre.
func (sh *sheet) least(s *geometry.Solid) float64 {
	bound := s.Bound()
	to := bound.Center.Sub(sh.eye)
	height, reach := sh.n.Dot(to), s.Reach(sh.n)
	if height-reach >= 0 {
		return Far
	}
	least := max(-(height + reach), sh.beside(s))
	if least >= 0 {
		return least
	}
	along := to.Sub(sh.n.Mul(height))
	// The lines that meet s run within an angle of the one towards its centre.
	within := bound.Radius*bound.Radius - height*height
	rest := along.Len2() - within
	w, ok := along.Unit()
	if !ok || within <= 0 || rest <= 0 {
		return least
	}
	turn, m := w.Mul(math.Sqrt(within/rest)), sh.n.Cross(w) // tan of that angle
	for _, lean := range [3]struct{ sin, cos float64 }{{1, 0}, {0.8, 0.6}, {0.6, 0.8}} {
		wide := 0.0
		up := sh.n.Mul(lean.cos)
		// The reach is convex: it is greatest at one end or the other.
		for _, m := range [2]geometry.Vec{m.Add(turn), m.Sub(turn)} {
			side := m.Mul(lean.sin)
			wide = max(wide, (s.Reach(up.Add(side))+s.Reach(up.Sub(side)))/2)
		}
		least = max(least, min(-(lean.cos*height+wide), 0))
	}
	return least
}

// most returns a bound: some line of the sheet has no more clearance from any solid
// that holds the ball inner; Far for a ball that lies above the sheet.
func (sh *sheet) most(inner geometry.Sphere) float64 {
	to := inner.Center.Sub(sh.eye)
	height := sh.n.Dot(to)
	if height >= inner.Radius {
		return Far
	}
	if _, inside := sh.line(inner.Center.Sub(sh.n.Mul(height))); inside {
		return math.Abs(height) - inner.Radius
	}
	return to.Len() - inner.Radius // all lines begin at the eye
}

// clearance returns how far s is below the sheet (negative: the depth of the line
// that enters it deepest), the end of that line on the edge, and the point of the
// line that is nearest to s. Solids that cannot have less than least give Far
// without a closer look; so do solids that lie above the sheet.
func (sh *sheet) clearance(s *geometry.Solid, least float64) (c float64, toward, nearest geometry.Vec) {
	height := sh.n.Dot(s.Bound().Center.Sub(sh.eye))
	reach, top := s.Support(sh.n)
	if height-reach >= 0 || -(height+reach) >= least {
		return Far, sh.eye, sh.eye
	}
	nearest = top.Sub(sh.n.Mul(height + reach))
	if u, inside := sh.line(nearest); inside {
		// Moving the sheet by as much as s stands through it frees every line, so
		// none is deeper. If the line through the foot is that deep, it is the
		// worst; a slender solid is cleared by a smaller move sideways.
		const exact = 1e-9 // m
		c, toward = -(height + reach), sh.foot.At(u)
		if c >= 0 {
			return c, toward, nearest
		}
		if d, _ := s.Clearance(geometry.Segment{A: sh.eye, B: toward}); d <= c+exact {
			return c, toward, nearest
		}
	}
	if height+reach > 0 && sh.beside(s) < 0 {
		c, t, u := sh.edgeClearance(s)
		toward = sh.foot.At(u)
		return c, toward, sh.eye.Lerp(toward, t)
	}
	// Apart, and the foot outside: the nearest point is on one of the three
	// sides of the triangle.
	c = Far
	for _, end := range [2]geometry.Vec{sh.foot.A, sh.foot.B} {
		seg := geometry.Segment{A: sh.eye, B: end}
		if d, t := s.Clearance(seg); d < c {
			c, toward, nearest = d, end, seg.At(t)
		}
	}
	if d, t := s.Clearance(sh.foot); d < c {
		c, toward, nearest = d, sh.foot.At(t), sh.foot.At(t)
	}
	return c, toward, nearest
}

// beside returns how far s lies outside the three upright planes through the sides
// of sh, by the one it is farthest outside of; negative when it may meet the
// triangle.
func (sh *sheet) beside(s *geometry.Solid) float64 {
	c := s.Bound().Center
	far := math.Inf(-1)
	for _, side := range &sh.sides {
		far = max(far, side.out.Dot(c.Sub(side.at))-s.Reach(side.out))
	}
	return far
}

// line returns the place on the edge (0 to 1) of the line through p, and whether p
// lies between eye and edge and the line between the edge's ends.
func (sh *sheet) line(p geometry.Vec) (u float64, inside bool) {
	d := p.Sub(sh.eye)
	t := d.X / (sh.foot.A.X - sh.eye.X)
	if !(t > 0) || t > 1 {
		return 0, false
	}
	u = (sh.eye.Y + d.Y/t - sh.foot.A.Y) / (sh.foot.B.Y - sh.foot.A.Y)
	return u, u >= 0 && u <= 1
}
