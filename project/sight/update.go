// SPDX-License-Identifier: MIT

package sight

import (
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// reaudit returns an auditor to answer again for the moved loudspeakers. ok is
// false when the answers for the others may have changed too.
func reaudit(prev *Result, d *project.Design, moved []int) (*auditor, bool) {
	if len(d.Speakers) != len(prev.Speakers) {
		return nil, false
	}
	r := prev.movable(d)
	r.Pairs, r.Views = slices.Clone(prev.Pairs), prev.Views
	kept := r.kept
	for _, k := range moved {
		if k < 0 || k >= len(d.Speakers) {
			return nil, false
		}
		placed := place.OneSpeaker(d, d.Speakers[k], r.Main)
		r.Speakers[k] = placed
		r.newPaths(k)
		kept.settings[k] = kept.shell.settings(&placed)
		for gi := range kept.groups {
			g := &kept.groups[gi]
			p := &r.Parts[g.from]
			if p.Kind != place.SpeakerPart || p.Index != k {
				continue
			}
			p.Box = &placed.Box
			was := kept.solids[g.from]
			kept.putBox(gi, p.Box)
			if inTheWay(prev, d, k, &was, &kept.solids[g.from]) {
				return nil, false
			}
		}
	}
	return auditorOf(d, r), true
}

// movable returns the room of r, without answers, in which the loudspeakers of d can be
// moved and r stays as it is.
func (r *Result) movable(d *project.Design) *Result {
	room, kept := r.Room, *r.kept
	room.Design, room.Speakers, room.Parts = d, slices.Clone(r.Speakers), slices.Clone(r.Parts)
	kept.solids = slices.Clone(kept.solids)
	kept.balls = slices.Clone(kept.balls)
	kept.groups = slices.Clone(kept.groups)
	kept.settings = slices.Clone(kept.settings)
	return &Result{Room: room, kept: &kept}
}

// inTheWay reports whether moving the box of loudspeaker k can change other
// answers: whether the box, where it was or where it is now, may stand in a path
// to another loudspeaker or in front of the picture. A box counts only where a
// path enters it.
func inTheWay(r *Result, d *project.Design, k int, was, is *geometry.Solid) bool {
	const (
		reach = 0.5  // m, more than the radius of any driver and than one ear is from the other
		slack = 0.01 // m, beside a driver's edge
	)
	// A sphere around both boxes rules out nearly all paths.
	a, b := was.Bound(), is.Bound()
	both := geometry.Sphere{Center: a.Center.Lerp(b.Center, 0.5), Radius: a.Center.Dist(b.Center)/2 + max(a.Radius, b.Radius)}
	// The drivers of a loudspeaker are bounded together.
	targets := make([]geometry.Sphere, len(r.Speakers))
	for j := range r.Speakers {
		if drivers := r.Speakers[j].Drivers; j != k && len(drivers) > 0 {
			targets[j].Center = drivers[0].Center
			for _, o := range drivers[1:] {
				targets[j].Radius = max(targets[j].Radius, o.Center.Dist(targets[j].Center))
			}
		}
	}
	// crosses checks the paths to loudspeaker j one by one.
	crosses := func(body *place.Body, j int) bool {
		for _, o := range r.Speakers[j].Drivers {
			for _, ear := range [2]geometry.Vec{body.EarLeft, body.EarRight} {
				path := geometry.Segment{A: ear, B: o.Center}
				for _, box := range [2]*geometry.Solid{was, is} {
					if c, _ := box.Clearance(path); c < o.Radius+slack {
						return true
					}
				}
			}
		}
		return false
	}
	center, right, up := d.Screen.Picture()
	for i := range r.Seats {
		body := &r.Bodies[i]
		for j := range targets {
			if j == k || len(r.Speakers[j].Drivers) == 0 {
				continue
			}
			l := newLine(body.EarLeft, targets[j].Center)
			far := both.Radius + reach + targets[j].Radius
			if l.dist2(both.Center) < far*far && crosses(body, j) {
				return true
			}
		}
		lines := newPyramid(r.Views[i].Eye, center, right, up)
		if !lines.outside(both, 0) && !(lines.outside(a, 0) && lines.outside(b, 0)) {
			return true
		}
	}
	return false
}
