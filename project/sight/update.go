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
			if inTheWay(prev, d, k, kept.solids[g.from].Bound(), after.Bound()) {
				return nil, false
			}
			kept.solids[g.from], kept.balls[g.from] = after, ballOf(p, &after)
			g.bound, g.heart = after.Bound(), p.Inner()
		}
	}
	return auditorOf(d, r), true
}

// inTheWay reports whether the box of loudspeaker k comes near a path to another
// loudspeaker or before the picture, where it was or where it is: whether moving
// it can change other answers.
func inTheWay(r *Result, d *project.Design, k int, was, is geometry.Sphere) bool {
	const reach = 0.5 // m, more than the radius of any driver and than one ear is from the other
	// One look at what holds both settles nearly all paths.
	both := geometry.Sphere{Center: was.Center.Lerp(is.Center, 0.5), Radius: was.Center.Dist(is.Center)/2 + max(was.Radius, is.Radius)}
	// The drivers of a loudspeaker are looked at together.
	tips := make([]geometry.Sphere, 0, len(r.Speakers))
	for j := range r.Speakers {
		if drivers := r.Speakers[j].Drivers; j != k && len(drivers) > 0 {
			tip := geometry.Sphere{Center: drivers[0].Center}
			for _, o := range drivers[1:] {
				tip.Radius = max(tip.Radius, o.Center.Dist(tip.Center))
			}
			tips = append(tips, tip)
		}
	}
	center, right, up := d.Screen.Picture()
	for i := range r.Seats {
		ear := r.Bodies[i].EarLeft
		for j := range tips {
			l := newLine(ear, tips[j].Center)
			near := func(s geometry.Sphere) bool {
				far := s.Radius + reach + tips[j].Radius
				return l.dist2(s.Center) < far*far
			}
			if near(both) && (near(was) || near(is)) {
				return true
			}
		}
		lines := newPyramid(r.Views[i].Eye, center, right, up)
		if !lines.outside(both, 0) && !(lines.outside(was, 0) && lines.outside(is, 0)) {
			return true
		}
	}
	return false
}
