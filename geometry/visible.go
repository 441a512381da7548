// SPDX-License-Identifier: MIT

package geometry

import "slices"

// Scratch is memory that Visible uses again from call to call. The zero value
// works. One goroutine at a time.
type Scratch struct {
	shapes  []shape
	edges   []edge
	conics  []conic
	xs      []float64
	spans   []span
	outline outline
}

// curve names what a strip is bounded by: an edge by its index; the lower and
// the upper root of conic i by -2i-2 and -2i-1.
type curve int32

func edgeCurve(i int) curve { return curve(i) }

func conicCurve(i int, upper bool) curve {
	if upper {
		return curve(-2*i - 1)
	}
	return curve(-2*i - 2)
}

// span is a stretch of a vertical line, with the curves it ends on.
type span struct {
	lo, hi       float64
	below, above curve
}

// lower brings the upper end down to y, if that is lower.
func (p *span) lower(y float64, c curve) {
	if y < p.hi {
		p.hi, p.above = y, c
	}
}

// raise brings the lower end up to y, if that is higher.
func (p *span) raise(y float64, c curve) {
	if y > p.lo {
		p.lo, p.below = y, c
	}
}

// Visible returns the share of target's area, in [0, 1], that the eye sees past
// the solids: those whose index is in pick, or all when pick is nil. A point is
// hidden when the straight line from the eye to it, both ends included, meets a
// solid. An eye inside a solid or on its surface sees nothing; so does, of the
// part that is inside a solid, any eye. A target without area is a point: 1 or
// 0. An eye in the target's plane sees what its lines in that plane reach.
// Visible allocates nothing once sc has grown to the scene.
//
// Method: in the target's plane the shadow of an ellipsoid is bounded by a
// conic and a line, that of a box by lines (ellipsoidShadow, boxShadow). The
// target is cut into upright strips wherever two outlines meet or one turns
// round, so that within a strip the order of all outlines is settled; it is
// read at the strip's middle, and the union of the shadows integrated in closed
// form (conic.under). Coinciding, touching and nested outlines need no care:
// whichever is taken, the area between them is nil. What errs is where a strip
// ends, by some 1e-11, and the area by the square of that times the number of
// strips, besides rounding: the share is good to 1e-9, less only where a
// shadow's outline is a million times larger or smaller than the target.
// (Vertical decomposition: de Berg and others 2008, "Computational Geometry",
// section 6.1.)
func (sc *Scratch) Visible(eye Vec, target Target, solids []Solid, pick []int32) float64 {
	if !(target.u.Cross(target.v).Len2() > 0) {
		return pointVisible(eye, target.center, solids, pick)
	}
	sc.shapes, sc.edges, sc.conics = sc.shapes[:0], sc.edges[:0], sc.conics[:0]
	sc.addTarget(&target)
	n := len(solids)
	if pick != nil {
		n = len(pick)
	}
	for i := range n {
		if pick != nil {
			i = int(pick[i])
		}
		s := &solids[i]
		if s.box && sc.boxShadow(s, eye, &target) || !s.box && sc.ellipsoidShadow(s, eye, &target) {
			return 0
		}
	}
	if len(sc.shapes) == 1 {
		return 1
	}
	sc.cut()
	hidden := 0.0
	for i := 1; i < len(sc.xs); i++ {
		hidden += sc.strip(sc.xs[i-1], sc.xs[i])
	}
	share := 1 - hidden/target.area()
	if !(share > 0) { // also what is not a number, from lengths of no room
		return 0
	}
	return min(share, 1)
}

// pointVisible is Visible for a target without area.
func pointVisible(eye, p Vec, solids []Solid, pick []int32) float64 {
	seg := Segment{eye, p}
	if pick == nil {
		for i := range solids {
			if _, _, hit := solids[i].Hit(seg); hit {
				return 0
			}
		}
		return 1
	}
	for _, i := range pick {
		if _, _, hit := solids[i].Hit(seg); hit {
			return 0
		}
	}
	return 1
}

// addTarget adds the target itself as shape 0.
func (sc *Scratch) addTarget(t *Target) {
	s := shape{x0: -1, x1: 1, conic: noConic}
	if t.round {
		s.conic = sc.addConic(unitDisc())
	} else {
		sc.edges = append(sc.edges, edge{-1, -1, 2, 0, false}, edge{1, 1, -2, 0, true})
		s.e1 = len(sc.edges)
	}
	sc.shapes = append(sc.shapes, s)
}

// cut fills xs with the ends of the strips, in order.
func (sc *Scratch) cut() {
	xs := sc.xs[:0]
	lo, hi := 1.0, -1.0 // where there is any shadow
	for i := range sc.shapes {
		s := &sc.shapes[i]
		if i > 0 {
			lo, hi = min(lo, s.x0), max(hi, s.x1)
			xs = append(xs, s.x0, s.x1)
			for j := s.e0; j < s.e1; j++ {
				xs = append(xs, sc.edges[j].x, sc.edges[j].x+sc.edges[j].dx)
			}
			if s.conic != noConic {
				q := &sc.conics[s.conic]
				if q.dd >= 0 { // else its turns are x0 and x1
					xs = q.turns(xs)
				}
				for j := s.e0; j < s.e1; j++ {
					xs = q.crossEdge(xs, &sc.edges[j])
				}
			}
		}
		for j := range i {
			xs = sc.cross(xs, s, &sc.shapes[j])
		}
	}
	lo, hi = max(lo, -1), min(hi, 1)
	slices.Sort(xs)
	n := 0
	for _, x := range xs {
		if x >= lo && x <= hi {
			xs[n] = x
			n++
		}
	}
	sc.xs = xs[:n]
}

// cross appends to xs where the outlines of s and o meet.
func (sc *Scratch) cross(xs []float64, s, o *shape) []float64 {
	lo, hi := max(s.x0, o.x0), min(s.x1, o.x1)
	if !(lo < hi) {
		return xs
	}
	for i := s.e0; i < s.e1; i++ {
		e := &sc.edges[i]
		for j := o.e0; j < o.e1; j++ {
			xs = e.cross(xs, &sc.edges[j])
		}
		if o.conic != noConic {
			xs = sc.conics[o.conic].crossEdge(xs, e)
		}
	}
	if s.conic == noConic {
		return xs
	}
	q := &sc.conics[s.conic]
	for j := o.e0; j < o.e1; j++ {
		xs = q.crossEdge(xs, &sc.edges[j])
	}
	if o.conic != noConic {
		xs = q.crossConic(xs, &sc.conics[o.conic], lo, hi)
	}
	return xs
}

// strip returns the hidden area between xa and xb.
func (sc *Scratch) strip(xa, xb float64) float64 {
	const thin = 1e-13 // of the target's half-width; holds no area to speak of
	if xb-xa < thin {
		return 0
	}
	x := xa + (xb-xa)/2
	// Open at first, so that the target's own outline closes it.
	target, ok := sc.within(&sc.shapes[0], x, span{lo: -2, hi: 2})
	if !ok {
		return 0
	}
	spans := sc.spans[:0]
	for i := 1; i < len(sc.shapes); i++ {
		s := &sc.shapes[i]
		if x < s.x0 || x > s.x1 {
			continue
		}
		if p, ok := sc.within(s, x, target); ok {
			spans = append(spans, p)
			for j := len(spans) - 1; j > 0 && spans[j-1].lo > spans[j].lo; j-- {
				spans[j-1], spans[j] = spans[j], spans[j-1]
			}
		}
	}
	sc.spans = spans
	hidden := 0.0
	for i := 0; i < len(spans); {
		u := spans[i]
		for i++; i < len(spans) && spans[i].lo <= u.hi; i++ {
			if spans[i].hi > u.hi {
				u.hi, u.above = spans[i].hi, spans[i].above
			}
		}
		a := sc.under(u.above, xa, xb) - sc.under(u.below, xa, xb)
		if !(a >= 0 && a <= 2*(xb-xa)) {
			// Rounding has spoilt an outline of no sensible size, or the strip is
			// hair-thin: the middle stands for the strip.
			a = (u.hi - u.lo) * (xb - xa)
		}
		hidden += a
	}
	return hidden
}

// within returns the part of p, a stretch of the vertical line at x, that lies
// in s.
func (sc *Scratch) within(s *shape, x float64, p span) (span, bool) {
	for i := s.e0; i < s.e1; i++ {
		e := &sc.edges[i]
		y := e.at(x)
		if e.upper {
			p.lower(y, edgeCurve(i))
		} else {
			p.raise(y, edgeCurve(i))
		}
	}
	if s.conic != noConic {
		lo, hi, inner, ok := sc.conics[s.conic].span(x)
		if !ok {
			return p, false
		}
		c := s.conic
		switch {
		case inner:
			p.raise(lo, conicCurve(c, false))
			p.lower(hi, conicCurve(c, true))
		case lo-p.lo > p.hi-hi: // of the two branches one lies in the shape
			p.lower(lo, conicCurve(c, false))
		default:
			p.raise(hi, conicCurve(c, true))
		}
	}
	return p, p.lo < p.hi
}

// under returns the integral of the curve c over x from xa to xb.
func (sc *Scratch) under(c curve, xa, xb float64) float64 {
	if c >= 0 {
		return (xb - xa) * sc.edges[c].at(xa+(xb-xa)/2)
	}
	return sc.conics[(-c-1)/2].under(xa, xb, -c&1 == 1)
}
