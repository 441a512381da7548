// SPDX-License-Identifier: MIT

package solve

import (
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

// buildTol is how far two things may reach into each other and still count as
// touching, as in fit.Findings, metres; half of it, so that what is made
// here passes there.
const buildTol = 0.001

// inTheWay returns the feature that the box of a loudspeaker overlaps most, and
// how deep, metres; -1 for none. Doors and windows are openings, and a flush
// loudspeaker may be built into a feature: of it the frame counts.
func inTheWay(room *project.Room, p *place.Speaker) (feature int, depth float64) {
	feature = -1
	for i, f := range room.Features {
		if f.Kind == project.Window || f.Kind == project.Door {
			continue
		}
		o := 0.0
		if p.Spec.Flush {
			o = fit.FrameIn(f, p, buildTol)
		} else {
			o = f.Overlap(p.Box)
		}
		if o > max(depth, buildTol) {
			feature, depth = i, o
		}
	}
	return feature, depth
}

// overFrame returns what hangs over the frame of a flush loudspeaker that is too high for
// it, in words, and how far the frame is above its underside, metres; empty for nothing.
func overFrame(room *project.Room, p place.Speaker) (what string, by float64) {
	top := math.Inf(-1)
	for _, c := range p.Box.Corners() {
		top = max(top, c.Z)
	}
	// Raised by what would count as touching: here the frame stays under.
	p.At.Z += buildTol
	p.Box.Center.Z += buildTol
	for _, f := range room.Features {
		if !f.Kind.Overhead() || fit.FrameIn(f, &p, buildTol) == 0 {
			continue
		}
		if over := top - float64(f.At.Z); what == "" || over > by {
			what, by = "the "+f.Words(), over
		}
	}
	return what, by
}

// overCeiling returns how far the highest corner of p's box is above the ceiling,
// metres, negative below it; for a flush loudspeaker that of its front's middle.
func overCeiling(room *project.Room, p *place.Speaker) float64 {
	if p.Spec.Flush && p.Mount == project.OnCeiling {
		return p.At.Vec().Z - room.CeilingAt(p.At.Vec().X, p.At.Vec().Y)
	}
	worst := math.Inf(-1)
	for _, c := range p.Box.Corners() {
		worst = max(worst, c.Z-room.CeilingAt(c.X, c.Y))
	}
	return worst
}

// pushes adds to out, by edge of the footprint, how far corners of the box are
// outside it.
func pushes(poly geometry.Polygon, b geometry.Box, out []float64) {
	clear(out)
	for _, c := range b.Corners() {
		q := geometry.Vec2{X: c.X, Y: c.Y}
		if poly.Contains(q) {
			continue
		}
		edge, foot := poly.Nearest(q)
		out[edge] = max(out[edge], q.Dist(foot))
	}
}
