// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// projector finds where the cabinet of the projector cannot be: in a wall, over the ceiling,
// under the floor, in what stands or hangs there. The last words of the first finding say
// the nearest place that works.
func (f *finder) projector() {
	box, ok := place.Cabinet(f.d)
	if !ok {
		return
	}
	c := cabinet{f: f, box: box, parts: place.Parts(f.d)}
	hits := c.hits(geometry.Vec{}, touchTol)
	for i, h := range hits {
		text := h.text
		if i == 0 {
			text += "; " + c.nearest()
		}
		f.add("projector.at"+h.key, "projector", "%s", text)
	}
}

// Unfit says why the cabinet of a projector cannot be where it is in the room of d, the
// first reason first; empty where it can.
func Unfit(room *place.Room, box geometry.Box) string {
	f := &finder{d: room.Design, poly: room.Design.Room.Polygon()}
	c := cabinet{f: f, box: box, parts: room.Parts}
	if hits := c.hits(geometry.Vec{}, touchTol); len(hits) > 0 {
		return hits[0].text
	}
	return ""
}

// cabinet is the box of the projector and what it may not reach into.
type cabinet struct {
	f     *finder
	box   geometry.Box
	parts []place.Part
}

// hit is something that the cabinet reaches into, and the key of the field that leads out.
type hit struct{ key, text string }

// hits returns all that the cabinet reaches into, by more than tol, when it is moved by v.
func (c *cabinet) hits(v geometry.Vec, tol float64) (out []hit) {
	box, f := c.box, c.f
	box.Center = box.Center.Add(v)
	all := corners(box)
	wall, ceiling, floor := f.reach(all)
	if wall > tol {
		far := f.farthest(all)
		edge, _ := f.poly.Nearest(geometry.Vec2{X: far.X, Y: far.Y})
		out = append(out, hit{f.across("", far), fmt.Sprintf("reaches %s into the %s", f.show(wall), f.d.Room.WallName(edge+1))})
	}
	if ceiling > tol {
		out = append(out, hit{".z_m", fmt.Sprintf("reaches %s above the ceiling", f.show(ceiling))})
	}
	if floor > tol {
		out = append(out, hit{".z_m", fmt.Sprintf("reaches %s below the floor", f.show(floor))})
	}
	solid := box.Solid()
	for i := range c.parts {
		if deep := c.in(&c.parts[i], box, &solid, tol); deep > tol {
			out = append(out, hit{".z_m", fmt.Sprintf("reaches %s into %s", f.show(deep), called(&c.parts[i]))})
		}
	}
	return out
}

// in returns how far box, whose solid is s, reaches into p; 0 of a body where it is less
// than tol.
func (c *cabinet) in(p *place.Part, box geometry.Box, s *geometry.Solid, tol float64) float64 {
	if p.Kind == place.ProjectorPart || p.Triangle != nil {
		return 0
	}
	other := p.Solid()
	a, b := s.Bound(), other.Bound()
	if a.Center.Dist(b.Center) >= a.Radius+b.Radius {
		return 0
	}
	switch {
	case p.Box != nil:
		return geometry.Overlap(*p.Box, box)
	case p.Cylinder != nil:
		return p.Cylinder.Overlap(box)
	}
	// Of a body: as deep as in the box about it, where the two meet at all.
	const fine = 1e-6 // m
	e := *p.Ellipsoid
	within := geometry.Vec{X: tol, Y: tol, Z: tol}
	core := geometry.Ellipsoid{Center: e.Center, Basis: e.Basis, Radii: e.Radii.Sub(within)}.Solid()
	if geometry.Distance(&core, s, geometry.Vec{}, fine, fine).Upper > fine {
		return 0
	}
	return geometry.Overlap(geometry.Box{Center: e.Center, Basis: e.Basis, Half: e.Radii}, box)
}

// called names a part with its article.
func called(p *place.Part) string {
	switch p.Kind {
	case place.SpeakerPart, place.ScreenPart:
		return p.String()
	}
	return "the " + p.String()
}

// nearest says the nearest place that works, along or across the room or up or down.
func (c *cabinet) nearest() string {
	const (
		step = 0.01 // m
		far  = 2.0  // m: beyond it the answer is another place, not a move
		free = 1e-9 // m: it touches nothing
	)
	best, axis, way := math.Inf(1), 0, 0.0
	dirs := [3]geometry.Vec{{Z: 1}, {X: 1}, {Y: 1}}
	for i, dir := range dirs {
		for _, sign := range [2]float64{-1, 1} {
			for n := 1.0; n*step < min(best, far); n++ {
				if len(c.hits(dir.Mul(sign*n*step), free)) == 0 {
					best, axis, way = n*step, i, sign
				}
			}
		}
	}
	if math.IsInf(best, 1) {
		return fmt.Sprintf("no move by up to %s clears it", c.f.show(far))
	}
	lo, hi := best-step, best
	const fine = 1e-5 // m
	for hi-lo > fine {
		if mid := (lo + hi) / 2; len(c.hits(dirs[axis].Mul(way*mid), free)) == 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	at := c.f.d.Projector.At.Vec().Add(dirs[axis].Mul(way * hi))
	show := func(v float64) string { return unit.Length(v).Format(c.f.d.Units != project.Imperial) }
	switch axis {
	case 0:
		return "clear with the lens " + show(at.Z) + " high"
	case 1:
		return "clear with the lens " + show(at.X) + " from the screen wall"
	}
	return "clear with the lens " + show(at.Y) + " from the left wall"
}
