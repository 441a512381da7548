// SPDX-License-Identifier: MIT

package project

import (
	"slices"

	"earline/geometry/unit"
)

// Limits of projectors and pictures.
const (
	MaxProjectors = 50
	MaxAspects    = 16
	MaxGains      = 37 // of a gain curve: every 2.5° from the normal
)

// ProjectorModel is a kind of projector with its lens.
type ProjectorModel struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Light is what the maker states, lumens. Calibrated is the share of it that is left
	// at the picture settings used, Aged that of the calibrated light late in the life of
	// lamp or laser.
	Light      float64 `json:"light_lm"`
	Calibrated float64 `json:"calibrated_share"`
	Aged       float64 `json:"aged_share"`
	// PixelsWide and PixelsHigh are those of the imager; they are square.
	PixelsWide int `json:"imager_width_px"`
	PixelsHigh int `json:"imager_height_px"`
	// ThrowMin and ThrowMax are the distance from lens to screen divided by the width of
	// the raster, zoomed out to the widest and in to the narrowest.
	ThrowMin float64 `json:"throw_ratio_min"`
	ThrowMax float64 `json:"throw_ratio_max"`
	// ShiftUp and ShiftRight are how far the raster may be shifted up or down, and to
	// either side, from where the lens points straight at its middle: shares of the whole
	// height and of the whole width of the raster, each with the other at nothing.
	ShiftUp    float64    `json:"shift_up_max_share"`
	ShiftRight float64    `json:"shift_right_max_share"`
	ShiftShape ShiftShape `json:"shift_shape"`

	Noise float64     `json:"noise_dba,omitempty"` // 0 is not known
	Heat  float64     `json:"heat_w,omitempty"`
	Mass  float64     `json:"mass_kg,omitempty"`
	Width unit.Length `json:"width_m"`
	// Height and Depth are of the cabinet; LensAhead is how far the middle of the front
	// lens stands before its face.
	Height    unit.Length `json:"height_m"`
	Depth     unit.Length `json:"depth_m"`
	LensAhead unit.Length `json:"lens_ahead_m,omitempty"`
}

// ShiftShape is how shift up and shift to the side limit each other.
type ShiftShape string

// The shapes: of a rectangle both can be had in full at once.
const (
	ShiftEllipse   ShiftShape = "ellipse"
	ShiftDiamond   ShiftShape = "diamond"
	ShiftRectangle ShiftShape = "rectangle"
)

// Projector is the projector of the room. It stands level and square to the screen.
type Projector struct {
	Model string         `json:"model"` // ID of a ProjectorModel
	At    Point          `json:"at"`    // the middle of the front lens
	Mount ProjectorMount `json:"mount"`
	Fill  Fill           `json:"fill"`
	// Stretch is by how much an anamorphic lens widens the picture; 0 is 4/3.
	Stretch float64 `json:"stretch,omitempty"`
	// Lens and Port are the shares of light that pass through a further lens and through
	// the glass of a port; 0 is that there is none.
	Lens float64 `json:"lens_transmission_share,omitempty"`
	Port float64 `json:"port_transmission_share,omitempty"`
}

// ProjectorMount is what a projector is fixed to.
type ProjectorMount string

// The mounts.
const (
	CeilingMount ProjectorMount = "ceiling"
	ShelfMount   ProjectorMount = "shelf"
	PortMount    ProjectorMount = "port" // in a room of its own, behind glass
)

// Fill is how pictures of several shapes are brought onto the screen.
type Fill string

// The ways to fill the screen.
const (
	// Zoom sets zoom and shift anew for each shape.
	Zoom Fill = "zoom"
	// Anamorphic uses all lines of the imager for wide pictures and widens them by a
	// lens, which is taken away for pictures that are no brighter with it.
	Anamorphic Fill = "anamorphic"
	// Scaled leaves the lens alone: each shape is scaled into one raster that holds all.
	Scaled Fill = "scaled"
)

// Given reports whether the design has a projector.
func (p Projector) Given() bool { return p != Projector{} }

// Widened returns by how much the anamorphic lens widens the picture.
func (p Projector) Widened() float64 {
	const usual = 4.0 / 3 // of lenses for imagers of 16:9
	if p.Stretch == 0 {
		return usual
	}
	return p.Stretch
}

// Passed returns the share of light that reaches the screen through further lens and port.
func (p Projector) Passed() float64 {
	share := 1.0
	for _, s := range [2]float64{p.Lens, p.Port} {
		if s != 0 {
			share *= s
		}
	}
	return share
}

// Picture is which shapes of picture the screen is to show, and what it makes of the
// light. The screen of the design is the frame in which they stand, about its middle.
type Picture struct {
	// Aspects are the shapes; none is the screen's own alone.
	Aspects []Aspect `json:"aspects,omitempty"`
	Held    Held     `json:"held,omitempty"`
	Masking Masking  `json:"masking,omitempty"`
	// MaskingBox is how far a box that a mask moves out of reaches from the screen's
	// border outwards, and from the back of the screen forwards; 0 is not known.
	MaskingBox unit.Length `json:"masking_box_m,omitempty"`
	// Gains are the gain of the screen at angles from its normal, rising; at 0° it is
	// the screen's.
	Gains []AngleGain `json:"gain_curve,omitempty"`
	// SoundLoss is what the screen takes from the sound of loudspeakers behind it, dB in
	// each of Octaves; none is not known, and counts as nothing.
	SoundLoss []float64 `json:"sound_loss_db,omitempty"`
}

// Aspect is a shape of picture.
type Aspect struct {
	Aspect float64 `json:"aspect"` // width divided by height
	Name   string  `json:"name,omitempty"`
	// Share is the share of viewing in this shape; 0 is not known.
	Share float64 `json:"viewing_share,omitempty"`
}

// Held is what pictures of all shapes have in common with the screen.
type Held string

// What is held; "" makes each picture as large as the screen's frame holds.
const (
	HeldHeight Held = "height"
	HeldWidth  Held = "width"
	HeldArea   Held = "area"
)

// AngleGain is the gain of a screen seen from an angle.
type AngleGain struct {
	Angle unit.Degrees `json:"angle_deg"` // from the normal
	Gain  float64      `json:"gain"`
}

// Given reports whether the design says which pictures it is to show.
func (p Picture) Given() bool {
	return len(p.Aspects) > 0 || p.Held != "" || len(p.Gains) > 0 || p.Masking != "" || p.MaskingBox != 0 || len(p.SoundLoss) > 0
}

func (p Picture) clone() Picture {
	p.Aspects, p.Gains, p.SoundLoss = slices.Clone(p.Aspects), slices.Clone(p.Gains), slices.Clone(p.SoundLoss)
	return p
}

// ProjectorModel returns the projector model of that ID.
func (d *Design) ProjectorModel(id string) (ProjectorModel, bool) {
	for _, m := range d.ProjectorModels {
		if m.ID == id {
			return m, true
		}
	}
	return ProjectorModel{}, false
}
