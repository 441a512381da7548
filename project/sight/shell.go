// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
	"earline/project/place"
)

// outside says how a driver lies to the room's shell.
type outside struct {
	plan         bool    // beyond the walls
	above, under float64 // over the ceiling, below the floor; metres
}

// lookOutside looks where the drivers of sp are.
func (pr *prepared) lookOutside(sp *place.Speaker) []outside {
	out := make([]outside, len(sp.Drivers))
	for n, d := range sp.Drivers {
		at := geometry.Vec2{X: d.Center.X, Y: d.Center.Y}
		out[n] = outside{
			plan:  !pr.poly.Contains(at) && pr.poly.Distance(at) > flushTol,
			above: -pr.under(d.Center),
			under: -d.Center.Z,
		}
	}
	return out
}

// under returns how far p lies under the ceiling, metres.
func (pr *prepared) under(p geometry.Vec) float64 {
	return pr.ceiling.Z + pr.ceiling.X*p.X + pr.ceiling.Y*p.Y - p.Z
}

// shell lets the room's own walls, floor and ceiling block: where the footprint
// is concave a path may leave it and come back, and a driver may be outside.
func (a *auditor) shell(seg geometry.Segment, out *outside, p *Path, t, enter *float64) {
	block := func(depth, at float64) {
		if -depth < p.Clearance {
			p.Clearance, *t = -depth, at
		}
		if at < *enter {
			*enter, p.Blocker = at, ShellPart
		}
	}
	if !a.convex || out.plan {
		from := geometry.Vec2{X: seg.A.X, Y: seg.A.Y}
		to := geometry.Vec2{X: seg.B.X, Y: seg.B.Y}
		if depth, at, _, ok := a.poly.Obstructs(from, to); ok && depth > flushTol {
			block(depth, at)
		}
	}
	if out.above > flushTol {
		block(out.above, crossingAt(a.under(seg.A), -out.above))
	}
	if out.under > flushTol {
		block(out.under, crossingAt(seg.A.Z, -out.under))
	}
}

// crossingAt returns where a quantity that runs evenly from a to b is zero.
func crossingAt(a, b float64) float64 {
	if a == b {
		return 0
	}
	return min(max(a/(a-b), 0), 1)
}
