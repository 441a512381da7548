// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project/practice"
)

// mark draws the measurement of a placement rule in place, on top of everything.
func (s *painter) mark() {
	remark := s.o.Mark
	if remark == nil {
		return
	}
	m := remark.Mark
	if !m.At.Finite() || !m.From.Finite() || !m.To.Finite() || !m.Normal.Finite() {
		return
	}
	ink := s.ink.Fails
	if remark.OK {
		ink = s.ink.Met
	}
	l := &Lines{Name: "mark", OnTop: true}
	faint := &Mesh{Name: "mark", Unlit: true, OnTop: true, Alpha: 0.34}
	firm := &Mesh{Name: "mark line", Unlit: true, OnTop: true, Alpha: 0.9}
	where := m.At
	switch m.Kind {
	case practice.AngleMark:
		l.stroke(m.At, m.From, ink)
		l.stroke(m.At, m.To, ink)
		if n, ok := m.From.Sub(m.At).Cross(m.To.Sub(m.At)).Unit(); ok {
			const share, most = 0.45, 1.2 // of the shorter leg; metres
			radius := min(share*m.From.Dist(m.At), share*m.To.Dist(m.At), most)
			u, _ := m.From.Sub(m.At).Unit()
			where = sector(l, faint.pen(), m.At, m.At.Add(u.Mul(radius)), n, geometry.Angle(m.From.Sub(m.At), m.To.Sub(m.At)), ink)
		}
	case practice.ArcMark:
		where = s.arc(l, faint, firm, remark, ink)
	case practice.PlaneMark:
		sheet(l, faint.pen(), m, ink)
		rod(firm.pen(), m.From, m.To, 0.012, ink)
		where = m.From.Lerp(m.To, 0.5)
	case practice.DistanceMark:
		if along, ok := m.To.Sub(m.From).Unit(); ok {
			rod(firm.pen(), m.From, m.To, 0.010, ink)
			stop(l, m.From, along, ink)
			stop(l, m.To, along, ink)
		}
		where = m.From.Lerp(m.To, 0.5)
	case practice.PointMark:
		const r = 0.10 // m
		for k := range 3 {
			axis := [3]geometry.Vec{{X: 1}, {Y: 1}, {Z: 1}}
			circle(l, m.At, axis[k].Mul(r), axis[(k+1)%3].Mul(r), 28, ink)
		}
		where = above(m.At, 1.8*r)
	default:
		return
	}
	for _, k := range remark.Speakers {
		if k >= 0 && k < len(s.boxes) {
			edges(l, s.boxes[k].Box, ink)
		}
	}
	s.add(faint)
	s.add(firm)
	s.addLines(l)
	s.tag(where, m.Label, s.ink.Reverse, ink, true)
}

// arc draws the wanted range of a direction about the point that it is measured
// from, and rays to the loudspeakers in question.
func (s *painter) arc(l *Lines, faint, firm *Mesh, remark *practice.Remark, ink RGB) geometry.Vec {
	m := remark.Mark
	where := m.From
	a, b := m.From.Sub(m.At), m.To.Sub(m.At)
	if n, ok := m.Normal.Unit(); ok {
		// Turn about the normal from one to the other, the shorter way.
		flat := func(v geometry.Vec) geometry.Vec { return v.Sub(n.Mul(v.Dot(n))) }
		angle := math.Atan2(n.Dot(flat(a).Cross(flat(b))), flat(a).Dot(flat(b)))
		if angle < 0 {
			n, angle = n.Neg(), -angle
		}
		where = sector(l, faint.pen(), m.At, m.From, n, angle, ink)
	}
	l.stroke(m.At, m.From, ink)
	l.stroke(m.At, m.To, ink)
	for _, k := range remark.Speakers {
		if k >= 0 && k < len(s.boxes) {
			to := s.boxes[k].At.Vec()
			rod(firm.pen(), m.At, to, 0.010, ink)
			where = m.At.Lerp(to, 0.6)
		}
	}
	return where
}

// sector draws the part of a cone, with its tip at tip, that the point rim sweeps
// when it turns about the unit vector n by angle. It returns the middle of the arc.
func sector(l *Lines, p pen, tip, rim, n geometry.Vec, angle float64, c RGB) geometry.Vec {
	r := rim.Sub(tip)
	up := n.Mul(r.Dot(n))
	u := r.Sub(up)
	v := n.Cross(u)
	steps := max(int(math.Ceil(angle/0.06)), 1)
	at := func(i int) geometry.Vec {
		sin, cos := math.Sincos(angle * float64(i) / float64(steps))
		return tip.Add(up).Add(u.Mul(cos)).Add(v.Mul(sin))
	}
	for i := range steps {
		a, b := at(i), at(i+1)
		l.stroke(a, b, c)
		norm, ok := a.Sub(tip).Cross(b.Sub(tip)).Unit()
		if !ok {
			continue
		}
		// Both faces: the mark is seen from anywhere.
		p.tri(p.vertex(tip, norm, c), p.vertex(a, norm, c), p.vertex(b, norm, c))
		p.tri(p.vertex(tip, norm.Neg(), c), p.vertex(b, norm.Neg(), c), p.vertex(a, norm.Neg(), c))
	}
	return at(steps / 2)
}

// sheet draws a square of the plane of m with a grid, large enough to look like a
// plane.
func sheet(l *Lines, p pen, m practice.Mark, ink RGB) {
	n, ok := m.Normal.Unit()
	if !ok {
		return
	}
	const half, cells = 1.8, 9 // m
	u := across(n).Mul(half)
	v := n.Cross(u)
	c := [4]geometry.Vec{m.At.Sub(u).Sub(v), m.At.Add(u).Sub(v), m.At.Add(u).Add(v), m.At.Sub(u).Add(v)}
	p.plain(c[0], c[1], c[2], c[3], ink.times(0.7))
	p.plain(c[3], c[2], c[1], c[0], ink.times(0.7))
	for i := range cells + 1 {
		t := float64(i) / cells
		l.stroke(c[0].Lerp(c[1], t), c[3].Lerp(c[2], t), ink)
		l.stroke(c[0].Lerp(c[3], t), c[1].Lerp(c[2], t), ink)
	}
}
