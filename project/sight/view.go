// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
)

// view returns what seat i sees of the picture.
//
// Clearance is the least of all straight lines from the eye to the lower edge of
// the picture. Those lines fill a triangle. The distance from a solid below it is
// that from the triangle's plane if the foot of the perpendicular lies inside the
// triangle, else that from one of its sides. If the solid stands through the
// triangle, edgeClearance finds the nearest line.
func (a *auditor) view(i int) View {
	eye := a.r.Bodies[i].Eye()
	center, right, up := a.d.Screen.Picture()
	v := View{Eye: eye, Clearance: Far, Nearby: NoPart, Blocker: NoPart, Visible: 1,
		Toward: center.Sub(up), Nearest: eye}
	if right.Y <= 0 || up.Z <= 0 || eye.X <= center.X {
		// Behind the picture, or no picture: nothing is seen.
		v.Visible, v.Clearance, v.Verdict, v.Blocker = 0, 0, Blocked, NoPart
		v.Hidden, v.Enter = v.Toward, v.Nearest
		return v
	}
	if out := a.eyeOut[i]; out > touch {
		v.Visible, v.Clearance, v.Verdict, v.Nearby, v.Blocker = 0, -out, Blocked, ShellPart, ShellPart
		v.Hidden, v.Enter = v.Toward, v.Nearest
		return v
	}
	lines := newPyramid(eye, center, right, up)
	low := newSheet(eye, center.Sub(up).Sub(right), center.Sub(up).Add(right))
	a.shade = a.shade[:0]
	for gi := range a.groups {
		g := &a.groups[gi]
		if lines.outside(g.bound, max(v.Clearance, 0)) {
			continue
		}
		for n := g.from; n < g.to; n++ {
			if lines.outside(a.balls[n].Sphere, max(v.Clearance, 0)) {
				continue
			}
			counts := a.toEye(n, i)
			if counts == never {
				continue
			}
			s := &a.solids[n]
			if !lines.missed(s) {
				a.shade = append(a.shade, int32(n))
			}
			if counts == near {
				v.meet(low, s, n)
			}
		}
	}
	target := geometry.Rect{Center: center, U: right, V: up}.Target()
	if len(a.shade) > 0 || len(a.pictureWalls) > 0 {
		v.Visible = a.scratch.VisibleWithin(a.pictureWalls, eye, target, a.solids, a.shade)
	}
	v.Blocker, v.Hidden, v.Enter = v.Nearby, v.Toward, v.Nearest
	switch {
	case v.Visible < whole || v.Clearance < -touch:
		v.Verdict = Blocked
		if n := a.hider(eye, target, a.pictureWalls); n != NoPart {
			v.Blocker = n
			a.showHidden(&v, center, right, up)
		}
	case v.Clearance < float64(a.d.Criteria.PictureMargin):
		v.Verdict = Tight
	default:
		v.Verdict = Clear
	}
	return v
}

// showHidden finds the point of the picture nearest to its middle that the
// blocker of v hides, among some all over it.
func (a *auditor) showHidden(v *View, center, right, up geometry.Vec) {
	const across, high = 8, 4 // half the numbers of points
	best := math.Inf(1)
	for i := -across; i <= across; i++ {
		for k := -high; k <= high; k++ {
			x, y := float64(i)/across, float64(k)/high
			if x*x+y*y >= best {
				continue
			}
			p := center.Add(right.Mul(x)).Add(up.Mul(y))
			if at, ok := a.enters(v.Blocker, v.Eye, p); ok {
				best, v.Hidden, v.Enter = x*x+y*y, p, v.Eye.Lerp(p, at)
			}
		}
	}
}

// enters returns where the straight line from eye to p, a point of the picture,
// meets that blocker.
func (a *auditor) enters(blocker int, eye, p geometry.Vec) (at float64, ok bool) {
	if blocker != ShellPart {
		at, _, ok = a.solids[blocker].Hit(geometry.Segment{A: eye, B: p})
		return at, ok
	}
	at = 1
	for i := range a.pictureWalls {
		w := &a.pictureWalls[i]
		if before, behind := -w.Behind(eye), w.Behind(p); before > 0 && behind > 0 && w.Crosses(eye, p) {
			at, ok = min(at, before/(before+behind)), true
		}
	}
	return at, ok
}

// meet records how near the lines of low come to the solid s of part n.
func (v *View) meet(low sheet, s *geometry.Solid, n int) {
	const level = 1e-9 // m; see meeting.meet
	c, toward, nearest := low.clearance(s, v.Clearance+level)
	if c < v.Clearance-level || c < v.Clearance+level && nearest.Dist(v.Eye) < v.Nearest.Dist(v.Eye) {
		v.Clearance, v.Nearby, v.Toward, v.Nearest = min(c, v.Clearance), n, toward, nearest
	}
}

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
	eye  geometry.Vec
	foot geometry.Segment
	n    geometry.Vec // unit normal, upwards
}

func newSheet(eye, a, b geometry.Vec) sheet {
	n, _ := b.Sub(a).Cross(eye.Sub(a)).Unit()
	if n.Z < 0 {
		n = n.Neg()
	}
	return sheet{eye, geometry.Segment{A: a, B: b}, n}
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
	if height+reach > 0 && pierces(s, sh) {
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

// pierces reports whether s may meet the triangle of sh: whether it lies outside
// none of the three upright planes through its sides.
func pierces(s *geometry.Solid, sh *sheet) bool {
	corners := [3]geometry.Vec{sh.eye, sh.foot.A, sh.foot.B}
	c := s.Bound().Center
	for i, p := range corners {
		q, r := corners[(i+1)%3], corners[(i+2)%3]
		n := q.Sub(p).Cross(sh.n)
		if n.Dot(r.Sub(p)) > 0 {
			n = n.Neg() // outwards
		}
		if n.Dot(c.Sub(p))-s.Reach(n) >= 0 {
			return false
		}
	}
	return true
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

// pyramid is the space between an eye and an upright rectangle before it.
type pyramid struct {
	eye    geometry.Vec
	planes [4]geometry.Vec // unit normals, outwards, of the planes through eye
	depth  geometry.Vec    // unit vector from the eye square to the rectangle
	far    float64         // distance to the rectangle's plane
}

func newPyramid(eye, center, right, up geometry.Vec) pyramid {
	p := pyramid{eye: eye, depth: geometry.Vec{X: -1}, far: eye.X - center.X}
	c := [4]geometry.Vec{
		center.Sub(right).Sub(up), center.Add(right).Sub(up),
		center.Add(right).Add(up), center.Sub(right).Add(up),
	}
	middle := center.Sub(eye)
	for i := range c {
		n, _ := c[i].Sub(eye).Cross(c[(i+1)%4].Sub(eye)).Unit()
		if n.Dot(middle) > 0 {
			n = n.Neg()
		}
		p.planes[i] = n
	}
	return p
}

// outside reports whether s lies farther than reach from every line of p. It
// may say false for a sphere near an edge that is outside.
func (p *pyramid) outside(s geometry.Sphere, reach float64) bool {
	d := s.Center.Sub(p.eye)
	far := s.Radius + reach
	if ahead := d.Dot(p.depth); ahead < -far || ahead-p.far > far {
		return true
	}
	for _, n := range p.planes {
		if n.Dot(d) > far {
			return true
		}
	}
	return false
}

// missed reports whether s lies wholly outside one of the planes of p, or behind
// the eye, or behind the rectangle: whether it hides nothing.
func (p *pyramid) missed(s *geometry.Solid) bool {
	d := s.Bound().Center.Sub(p.eye)
	ahead := d.Dot(p.depth)
	reach := s.Reach(p.depth)
	if ahead+reach <= 0 || ahead-reach >= p.far {
		return true
	}
	for _, n := range p.planes {
		if n.Dot(d)-s.Reach(n) >= 0 {
			return true
		}
	}
	return false
}
