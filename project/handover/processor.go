// SPDX-License-Identifier: MIT

package handover

import (
	"fmt"
	"math"
	"slices"

	"earline/project"
	"earline/project/sound"
)

// crossoverOf says below what the subwoofers play for l; without any it plays all itself.
func crossoverOf(d *project.Design, l project.Loudspeaker) string {
	if !slices.ContainsFunc(d.Speakers, func(l project.Loudspeaker) bool { return sound.LFE(l.Label) }) {
		return "none"
	}
	return fmt.Sprintf("%g Hz", d.Playback.CrossoverOf(l))
}

// lowPassOf says up to where the subwoofers play: to the highest crossover.
func lowPassOf(d *project.Design) string {
	lo, hi := math.Inf(1), 0.0
	for _, l := range d.Speakers {
		if !sound.LFE(l.Label) {
			v := d.Playback.CrossoverOf(l)
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	switch {
	case hi == 0:
		return fmt.Sprintf("%g Hz", d.Playback.OrUsual().Crossover)
	case lo < hi:
		return fmt.Sprintf("%g to %g Hz", lo, hi)
	}
	return fmt.Sprintf("%g Hz", hi)
}

// slopeOf names the slopes of the crossover.
func slopeOf(d *project.Design) string { return string(d.Playback.OrUsual().Slope) }

// filtersOf says which filters of its own the loudspeaker of that id has, or all
// subwoofers together.
func filtersOf(d *project.Design, id string) (words []string) {
	for _, f := range d.Equalisation.Filters {
		if f.Of == id {
			words = append(words, filterWords(f))
		}
	}
	return words
}

func filterWords(f project.Filter) string {
	if f.Kind == project.HighPass {
		return fmt.Sprintf("%s %g Hz, Q %g", f.Kind, f.Frequency, f.Q)
	}
	return fmt.Sprintf("%s %g Hz %+g dB, Q %g", f.Kind, f.Frequency, f.Gain, f.Q)
}

// bassTarget says what level over frequency the bass is set to.
func bassTarget(d *project.Design) string { return d.Equalisation.Target.Called() }
