// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strings"
)

// The range of a crossover, hertz.
const (
	LeastCrossover = 20
	MostCrossover  = 300
)

// crossover faults a crossover that no processor sets, and one of a subwoofer: those
// play below the crossover of the others.
func (c *checker) crossover(d *Design) {
	c.given("playback.crossover_hz", d.Playback.Crossover, LeastCrossover, MostCrossover, " Hz")
	if d.Playback.Slope != "" {
		oneOf(c, "playback.crossover_slope", d.Playback.Slope, CrossoverSlopes()...)
	}
	for i, l := range d.Speakers[:min(len(d.Speakers), MaxSpeakers)] {
		at := fmt.Sprintf("loudspeakers[%d].tuning.crossover_hz", i)
		if l.Tuning.Crossover != 0 && strings.HasPrefix(l.Label, "LFE") {
			c.fault(at, figure(l.Tuning.Crossover)+" Hz for a subwoofer", "none: it plays below the crossover of the others")
			continue
		}
		c.given(at, l.Tuning.Crossover, LeastCrossover, MostCrossover, " Hz")
	}
}
