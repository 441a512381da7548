// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"
	"math"

	"earline/project"
	"earline/project/bass"
	"earline/project/decay"
	"earline/scene/chart"
)

// Ringing charts how long the room rings over all frequencies: thirds of an octave and
// modes in the bass, Eyring's formula above, what was measured, and what is wanted.
func Ringing(r *decay.Result) chart.Chart {
	const longest = 3.0 // s; a lone mode may ring longer and would press the rest down
	c := chart.Chart{
		Title: "How long the room rings",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency, Min: 16, Max: 10_000},
		Y:     chart.Axis{Label: "T60", Unit: "s"},
		Note:  "Where two lines lie over each other: the modes' time counts below the Schroeder frequency, Eyring's above.",
	}
	line := func(name string, of func(decay.Third) float64) chart.Series {
		s := chart.Series{Name: name}
		for _, t := range r.Thirds {
			if v := of(t); v != 0 {
				s.X, s.Y = append(s.X, t.Hz), append(s.Y, v)
			}
		}
		return s
	}
	add := func(s chart.Series) {
		if len(s.X) > 0 {
			c.Series = append(c.Series, s)
		}
	}
	low := line("bass, by thirds", func(t decay.Third) float64 { return t.Modal })
	low.Heavy, low.Ink, low.Dash = true, 1, chart.Solid
	add(low)
	eyring := chart.Series{Name: "Eyring, by octaves", Ink: 5, Dash: chart.Dashed}
	for o, f := range project.Octaves() {
		if o > 0 {
			eyring.X, eyring.Y = append(eyring.X, f), append(eyring.Y, r.Reverb.Eyring[o])
		}
	}
	add(eyring)
	measured := line("measured", func(t decay.Third) float64 { return t.Measured })
	measured.Heavy, measured.Ink, measured.Dash = true, 2, chart.Solid
	add(measured)
	for i, kind := range []string{"axial", "tangential", "oblique"} {
		s := chart.Series{Name: kind + " modes", Kind: chart.Points, Ink: [...]int{3, 4, 6}[i]}
		for _, m := range r.Bass.Modes {
			if m.Kind().String() == kind {
				s.X, s.Y = append(s.X, m.Frequency), append(s.Y, m.Time)
				s.Names = append(s.Names, fmt.Sprintf("(%d,%d,%d)", m.P, m.Q, m.R))
			}
		}
		add(s)
	}
	band := chart.Band{Label: "wanted"}
	most := 2 * r.Reverb.Wanted
	for _, t := range r.Thirds {
		if t.Most != 0 {
			band.X, band.Low, band.High = append(band.X, t.Hz), append(band.Low, t.Least), append(band.High, t.Most)
		}
		most = max(most, t.Modal, t.Diffuse, t.Measured, t.Most)
	}
	c.Bands = append(c.Bands, band)
	for _, m := range r.Bass.Modes {
		most = max(most, min(m.Time, longest))
	}
	c.Y.Max = math.Ceil(most*10+0.5) / 10
	if f := r.Reverb.Schroeder; f > c.X.Min {
		c.Marks = append(c.Marks, chart.Mark{X: f, Label: fmt.Sprintf("Schroeder %.0f Hz", f)})
	}
	return c
}

// Waterfall charts how the subwoofers' sound dies away at a seat: the spectrum of what is
// still to come, a line for each time.
func Waterfall(w *bass.Waterfall, seat string) chart.Chart {
	c := chart.Chart{
		Title: "How the bass dies away at " + seat,
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency},
		Y:     chart.Axis{Label: "Level of what is still to come", Unit: "dB", Kind: chart.Decibel, Min: -60, Max: 0},
		Note:  "All subwoofers as they are driven, dB re the loudest. A ridge that stays while the rest falls is a mode that rings.",
	}
	if len(w.Frequencies) > 0 {
		c.X.Min, c.X.Max = w.Frequencies[0], w.Frequencies[len(w.Frequencies)-1]
	}
	for i, t := range w.Times {
		name := fmt.Sprintf("after %.0f ms", 1000*t)
		if i == 0 {
			name = "all of it"
		}
		c.Series = append(c.Series, chart.Series{Name: name, X: w.Frequencies, Y: w.Level[i], Heavy: i == 0})
	}
	return c
}
