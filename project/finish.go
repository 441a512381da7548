// SPDX-License-Identifier: MIT

package project

import (
	"cmp"
	"fmt"
)

// Finishes are how the surfaces of the room look. What is not given is not known; what
// computes with it says what it assumes.
type Finishes struct {
	Floor   Finish `json:"floor,omitzero"`
	Ceiling Finish `json:"ceiling,omitzero"` // and soffits and beams
	// Walls is every wall that Wall does not list, and what is built in and stands.
	Walls Finish       `json:"walls,omitzero"`
	Wall  []WallFinish `json:"wall,omitempty"`
	// ScreenWall is the wall, or baffle wall, that the screen hangs on; not given: as Walls.
	ScreenWall Finish `json:"screen_wall,omitzero"`
	// Platforms is the rows' platforms and steps; not given: as Floor.
	Platforms Finish `json:"platforms,omitzero"`
	// Treatments is the panels on walls and ceiling, save on the screen wall, which are as
	// that; not given: as bright as what they hang on.
	Treatments Finish `json:"treatments,omitzero"`
	// Joinery is doors with their frames, rails, skirting and the upright faces of platforms
	// and steps; not given: as bright as the wall or the platform that it is of.
	Joinery Finish `json:"joinery,omitzero"`
	// Chairs is what they are covered with, Loudspeakers their cabinets. Neither counts as
	// light that the room throws back.
	Chairs       Finish `json:"chairs,omitzero"`
	Loudspeakers Finish `json:"loudspeakers,omitzero"`
	// Screen is the cloth, of which only the reflectance is given; without one it is as its
	// gain says, at most 1.
	Screen Finish `json:"screen,omitzero"`
}

// Finish is how a surface looks.
type Finish struct {
	Material FinishMaterial `json:"material,omitempty"`
	// Colour says how much light comes back as well, unless Reflectance does.
	Colour Colour `json:"colour,omitempty"`
	// Reflectance is the share of light that it throws back, in all directions alike; 0
	// is as the colour says, or not known.
	Reflectance float64 `json:"reflectance,omitempty"`
}

// WallFinish is one wall of another look.
type WallFinish struct {
	Wall        int            `json:"wall"` // counts from 1 as in WallSurface
	Material    FinishMaterial `json:"material,omitempty"`
	Colour      Colour         `json:"colour,omitempty"`
	Reflectance float64        `json:"reflectance,omitempty"`
}

// Finish returns how the wall looks.
func (w WallFinish) Finish() Finish { return Finish{w.Material, w.Colour, w.Reflectance} }

// FinishMaterial is what a finish is made of, as it is seen.
type FinishMaterial string

// The materials of finishes.
const (
	Cloth   FinishMaterial = "cloth"
	Leather FinishMaterial = "leather"
	Timber  FinishMaterial = "timber"
	Carpet  FinishMaterial = "carpet"
	Paint   FinishMaterial = "paint"
	Plaster FinishMaterial = "plaster"
	Metal   FinishMaterial = "metal"
	Lacquer FinishMaterial = "lacquer"
)

// FinishMaterials returns the materials of finishes.
func FinishMaterials() []FinishMaterial {
	return []FinishMaterial{Cloth, Leather, Timber, Carpet, Paint, Plaster, Metal, Lacquer}
}

// Usual returns the colour that a finish of m has where none is given. Our own taste.
func (m FinishMaterial) Usual() Colour {
	switch m {
	case Cloth:
		return "#7b6a59"
	case Leather:
		return "#755848"
	case Timber:
		return "#69503f"
	case Carpet:
		return "#4a5a68"
	case Paint:
		return "#8f8c86"
	case Plaster:
		return "#dfdad1"
	case Metal:
		return "#9c8263"
	case Lacquer:
		return "#38383a"
	}
	return ""
}

// Reflects returns the share of light that f throws back: what is given, or what its colour
// or its material's usual colour comes to; 0 is not known.
func (f Finish) Reflects() float64 {
	if f.Reflectance > 0 {
		return f.Reflectance
	}
	return cmp.Or(f.Colour, f.Material.Usual()).Reflectance()
}

// Linear returns how f looks in white light: its colour, its material's usual one or else
// that of usual, as bright as it Reflects.
func (f Finish) Linear(usual Colour) LinearRGB {
	l, _ := cmp.Or(f.Colour, f.Material.Usual(), usual).Linear()
	if y := f.Reflects(); y > 0 {
		return l.At(y)
	}
	return l
}

// Words says what f is: "walnut veneer" of a ready one, else "timber #69503f". Empty where
// nothing but a reflectance is given.
func (f Finish) Words() string {
	for _, r := range ReadyFinishes() {
		if r.Finish == (Finish{Material: f.Material, Colour: f.Colour}) {
			return r.Name
		}
	}
	switch {
	case f.Material == "":
		return string(f.Colour)
	case f.Colour == "":
		return string(f.Material)
	}
	return fmt.Sprintf("%s %s", f.Material, f.Colour)
}

// FinishPlace is where a finish is, by its name in the file.
type FinishPlace string

// The places of finishes that Finishes has once each.
const (
	FloorFinish       FinishPlace = "floor"
	CeilingFinish     FinishPlace = "ceiling"
	WallsFinish       FinishPlace = "walls"
	ScreenWallFinish  FinishPlace = "screen_wall"
	PlatformsFinish   FinishPlace = "platforms"
	TreatmentsFinish  FinishPlace = "treatments"
	JoineryFinish     FinishPlace = "joinery"
	ChairsFinish      FinishPlace = "chairs"
	LoudspeakerFinish FinishPlace = "loudspeakers"
	ScreenFinish      FinishPlace = "screen"
)

// FinishPlaces returns the places in the order of the file.
func FinishPlaces() []FinishPlace {
	return []FinishPlace{FloorFinish, CeilingFinish, WallsFinish, ScreenWallFinish, PlatformsFinish, TreatmentsFinish, JoineryFinish, ChairsFinish, LoudspeakerFinish, ScreenFinish}
}

// Words says what the place is called.
func (p FinishPlace) Words() string {
	switch p {
	case ScreenWallFinish:
		return "screen wall"
	case TreatmentsFinish:
		return "wall panels"
	case JoineryFinish:
		return "doors and trim"
	}
	return string(p)
}

// At returns where the finish of a place is kept; nil for a place that is none.
func (f *Finishes) At(p FinishPlace) *Finish {
	switch p {
	case FloorFinish:
		return &f.Floor
	case CeilingFinish:
		return &f.Ceiling
	case WallsFinish:
		return &f.Walls
	case ScreenWallFinish:
		return &f.ScreenWall
	case PlatformsFinish:
		return &f.Platforms
	case TreatmentsFinish:
		return &f.Treatments
	case JoineryFinish:
		return &f.Joinery
	case ChairsFinish:
		return &f.Chairs
	case LoudspeakerFinish:
		return &f.Loudspeakers
	case ScreenFinish:
		return &f.Screen
	}
	return nil
}

// Given reports whether anything is said about how the room looks.
func (f *Finishes) Given() bool {
	for _, p := range FinishPlaces() {
		if *f.At(p) != (Finish{}) {
			return true
		}
	}
	return len(f.Wall) > 0
}

// Of returns the finish of a place: what is given, or that of the place it goes by. Zero
// where that is not given either.
func (f *Finishes) Of(p FinishPlace) Finish {
	given := *f.At(p)
	if given != (Finish{}) {
		return given
	}
	switch p {
	case ScreenWallFinish:
		return f.Walls
	case PlatformsFinish:
		return f.Floor
	}
	return given
}

// WallFinish returns the finish of a wall, counted from 1, of which nothing may be given.
func (r *Room) WallFinish(wall int) Finish {
	for _, w := range r.Finishes.Wall {
		if w.Wall == wall {
			return w.Finish()
		}
	}
	if r.WallSide(wall) == "screen" {
		return r.Finishes.Of(ScreenWallFinish)
	}
	return r.Finishes.Walls
}

// UsualReflectance is assumed of a surface of which a design says nothing: rooms for
// pictures are dark. Common practice, no source: rooms to work in are asked for 0.7 or more
// of the ceiling, 0.5 of the walls and 0.2 of the floor (EN 12464-1, from memory).
func (p FinishPlace) UsualReflectance() float64 {
	switch p {
	case FloorFinish, PlatformsFinish:
		return 0.10
	case LoudspeakerFinish: // black lacquer
		return 0.04
	}
	return 0.15
}
