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
	alone   []float64 // by solid; see Alone
	owner   int       // of the shapes being added; see shape
}

// span is a stretch of heights over a strip.
type span struct{ lo, hi float64 }

// Visible returns the share of target's area, in [0, 1], that the eye sees past
// the solids: those whose index is in pick, or all when pick is nil. A point is
// hidden when the straight line from the eye to it, both ends included, meets a
// solid; but a target that lies in the face of a box or a cylinder, or touches a
// cylinder's side (within 1e-6 m), is not hidden by it from an eye before the face. An eye inside a solid or on
// its surface sees nothing; so does, of the part that is inside a solid, any
// eye. A target without area is a point: 1 or 0. An eye in the target's plane
// sees what its lines in that plane reach.
// Visible allocates nothing once sc has grown to the scene.
//
// Method: in the target's plane the shadow of an ellipsoid is bounded by a
// conic and a line, that of a box or a triangle by lines (ellipsoidShadow,
// boxShadow, triangleShadow); that of a
// cylinder is put together of such pieces (cylinderShadow). The
// target is cut into upright strips wherever two outlines meet or one turns
// round. Within a strip the order of all outlines is settled, so it is the order
// of their mean heights, which are known in closed form (conic.means), and the
// union of the shadows has the area of the union of the stretches between them.
// Coinciding, touching and nested outlines need no care: whichever is taken,
// the area between them is nil. What errs is where a strip ends, by some 1e-11,
// and the area by the square of that times the number of strips, besides
// rounding: the share is good to 1e-9. The worst that fuzzing found was 2e-7,
// with a target of 170 m and the eye a hundredth of a millimetre off a solid.
// (Vertical decomposition: de Berg and others 2008, "Computational Geometry",
// section 6.1.)
func (sc *Scratch) Visible(eye Vec, target Target, solids []Solid, pick []int32) float64 {
	return sc.VisibleWithin(nil, eye, target, solids, pick)
}

// VisibleWithin is Visible in a room: the walls hide what lies behind them too.
func (sc *Scratch) VisibleWithin(walls []Wall, eye Vec, target Target, solids []Solid, pick []int32) float64 {
	n := len(solids)
	if pick != nil {
		n = len(pick)
	}
	sc.alone = slices.Grow(sc.alone[:0], n)[:n]
	clear(sc.alone)
	if !(target.u.Cross(target.v).Len2() > 0) {
		for i := range walls {
			if walls[i].hides(eye, target.center) {
				return 0
			}
		}
		return sc.pointVisible(eye, target.center, solids, pick)
	}
	sc.shapes, sc.edges, sc.conics = sc.shapes[:0], sc.edges[:0], sc.conics[:0]
	sc.owner = noSolid
	sc.addTarget(&target)
	for n := range sc.alone {
		i := n
		if pick != nil {
			i = int(pick[n])
		}
		s := &solids[i]
		sc.owner = n
		if sc.shadow(s, eye, &target) {
			sc.alone[n] = 1
			return 0
		}
	}
	sc.owner = noSolid
	for i := range walls {
		sc.wallShadow(&walls[i], eye, &target)
	}
	if len(sc.shapes) == 1 {
		return 1
	}
	sc.cut()
	hidden := 0.0
	for i := 1; i < len(sc.xs); i++ {
		hidden += sc.strip(sc.xs[i-1], sc.xs[i])
	}
	for n := range sc.alone {
		sc.alone[n] /= target.area()
	}
	share := 1 - hidden/target.area()
	if !(share > 0) { // also what is not a number, from lengths of no room
		return 0
	}
	return min(share, 1)
}

// Alone returns the share of the target that, in the last Visible, the n-th of the
// solids picked hides by itself. Where the eye is inside a solid, that is known of
// the first such one only.
func (sc *Scratch) Alone(n int) float64 { return sc.alone[n] }

// pointVisible is Visible for a target without area.
func (sc *Scratch) pointVisible(eye, p Vec, solids []Solid, pick []int32) float64 {
	seg, share := Segment{eye, p}, 1.0
	for n := range sc.alone {
		i := n
		if pick != nil {
			i = int(pick[n])
		}
		if _, _, hit := solids[i].Hit(seg); hit {
			sc.alone[n], share = 1, 0
		}
	}
	return share
}

// addTarget adds the target itself as shape 0.
func (sc *Scratch) addTarget(t *Target) {
	s := shape{x0: -1, x1: 1, conic: noConic, owner: sc.owner}
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
	target, ok := sc.within(&sc.shapes[0], xa, xb, span{-2, 2})
	if !ok {
		return 0
	}
	spans := sc.spans[:0]
	for i := 1; i < len(sc.shapes); i++ {
		s := &sc.shapes[i]
		if x < s.x0 || x > s.x1 {
			continue
		}
		if p, ok := sc.within(s, xa, xb, target); ok {
			if s.owner != noSolid {
				sc.alone[s.owner] += (p.hi - p.lo) * (xb - xa)
			}
			spans = append(spans, p)
			for j := len(spans) - 1; j > 0 && spans[j-1].lo > spans[j].lo; j-- {
				spans[j-1], spans[j] = spans[j], spans[j-1]
			}
		}
	}
	sc.spans = spans
	hidden, top := 0.0, target.lo
	for _, p := range spans {
		hidden += max(0, p.hi-max(p.lo, top))
		top = max(top, p.hi)
	}
	return hidden * (xb - xa)
}

// within returns the part of p that lies in s, by the mean heights between xa
// and xb.
func (sc *Scratch) within(s *shape, xa, xb float64, p span) (span, bool) {
	x := xa + (xb-xa)/2
	for i := s.e0; i < s.e1; i++ {
		e := &sc.edges[i]
		if (x-e.x)*(x-e.x-e.dx) > 0 {
			continue // its line goes on, but it may be a crumb with no direction
		}
		if y := e.at(x); e.upper {
			p.hi = min(p.hi, y)
		} else {
			p.lo = max(p.lo, y)
		}
	}
	if s.conic != noConic {
		q := &sc.conics[s.conic]
		lo, hi, inner, ok := q.span(x)
		if !ok {
			return p, false
		}
		lo, hi = q.means(xa, xb, lo, hi)
		switch {
		case inner:
			p.lo, p.hi = max(p.lo, lo), min(p.hi, hi)
		case lo-p.lo > p.hi-hi: // of the two branches one lies in the shape
			p.hi = min(p.hi, lo)
		default:
			p.lo = max(p.lo, hi)
		}
	}
	return p, p.lo < p.hi
}
