// SPDX-License-Identifier: MIT

package practice

import (
	"strings"

	"earline/project"
	"earline/project/system"
)

// For returns s on the shipped standard that d has chosen. A house standard that was
// not asked For a design stands on RaisedBed.
func (s Standard) For(d *project.Design) Standard {
	s.Base = d.Criteria.Standard
	return s
}

// Of returns the shipped standard that d has chosen.
func Of(d *project.Design) Standard { return Standard{}.For(d) }

// published reports whether s stands on the published directions.
func (s Standard) published() bool { return s.Base == project.PublishedDirections }

// String names s: "Raised bed", "Published directions, with our rooms".
func (s Standard) String() string {
	name := BaseName(s.Base)
	switch {
	case s.Name != "":
		name += ", with " + s.Name
	case len(s.Changes) > 0:
		name += ", with changes of the house"
	}
	return name
}

// BaseName names a shipped standard.
func BaseName(b project.StandardName) string {
	if b == project.PublishedDirections {
		return "Published directions"
	}
	return "Raised bed"
}

// Sources of the bands.
var (
	bs775Surrounds = Source{"Rec. ITU-R BS.775-3", "08/2012", "Fig. 1, surrounds inclined 0 to 15 degrees", "as quoted in public text"}
	systemH        = Source{"Rec. ITU-R BS.2051", layouts.Edition, "system H", layouts.Status}
	heightSystems  = Source{"Rec. ITU-R BS.2051", layouts.Edition, "systems C, D, E, G and J, 30 to 55 degrees", layouts.Status}
	rp22           = Source{"CEDIA/CTA-RP22", "v1.2, 2023", "parameter 1, level 3, 4 ft", "second hand"}
	unic           = Source{"UNIC handbook", "How to design a cinema auditorium, 2nd ed. 2020", "horizontal viewing angle: good to 35°, unacceptable above 45°", "as quoted in public text"}
	secondHand     = Source{"trade press", "2022", "", "second hand"}
	common         = Source{}
)

// Degrees off a nominal direction without a published range: common practice.
const nominalGood, nominalAccepted = 3, 10

// Elevation returns the elevations of a layer from the main listening position,
// degrees from the horizontal. NoLayer has none: its channels say.
func (s Standard) Elevation(l Layer) Bands {
	b := s.elevation(l)
	if !s.published() && l != NoLayer {
		// Grades of these layers are common practice beyond what documents give.
		b.Accepted.Source, b.Limit.Source = common, common
	}
	if lim, ok := s.Changes["elevation"].Layers[l]; ok {
		b = b.house(lim)
	}
	return b
}

func (s Standard) elevation(l Layer) Bands {
	if s.published() {
		switch l {
		case Front, Centre:
			return nominal(0)
		case Wide:
			return graded(between(0, 5), between(0, 5), between(0, 5), systemH)
		case Side, Rear:
			return graded(between(0, 15), between(0, 15), between(0, 15), bs775Surrounds)
		case Height, Flush:
			return graded(between(30, 55), between(30, 55), between(30, 55), heightSystems)
		}
		return Bands{}
	}
	switch l {
	case Front:
		return graded(between(-5, 10), between(-5, 10), between(-10, 15), common)
	case Centre:
		return graded(between(-10, 10), between(-15, 15), between(-20, 20), common)
	case Wide:
		return graded(between(0, 5), between(0, 10), between(0, 15), systemH)
	case Side, Rear:
		return graded(between(0, 15), between(0, 20), between(0, 25), bs775Surrounds)
	case Height:
		return graded(between(30, 55), between(30, 60), between(30, 60), heightSystems)
	case Flush:
		// As low as is published it is only accepted: it sends its highs straight down.
		return graded(between(40, 55), between(30, 70), between(30, 70), common)
	}
	return Bands{}
}

// nominal returns the bands about a direction for which no range is published.
func nominal(v float64) Bands {
	return graded(between(v-nominalGood, v+nominalGood), between(v-nominalAccepted, v+nominalAccepted),
		between(v-nominalAccepted, v+nominalAccepted), common)
}

// ElevationOf returns the elevations of a channel in its layer: a range that the
// design's own system gives goes before those of the layer, and so does a published
// one under the published directions. ch may be the zero Channel.
func (s Standard) ElevationOf(l Layer, ch system.Channel) Bands {
	own := ch.ElevationRange.Given() && !published(ch)
	var b Bands
	switch {
	case ch.Label == "":
		return s.Elevation(l)
	case ch.ElevationRange.Given() && (own || l == NoLayer || s.published()):
		r := between(ch.ElevationRange.Min, ch.ElevationRange.Max)
		b = graded(r, r, r, sourceOf(ch))
	case l == NoLayer, s.published() && l != Side && l != Rear:
		b = nominal(ch.Elevation)
	default:
		return s.Elevation(l)
	}
	if lim, ok := s.Changes["elevation"].Layers[l]; ok {
		b = b.house(lim)
	}
	return b
}

// Azimuth returns where a channel of the system judged by may be heard from the main
// listening position, degrees, left positive.
func (s Standard) Azimuth(ch system.Channel) Bands {
	var b Bands
	if r := ch.AzimuthRange; r.Given() {
		lim := between(r.Min, r.Max)
		b = graded(lim, lim, lim, sourceOf(ch))
	} else {
		b = nominal(ch.Azimuth)
	}
	if s.published() || ch.Label != "M+030" && ch.Label != "M-030" {
		return b
	}
	// Behind a screen the fronts stand where the picture ends.
	good, accepted := between(22, 30), between(20, 45)
	if ch.Azimuth < 0 {
		good, accepted = good.mirrored(), accepted.mirrored()
	}
	if !published(ch) || !ch.AzimuthRange.Given() {
		b.Good = Band{good, secondHand}
	}
	b.Accepted, b.Limit = Band{accepted, common}, Band{accepted, common}
	return b
}

// published reports whether ch is of a published system.
func published(ch system.Channel) bool { return strings.HasPrefix(ch.Source, "BS.2051 ") }

// sourceOf returns who gives the ranges of ch.
func sourceOf(ch system.Channel) Source {
	switch {
	case ch.Source == "":
		return common
	case published(ch):
		return Source{ch.Source, layouts.Edition, "Annex 1", layouts.Status}
	}
	return Source{Document: ch.Source, Status: "as the design gives it"}
}

// FrontHeight returns where the fronts behind a transparent screen stand on the
// picture: the height of their middle above its lower edge, as a share of its height.
func (s Standard) FrontHeight() Bands {
	return s.of("front-height", Bands{Band{between(0.5, 0.625), secondHand}, Band{between(1.0/3, 2.0/3), common}, Band{between(1.0/3, 2.0/3), common}})
}

// Separation returns the angle between a loudspeaker of the bed and one of the heights
// at a seat of the main row, or of another, degrees.
func (s Standard) Separation(mainRow bool) Bands {
	accepted := 15.0
	if mainRow {
		accepted = 20
	}
	return s.of("separation", graded(atLeast(25), atLeast(accepted), atLeast(12), common))
}

// Raise returns by how much sides and rears may stand above the mean elevation of the
// fronts, degrees.
func (s Standard) Raise() Bands {
	return s.of("bed-raise", graded(atMost(15), atMost(20), atMost(20), common))
}

// Spare returns by how much sides and rears that are raised beyond good may stand above
// the least elevation that sight needs, degrees.
func (s Standard) Spare() Bands {
	return s.of("raise-spare", graded(atMost(3), atMost(6), atMost(6), common))
}

// SeatWall returns how far a head is from the nearest wall, metres.
func (s Standard) SeatWall() Bands {
	return s.of("seat-wall", Bands{Band{atLeast(1.22), rp22}, Band{Limits: atLeast(0.5)}, Band{Limits: atLeast(0.5)}})
}

// OffAxis returns how far a seat is off the normal of the picture's middle, degrees.
func (s Standard) OffAxis() Bands {
	return s.of("off-axis", graded(atMost(35), atMost(45), atMost(45), unic))
}

// BuildAllowance returns what is to be left of every clearance beyond the margin,
// metres, for a loudspeaker that is not hung to the millimetre.
func (s Standard) BuildAllowance() Bands {
	return graded(atLeast(0.015), atLeast(0.010), atLeast(0.010), common)
}

// of returns b as the house standard changes it.
func (s Standard) of(rule string, b Bands) Bands { return b.house(s.Changes[rule].Limits()) }
