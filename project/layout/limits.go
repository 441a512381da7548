// SPDX-License-Identifier: MIT

package layout

import (
	"math"

	"earline/project/system"
)

// azimuths returns from where a channel may be heard, degrees to its own side.
func (p *planner) azimuths(c system.Channel) (lo, hi float64) {
	az := math.Abs(c.Azimuth)
	if az == 0 || az == 180 {
		return az, az
	}
	r := c.AzimuthRange
	if !r.Given() {
		return az, az
	}
	lo, hi = math.Abs(r.Min), math.Abs(r.Max)
	return min(lo, hi), max(lo, hi)
}

// raise returns how high a loudspeaker around the seats may stand above the ears,
// degrees: well, as accepted, and at most.
func (p *planner) raise(c system.Channel) (good, accepted, limit float64) {
	if math.Abs(c.Azimuth) < 75 {
		return 5, 10, 15
	}
	return 15, 20, 25
}
