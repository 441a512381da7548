// SPDX-License-Identifier: MIT

package bass

import (
	"math"

	"earline/geometry"
)

// What a seat counts when seats are to be made alike: the main position first (common
// practice, which has no source; the figures are ours). With two main seats that lie
// equally near the main position, both are.
const (
	mainSeat  = 3
	mainRow   = 2
	otherSeat = 1
)

// weighed says it in words.
const weighed = "The main seat counts three times, the others of its row twice, all others once."

// weights returns what each seat of p counts.
func weights(p *Plan, main geometry.Vec) []float64 {
	const equally = 0.02 // m
	nearest := math.Inf(1)
	for _, e := range p.Ears {
		nearest = min(nearest, e.Dist(main))
	}
	row := 0
	all := make([]float64, len(p.Seats))
	for i, e := range p.Ears {
		all[i] = otherSeat
		if e.Dist(main) <= nearest+equally {
			all[i], row = mainSeat, p.Seats[i].Row
		}
	}
	for i, s := range p.Seats {
		if s.Row == row && all[i] != mainSeat {
			all[i] = mainRow
		}
	}
	return all
}
