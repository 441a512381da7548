// SPDX-License-Identifier: MIT

package project

import (
	"slices"

	"earline/geometry/unit"
)

// AsBuilt is what was measured on site. It stands beside the plan and alters nothing
// of it; package built says what the room is like with it.
type AsBuilt struct {
	MeasuredOn string     `json:"measured_on,omitempty"` // a date, 2026-11-29; empty for not known
	Items      []Measured `json:"items,omitempty"`
}

// Measured is what was measured of one thing; nil for what was not. Places are in the
// room frame, as the plan's own: of a loudspeaker its reference point, of a feature
// the middle of its base, of a row the middle of its line and the top of its
// platform, of the picture the middle of its lower edge.
type Measured struct {
	// Of is the id of a row, a feature or a loudspeaker, PictureID or ProjectorID.
	Of string       `json:"of"`
	X  *unit.Length `json:"x_m,omitempty"`
	Y  *unit.Length `json:"y_m,omitempty"`
	Z  *unit.Length `json:"z_m,omitempty"`
	// Turn and Tilt are where a loudspeaker's axis points, as in Aim; Turn of a
	// feature is as its own.
	Turn *unit.Degrees `json:"turn_deg,omitempty"`
	Tilt *unit.Degrees `json:"tilt_deg,omitempty"`
	// Width is of the picture or of a feature.
	Width *unit.Length `json:"width_m,omitempty"`
	Note  string       `json:"note,omitempty"`
}

// PictureID is what Measured.Of calls the picture, of which a design has one.
const PictureID = "screen"

// ProjectorID is what Measured.Of calls the projector, of which a design has one at most:
// the middle of its front lens.
const ProjectorID = "projector"

// Given reports whether anything was measured, or said of it.
func (a AsBuilt) Given() bool { return a.MeasuredOn != "" || len(a.Items) > 0 }

// Of returns what was measured of the thing with that id; nothing where nothing was.
func (a AsBuilt) Of(id string) Measured {
	for _, m := range a.Items {
		if m.Of == id {
			return m
		}
	}
	return Measured{Of: id}
}

// Set puts m in the place of what was measured of the same thing, or takes that out
// where m has nothing.
func (a *AsBuilt) Set(m Measured) {
	i := slices.IndexFunc(a.Items, func(o Measured) bool { return o.Of == m.Of })
	switch {
	case m == Measured{Of: m.Of}:
		if i >= 0 {
			a.Items = slices.Delete(a.Items, i, i+1)
		}
		if len(a.Items) == 0 {
			a.Items = nil
		}
	case i >= 0:
		a.Items[i] = m
	default:
		a.Items = append(a.Items, m)
	}
}

// clone returns a copy of a that shares nothing with it.
func (a AsBuilt) clone() AsBuilt {
	a.Items = slices.Clone(a.Items)
	for i := range a.Items {
		m := &a.Items[i]
		m.X, m.Y, m.Z, m.Width = copied(m.X), copied(m.Y), copied(m.Z), copied(m.Width)
		m.Turn, m.Tilt = copied(m.Turn), copied(m.Tilt)
	}
	return a
}

func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	v := *p
	return &v
}

// measurable returns the ids of what can be measured.
func (d *Design) measurable() map[string]bool {
	ids := map[string]bool{PictureID: true, ProjectorID: d.Projector.Given()}
	for i := range d.Seating.Rows {
		ids[d.Seating.Rows[i].ID] = true
	}
	for i := range d.Room.Features {
		ids[d.Room.Features[i].ID] = true
	}
	for i := range d.Speakers {
		ids[d.Speakers[i].ID] = true
	}
	delete(ids, "")
	return ids
}

// forgetGone takes out what was measured of things that are there no more.
func (d *Design) forgetGone() {
	if len(d.AsBuilt.Items) == 0 {
		return
	}
	there := d.measurable()
	d.AsBuilt.Items = slices.DeleteFunc(d.AsBuilt.Items, func(m Measured) bool { return !there[m.Of] })
	if len(d.AsBuilt.Items) == 0 {
		d.AsBuilt.Items = nil
	}
}
