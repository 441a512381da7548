// SPDX-License-Identifier: MIT

package wave

import (
	"math"
	"math/cmplx"

	"earline/project/bass/field"
)

// Doubt returns about how far the levels of fine are off, in dB root mean square
// over all sources, listeners and frequencies outside dips, measured in the room
// itself: by how much they differ from those on a coarser grid, times as wide. If the
// error falls with the spacing itself, what is left on the fine grid is the
// difference over times less 1 (Richardson 1911). Walls and platforms do better, with
// the square, and are then about a third as far off as is said; chairs, whose backs
// are about as thin as a cell, do not. It is an estimate, no bound. A dip is 12 dB
// below the mean level of its source at its listener.
func Doubt(fine, coarse *field.Transfer, times float64) float64 {
	const dip = 12 // dB
	level := func(p complex128) float64 { return 20 * math.Log10(max(cmplx.Abs(p), 1e-12)) }
	sum, n := 0.0, 0.0
	for s := range fine.Sources {
		for r := range fine.Receivers {
			row, other := fine.Row(s, r), coarse.Row(s, r)
			mean := 0.0
			for _, p := range row {
				mean += level(p) / float64(len(row))
			}
			for i, p := range row {
				if l := level(p); l > mean-dip {
					d := l - level(other[i])
					sum += d * d
					n++
				}
			}
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum/n) / (times - 1)
}

// Cell returns the widest spacing that Run may take, in metres, up to a highest
// frequency in hertz.
func (o Options) Cell(room Room, top float64) float64 {
	o, _ = o.check()
	return min(o.LargestCell, room.speed()/(top*o.PointsPerWavelength))
}

// width returns the width at half power of a mode in a live room, in hertz: 2.2
// over the decay time of 60 dB by Sabine's formula, in which a small admittance g
// absorbs 8 g, see field.Absorption.
func (g *grid) width(speed float64) float64 {
	var volume, surface float64 // in cells; admittance times area, in steps
	for _, f := range g.fill {
		volume += float64(f)
	}
	for _, l := range g.loss {
		surface += float64(l) * 2 / (speed * g.dt)
	}
	if volume == 0 {
		return 0
	}
	decay := 24 * math.Ln10 / speed * volume / (8 * surface)
	return 2.2 / decay
}
