// SPDX-License-Identifier: MIT

package handover

import (
	"math"

	"earline/project/noise"
	"earline/project/sound"
)

// Report is a record as data for other programs. Its JSON keys are stable: a key may be
// added, none is renamed or removed within one Version.
type Report struct {
	Format     string          `json:"format"`  // always "earline-handover"
	Version    int             `json:"version"` // of these keys
	Name       string          `json:"name"`
	Reference  float64         `json:"reference_db"`
	LFEGain    float64         `json:"lfe_gain_db"`
	Computed   bool            `json:"computed"` // delays and trims, as the design has none
	Speakers   []ReportChannel `json:"loudspeakers"`
	Decay      []ReportOctave  `json:"decay"`
	Noise      noise.Report    `json:"noise"`
	Picture    ReportPicture   `json:"picture"`
	Microphone []string        `json:"microphone"`
	Order      []string        `json:"order_of_work"`
	Caution    string          `json:"caution"`
}

// ReportChannel is a loudspeaker.
type ReportChannel struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"`
	Means      string   `json:"means"`
	Subwoofer  bool     `json:"subwoofer"`
	Distance   float64  `json:"distance_m"`
	Delay      float64  `json:"delay_ms"`
	Trim       float64  `json:"trim_db"`
	ExactDelay float64  `json:"delay_exact_ms"`
	ExactTrim  float64  `json:"trim_exact_db"`
	Inverted   bool     `json:"inverted"`
	Crossover  string   `json:"crossover"`
	Filters    []string `json:"filters"`
	Target     float64  `json:"target_db"`
	Sharing    int      `json:"channel_loudspeakers"`
}

// ReportOctave is the reverberation in an octave.
type ReportOctave struct {
	Hz       float64 `json:"hz"`
	Wanted   float64 `json:"wanted_s,omitempty"`
	Within   float64 `json:"within_s,omitempty"`
	Computed float64 `json:"computed_s"`
	Measured float64 `json:"measured_s,omitempty"`
}

// ReportPicture is what white is to measure.
type ReportPicture struct {
	Shape  string  `json:"shape"`
	White  float64 `json:"white_cd_m2"`
	Within float64 `json:"within_cd_m2"`
	Source string  `json:"source"`
	New    float64 `json:"new_cd_m2"`
	Aged   float64 `json:"aged_cd_m2"`
}

// Report returns r as data.
func (r *Record) Report() Report {
	p := r.Picture
	out := Report{Format: "earline-handover", Version: 1, Name: r.Design.Name, Reference: r.Playback.Reference, LFEGain: r.Playback.LFEGain,
		Computed: r.Computed, Speakers: []ReportChannel{}, Noise: r.Noise.Report(), Microphone: r.MicrophoneWords(), Order: Steps(), Caution: r.Cautions(),
		Picture: ReportPicture{p.Shape, p.Reference.White, p.Reference.Within, p.Reference.Source, rounded(p.New), rounded(p.Aged)}}
	for _, group := range [][]Channel{r.Channels, r.Subs} {
		for _, c := range group {
			out.Speakers = append(out.Speakers, ReportChannel{c.ID, c.Name, c.Plain, c.Sub, rounded(c.Distance), rounded(c.Delay), rounded(c.Trim),
				rounded(c.ExactDelay), rounded(c.ExactTrim), c.Inverted, c.Crossover, append([]string{}, c.Filters...), rounded(c.Target), c.Sharing})
		}
	}
	for _, o := range r.Decay {
		q := ReportOctave{Hz: o.Hz, Computed: rounded(o.Computed), Measured: rounded(o.Measured)}
		if o.Judged {
			q.Wanted, q.Within = rounded(r.Wanted), sound.Tolerance
		}
		out.Decay = append(out.Decay, q)
	}
	return out
}

// rounded rounds to a millionth, so that the last bits of a computation do not make equal
// answers differ as text.
func rounded(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
