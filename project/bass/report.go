// SPDX-License-Identifier: MIT

package bass

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// Caution stands wherever levels of bass are shown.
const Caution = "Loud bass harms hearing, and shakes buildings and what hangs in them: keep to local rules on noise, set levels with a meter, and have licensed people fix what hangs or is built in."

// Report is a study as data for other programs. Its JSON keys are stable: a key
// may be added, none is renamed or removed within one Version. Levels are dB SPL
// for 2.83 V at each subwoofer before its gain.
type Report struct {
	Format     string      `json:"format"`  // always "earline-bass"
	Version    int         `json:"version"` // of these keys
	Name       string      `json:"name"`
	Way        string      `json:"way"`
	Subwoofers []ReportSub `json:"subwoofers"`
	// Filters are those of the design; they are in the levels.
	Filters     []project.Filter `json:"filters,omitempty"`
	Frequencies []float64        `json:"frequencies_hz"`
	Seats       []ReportSeat     `json:"seats"`
	Mean        []float64        `json:"mean_db"`
	Figures     ReportFigures    `json:"figures"`
	Before      *ReportFigures   `json:"figures_before,omitempty"` // of what was aligned or moved
	// Weighed is the mean spatial variance with the seats as aligning weighs them, and
	// WeighedBefore that before; Thirds what became of the output.
	Weighed       float64       `json:"weighed_variance_db2"`
	WeighedBefore *float64      `json:"weighed_variance_before_db2,omitempty"`
	Thirds        []ReportThird `json:"thirds,omitempty"`
	Output        *ReportOutput `json:"output"`          // at rated power and excursion, against what must be played
	Modes         []ReportMode  `json:"modes,omitempty"` // of a rectangular room, to 120 Hz
	Remarks       []string      `json:"remarks"`
	Caution       string        `json:"caution"`
}

// ReportSub is a subwoofer.
type ReportSub struct {
	Name     string     `json:"name"`
	At       [3]float64 `json:"at"` // where its sound starts, room frame, metres
	Gain     float64    `json:"gain_db"`
	Delay    float64    `json:"delay_ms"`
	Inverted bool       `json:"inverted"`
}

// ReportSeat is the level at a seat, by frequency.
type ReportSeat struct {
	Row  int `json:"row"`
	Seat int `json:"seat"`
	// Weight is what the seat counts in aligning.
	Weight float64   `json:"weight"`
	Level  []float64 `json:"level_db"`
	// Halved and Doubled are Level with half and twice the absorption, where known.
	Halved  []float64 `json:"level_half_absorption_db,omitempty"`
	Doubled []float64 `json:"level_double_absorption_db,omitempty"`
}

// ReportThird is what aligning or other places did to the level in a third of an
// octave.
type ReportThird struct {
	Middle  float64  `json:"middle_hz"` // exact
	Before  float64  `json:"before_db"`
	After   float64  `json:"after_db"`
	Change  float64  `json:"change_db"`
	InPhase float64  `json:"in_phase_db"`        // the best in-phase level
	Floor   *float64 `json:"floor_db,omitempty"` // the least allowed, where there is one
}

// ReportFigures are Figures, from 20 to 120 Hz.
type ReportFigures struct {
	MeanSpatialVariance float64 `json:"mean_spatial_variance_db2"`
	SeatToSeat          float64 `json:"seat_to_seat_db"`
	Spread              float64 `json:"spread_db"`
	Widest              float64 `json:"widest_db"`
	WidestAt            float64 `json:"widest_at_hz"`
	Output              float64 `json:"output_db"`
}

// ReportMode is a mode of the room.
type ReportMode struct {
	Frequency float64 `json:"frequency_hz"`
	Order     [3]int  `json:"order"`
	Kind      string  `json:"kind"`
	Time      float64 `json:"t60_s"`
	Q         float64 `json:"q"`
}

func figuresOf(f Figures) ReportFigures {
	return ReportFigures{f.MeanSpatialVariance, f.SeatToSeat, f.Spread, f.WidestSpread, f.WidestAt, f.Output}
}

// Report returns st, a study of d, as data; before is the study before an
// improvement, or nil.
func (st *Study) Report(d *project.Design, before *Study) *Report {
	r := &Report{Format: "earline-bass", Version: 1, Name: d.Name, Way: st.Way.String(),
		Filters: d.Equalisation.Filters, Frequencies: st.Response.Frequencies, Mean: st.Response.Mean(), Figures: figuresOf(st.Figures), Weighed: st.Weighed,
		Remarks: st.Response.Remarks, Caution: Caution}
	xyz := func(v geometry.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	for i, k := range st.Plan.Speakers {
		t := d.Speakers[k].Tuning
		r.Subwoofers = append(r.Subwoofers, ReportSub{d.Speakers[k].Name(), xyz(st.Plan.Places[i]), t.Gain, t.Delay, t.Inverted})
	}
	for i, s := range st.Plan.Seats {
		seat := ReportSeat{Row: s.Row, Seat: s.Number, Weight: st.Plan.Limits.Weights[i], Level: st.Response.Seat(i)}
		if st.Halved != nil && st.Doubled != nil {
			seat.Halved, seat.Doubled = st.Halved.Seat(i), st.Doubled.Seat(i)
		}
		r.Seats = append(r.Seats, seat)
	}
	if before != nil {
		f := figuresOf(before.Figures)
		r.Before, r.WeighedBefore = &f, &before.Weighed
	}
	for _, t := range st.Thirds {
		v := ReportThird{Middle: t.Middle, Before: t.Before, After: t.After, Change: t.Change(), InPhase: t.InPhase}
		if !math.IsInf(t.Floor, -1) {
			v.Floor = &t.Floor
		}
		r.Thirds = append(r.Thirds, v)
	}
	r.Output = st.Output(d).Report()
	for _, m := range st.Plan.ModeTimes() {
		if m.Frequency <= Highest {
			r.Modes = append(r.Modes, ReportMode{m.Frequency, [3]int{m.P, m.Q, m.R}, m.Kind().String(), m.Time, m.Quality()})
		}
	}
	return r
}
