// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strconv"
)

// What a filter and a target may be. Processors differ: these hold what most of them
// can (no source).
const (
	LeastFilterGain, GreatestFilterGain = -30, 12  // dB
	LeastQ, GreatestQ                   = 0.1, 30  //
	lowestFilter, highestFilter         = 5, 20000 // Hz
	greatestTarget                      = 20       // dB, either way
)

// equalisation checks the target and the filters, and that they belong to loudspeakers
// that are there.
func (c *checker) equalisation(d *Design) {
	e := d.Equalisation
	c.text("equalisation.target.name", e.Target.Name, maxName)
	for i := range c.count("equalisation.target.points", len(e.Target.Points), 0, MaxTargetPoints) {
		p, at := e.Target.Points[i], fmt.Sprintf("equalisation.target.points[%d].", i)
		c.between(at+"hz", p.Frequency, lowestFilter, highestFilter, " Hz")
		c.between(at+"db", p.Level, -greatestTarget, greatestTarget, " dB")
		if i > 0 && p.Frequency <= e.Target.Points[i-1].Frequency {
			c.fault(at+"hz", figure(p.Frequency)+" Hz", "more than the point before, "+figure(e.Target.Points[i-1].Frequency)+" Hz")
		}
	}
	there := map[string]bool{AllSubwoofers: true}
	for i := range d.Speakers {
		if id := d.Speakers[i].ID; id != "" {
			there[id] = true
		}
	}
	most := MaxFilters * (1 + len(d.Speakers))
	used := map[string]int{}
	for i := range c.count("equalisation.filters", len(e.Filters), 0, most) {
		f, at := e.Filters[i], fmt.Sprintf("equalisation.filters[%d].", i)
		if !there[f.Of] {
			c.fault(at+"of", quote(f.Of), quote(AllSubwoofers)+" or the id of one of loudspeakers")
		}
		if used[f.Of]++; used[f.Of] == MaxFilters+1 {
			c.fault(at+"of", strconv.Itoa(used[f.Of])+" filters of "+quote(f.Of), "at most "+strconv.Itoa(MaxFilters)+" each")
		}
		oneOf(c, at+"kind", f.Kind, Peak, LowShelf, HighShelf, HighPass)
		c.between(at+"hz", f.Frequency, lowestFilter, highestFilter, " Hz")
		c.between(at+"q", f.Q, LeastQ, GreatestQ, "")
		if f.Kind == HighPass && f.Gain != 0 {
			c.fault(at+"gain_db", figure(f.Gain)+" dB", "none: a high-pass has no gain")
			continue
		}
		c.between(at+"gain_db", f.Gain, LeastFilterGain, GreatestFilterGain, " dB")
	}
}
