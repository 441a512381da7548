// SPDX-License-Identifier: MIT

package project

import (
	"earline/geometry"
	"earline/geometry/unit"
)

// Room is the shell and what is built into it.
type Room struct {
	// Footprint is the outline of the finished floor: a simple polygon of three
	// corners or more, either way round. The screen wall is x = 0.
	Footprint []Corner  `json:"footprint"`
	Ceiling   Ceiling   `json:"ceiling"`
	Features  []Feature `json:"features,omitempty"`
	// Materials are what Surfaces, Treatments, features and chairs name.
	Materials  []Material  `json:"materials,omitempty"`
	Surfaces   Surfaces    `json:"surfaces,omitzero"`
	Treatments []Treatment `json:"treatments,omitempty"`
	Air        Air         `json:"air,omitzero"`
	Finishes   Finishes    `json:"finishes,omitzero"` // how it looks
}

// Corner is a corner of the footprint.
type Corner struct {
	X unit.Length `json:"x_m"`
	Y unit.Length `json:"y_m"`
}

// Ceiling is flat, or slopes evenly in one direction across the whole extent of
// the footprint; Planes take from it what is higher than they are. It is never
// lower than its neighbourhood but at a wall: the room is convex upwards.
type Ceiling struct {
	Slope Slope `json:"slope"`
	// Height is the height of a flat ceiling, or at the wall where the slope
	// starts: the screen wall, or the left wall.
	Height unit.Length `json:"height_m"`
	// FarHeight is the height where the slope ends: the back wall, or the right
	// wall. Not used by a flat ceiling.
	FarHeight unit.Length `json:"far_height_m,omitempty"`
	// Planes are the further slopes of a gable, a hip, a double slope. From version 2
	// of the file on.
	Planes []CeilingPlane `json:"planes,omitempty"`
}

// Slope is the direction in which a ceiling slopes.
type Slope string

// The slopes a ceiling can have.
const (
	Flat        Slope = "flat"
	FrontToBack Slope = "front to back"
	LeftToRight Slope = "left to right"
)

// Feature is something built into the room: an upright box, turned about the
// vertical through the middle of its base, or a round column. All but a window stand in the way of
// sight: a door with its leaf, a light or a vent as far as it hangs below the
// ceiling.
type Feature struct {
	ID   string      `json:"id,omitempty"` // see Design.Identify
	Kind FeatureKind `json:"kind"`
	Name string      `json:"name,omitempty"`
	// At is the middle of its base.
	At Point `json:"at"`
	// Length is its size along x, Width along y before turning, Height up. Of a
	// round column Length is the diameter, and Width as much or 0; see Across.
	Length unit.Length  `json:"length_m"`
	Width  unit.Length  `json:"width_m,omitempty"`
	Height unit.Length  `json:"height_m"`
	Turn   unit.Degrees `json:"turn_deg,omitempty"` // from x towards y
	// Round makes a column an upright cylinder. From version 2 of the file on.
	Round bool `json:"round,omitempty"`
	// Swing says how a door opens; empty for everything else.
	Swing Swing `json:"swing,omitempty"`
	// Material is the ID of what it is made of; empty: as the walls.
	Material string `json:"material,omitempty"`
}

// FeatureKind is what a Feature is.
type FeatureKind string

// The kinds of feature.
const (
	Soffit FeatureKind = "soffit"
	Column FeatureKind = "column"
	Door   FeatureKind = "door"
	Window FeatureKind = "window"
	Stage  FeatureKind = "stage"
	Light  FeatureKind = "light"
	Vent   FeatureKind = "vent"
	// From version 2 of the file on.
	Counter FeatureKind = "counter" // a bar, a sideboard: on the floor, or its top alone
	Chimney FeatureKind = "chimney" // a breast from floor to ceiling
	Beam    FeatureKind = "beam"    // under the ceiling
	Rack    FeatureKind = "rack"    // a cabinet with equipment, on the floor
)

// Overhead reports whether a feature of kind k hangs over people's heads.
func (k FeatureKind) Overhead() bool { return k == Soffit || k == Beam || k == Light || k == Vent }

// Standing reports whether a feature of kind k stands in the way of who walks.
func (k FeatureKind) Standing() bool {
	return k == Column || k == Stage || k == Counter || k == Chimney || k == Rack
}

// Swing is the way a door opens, seen from inside the room.
type Swing string

// The ways a door opens.
const (
	InLeft   Swing = "in, hinged left"
	InRight  Swing = "in, hinged right"
	OutLeft  Swing = "out, hinged left"
	OutRight Swing = "out, hinged right"
	Sliding  Swing = "sliding"
)

// Screen is the picture and how it hangs. The picture is upright and parallel
// to the screen wall.
type Screen struct {
	// Aspect is picture width divided by picture height.
	Aspect float64     `json:"aspect"`
	Width  unit.Length `json:"width_m"` // of the picture, without its border
	// Bottom is the height of the picture's lower edge above the floor.
	Bottom unit.Length `json:"bottom_m"`
	// Distance is from the screen wall to the picture.
	Distance unit.Length `json:"distance_m"`
	// Centre is from the left wall (y = 0) to the middle of the picture.
	Centre unit.Length `json:"centre_m"`
	Border unit.Length `json:"border_m"`
	// Transparent is whether sound passes through it.
	Transparent bool    `json:"sound_transparent"`
	Gain        float64 `json:"gain"`
}

// Box returns the solid of f; of a round column the box along the room's axes that
// just holds it, for which see Cylinder.
func (f Feature) Box() geometry.Box {
	if c, ok := f.Cylinder(); ok {
		return c.Box()
	}
	return geometry.Box{
		Center: f.At.Vec().Add(geometry.Vec{Z: float64(f.Height) / 2}),
		Basis:  geometry.YawBasis(f.Turn.Radians()),
		Half:   geometry.Vec{X: float64(f.Length) / 2, Y: float64(f.Width) / 2, Z: float64(f.Height) / 2},
	}
}

// Words returns the name of f, or its kind when it has none.
func (f Feature) Words() string {
	if f.Name != "" {
		return f.Name
	}
	return string(f.Kind)
}

// Height returns the height of the picture, in metres.
func (s Screen) Height() float64 {
	if !(s.Aspect > 0) {
		return 0
	}
	return float64(s.Width) / s.Aspect
}

// Picture returns the picture as a rectangle: its middle and the half-edges to
// the right (seen from the seats) and up.
func (s Screen) Picture() (center, right, up geometry.Vec) {
	h := s.Height()
	return geometry.Vec{X: float64(s.Distance), Y: float64(s.Centre), Z: float64(s.Bottom) + h/2},
		geometry.Vec{Y: float64(s.Width) / 2}, geometry.Vec{Z: h / 2}
}

// Sheet returns the screen with its border as a thin box behind the picture.
func (s Screen) Sheet() geometry.Box {
	const thickness = 0.02 // m
	c, r, u := s.Picture()
	c.X -= thickness / 2
	b := float64(s.Border)
	return geometry.Box{Center: c, Basis: geometry.WorldBasis(),
		Half: geometry.Vec{X: thickness / 2, Y: r.Y + b, Z: u.Z + b}}
}
