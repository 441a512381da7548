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
		Seats: prev.Seats, Bodies: prev.Bodies,
		Speakers: slices.Clone(prev.Speakers),
		Parts:    slices.Clone(prev.Parts),
		Paths:    slices.Clone(prev.Paths),
		Pairs:    slices.Clone(prev.Pairs),
		Views:    prev.Views,
	}
	place := d.Place()
	a := &auditor{d: d, r: r, margin: float64(d.Criteria.Margin), poly: d.Room.Polygon()}
	a.convex = a.poly.Convex()
	for _, k := range moved {
		if k < 0 || k >= len(place) || len(place[k].Drivers) != len(prev.Speakers[k].Drivers) {
			return nil, false
		}
		r.Speakers[k] = place[k]
		for n := range r.Parts {
			if p := &r.Parts[n]; p.Kind == project.SpeakerPart && p.Index == k {
				if inTheWay(prev, d, k, p.Solid) {
					return nil, false
				}
				box := place[k].Box
				p.Box, p.Solid = &box, box.Solid()
				if inTheWay(prev, d, k, p.Solid) {
					return nil, false
				}
			}
		}
	}
	a.prepare()
	return a, true
}

// inTheWay reports whether the box of loudspeaker k comes near a path to another
// loudspeaker or before the picture: whether moving it can change other answers.
func inTheWay(r *Result, d *project.Design, k int, box geometry.Solid) bool {
	const reach = 0.3 // m, more than the radius of any driver
	bound := box.Bound()
	center, right, up := d.Screen.Picture()
	for i := range r.Seats {
		for j := range r.Speakers {
			if j == k {
				continue
			}
			p := r.Pair(i, j)
			for n := p.First; n < p.First+p.Count; n += 2 { // one ear is near the other
				q := &r.Paths[n]
				if bound.Gap(geometry.Segment{A: q.From, B: q.To}) < reach {
					return true
				}
			}
		}
		lines := newPyramid(r.Views[i].Eye, center, right, up)
		if !lines.outside(bound, 0) {
			return true
		}
	}
	return false
}
