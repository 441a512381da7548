// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"slices"

	"earline/geometry/unit"
)

// Limits of services.
const (
	MaxOutlets = 200
	maxWatts   = 20_000
)

// Services are what runs in walls and ceiling. What is left out is worked out from the
// room: every loudspeaker gets a cable, of the least usual cross-section that serves.
type Services struct {
	// Rack is where the cables of the equipment end; at the origin it is not known.
	Rack Point `json:"rack,omitzero"`
	// RunHeight is the height at which cables run along the walls; 0 is 0.15 m under
	// the lowest of the ceiling.
	RunHeight unit.Length `json:"run_height_m,omitempty"`
	// Spare is what is added to every cable for its ends; 0 is 1.5 m.
	Spare unit.Length `json:"spare_m,omitempty"`
	// Cables are those of which something is known or wished.
	Cables  []Cable  `json:"cables,omitempty"`
	Outlets []Outlet `json:"outlets,omitempty"`
	// Heat is what the equipment in the room gives off, watts, without the projector.
	Heat float64 `json:"equipment_heat_w,omitempty"`
}

// Cable is what is known of the cable of a loudspeaker.
type Cable struct {
	Serves string `json:"serves"` // ID of the loudspeaker
	// Area is the cross-section of a conductor, mm²; 0 is the least that serves.
	Area float64 `json:"area_mm2,omitempty"`
	// Length is that of a cable which is there already; 0 is not measured.
	Length unit.Length `json:"length_m,omitempty"`
}

// Outlet is where something is plugged in.
type Outlet struct {
	ID     string     `json:"id,omitempty"` // see Design.Identify
	Kind   OutletKind `json:"kind"`
	At     Point      `json:"at"`
	Serves string     `json:"serves,omitempty"` // in words
	Load   float64    `json:"load_w,omitempty"`
}

// OutletKind is what an Outlet gives.
type OutletKind string

// The kinds of outlet.
const (
	Mains   OutletKind = "mains"
	Network OutletKind = "network"
	Control OutletKind = "control"
	Video   OutletKind = "video"
)

// clone returns a copy of s that shares nothing with it.
func (s Services) clone() Services {
	s.Cables, s.Outlets = slices.Clone(s.Cables), slices.Clone(s.Outlets)
	return s
}

// services checks what is said of cables and outlets.
func (c *checker) services(d *Design) {
	s := d.Services
	c.point("services.rack", s.Rack)
	c.length("services.run_height_m", s.RunHeight, 0, maxHeight)
	c.length("services.spare_m", s.Spare, 0, 20)
	c.between("services.equipment_heat_w", s.Heat, 0, maxWatts, " W")
	speakers, served := map[string]bool{}, map[string]bool{}
	for _, l := range d.Speakers {
		speakers[l.ID] = l.ID != ""
	}
	for i := range c.count("services.cables", len(s.Cables), 0, MaxSpeakers) {
		k, at := s.Cables[i], fmt.Sprintf("services.cables[%d].", i)
		switch {
		case !speakers[k.Serves]:
			c.fault(at+"serves", quote(k.Serves), "the id of one of loudspeakers")
		case served[k.Serves]:
			c.fault(at+"serves", quote(k.Serves)+" again", "one cable for each loudspeaker")
		}
		served[k.Serves] = true
		if k.Area != 0 {
			c.between(at+"area_mm2", k.Area, 0.2, 50, " mm²")
		}
		c.length(at+"length_m", k.Length, 0, 500)
	}
	for i := range c.count("services.outlets", len(s.Outlets), 0, MaxOutlets) {
		o, at := s.Outlets[i], fmt.Sprintf("services.outlets[%d].", i)
		oneOf(c, at+"kind", o.Kind, Mains, Network, Control, Video)
		c.point(at+"at", o.At)
		c.text(at+"serves", o.Serves, maxName)
		c.between(at+"load_w", o.Load, 0, maxWatts, " W")
	}
}
