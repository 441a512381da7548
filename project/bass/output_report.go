// SPDX-License-Identifier: MIT

package bass

import (
	"fmt"
	"math"
)

// ReportOutput is an Output as data.
type ReportOutput struct {
	Thirds     []float64          `json:"thirds_hz"` // exact middles
	Must       []float64          `json:"needed_level_db"`
	Judged     []bool             `json:"judged"`
	Redirected int                `json:"redirected_channels"`
	Crossover  float64            `json:"crossover_hz"`
	Seats      []ReportOutputSeat `json:"seats"`
	Subwoofers []ReportOutputSub  `json:"subwoofers"`
	// Main is the weakest third at the seat nearest the main position, Worst that of
	// all seats.
	Main    ReportWeakest `json:"main"`
	Worst   ReportWeakest `json:"worst"`
	Remarks []string      `json:"remarks"`
}

// ReportOutputSeat is what a seat can get at most, by third.
type ReportOutputSeat struct {
	Row       int       `json:"row"`
	Seat      int       `json:"seat"`
	Level     []float64 `json:"level_db"`
	Excursion []bool    `json:"limited_by_excursion"`
}

// ReportOutputSub is what a subwoofer needs, watts into its nominal impedance.
type ReportOutputSub struct {
	Name        string  `json:"name"`
	Rated       float64 `json:"rated_w"`
	Needed      float64 `json:"needed_w"`       // in the third of main
	NeededWorst float64 `json:"needed_worst_w"` // in the third of worst
}

// ReportWeakest is where least is left.
type ReportWeakest struct {
	Row       int     `json:"row"`
	Seat      int     `json:"seat"`
	Third     float64 `json:"third_hz"`
	Reserve   float64 `json:"reserve_db"`
	Excursion bool    `json:"limited_by_excursion"`
}

// Report returns o as data.
func (o *Output) Report() *ReportOutput {
	r := &ReportOutput{Redirected: o.Redirected, Crossover: o.Crossover, Main: o.weakest(o.Main), Worst: o.weakest(o.Worst), Remarks: o.Remarks}
	for _, t := range o.Thirds {
		r.Thirds, r.Must, r.Judged = append(r.Thirds, t.Mid), append(r.Must, t.Must), append(r.Judged, t.Judged)
	}
	for i, s := range o.Seats {
		r.Seats = append(r.Seats, ReportOutputSeat{s.Row, s.Number, o.Can[i], o.Moves[i]})
	}
	for i, name := range o.Names {
		r.Subwoofers = append(r.Subwoofers, ReportOutputSub{name, o.Rated[i], o.Needed[i], o.NeededWorst[i]})
	}
	return r
}

func (o *Output) weakest(w Weakest) ReportWeakest {
	s := o.Seats[w.Seat]
	return ReportWeakest{s.Row, s.Number, o.Thirds[w.Third].Mid, w.Reserve, o.ByExcursion(w)}
}

// Sentence says in one line what the subwoofers have over what is wanted at w: "row 2
// seat 2, 80 Hz third: 116 dB wanted, 3.1 dB to spare", and how deep a null that is.
func (o *Output) Sentence(w Weakest) string {
	s, t := o.Seats[w.Seat], o.Thirds[w.Third]
	left := fmt.Sprintf("%.1f dB to spare", w.Reserve)
	if w.Reserve < 0 {
		left = fmt.Sprintf("%.1f dB short", -w.Reserve)
	}
	if o.ByExcursion(w) {
		left += ", by the excursion of a driver"
	}
	const deep = 6 // dB: four times the watts (no source)
	if n := o.Null(w); n > deep {
		left += fmt.Sprintf("; a null, %.0f dB below what the seat gets on the whole", n)
		if w.Reserve < 0 {
			left += ": place or align first, then count watts"
		}
	}
	return fmt.Sprintf("row %d seat %d, %g Hz third: %.0f dB wanted, %s", s.Row, s.Number, NominalThird(t.Mid), t.Must, left)
}

// Null returns by how much the level at the seat of w in its third lies below its mean
// over the thirds that are judged, dB: more watts are then a dear cure, and another
// place or an alignment the first.
func (o *Output) Null(w Weakest) float64 {
	sum, n := 0.0, 0.0
	for i, t := range o.Thirds {
		if t.Judged {
			sum, n = sum+math.Pow(10, o.Can[w.Seat][i]/10), n+1
		}
	}
	return 10*math.Log10(sum/n) - o.Can[w.Seat][w.Third]
}
