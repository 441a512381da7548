// SPDX-License-Identifier: MIT

package decay

import (
	"earline/project"
	"earline/project/bass"
)

// Report is a Result as data for other programs. Its JSON keys are stable: a key may be
// added, none is renamed or removed within one Version. What is not known is left out.
type Report struct {
	Format     string        `json:"format"`  // always "earline-decay"
	Version    int           `json:"version"` // of these keys
	Name       string        `json:"name"`
	Way        string        `json:"way"` // in which the bass was computed
	Volume     float64       `json:"volume_m3"`
	Wanted     float64       `json:"target_s"`
	Schroeder  float64       `json:"schroeder_hz"`
	MeasuredOn string        `json:"measured_on,omitempty"`
	Thirds     []ReportThird `json:"thirds"`
	Octaves    []ReportTime  `json:"octaves"` // by Eyring's formula
	Modes      []ReportMode  `json:"modes,omitempty"`
	Remarks    []string      `json:"remarks"`
}

// ReportThird is one third of an octave.
type ReportThird struct {
	Hz       float64 `json:"hz"`
	Modal    float64 `json:"modal_s,omitempty"`
	AtMost   bool    `json:"at_most,omitempty"` // the filter rings as long as modal_s
	Diffuse  float64 `json:"eyring_s,omitempty"`
	Measured float64 `json:"measured_s,omitempty"`
	Least    float64 `json:"wanted_least_s,omitempty"`
	Most     float64 `json:"wanted_most_s,omitempty"`
	Long     bool    `json:"longer_than_wanted"`
}

// ReportTime is a time at a frequency.
type ReportTime struct {
	Hz   float64 `json:"hz"`
	Time float64 `json:"t60_s"`
}

// ReportMode is a mode of a rectangular room.
type ReportMode struct {
	Frequency float64 `json:"frequency_hz"`
	Order     [3]int  `json:"order"`
	Kind      string  `json:"kind"`
	Time      float64 `json:"t60_s"`
	Q         float64 `json:"q"`
}

// Report returns r as data.
func (r *Result) Report() *Report {
	out := &Report{Format: "earline-decay", Version: 1, Name: r.Design.Name, Way: r.Bass.Way.String(), Volume: r.Reverb.Volume,
		Wanted: r.Reverb.Wanted, Schroeder: r.Reverb.Schroeder, MeasuredOn: r.Design.Measured.On, Remarks: r.Remarks}
	for _, t := range r.Thirds {
		out.Thirds = append(out.Thirds, ReportThird{t.Hz, t.Modal, t.Short, t.Diffuse, t.Measured, t.Least, t.Most, t.Long()})
	}
	for o, f := range project.Octaves() {
		out.Octaves = append(out.Octaves, ReportTime{f, r.Reverb.Eyring[o]})
	}
	for _, m := range r.Bass.Modes {
		out.Modes = append(out.Modes, reportMode(m))
	}
	return out
}

func reportMode(m bass.ModeDecay) ReportMode {
	return ReportMode{m.Frequency, [3]int{m.P, m.Q, m.R}, m.Kind().String(), m.Time, m.Quality()}
}
