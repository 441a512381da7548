// SPDX-License-Identifier: MIT

package sight

import (
	"slices"

	"earline/geometry"
	"earline/project"
)

// reaudit prepares to answer again for the loudspeakers moved. ok is false when
// what was answered for the others may have changed too.
func reaudit(prev *Result, d *project.Design, moved []int) (*auditor, bool) {
	if len(d.Speakers) != len(prev.Speakers) {
		return nil, false
	}
	r := &Result{
		Main: prev.Main, Seats: prev.Seats, Bodies: prev.Bodies,
		Speakers: slices.Clone(prev.Speakers),
		Parts:    slices.Clone(prev.Parts),
		Pairs:    slices.Clone(prev.Pairs),
		Views:    prev.Views,
	}
	kept := *prev.kept
	kept.solids = slices.Clone(kept.solids)
	kept.balls = slices.Clone(kept.balls)
	kept.groups = slices.Clone(kept.groups)
	kept.outside = slices.Clone(kept.outside)
	r.kept = &kept
	for _, k := range moved {
		if k < 0 || k >= len(d.Speakers) {
			return nil, false
		}
		placed := d.PlaceOne(d.Speakers[k], r.Main)
		r.Speakers[k] = placed
		r.column(k)
		kept.outside[k] = kept.lookOutside(&placed)
		for gi := range kept.groups {
			g := &kept.groups[gi]
			p := &r.Parts[g.from]
			if p.Kind != project.SpeakerPart || p.Index != k {
				continue
			}
			p.Box = &placed.Box
			after := p.Solid()
			if inTheWay(prev, d, k, kept.solids[g.from].Bound()) || inTheWay(prev, d, k, after.Bound()) {
				return nil, false
			}
			kept.solids[g.from], kept.balls[g.from] = after, ballOf(p, &after)
			g.bound, g.heart = after.Bound(), p.Inner()
		}
	}
	return auditorOf(d, r), true
}

// inTheWay reports whether the box of loudspeaker k comes near a path to another
// loudspeaker or before the picture: whether moving it can change other answers.
func inTheWay(r *Result, d *project.Design, k int, box geometry.Sphere) bool {
	const reach = 0.3 // m, more than the radius of any driver
	center, right, up := d.Screen.Picture()
	for i := range r.Seats {
		for j := range r.Speakers {
			if j == k {
				continue
			}
			p := r.Pair(i, j)
			for n := 0; n < len(p.Paths); n += 2 { // one ear is near the other
				q := &p.Paths[n]
				ln := newLine(q.From, q.To)
				if ln.dist2(box.Center) < (box.Radius+reach)*(box.Radius+reach) {
					return true
				}
			}
		}
		lines := newPyramid(r.Views[i].Eye, center, right, up)
		if !lines.outside(box, 0) {
			return true
		}
	}
	return false
}
