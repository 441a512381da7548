// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"slices"

	"earline/geometry/unit"
)

// MaxViewpoints is how many viewpoints a design may have.
const MaxViewpoints = 60

// Viewpoint is a place from which the room is shown to a client, one after another in
// the tour.
type Viewpoint struct {
	Name string        `json:"name"` // unique
	Kind ViewpointKind `json:"kind"`
	// At is the point of the floor on which one stands, or where a free camera is.
	At   Point  `json:"at,omitzero"`
	Seat string `json:"seat,omitempty"` // the seat in which one sits, as Row.SeatID
	// Heading is where one looks: 0 at the screen, positive to the left. Pitch is positive
	// upwards.
	Heading unit.Degrees `json:"heading_deg"`
	Pitch   unit.Degrees `json:"pitch_deg,omitempty"`
	// Sees is how much is seen from top to bottom of the picture; 0 is usual.
	Sees  unit.Degrees `json:"sees_deg,omitempty"`
	Scene Scene        `json:"scene,omitempty"`  // of the light; "" leaves the light as it is
	Stay  float64      `json:"stay_s,omitempty"` // how long the tour stays, seconds; 0 is UsualStay
}

// ViewpointKind is how one is at a viewpoint.
type ViewpointKind string

// The kinds of viewpoint.
const (
	Standing ViewpointKind = "standing"
	Seated   ViewpointKind = "seat"
	Free     ViewpointKind = "free" // a camera anywhere
)

// UsualStay is how long the tour stays where nothing is said, seconds. No source.
const UsualStay = 5.0

// Stays returns how long the tour stays at v, seconds.
func (v *Viewpoint) Stays() float64 {
	if v.Stay == 0 {
		return UsualStay
	}
	return v.Stay
}

// ViewpointNamed returns the index of the viewpoint of that name; -1 for none.
func (d *Design) ViewpointNamed(name string) int {
	return slices.IndexFunc(d.Viewpoints, func(v Viewpoint) bool { return v.Name == name })
}

// NewViewpointName returns a name that no viewpoint of d has: like, or with a number
// behind it.
func (d *Design) NewViewpointName(like string) string {
	name := like
	for n := 2; d.ViewpointNamed(name) >= 0; n++ {
		name = fmt.Sprintf("%s (%d)", like, n)
	}
	return name
}

// Entrance is how the lights receive people: they come on group by group up to house
// light, stay, and go down to the show while the picture starts. What is 0 is usual.
type Entrance struct {
	Each  float64 `json:"each_s,omitempty"`  // from one group to the next
	House float64 `json:"house_s,omitempty"` // how long the house light stays
	Down  float64 `json:"down_s,omitempty"`  // from house to show
}

// Usual returns e with what is not given as usual. No source.
func (e Entrance) Usual() Entrance {
	for _, t := range []struct {
		v     *float64
		usual float64
	}{{&e.Each, 1.5}, {&e.House, 4}, {&e.Down, 6}} {
		if *t.v == 0 {
			*t.v = t.usual
		}
	}
	return e
}

// forgetUnseated takes out viewpoints in seats that d has no more.
func (d *Design) forgetUnseated() {
	d.Viewpoints = slices.DeleteFunc(d.Viewpoints, func(v Viewpoint) bool {
		_, _, ok := d.SeatOf(v.Seat)
		return v.Kind == Seated && !ok
	})
	if len(d.Viewpoints) == 0 {
		d.Viewpoints = nil
	}
}
