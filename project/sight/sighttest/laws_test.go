// SPDX-License-Identifier: MIT

package sighttest

import (
	"slices"
	"testing"

	"earline/geometry"
	"earline/project/file"
	"earline/project/place"
	"earline/project/sight"
)

// Every law is broken by some slip, and Breaches says so; nothing else.
func TestEveryLawCanBreak(t *testing.T) {
	d, _ := file.Demo("large")
	path := func(want sight.Verdict, edit func(p *sight.Path)) func(r *sight.Result) {
		return func(r *sight.Result) {
			for i := range r.Seats {
				for k := range r.Speakers {
					for n := range r.Pair(i, k).Paths {
						if p := &r.Pair(i, k).Paths[n]; p.Verdict == want && !r.Speakers[k].Spec.Subwoofer() && n != r.Pair(i, k).Worst {
							edit(p)
							return
						}
					}
				}
			}
			t.Fatalf("the demo has no %v path", want)
		}
	}
	view := func(edit func(v *sight.View)) func(r *sight.Result) {
		return func(r *sight.Result) { edit(&r.Views[0]) }
	}
	for law, edit := range map[string]func(r *sight.Result){
		"paths run driver by driver, from the left ear, then from the right": path(sight.Clear, func(p *sight.Path) { p.Ear = 1 - p.Ear }),
		"every path has a verdict":                                path(sight.Tight, func(p *sight.Path) { p.Verdict = sight.NotJudged }),
		"a share is from 0 to 1":                                  path(sight.Clear, func(p *sight.Path) { p.Visible = 1.5 }),
		"a clearance is capped":                                   path(sight.Clear, func(p *sight.Path) { p.Clearance = 2 * sight.Far }),
		"blocked: not seen in full":                               path(sight.Blocked, func(p *sight.Path) { p.Visible = 1 }),
		"blocked: by something":                                   path(sight.Blocked, func(p *sight.Path) { p.Blocker = sight.NoPart }),
		"share 0: blocked":                                        path(sight.Tight, func(p *sight.Path) { p.Visible = 0 }),
		"share below 1: not clear":                                path(sight.Clear, func(p *sight.Path) { p.Visible = 0.9 }),
		"share below 1: by something":                             path(sight.Tight, func(p *sight.Path) { p.Visible, p.Blocker = 0.9, sight.NoPart }),
		"clearance: to something":                                 path(sight.Clear, func(p *sight.Path) { p.Blocker = sight.NoPart }),
		"clear: clearance of the margin or more, and seen whole":  path(sight.Tight, func(p *sight.Path) { p.Verdict = sight.Clear }),
		"entered: blocked":                                        path(sight.Tight, func(p *sight.Path) { p.Clearance, p.Angle = -0.01, -0.01 }),
		"blocked: entered, or wholly hidden":                      path(sight.Blocked, func(p *sight.Path) { p.Clearance, p.Angle, p.Visible = 0.01, 0.01, 0.5 }),
		"the nearest point lies on the path":                      path(sight.Clear, func(p *sight.Path) { p.Nearest.Z += 0.01 }),
		"the angle has the clearance's sign":                      path(sight.Clear, func(p *sight.Path) { p.Angle = -p.Angle }),
		"the path is entered on the path":                         path(sight.Blocked, func(p *sight.Path) { p.Enter.Y += 0.01 }),
		"the path is entered in the blocker's surface":            path(sight.Blocked, func(p *sight.Path) { p.Enter = p.To }),
		"two paths a driver":                                      func(r *sight.Result) { p := r.Pair(0, 0); p.Paths = p.Paths[:2] },
		"nothing to decide: not judged":                           func(r *sight.Result) { r.Speakers[0].Spec.Drivers = nil },
		"the worst path is one of the deciding driver's two":      func(r *sight.Result) { r.Pair(0, 0).Worst = -1 },
		"the worst path is the worse of two":                      func(r *sight.Result) { p := r.Pair(0, 0); p.Worst ^= 1 },
		"subwoofers are not judged":                               func(r *sight.Result) { r.Pair(0, sub(r)).Verdict = sight.Clear },
		"a pair has its worst path's verdict":                     func(r *sight.Result) { r.Pair(0, 0).Verdict = sight.NotJudged },
		"every view has a verdict":                                view(func(v *sight.View) { v.Verdict = sight.NotJudged }),
		"a view is from midway between the eyes":                  view(func(v *sight.View) { v.Eye.Z += 0.001 }),
		"no picture before the eye: blocked, by nothing, share 0": view(func(v *sight.View) { v.Eye.X = -1 }),
		"a view is blocked when some of it is hidden or something stands over a line": view(func(v *sight.View) { v.Visible = 0.5 }),
		"the worst line leads to the lower edge":                                      view(func(v *sight.View) { v.Toward.Z += 0.01 }),
		"the nearest point lies on the worst line":                                    view(func(v *sight.View) { v.Nearest = v.Nearest.Add(geometry.Vec{Z: 0.01}) }),
		"the pairs are counted":                                                       func(r *sight.Result) { r.Count[sight.Clear]++ },
		"the views are counted":                                                       func(r *sight.Result) { r.PictureCount[sight.Clear]++ },
	} {
		r := sight.Audit(d)
		if all := Breaches(d, r); len(all) > 0 {
			t.Fatalf("untouched: %v", all)
		}
		edit(r)
		if all := Breaches(d, r); !slices.ContainsFunc(all, func(b Breach) bool { return b.Law == law }) {
			t.Errorf("%s: nobody notices (%v)", law, all)
		}
	}
}

// sub returns a subwoofer.
func sub(r *sight.Result) int {
	return slices.IndexFunc(r.Speakers, func(p place.Speaker) bool { return p.Spec.Subwoofer() })
}
