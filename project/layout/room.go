// SPDX-License-Identifier: MIT

package layout

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
)

// hall is the part of a room in which rows and picture stand: the floor before the free
// span of the screen wall, as far back as the room keeps that width. Metres, room frame.
type hall struct {
	near, back float64 // x of the screen wall and of where the hall ends
	centre     float64 // y
	wide       float64
	stop       float64 // x where seats end: at the back wall, or at what stands across
}

// halls returns the halls of a room, each longer and narrower than the one before it.
func halls(poly geometry.Polygon) []hall {
	lo, hi := poly.Bounds()
	left, right := screenWall(poly)
	centre := (left + right) / 2
	halves := []float64{(right - left) / 2}
	for _, q := range poly {
		if h := math.Abs(q.Y - centre); h > 0.8 && h < halves[0]-1e-6 {
			halves = append(halves, h)
		}
	}
	slices.Sort(halves)
	slices.Reverse(halves)
	var all []hall
	for _, half := range halves {
		h := hall{near: lo.X, back: depth(poly, lo.X, hi.X, centre-half, centre+half), centre: centre, wide: 2 * half}
		if len(all) == 0 || h.back > all[len(all)-1].back+0.05 {
			all = append(all, h)
		}
	}
	return all
}

// screenWall returns the free span of the screen wall: the longest stretch of wall at
// the room's least x, or all of its width where there is none.
func screenWall(poly geometry.Polygon) (left, right float64) {
	const flat = 0.01 // m
	lo, hi := poly.Bounds()
	for i := range poly {
		a, b := poly.Edge(i)
		if a.X > lo.X+flat || b.X > lo.X+flat {
			continue
		}
		if l, r := min(a.Y, b.Y), max(a.Y, b.Y); r-l > right-left {
			left, right = l, r
		}
	}
	if right-left < 1 {
		return lo.Y, hi.Y
	}
	return left, right
}

// depth returns how far back from x lo the strip between two lines of y stays inside.
func depth(poly geometry.Polygon, lo, hi, left, right float64) float64 {
	const in = 1e-4 // m: what lies in a wall is not past it
	for i := range poly {
		a, b := poly.Edge(i)
		if max(a.Y, b.Y) <= left+in || min(a.Y, b.Y) >= right-in || max(a.X, b.X) <= lo+in {
			continue
		}
		// Where the wall enters the strip.
		x := min(a.X, b.X)
		if math.Abs(a.Y-b.Y) > in {
			at := func(y float64) float64 {
				y = max(min(y, max(a.Y, b.Y)), min(a.Y, b.Y))
				return a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
			}
			x = min(at(left), at(right))
		}
		hi = min(hi, max(x, lo))
	}
	return hi
}

// stopAt returns where seats in h end: at the back wall, or at the first thing behind
// the front part of the room that stands across its middle.
func (p *planner) stopAt(h hall) float64 {
	const front = 2.0 // m
	to := h.back
	for _, r := range p.standing {
		if r.lo.X > h.near+front && r.lo.Y < h.centre && r.hi.Y > h.centre {
			to = min(to, r.lo.X)
		}
	}
	return to
}

// rect is a piece of floor.
type rect struct{ lo, hi geometry.Vec2 }

func (r rect) meets(q rect) bool {
	const touch = 1e-6
	return r.lo.X < q.hi.X-touch && q.lo.X < r.hi.X-touch && r.lo.Y < q.hi.Y-touch && q.lo.Y < r.hi.Y-touch
}

// floorOf returns the floor under a feature.
func floorOf(f project.Feature) rect {
	b := f.Box()
	r := rect{geometry.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geometry.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, sx := range [...]float64{-1, 1} {
		for _, sy := range [...]float64{-1, 1} {
			q := b.Center.Add(b.Basis.World(geometry.V(sx*b.Half.X, sy*b.Half.Y, 0)))
			r.lo.X, r.lo.Y = min(r.lo.X, q.X), min(r.lo.Y, q.Y)
			r.hi.X, r.hi.Y = max(r.hi.X, q.X), max(r.hi.Y, q.Y)
		}
	}
	return r
}

// overhead is from where up a feature hangs over people, metres.
const overhead = 1.4

func hangs(f project.Feature) bool {
	return float64(f.At.Z) > overhead && f.Kind != project.Door && f.Kind != project.Window
}

// top returns the height that is free over a piece of floor, to the ceiling or to what
// hangs below it.
func (p *planner) top(r rect) float64 {
	z := math.Inf(1)
	for _, q := range [...]geometry.Vec2{r.lo, r.hi, {X: r.lo.X, Y: r.hi.Y}, {X: r.hi.X, Y: r.lo.Y}} {
		z = min(z, p.ceiling.At(q.X, q.Y))
	}
	for _, h := range p.hanging {
		if h.meets(r) {
			z = min(z, h.from)
		}
	}
	return z
}

// hanging is the floor under something that hangs over people, and from where up.
type hanging struct {
	rect
	from float64
}

// across returns the floor of the hall between two distances, so far to both sides.
func (p *planner) across(from, to, half float64) rect {
	return rect{geometry.Vec2{X: from, Y: p.centre - half}, geometry.Vec2{X: to, Y: p.centre + half}}
}

// survey notes what stands on the floor, and what a door needs.
func (p *planner) survey() {
	poly := p.base.Room.Polygon()
	for _, f := range p.base.Room.Features {
		switch {
		case f.Kind == project.Window:
		case hangs(f):
			p.hanging = append(p.hanging, hanging{floorOf(f), float64(f.At.Z)})
		case f.Kind == project.Door:
			// Before the leaf, on the side of the room.
			e, foot := poly.Nearest(geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)})
			n := poly.InwardNormal(e)
			deep := p.limits.doorSpace
			if f.Swing == project.InLeft || f.Swing == project.InRight {
				deep = max(deep, float64(max(f.Length, f.Width)))
			}
			r := floorOf(f)
			q := foot.Add(n.Mul(deep))
			r.lo.X, r.lo.Y = min(r.lo.X, q.X), min(r.lo.Y, q.Y)
			r.hi.X, r.hi.Y = max(r.hi.X, q.X), max(r.hi.Y, q.Y)
			p.doors = append(p.doors, r)
		default:
			p.standing = append(p.standing, floorOf(f))
		}
	}
	for _, r := range p.stools {
		half := float64(r.Pitch)*float64(r.Seats)/2 + 0.1
		p.standing = append(p.standing, rect{
			geometry.Vec2{X: float64(r.Distance) - 0.5, Y: float64(r.Centre+r.Stagger) - half},
			geometry.Vec2{X: float64(r.Distance) + 0.3, Y: float64(r.Centre+r.Stagger) + half}})
	}
}

// atBar reports whether the seats of r are stools at a counter: they stay with it.
// From what height on a seat is a stool has no source: common practice.
func atBar(d *project.Design, r project.Row) bool {
	const stool = 0.6 // m
	c, ok := d.Chair(r.Chair)
	return ok && c.PanHeight > stool
}

// mirroredRoom reports whether the room is the same to both sides of the hall's middle as
// far as loudspeakers and people can tell.
func (p *planner) mirroredRoom() bool {
	const same = 1e-6
	poly := p.base.Room.Polygon()
	if len(p.base.Room.Features) > 0 {
		return false
	}
	for _, s := range p.ceiling {
		o := geometry.Slope{Height: s.At(0, 2*p.centre), AlongX: s.AlongX, AlongY: -s.AlongY}
		if !slices.ContainsFunc(p.ceiling, func(q geometry.Slope) bool {
			return math.Abs(q.Height-o.Height) < same && math.Abs(q.AlongX-o.AlongX) < same && math.Abs(q.AlongY-o.AlongY) < same
		}) {
			return false
		}
	}
	for _, q := range poly {
		found := false
		for _, o := range poly {
			found = found || math.Abs(o.X-q.X) < same && math.Abs(o.Y-(2*p.centre-q.Y)) < same
		}
		if !found {
			return false
		}
	}
	return true
}
