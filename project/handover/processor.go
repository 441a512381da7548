// SPDX-License-Identifier: MIT

package handover

import (
	"fmt"

	"earline/project"
)

// crossoverOf says below what the subwoofers play for l, and with which slopes.
func crossoverOf(d *project.Design, l project.Loudspeaker) string {
	return fmt.Sprintf("%g Hz", d.Playback.OrUsual().Crossover)
}

// lowPassOf says up to where the subwoofers play, and with which slope.
func lowPassOf(d *project.Design) string {
	return fmt.Sprintf("%g Hz", d.Playback.OrUsual().Crossover)
}

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
