// SPDX-License-Identifier: MIT

package solve

import (
	"math"

	"earline/project"
	"earline/project/practice"
	"earline/project/sight"
)

// gatherFronts makes the group of the fronts behind a screen that sound passes, if
// heads or chairs block one of them. They keep their heights against each other.
func (l *lifter) gatherFronts(taken []bool) {
	d := l.p.Design
	if l.o.KeepFronts || !d.Screen.Transparent {
		return
	}
	var fronts []int
	blocked, most := false, l.limits.frontHeights(d).Most()
	for k, s := range d.Speakers {
		if !isFront(d, s) {
			continue
		}
		if float64(s.At.Z) > most {
			return
		}
		fronts = append(fronts, k)
		for i := range l.was.Seats {
			blocked = blocked || l.was.Pair(i, k).Verdict == sight.Blocked
		}
	}
	if !blocked {
		return
	}
	low := math.Inf(1)
	for _, k := range fronts {
		low = min(low, float64(d.Speakers[k].At.Z))
	}
	g := &group{limits: "their heights as given", fronts: true}
	for _, k := range fronts {
		taken[k] = true
		g.add(l, k, float64(d.Speakers[k].At.Z)-low, 1)
	}
	l.groups = append(l.groups, g)
}

// isFront reports whether s is a front behind the screen.
func isFront(d *project.Design, s project.Loudspeaker) bool {
	m, known := d.Model(s.Model)
	return known && !m.Subwoofer() && s.Mount == project.BehindScreen && practice.LayerIn(d, s) == practice.Front
}
