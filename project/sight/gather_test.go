// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"testing"

	"earline/project/file"
)

// On the demos - several drivers a box, flush fronts, soffits that carry
// loudspeakers, a concave footprint - gathering candidates changes no answer.
func TestGatheringChangesNothing(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatal(name)
		}
		a := newAuditor(d)
		for i := range a.r.Seats {
			a.sit(i)
			near := a.nearEars(i)
			for k := range a.r.Speakers {
				sp := &a.r.Speakers[k]
				for driver := range sp.Drivers {
					for _, ear := range []Side{Left, Right} {
						var quick, slow Path
						a.ears = near
						a.gather(i, k)
						a.path(&quick, i, k, driver, ear)
						a.everything(i, k)
						a.path(&slow, i, k, driver, ear)
						if quick.Verdict != slow.Verdict || quick.Blocker != slow.Blocker ||
							math.Abs(quick.Clearance-slow.Clearance) > 1e-12 || math.Abs(quick.Visible-slow.Visible) > 1e-9 {
							t.Errorf("%s: seat %s to %s: %+v, without gathering %+v", name, a.r.Seats[i].Name(), sp.Name(), quick, slow)
						}
					}
				}
			}
		}
	}
}

// everything makes every part a candidate.
func (a *auditor) everything(i, k int) {
	a.cand, a.most = a.cand[:0], Far
	a.ears = [2]float64{Far, Far}
	for gi := range a.groups {
		g := &a.groups[gi]
		for n := g.from; n < g.to; n++ {
			if !(a.balls[n].person && g.seat == i) {
				a.cand = append(a.cand, candidate{n, a.toEar(n, i, k) == crossed})
			}
		}
	}
}
