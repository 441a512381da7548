// SPDX-License-Identifier: MIT

package layout

import (
	"math"

	"earline/project"
	"earline/project/practice"
	"earline/project/system"
)

// limits are the ends of the placement rules (project/practice) that rows and picture
// are planned to, metres and degrees, by the standard that the plan is judged by. A little more is kept than they ask, as rooms are never quite
// square.
type limits struct {
	stepLow, stepHigh float64 // of a step
	headroom          float64 // over a platform
	aisle             float64 // beside a row on the floor
	aisleStepped      float64 // beside a row on a platform
	doorSpace         float64 // of free floor inside a door

	headToWall          float64 // from a row's line to the back wall
	headToSpeaker       float64 // from an ear to a loudspeaker
	speakerToWall       float64 // from a box to the walls
	apartMain, apart    float64 // degrees from bed to height at an ear of the main row, at any other
	apartLeast          float64 // degrees that no plan goes below
	nearest, farthest   float64 // of the main row, in picture heights
	angleLeast          float64 // degrees under which every seat sees the picture
	angleMost           float64
	lookTop, lookMiddle float64 // degrees up from the front row
	offAxis             float64 // degrees off the picture's normal
	lowerEdge           float64 // of the picture over the front row's eyes
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
	// The range of a rule that does not grade.
	of := func(id string) practice.Limits {
		r, ok := practice.Find(id)
		if !ok {
			return practice.Limits{}
		}
		return std.Limits(&r)
	}
	// Sums of decimals as they are written: 0.1 - 0.01 is 0.09.
	plus := func(limit, more float64) float64 { return math.Round((limit+more)*1e6) / 1e6 }
	heights := of("picture-heights-main")
	aisle := plus(of("aisle").Least(), 0.02)
	return limits{
		doorSpace:     plus(of("door-space").Least(), 0.05),
		headToWall:    plus(std.SeatWall().Accepted.Least(), 0.06),
		headToSpeaker: plus(of("seat-loudspeaker").Least(), 0.02),
		speakerToWall: plus(of("loudspeaker-wall").Least(), spare),
		apartMain:     plus(std.Separation(true).Accepted.Least(), 0.5), apart: plus(std.Separation(false).Accepted.Least(), 0.5),
		apartLeast: std.Separation(true).Limit.Least(),
		nearest:    plus(heights.Least(), 0.05), farthest: plus(heights.Most(), -0.1),
		angleLeast: plus(of("picture-angle-least").Least(), 0.5), angleMost: plus(of("picture-angle-most").Most(), -2),
		lookTop: plus(of("look-up-top").Most(), -1), lookMiddle: plus(of("look-up-middle").Most(), -0.5),
		offAxis: plus(std.OffAxis().Good.Most(), -0.5), lowerEdge: plus(of("picture-bottom").Most(), -spare),
		stepLow: code.Step.Least() + 0.001, stepHigh: min(code.Step.Most()-0.001, usual),
		headroom: least("headroom", code.Headroom.Limits) + spare, aisle: aisle, aisleStepped: max(least("aisle-stepped", code.Aisle.Limits)+spare, aisle),
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
