// SPDX-License-Identifier: MIT

package oracle

import (
	"math"
	"slices"
)

// shell is the room itself: upright walls over the edges of its footprint,
// floor and ceiling. Plan points have no Z.
type shell struct {
	corners []Vec
	lo, hi  Vec     // of the corners
	sense   float64 // 1 when the corners run from x towards y, else -1
	convex  bool
	roofs   []roof
}

// roof is a plane over the floor, base + slope . p high. The room is under all.
type roof struct {
	base  float64
	slope Vec
}

// over is how far p is over r, upright.
func (r *roof) over(p Vec) float64 { return p.Z - r.base - r.slope.dot(Vec{X: p.X, Y: p.Y}) }

// high is how far upright is a metre square to r.
func (r *roof) high() float64 { return math.Hypot(1, r.slope.len()) }

// down is the unit normal of r into the room.
func (r *roof) down() Vec { return Vec{r.slope.X, r.slope.Y, -1}.unit() }

func shellOf(doc *document) shell {
	s := shell{lo: Vec{X: math.Inf(1), Y: math.Inf(1)}, hi: Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, c := range doc.Room.Footprint {
		s.corners = append(s.corners, Vec{X: c.X, Y: c.Y})
		s.lo = Vec{X: min(s.lo.X, c.X), Y: min(s.lo.Y, c.Y)}
		s.hi = Vec{X: max(s.hi.X, c.X), Y: max(s.hi.Y, c.Y)}
	}
	area := 0.0
	for i := range s.corners {
		a, b := s.edge(i)
		area += a.cross(b).Z
	}
	s.sense = math.Copysign(1, area)
	s.convex = true
	for i := range s.corners {
		a, b := s.edge(i)
		_, c := s.edge((i + 1) % len(s.corners))
		s.convex = s.convex && s.sense*b.sub(a).cross(c.sub(b)).Z >= 0
	}
	c := doc.Room.Ceiling
	first := roof{base: c.Near}
	switch {
	case c.Slope == "front to back":
		first.slope.X = (c.Far - c.Near) / (s.hi.X - s.lo.X)
	case c.Slope == "left to right":
		first.slope.Y = (c.Far - c.Near) / (s.hi.Y - s.lo.Y)
	}
	first.base -= first.slope.dot(s.lo)
	s.roofs = append(s.roofs, first)
	for _, p := range c.Planes {
		from, to := Vec{X: p.From.X, Y: p.From.Y}, Vec{X: p.To.X, Y: p.To.Y}
		way := to.sub(from)
		r := roof{slope: way.unit().times((p.ToHeight - p.FromHeight) / way.len())}
		r.base = p.FromHeight - r.slope.dot(from)
		s.roofs = append(s.roofs, r)
	}
	return s
}

func (s *shell) edge(i int) (a, b Vec) { return s.corners[i], s.corners[(i+1)%len(s.corners)] }

// inward is the unit normal of edge i.
func (s *shell) inward(i int) Vec {
	a, b := s.edge(i)
	d := b.sub(a).unit()
	return Vec{X: -d.Y, Y: d.X}.times(s.sense)
}

// over is how far p is over the ceiling, upright.
func (s *shell) over(p Vec) float64 {
	most := math.Inf(-1)
	for i := range s.roofs {
		most = max(most, s.roofs[i].over(p))
	}
	return most
}

// contains is whether p is in the footprint: a line from it crosses the outline
// an odd number of times.
func (s *shell) contains(p Vec) bool {
	in := false
	for i := range s.corners {
		a, b := s.edge(i)
		if (a.Y <= p.Y) != (b.Y <= p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// fromEdge is how far p is from edge i in plan.
func (s *shell) fromEdge(i int, p Vec) float64 {
	a, b := s.edge(i)
	p.Z = 0
	d := b.sub(a)
	t := min(max(p.sub(a).dot(d)/d.dot(d), 0), 1)
	return p.sub(a.to(b, t)).len()
}

// nearest is the edge nearest to p, the first of equals, and how far it is.
func (s *shell) nearest(p Vec) (edge int, away float64) {
	away = math.Inf(1)
	for i := range s.corners {
		if d := s.fromEdge(i, p); d < away {
			edge, away = i, d
		}
	}
	return edge, away
}

// Outside is how far p is outside the room, 0 inside.
func (s *shell) outside(p Vec) float64 {
	out := max(-p.Z, 0)
	for i := range s.roofs {
		out = max(out, s.roofs[i].over(p)/s.roofs[i].high())
	}
	if !s.contains(p) {
		_, d := s.nearest(p)
		out = max(out, d)
	}
	return out
}

// surface is the normal, into the room, of what carries a flush loudspeaker.
func (s *shell) surface(mount string, at Vec) Vec {
	switch mount {
	case "ceiling":
		for i := range s.roofs {
			if s.roofs[i].over(at) == s.over(at) {
				return s.roofs[i].down()
			}
		}
	case "floor":
		return Vec{Z: 1}
	case "behind screen":
		return Vec{X: 1}
	}
	i, _ := s.nearest(at)
	return s.inward(i)
}

// pardon is how a driver lies outside: by how much each surface is moved out for
// it; or too far to be heard at all.
type pardon struct {
	far   bool
	floor float64
	roofs []float64
	walls []int // edges
	by    []float64
}

// flush is how far the middle of a driver may be outside, metres: the contract.
const flush = 0.030

func (s *shell) pardon(d *Driver) pardon {
	p := d.Centre
	out := pardon{floor: max(-p.Z, 0)}
	out.far = out.floor > flush
	for i := range s.roofs {
		r := &s.roofs[i]
		over, high := r.over(p), r.high()
		by := max(over, 0)
		out.far = out.far || by > flush*high
		// A disc that lies all but in a surface is in it.
		if wide := d.across(r.down()); wide-min(over/high, 0) <= level {
			by += wide * high
		}
		out.roofs = append(out.roofs, by)
	}
	if wide := d.across(Vec{Z: 1}); wide-min(-p.Z, 0) <= level {
		out.floor += wide
	}
	for i := range s.corners {
		a, _ := s.edge(i)
		in := s.inward(i)
		if by := -in.dot(p.sub(a)); by <= 0 && -by+d.across(in) <= level {
			out.walls = append(out.walls, i)
			out.by = append(out.by, d.across(in))
		}
	}
	_, away := s.nearest(p)
	if s.contains(p) || away < 1e-9 { // m, rounding: in the wall is not outside
		return out
	}
	out.far = out.far || away > flush
	for i := range s.corners {
		a, _ := s.edge(i)
		in := s.inward(i)
		if by := -in.dot(p.sub(a)); by > 0 && by <= flush && s.reaches(i, p) {
			if wide := d.across(in); wide <= level {
				by += wide
			}
			out.walls = append(out.walls, i)
			out.by = append(out.by, by)
		}
	}
	return out
}

// roof is by how much roof i is moved out, upright.
func (p *pardon) roof(i int) float64 {
	if p.roofs == nil {
		return 0
	}
	return p.roofs[i]
}

// most is by how much a surface is moved out at most.
func (p *pardon) most() float64 {
	most := p.floor
	for _, by := range p.roofs {
		most = max(most, by)
	}
	for _, by := range p.by {
		most = max(most, by)
	}
	return most
}

// reaches is whether the wall of edge i, of however many edges in one line it is
// made, comes within flush of p.
func (s *shell) reaches(i int, p Vec) bool {
	a, _ := s.edge(i)
	n := s.inward(i)
	for k := range s.corners {
		c, d := s.edge(k)
		if math.Abs(n.dot(c.sub(a))) < 1e-9 && math.Abs(n.dot(d.sub(a))) < 1e-9 && n.dot(s.inward(k)) > 0 && s.fromEdge(k, p) <= flush {
			return true
		}
	}
	return false
}

// cut is where a line crosses an edge.
type cut struct {
	t    float64
	edge int
}

// leaves is whether the line from a, inside, to b leaves the room by more than
// touch, where it does first, and how far outside it comes; the last is not
// worked out where there is room to cut many rays in.
func (s *shell) leaves(a, b Vec, p *pardon, room []cut) (at, depth float64, ok bool) {
	at = math.Inf(1)
	out := func(t, d float64) {
		at, depth, ok = min(at, t), max(depth, d), true
	}
	if d := -b.Z - p.floor; d > touch {
		out(min(max((a.Z+p.floor)/(a.Z-b.Z), 0), 1), d)
	}
	for i := range s.roofs {
		r := &s.roofs[i]
		if d := r.over(b) - p.roof(i); d > touch {
			low := p.roof(i) - r.over(a)
			out(min(max(low/(low+d), 0), 1), d/r.high())
		}
	}
	cuts := append(room[:0], cut{0, -1}, cut{1, -1})
	dx, dy := b.X-a.X, b.Y-a.Y
	for i := range s.corners {
		c, d := s.edge(i)
		ex, ey := d.X-c.X, d.Y-c.Y
		den := dx*ey - dy*ex
		if den == 0 {
			continue
		}
		t := ((c.X-a.X)*ey - (c.Y-a.Y)*ex) / den
		u := ((c.X-a.X)*dy - (c.Y-a.Y)*dx) / den
		const hair = 1e-9 // of the edge: a corner belongs to both
		if t > 0 && t < 1 && u >= -hair && u <= 1+hair {
			cuts = append(cuts, cut{t, i})
		}
	}
	if len(cuts) == 2 && s.contains(a.to(b, 0.5)) {
		return at, depth, ok
	}
	slices.SortFunc(cuts, func(x, y cut) int {
		if x.t < y.t {
			return -1
		} else if x.t > y.t {
			return 1
		}
		return 0
	})
	for n := 1; n < len(cuts); n++ {
		from, to := cuts[n-1], cuts[n]
		mid := a.to(b, (from.t+to.t)/2)
		if s.contains(mid) {
			continue
		}
		if room != nil && (to.t-from.t)*math.Hypot(dx, dy) > 1e-3 {
			// Of a ray only whether it leaves is asked.
			if !s.pardoned(p, from.edge, a.to(b, to.t)) {
				return from.t, 0, true
			}
			continue
		}
		deep := 0.0
		for k := 1; k <= 4; k++ {
			if q := a.to(b, from.t+(to.t-from.t)*float64(k)/4); k == 4 || !s.contains(q) {
				_, d := s.nearest(q)
				if k == 4 && to.edge >= 0 {
					d = 0 // on the outline
				}
				deep = max(deep, d)
			}
		}
		if deep <= touch {
			continue
		}
		if s.pardoned(p, from.edge, a.to(b, to.t)) {
			continue
		}
		out(from.t, deep)
	}
	return at, depth, ok
}

// shift returns by how much the line from a to b must be shifted to lie in the
// room, as far as some directions tell, level, upright and square to the ceiling:
// some shift by it does, one by less may. Infinite when none of them does.
func (s *shell) shift(a, b Vec, p *pardon) float64 {
	best := math.Inf(1)
	try := func(n Vec) {
		free := func(l float64) bool {
			c, d := a.add(n.times(l)), b.add(n.times(l))
			if s.outside(c) > touch {
				return false
			}
			_, _, leaves := s.leaves(c, d, p, nil)
			return !leaves
		}
		const longest = 3 // m
		last := 0.0
		for l := 0.002; last < min(best, longest); l += max(0.002, l/10) {
			if free(l) {
				for range 20 {
					if mid := (last + l) / 2; free(mid) {
						l = mid
					} else {
						last = mid
					}
				}
				best = min(best, l)
				break
			}
			last = l
		}
	}
	for i := range s.roofs {
		try(s.roofs[i].down())
	}
	try(Vec{Z: 1})
	for i := range s.corners {
		try(s.inward(i))
	}
	const many = 24
	for i := range many {
		try(turn(2 * math.Pi * float64(i) / many).of(Vec{X: 1}))
	}
	return best
}

// pardoned is whether a stretch outside that ends at b, having left through an
// edge, has stayed before that wall as it is moved out.
func (s *shell) pardoned(p *pardon, through int, b Vec) bool {
	for k, i := range p.walls {
		if i == through {
			a, _ := s.edge(i)
			return -s.inward(i).dot(b.sub(a)) <= p.by[k]+touch
		}
	}
	return false
}
