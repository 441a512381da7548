// SPDX-License-Identifier: MIT

package project

import (
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
)

// Design is one room as planned. It is plain data: Clone before handing it to
// another goroutine.
type Design struct {
	Name     string        `json:"name"`
	Notes    string        `json:"notes,omitempty"`
	Units    Units         `json:"units"` // how the surface shows lengths
	Room     Room          `json:"room"`
	Screen   Screen        `json:"screen"`
	Chairs   []Chair       `json:"chair_models"`
	Seating  Seating       `json:"seating"`
	Models   []Model       `json:"loudspeaker_models"`
	Speakers []Loudspeaker `json:"loudspeakers"`
	SubZones []SubZone     `json:"sub_zones,omitempty"` // where subwoofers may stand
	Playback Playback      `json:"playback,omitzero"`
	System   System        `json:"system,omitzero"` // by which the loudspeakers are judged
	Criteria Criteria      `json:"criteria"`
	Services Services      `json:"services,omitzero"`
	// Variant says what this design stands for among those in its file; Variants are
	// the others, whole designs without variants of their own. They are replaced,
	// never altered in place.
	Variant  Variant  `json:"variant,omitzero"`
	Variants []Design `json:"variants,omitempty"`
	Datum    Datum    `json:"datum,omitzero"` // what it is set out from
	Job      Job      `json:"job,omitzero"`
	AsBuilt  AsBuilt  `json:"as_built,omitzero"` // what was measured on site
	// Measured is what was measured of the sound of the room.
	Measured MeasuredSound `json:"measured,omitzero"`
	// Backdrops are meshes and plan lines of other programs.
	Backdrops []Backdrop `json:"backdrops,omitempty"`
	Panels    []Panels   `json:"panels,omitempty"`

	ProjectorModels []ProjectorModel `json:"projector_models,omitempty"`
	Projector       Projector        `json:"projector,omitzero"`
	Picture         Picture          `json:"picture,omitzero"`

	Equalisation Equalisation `json:"equalisation,omitzero"` // of the bass

	LightGroups []LightGroup `json:"light_groups,omitempty"`

	Viewpoints []Viewpoint `json:"viewpoints,omitempty"` // from where it is shown, in the order of the tour
	Entrance   Entrance    `json:"entrance,omitzero"`

	Lesson Lesson `json:"lesson,omitzero"` // what is to be mended, of a design that is a lesson
}

// Units is the system in which lengths are shown and printed. Either can be
// typed whichever is shown.
type Units string

// The two systems of Units.
const (
	Metric   Units = "metric"
	Imperial Units = "imperial"
)

// Point is a position in the room frame.
type Point struct {
	X unit.Length `json:"x_m"`
	Y unit.Length `json:"y_m"`
	Z unit.Length `json:"z_m"`
}

// Vec returns p as a geometry vector, in metres.
func (p Point) Vec() geometry.Vec {
	return geometry.Vec{X: float64(p.X), Y: float64(p.Y), Z: float64(p.Z)}
}

// PointOf returns v as a Point.
func PointOf(v geometry.Vec) Point {
	return Point{unit.Length(v.X), unit.Length(v.Y), unit.Length(v.Z)}
}

// Criteria are the limits a design sets itself.
type Criteria struct {
	// Margin is the clearance below which a free path counts as tight.
	Margin unit.Length `json:"margin_m"`
	// PictureMargin is the same for the eye's paths to the picture.
	PictureMargin unit.Length `json:"picture_margin_m"`
	// Standard is which of the standards that come with Earline the room is judged by.
	Standard StandardName `json:"standard,omitempty"`
	// Code is the dwelling code to which steps, guards and headroom are held.
	Code Code `json:"code_set,omitempty"`
}

// StandardName names a standard of placement that comes with Earline.
type StandardName string

// The standards; "" is RaisedBed.
const (
	RaisedBed           StandardName = "raised-bed"
	PublishedDirections StandardName = "published-directions"
)

// Code names a published dwelling code, or none. Local code decides; this only says
// against what a plan is checked.
type Code string

// The codes; "" is NoCode.
const (
	NoCode   Code = "none"
	IRC      Code = "irc"       // International Residential Code
	EnglandK Code = "england-k" // Approved Document K, private stairs
)

// Clone returns a copy of d that shares nothing with it but measured directivity and
// what is inside its variants.
func (d *Design) Clone() *Design {
	c := *d
	c.Room.Footprint = slices.Clone(d.Room.Footprint)
	c.Room.Ceiling.Planes = slices.Clone(d.Room.Ceiling.Planes)
	c.Room.Features = slices.Clone(d.Room.Features)
	c.Room.Materials = slices.Clone(d.Room.Materials)
	for i := range c.Room.Materials {
		c.Room.Materials[i].Absorption = slices.Clone(c.Room.Materials[i].Absorption)
		c.Room.Materials[i].Bass = slices.Clone(c.Room.Materials[i].Bass)
	}
	c.Room.Surfaces.Wall = slices.Clone(d.Room.Surfaces.Wall)
	c.Room.Treatments = slices.Clone(d.Room.Treatments)
	c.SubZones = slices.Clone(d.SubZones)
	c.Chairs = slices.Clone(d.Chairs)
	c.Seating.Rows = slices.Clone(d.Seating.Rows)
	for i := range c.Seating.Rows {
		c.Seating.Rows[i].Steps = slices.Clone(c.Seating.Rows[i].Steps)
	}
	c.Models = slices.Clone(d.Models)
	for i := range c.Models {
		c.Models[i].Drivers = slices.Clone(c.Models[i].Drivers)
	}
	c.Speakers = slices.Clone(d.Speakers)
	c.System.Channels = slices.Clone(d.System.Channels)
	c.Services = d.Services.clone()
	c.Variants = slices.Clone(d.Variants)
	c.Datum.WallBuildup = slices.Clone(d.Datum.WallBuildup)
	c.AsBuilt = d.AsBuilt.clone()
	c.Measured = d.Measured.clone()
	c.Backdrops = slices.Clone(d.Backdrops)
	c.Equalisation = d.Equalisation.clone()
	c.Room.Finishes.Wall = slices.Clone(d.Room.Finishes.Wall)
	c.LightGroups = cloneLights(d.LightGroups)
	c.Lesson = d.Lesson.clone()
	c.Viewpoints = slices.Clone(d.Viewpoints)
	c.Panels = slices.Clone(d.Panels)
	for i := range c.Panels {
		c.Panels[i].Pattern = slices.Clone(c.Panels[i].Pattern)
	}
	c.ProjectorModels, c.Picture = slices.Clone(d.ProjectorModels), d.Picture.clone()
	return &c
}

// Chair returns the chair model of that ID.
func (d *Design) Chair(id string) (Chair, bool) {
	for _, c := range d.Chairs {
		if c.ID == id {
			return c, true
		}
	}
	return Chair{}, false
}

// Model returns the loudspeaker model of that ID.
func (d *Design) Model(id string) (Model, bool) {
	for _, m := range d.Models {
		if m.ID == id {
			return m, true
		}
	}
	return Model{}, false
}
