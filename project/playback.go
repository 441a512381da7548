// SPDX-License-Identifier: MIT

package project

// Playback is how the system is to be set up. Every field that is 0 is not
// given; OrUsual fills it in.
type Playback struct {
	// Reference is the level of one main channel at the main position with
	// reference noise, dB(C) SPL; Headroom what peaks are over it, dB.
	Reference float64 `json:"reference_db,omitempty"`
	Headroom  float64 `json:"headroom_db,omitempty"`
	// LFEGain is by how much the LFE channel plays louder in its band, dB.
	LFEGain float64 `json:"lfe_gain_db,omitempty"`
	// Crossover is below what frequency the subwoofers play for the others.
	Crossover float64        `json:"crossover_hz,omitempty"`
	Slope     CrossoverSlope `json:"crossover_slope,omitempty"`
	// DelayStep and TrimStep are the steps in which the processor sets delays
	// and levels.
	DelayStep float64 `json:"delay_step_ms,omitempty"`
	TrimStep  float64 `json:"trim_step_db,omitempty"`
	// Background is the noise rating NR of the room as stated or measured, with all that
	// runs during a film but the projector.
	Background float64 `json:"background_nr,omitempty"`
}

// OrUsual returns p with what is not given filled in: 85 dB(C), 20 dB of
// headroom and 10 dB of LFE gain (ISO 21727:2016, Table 2, with the levels of
// ISO 22234; the headroom by the lineage of SMPTE ST 202: -20 dBFS reference),
// and without a source, as common practice, 80 Hz, fourth-order Linkwitz-Riley, 0.1 ms
// and 0.5 dB.
func (p Playback) OrUsual() Playback {
	fill := func(v *float64, usual float64) {
		if *v == 0 {
			*v = usual
		}
	}
	fill(&p.Reference, 85)
	fill(&p.Headroom, 20)
	fill(&p.LFEGain, 10)
	fill(&p.Crossover, 80)
	if p.Slope == "" {
		p.Slope = LinkwitzRiley4
	}
	fill(&p.DelayStep, 0.1)
	fill(&p.TrimStep, 0.5)
	return p
}

// Tuning is what the processor does to one loudspeaker.
type Tuning struct {
	Delay    float64 `json:"delay_ms,omitempty"`
	Gain     float64 `json:"gain_db,omitempty"`
	Inverted bool    `json:"inverted,omitempty"` // polarity
	// Crossover is below what frequency the subwoofers play for this loudspeaker,
	// hertz; 0 is Playback.Crossover.
	Crossover float64 `json:"crossover_hz,omitempty"`
}

// Enclosure is how a subwoofer's box is built.
type Enclosure string

// The enclosures. A sealed box rolls off by 12 dB an octave, a ported one by 24.
const (
	Sealed Enclosure = "sealed"
	Ported Enclosure = "ported"
)

// Polar is how a model radiates, as measured. Its slices are never written to once
// made: they may hold a million levels, and copies of a design share them.
type Polar struct {
	Source string `json:"source,omitempty"` // where it is from
	// Angles are the angles of every curve, degrees, increasing: 0 straight
	// ahead, positive to the right of someone who looks at the front, or up.
	Angles []float64 `json:"angles_deg"`
	// Horizontal and Vertical are the two planes, by frequency, increasing.
	Horizontal []PolarCurve `json:"horizontal"`
	Vertical   []PolarCurve `json:"vertical"`
}

// PolarCurve is one plane at one frequency.
type PolarCurve struct {
	Frequency float64   `json:"frequency_hz"`
	Level     []float64 `json:"level_db"` // at each angle, against the axis
}

// Given reports whether anything was measured.
func (p Polar) Given() bool { return len(p.Angles) > 0 }
