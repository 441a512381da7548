// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"
	"math"
	"slices"

	"earline/project/place"
	"earline/project/sound"
	"earline/scene"
)

// Sheet makes a map of levels a sheet over the floor, with the level of the
// nearest point over every head. Its colours go over whole steps of contour.
func Sheet(g *sound.Grid, room *place.Room) *scene.Heat {
	h := &scene.Heat{X0: g.X0, Y0: g.Y0, Step: g.Step, NX: g.NX, NY: g.NY,
		Value: make([]float64, len(g.Values)), Z: g.Heights, Unit: "dB"}
	for i, v := range g.Values {
		h.Value[i] = math.NaN()
		if g.Inside[i] {
			h.Value[i] = v
		}
	}
	h.Lo, h.Hi, h.Contour = scale(h.Value)
	if room != nil {
		for _, b := range room.Bodies {
			at := b.Ear()
			i := clamp(int(math.Round((at.X-g.X0)/g.Step)), g.NX-1)
			j := clamp(int(math.Round((at.Y-g.Y0)/g.Step)), g.NY-1)
			text := ""
			if v := h.Value[j*g.NX+i]; !math.IsNaN(v) {
				text = fmt.Sprintf("%+.1f dB", math.Round(v*10)/10+0)
			}
			h.Seats = append(h.Seats, text)
		}
	}
	return h
}

func clamp(i, last int) int { return min(max(i, 0), last) }

// scale returns round ends for the colours of some values and the step of the
// contour lines. What lies far out, as near a loudspeaker, does not stretch the
// colours: the ends are where all but one in fifty of the values lie.
func scale(values []float64) (lo, hi, step float64) {
	var sorted []float64
	for _, v := range values {
		if !math.IsNaN(v) {
			sorted = append(sorted, v)
		}
	}
	if len(sorted) == 0 {
		return 0, 1, 0
	}
	slices.Sort(sorted)
	cut := len(sorted) / 50
	lo, hi = sorted[cut], sorted[len(sorted)-1-cut]
	step = 1
	for _, s := range []float64{1, 2, 3, 5, 10} {
		step = s
		if (hi-lo)/s <= 8 {
			break
		}
	}
	lo, hi = math.Floor(lo/step)*step, math.Ceil(hi/step)*step
	return lo, max(hi, lo+step), step
}
