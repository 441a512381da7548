// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"slices"
	"time"
)

// What a decay time can be, seconds: from less than any room's to a cathedral's.
const (
	MinDecay = 0.05
	MaxDecay = 20
)

// measured checks each measured time by itself. Whether it can be of this room is asked
// where it is entered.
func (c *checker) measured(m MeasuredSound) {
	c.date("measured.measured_on", m.On)
	for i := range c.count("measured.decay", len(m.Decay), 0, len(Thirds())) {
		at := fmt.Sprintf("measured.decay[%d].", i)
		c.third(at+"hz", m.Decay[i].Hz, Thirds()[len(Thirds())-1])
		if i > 0 {
			c.ascends(at+"hz", m.Decay[i].Hz, m.Decay[i-1].Hz)
		}
		c.between(at+"t60_s", m.Decay[i].Time, MinDecay, MaxDecay, " s")
	}
	c.responses(m.Responses)
	c.noise(m.Noise)
}

// noise faults levels that no room has, or of other octaves.
func (c *checker) noise(levels []float64) {
	if n := len(levels); n != 0 && n != NoiseOctaves {
		c.fault("measured.noise_db", entries(n), fmt.Sprintf("%d, for the octaves 31.5 Hz to 8 kHz, or none", NoiseOctaves))
		return
	}
	for i, l := range levels {
		c.between(fmt.Sprintf("measured.noise_db[%d]", i), l, -10, 120, " dB")
	}
}

// third faults a frequency that is the middle of no third of an octave, or of one above
// most.
func (c *checker) third(field string, hz, most float64) {
	all := Thirds()
	if !(hz >= all[0] && hz <= most) {
		c.between(field, hz, all[0], most, " Hz")
	} else if !slices.Contains(all, hz) {
		c.fault(field, figure(hz)+" Hz", "the nominal middle of a third of an octave; the nearest is "+figure(NearestThird(hz))+" Hz")
	}
}

// ascends faults a frequency that does not lie above the one before.
func (c *checker) ascends(field string, hz, before float64) {
	if !(hz > before) {
		c.fault(field, figure(hz)+" Hz", "more than the third before, "+figure(before)+" Hz")
	}
}

// date faults what is given and is no day.
func (c *checker) date(field, day string) {
	if day == "" {
		return
	}
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		c.fault(field, quote(day), "a date, such as 2026-11-29")
	}
}
