// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"
	"math"

	"earline/project/bass"
	"earline/scene/chart"
)

// Equalisation charts what common filters do: the mean of the seats without and with
// them, the target, and the range of the seats with them.
func Equalisation(e *bass.Equalised) chart.Chart {
	f := e.Before.Response.Frequencies
	c := chart.Chart{
		Title: "Equalisation",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency, Min: f[0], Max: f[len(f)-1]},
		Y:     chart.Axis{Label: "Level for 2.83 V each", Unit: "dB SPL", Kind: chart.Decibel},
		Note:  "Power mean of the seats as weighed. Filters of all subwoofers change every seat alike.",
	}
	r := e.After.Response
	lo, hi := make([]float64, len(f)), make([]float64, len(f))
	top := math.Inf(-1)
	for i := range f {
		lo[i], hi[i] = math.Inf(1), math.Inf(-1)
		for seat := range r.Seats {
			l := r.Seat(seat)[i]
			lo[i], hi[i] = min(lo[i], l), max(hi[i], l)
		}
		top = max(top, hi[i], e.Result.Before[i], e.Target[i])
	}
	const shown = 40 // dB: nulls of single seats would squeeze the rest together
	c.Y.Max = math.Ceil(top/5) * 5
	c.Y.Min = c.Y.Max - shown
	name := "mean of the seats"
	if len(e.Filters) > 0 {
		name = "mean with the filters"
		c.Series = append(c.Series, chart.Series{Name: "mean without", X: f, Y: e.Result.Before, Ink: 5, Dash: chart.Dashed})
	}
	c.Series = append(c.Series,
		chart.Series{Name: name, X: f, Y: e.Result.After, Heavy: true, Ink: 1, Dash: chart.Solid},
		chart.Series{Name: "target", X: f, Y: e.Target, Ink: 2, Dash: chart.Solid},
		chart.Series{Name: "softest to loudest seat", Kind: chart.Area, X: f, Y: hi, Low: lo, Ink: 1})
	c.Marks = append(c.Marks, chart.Mark{X: e.From, Label: fmt.Sprintf("%.0f Hz", e.From)}, chart.Mark{X: e.To, Label: fmt.Sprintf("%.0f Hz", e.To)})
	return c
}
