// SPDX-License-Identifier: MIT

package solve

import (
	"fmt"
	"strings"

	"earline/project/sight"
)

// Kept is how far a loudspeaker that was lifted may hang off its place in one direction
// and stay clear at every seat: the allowance or more.
type Kept struct {
	Speaker int    // index
	Way     string // as in sight.Limit
	Least   float64
}

// keep works out, by sight.Tolerance, in which directions the build allowance is kept,
// and says where it is not.
func (l *lifter) keep(after *sight.Result) {
	if l.allowance == 0 {
		return
	}
	d := l.p.Design
	show := func(v float64) string { return Metres.Show(v, d.Units) }
	var short, never []string
	lifted := 0
	for _, g := range l.groups {
		if !g.ok {
			for i := range g.members {
				never = append(never, g.members[i].start.Name())
			}
		}
		if g.kept || !g.ok {
			continue
		}
		for i := range g.members {
			m := &g.members[i]
			lifted++
			least := l.allowance
			for _, lim := range sight.Tolerance(d, after, m.k).Limits {
				if lim.Max >= least {
					l.p.Kept = append(l.p.Kept, Kept{m.k, lim.Way, least})
				} else {
					short = append(short, m.start.Name()+" "+lim.Words(d.Units))
				}
			}
		}
	}
	each := "Each"
	if len(never) > 0 { // nothing is promised for what is not clear where it hangs
		each += " but " + strings.Join(never, ", ")
	}
	switch {
	case lifted == 0:
	case len(short) == 0:
		l.notes = append(l.notes, fmt.Sprintf("%s may be built %s off its place in any direction and stays clear.", each, show(l.allowance)))
	default:
		l.notes = append(l.notes, fmt.Sprintf("%s may be built %s off its place and stays clear, but for these: %s.", each, show(l.allowance), strings.Join(short, "; ")))
	}
}
