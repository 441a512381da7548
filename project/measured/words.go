// SPDX-License-Identifier: MIT

package measured

import (
	"fmt"
	"strings"

	"earline/project/bass"
)

// Sentence says in one line how a seat compares.
func (s *Seat) Sentence() string {
	if s.Skipped != "" {
		return fmt.Sprintf("seat %s: not compared, %s", s.Name(), s.Skipped)
	}
	return fmt.Sprintf("seat %s: %.1f dB rms off, most at %g Hz (%+.1f dB); %s", s.Name(), s.RMS, bass.NominalThird(s.Worst.Middle), s.Worst.Difference()+0, s.PeakWords())
}

// Differences says third by third how far measured lies over computed.
func (s *Seat) Differences() string {
	var all []string
	for _, t := range s.Thirds {
		all = append(all, fmt.Sprintf("%g Hz %+.1f", bass.NominalThird(t.Middle), t.Difference()+0))
	}
	return strings.Join(all, ", ") + " dB"
}

// PeakWords says which of the computed peaks were found.
func (s *Seat) PeakWords() string {
	if s.Coarse {
		return "measured too coarsely to place peaks"
	}
	if len(s.Peaks) == 0 {
		return "no computed peak stands out"
	}
	var found, missed []string
	for _, p := range s.Peaks {
		if p.Measured > 0 {
			found = append(found, fmt.Sprintf("%.1f Hz at %.1f Hz", p.Computed, p.Measured))
		} else {
			missed = append(missed, fmt.Sprintf("%.1f Hz", p.Computed))
		}
	}
	var words []string
	if len(found) > 0 {
		words = append(words, "peaks found: "+strings.Join(found, ", "))
	}
	if len(missed) > 0 {
		words = append(words, "not found: "+strings.Join(missed, ", "))
	}
	return strings.Join(words, "; ")
}

// OffsetWords says by how much a seat was moved.
func (s *Seat) OffsetWords() string { return fmt.Sprintf("%+.1f dB", -s.Offset+0) }

// SpreadSentence says how the seats differ from each other; empty for a single seat.
func (g *Group) SpreadSentence() string {
	if len(g.Spreads) == 0 {
		return ""
	}
	return fmt.Sprintf("Seat to seat: %.1f dB rms measured, %.1f dB computed (variance %.1f and %.1f dB²)",
		g.SpreadMeasured, g.SpreadComputed, g.SpreadMeasured*g.SpreadMeasured, g.SpreadComputed*g.SpreadComputed)
}
