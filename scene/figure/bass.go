// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"
	"math"
	"slices"

	"earline/project/bass"
	"earline/project/measured"
	"earline/project/place"
	"earline/scene/chart"
)

// ResponseOptions say what Response shows beside the response.
type ResponseOptions struct {
	// Seat is drawn heavily, by index; below 0 is none.
	Seat int
	// Before is what another study had, whose mean is drawn broken; nil for none.
	Before *bass.Response
	// Halved and Doubled are the response with half and twice the absorption: the range
	// between is shaded at Seat. Nil for not known.
	Halved, Doubled *bass.Response
	// Crossover and Schroeder are marked, hertz; 0 for none.
	Crossover, Schroeder float64
	// Measured is what was measured at Seat, drawn broken, moved onto what is computed; nil
	// for nothing.
	Measured *measured.Seat
	// Seats name the seats, for the read-out; may be nil.
	Seats func(i int) string
}

// Response charts what the subwoofers do at every seat: the level of each, their
// mean, and the range from the softest to the loudest.
func Response(r *bass.Response, o ResponseOptions) chart.Chart {
	f := r.Frequencies
	c := chart.Chart{
		Title: "Subwoofers at the seats",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency},
		Y:     chart.Axis{Label: "Level for 2.83 V each", Unit: "dB SPL", Kind: chart.Decibel},
		Note:  "Judged from 20 to 120 Hz, the band of the LFE channel (Rec. ITU-R BS.775-3, Annex 7).",
	}
	if len(f) > 0 {
		c.X.Min, c.X.Max = f[0], f[len(f)-1]
	}
	if r.Seats == 0 || len(f) == 0 {
		return c
	}
	mean := r.Mean()
	lo, hi := make([]float64, len(f)), make([]float64, len(f))
	for i := range f {
		lo[i], hi[i] = math.Inf(1), math.Inf(-1)
	}
	for seat := range r.Seats {
		name := fmt.Sprintf("seat %d", seat+1)
		if o.Seats != nil {
			name = o.Seats(seat)
		}
		level := r.Seat(seat)
		for i, l := range level {
			lo[i], hi[i] = min(lo[i], l), max(hi[i], l)
		}
		c.Series = append(c.Series, chart.Series{Name: name, X: f, Y: level, Quiet: true, Group: "seats"})
		if seat == o.Seat {
			c.Series = append(c.Series, chart.Series{Name: name, X: f, Y: level, Heavy: true, Ink: 2, Dash: chart.Solid})
			if o.Halved != nil && o.Doubled != nil && seat < o.Halved.Seats && seat < o.Doubled.Seats {
				c.Series = append(c.Series, uncertain(name, f, level, o.Halved.Seat(seat), o.Doubled.Seat(seat)))
			}
		}
	}
	if m := o.Measured; m != nil && o.Seat >= 0 && o.Seat < r.Seats {
		x, y := m.Moved(f[0], f[len(f)-1])
		c.Series = append(c.Series, chart.Series{Name: "measured, " + m.OffsetWords(), X: x, Y: y, Heavy: true, Ink: 4, Dash: chart.Dashed})
	}
	// The least of what a null digs would squeeze the rest together.
	top, floor := math.Inf(-1), math.Inf(1)
	for i := range f {
		top, floor = max(top, hi[i]), min(floor, lo[i])
	}
	for _, s := range c.Series {
		if s.Kind == chart.Area { // of how far absorption is off
			top = max(top, slices.Max(s.Y))
		}
	}
	const shown = 45 // dB
	c.Y.Max = math.Ceil(top/5) * 5
	c.Y.Min = max(math.Floor(floor/5)*5, c.Y.Max-shown)
	c.Series = append(c.Series,
		chart.Series{Name: "mean of the seats", X: f, Y: mean, Heavy: true, Ink: 1, Dash: chart.Solid},
		chart.Series{Name: "softest to loudest", Kind: chart.Area, X: f, Y: hi, Low: lo, Ink: 1})
	if b := o.Before; b != nil && b.Seats > 0 {
		c.Series = append(c.Series, chart.Series{Name: "mean before", X: b.Frequencies, Y: b.Mean(), Ink: 5, Dash: chart.Dashed})
	}
	if o.Crossover > 0 {
		c.Marks = append(c.Marks, chart.Mark{X: o.Crossover, Label: fmt.Sprintf("crossover %.0f Hz", o.Crossover)})
	}
	if o.Schroeder > 0 && o.Schroeder < f[len(f)-1] {
		c.Marks = append(c.Marks, chart.Mark{X: o.Schroeder, Label: fmt.Sprintf("Schroeder %.0f Hz", o.Schroeder)})
	}
	return c
}

// uncertain shades how far the level at a seat is off when the surfaces absorb half or
// twice as much.
func uncertain(seat string, f, level, halved, doubled []float64) chart.Series {
	lo, hi := make([]float64, len(f)), make([]float64, len(f))
	for i := range f {
		lo[i], hi[i] = min(level[i], halved[i], doubled[i]), max(level[i], halved[i], doubled[i])
	}
	return chart.Series{Name: seat + ", absorption halved to doubled", Kind: chart.Area, X: f, Y: hi, Low: lo, Ink: 2}
}

// Deviation charts how far the seats lie apart at each frequency, before and
// after; before may be nil.
func Deviation(after, before *bass.Response) chart.Chart {
	c := chart.Chart{
		Title: "Seat to seat",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency},
		Y:     chart.Axis{Label: "Standard deviation over the seats", Unit: "dB", Min: 0, Max: math.NaN()},
		Note:  "The root of the spatial variance at each frequency (Welti and Devantier 2006).",
	}
	add := func(name string, r *bass.Response, ink int, dash chart.Dash) {
		if r == nil || r.Seats == 0 {
			return
		}
		v := r.Variance()
		for i := range v {
			v[i] = math.Sqrt(v[i])
		}
		c.Series = append(c.Series, chart.Series{Name: name, X: r.Frequencies, Y: v, Ink: ink, Dash: dash, Heavy: dash == chart.Solid})
	}
	add("now", after, 1, chart.Solid)
	add("before", before, 5, chart.Dashed)
	return c
}

// SeatOf names the seats of room for a read-out.
func SeatOf(room *place.Room) func(int) string {
	return func(i int) string { return SeatName(room, i) }
}
