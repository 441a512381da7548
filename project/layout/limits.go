// SPDX-License-Identifier: MIT

package layout

import (
	"math"

	"earline/project"
	"earline/project/practice"
	"earline/project/system"
)

// limits are the ends of the placement rules (project/practice) that rows and picture
// are planned to, metres. A little more is kept than they ask, as rooms are never quite
// square.
type limits struct {
	stepLow, stepHigh float64 // of a step
	headroom          float64 // over a platform
	aisle             float64 // beside a row on the floor
	aisleStepped      float64 // beside a row on a platform
}

// limitsOf returns the limits for a design. Higher steps than usual are not planned
// even where a code has them: common practice, without a source.
func limitsOf(d *project.Design, std practice.Standard) limits {
	const spare, usual = 0.01, 0.2
	code := std.Code(d.Criteria.Code)
	// What the rule itself is held to, where that is more.
	least := func(id string, l practice.Limits) float64 {
		if r, ok := practice.Find(id); ok {
			return max(l.Least(), r.Limits.Least())
		}
		return l.Least()
	}
	return limits{
		stepLow: code.Step.Least() + 0.001, stepHigh: min(code.Step.Most()-0.001, usual),
		headroom: least("headroom", code.Headroom.Limits) + spare, aisle: 0.62, aisleStepped: max(least("aisle-stepped", code.Aisle.Limits)+spare, 0.62),
	}
}

// azimuths returns from where a channel may be heard, degrees to its own side.
func (p *planner) azimuths(c system.Channel) (lo, hi float64) {
	az := math.Abs(c.Azimuth)
	if az == 0 || az == 180 {
		return az, az
	}
	const spare = 0.3 // degrees
	good := p.std.Azimuth(c).Good
	lo, hi = math.Abs(good.Least()), math.Abs(good.Most())
	lo, hi = min(lo, hi)+spare, max(lo, hi)-spare
	return min(lo, az), max(hi, az)
}

// elevations returns how high a channel may be heard from, degrees from the horizontal.
func (p *planner) elevations(c system.Channel, layer practice.Layer) practice.Bands {
	return p.std.ElevationOf(layer, c)
}

// raise returns how high a loudspeaker around the seats may stand above the ears,
// degrees: well, as accepted, and at most.
func (p *planner) raise(c system.Channel) (good, accepted, limit float64) {
	b := p.elevations(c, practice.LayerOf(c.Label))
	return b.Good.Most(), b.Accepted.Most(), b.Limit.Most()
}
