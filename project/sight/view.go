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
	a.shade, a.under = a.shade[:0], a.under[:0]
	most := float64(Far) // the clearance is no more: the heads tell nearly all
	for gi := range a.groups {
		if g := &a.groups[gi]; g.seat >= 0 && g.seat != i {
			most = min(most, low.most(g.inner))
		}
	}
	for gi := range a.groups {
		g := &a.groups[gi]
		if lines.outside(g.bound, max(most, 0)) {
			continue
		}
		for n := g.from; n < g.to; n++ {
			if lines.outside(a.balls[n].Sphere, max(most, 0)) {
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
			if counts != near {
				continue
			}
			if least := low.least(s); least < most+level {
				a.under = append(a.under, under{part: n, least: least})
			}
		}
	}
	a.meetUnder(&v, &low)
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
	// A solid hides nothing of the columns and rows of points whose planes, seen
	// from the eye, it does not reach.
	reaches := func(along, at geometry.Vec) bool {
		if v.Blocker == ShellPart {
			return true
		}
		s := &a.solids[v.Blocker]
		n, ok := along.Cross(at.Sub(v.Eye)).Unit()
		return !ok || math.Abs(n.Dot(s.Bound().Center.Sub(v.Eye))) <= s.Reach(n)+touch
	}
	var row [2*high + 1]bool
	for k := range row {
		row[k] = reaches(right, center.Add(up.Mul(float64(k-high)/high)))
	}
	best := math.Inf(1)
	for i := -across; i <= across; i++ {
		x := float64(i) / across
		if x*x >= best || !reaches(up, center.Add(right.Mul(x))) {
			continue
		}
		for k := -high; k <= high; k++ {
			y := float64(k) / high
			if x*x+y*y >= best || !row[k+high] {
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

// under is a part below or in the lines to the picture's lower edge.
type under struct {
	part            int
	least           float64 // none of the lines has less clearance
	met             bool
	clearance       float64 // when met, as are the two places; see sheet.clearance
	toward, nearest geometry.Vec
}

// meetUnder records how near the lines of low come to what was collected in
// a.under. The likely nearest goes first: it rules out most of the others.
func (a *auditor) meetUnder(v *View, low *sheet) {
	for most := v.Clearance; ; {
		var next *under
		for n := range a.under {
			if u := &a.under[n]; !u.met && (next == nil || u.least < next.least) {
				next = u
			}
		}
		if next == nil || next.least >= most+level {
			break
		}
		next.met = true
		next.clearance, next.toward, next.nearest = low.clearance(&a.solids[next.part], most+level)
		most = min(most, next.clearance)
	}
	// In the order of the parts, so that the same one is named whichever went first.
	for n := range a.under {
		u := &a.under[n]
		if u.met && (u.clearance < v.Clearance-level ||
			u.clearance < v.Clearance+level && u.nearest.Dist(v.Eye) < v.Nearest.Dist(v.Eye)) {
			v.Clearance, v.Nearby, v.Toward, v.Nearest = min(u.clearance, v.Clearance), u.part, u.toward, u.nearest
		}
	}
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
