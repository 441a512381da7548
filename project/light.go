// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
)

// Limits of the room's light.
const (
	MaxLightGroups = 40
	MaxLamps       = 500 // in all groups
	MaxStripPoints = 200 // of one strip
	MaxStripLength = 400 // m, of all strips
)

// LetIn is how deep a lamp may be let into a wall, a ceiling, a soffit or a riser, metres:
// it shines from the face. Usual, no source.
const LetIn = 0.1

// LightGroup is lamps that are dimmed together.
type LightGroup struct {
	ID   string    `json:"id,omitempty"` // see Design.Identify
	Name string    `json:"name,omitempty"`
	Kind LightKind `json:"kind"`
	// Path is how a strip runs, At where lamps are: the middle of what shines. Area is the
	// outline, seen from above, of the stars in the ceiling; none is all of it.
	Path []Point  `json:"path,omitempty"`
	At   []Point  `json:"at,omitempty"`
	Area []Corner `json:"area,omitempty"`
	// Panels and Nosings are where strips lie that have no Path of their own: in the lit
	// joints of the run of panels with that ID, shining off its wall, or under the front
	// edges of all platforms and steps. Package panel says where that is.
	Panels  string `json:"panels,omitempty"`
	Nosings bool   `json:"nosings,omitempty"`
	// Flux is the light of the whole group at full level, lumens, as it leaves the fittings.
	Flux   float64 `json:"flux_lm"`
	Colour float64 `json:"colour_k,omitempty"` // colour temperature, kelvins; 0 is not known
	// Beam is the full angle between the directions of half the light in the middle; 0
	// spreads it as a matt face does, which is 120°.
	Beam unit.Degrees `json:"beam_deg,omitempty"`
	// Tilt is how far from straight down it shines: 90 is level, 180 straight up. Azimuth
	// is towards where: 0 is to the screen, 90 to the left.
	Tilt    unit.Degrees `json:"tilt_deg,omitempty"`
	Azimuth unit.Degrees `json:"azimuth_deg,omitempty"`
	Scenes  SceneLevels  `json:"scenes"`
}

// LightKind is what the lamps of a LightGroup are.
type LightKind string

// The kinds of light.
const (
	Strip     LightKind = "strip"     // a line of light: in a cove, on a wall, under a nosing
	Downlight LightKind = "downlight" // a lamp with a beam, straight down unless it is tilted
	StepLight LightKind = "step"      // a small lamp at a step or an aisle
	Stars     LightKind = "star"      // points of light all over a ceiling
)

// Scene names a setting of all groups.
type Scene string

// The scenes.
const (
	House    Scene = "house"    // people come and go
	Preshow  Scene = "preshow"  // people sit, nothing runs yet
	Show     Scene = "show"     // the picture runs
	Cleaning Scene = "cleaning" // everything is to be seen
)

// LightScenes returns the scenes in their order.
func LightScenes() [4]Scene { return [4]Scene{House, Preshow, Show, Cleaning} }

// SceneLevels are the levels of a group in the scenes, from 0, off, to 1, full. They are
// shares of its light, not of a dial.
type SceneLevels struct {
	House    float64 `json:"house,omitempty"`
	Preshow  float64 `json:"preshow,omitempty"`
	Show     float64 `json:"show,omitempty"`
	Cleaning float64 `json:"cleaning,omitempty"`
}

// Level returns where the level in scene s is kept; nil for a scene that is none.
func (l *SceneLevels) Level(s Scene) *float64 {
	switch s {
	case House:
		return &l.House
	case Preshow:
		return &l.Preshow
	case Show:
		return &l.Show
	case Cleaning:
		return &l.Cleaning
	}
	return nil
}

// At returns the level in scene s; 0 for a scene that is none.
func (l SceneLevels) At(s Scene) float64 {
	if v := l.Level(s); v != nil {
		return *v
	}
	return 0
}

// Aim returns the unit vector along which the middle of the light of g leaves. Stars look
// square out of their ceiling instead.
func (g *LightGroup) Aim() geometry.Vec {
	sin, cos := math.Sincos(g.Tilt.Radians())
	left, front := math.Sincos(g.Azimuth.Radians())
	return geometry.Vec{X: -sin * front, Y: -sin * left, Z: -cos}
}

// Follows reports whether the strips of g lie where something else is.
func (g *LightGroup) Follows() bool { return g.Kind == Strip && (g.Panels != "" || g.Nosings) }

// Length returns how long the Path of a strip is, metres; 0 for other kinds.
func (g *LightGroup) Length() (l float64) {
	for i := 1; i < len(g.Path); i++ {
		l += g.Path[i].Vec().Dist(g.Path[i-1].Vec())
	}
	return l
}

// Measure returns what the light of g is spread over: lamps, or metres of strip; 1 of
// stars, and of strips that lie where something else is.
func (g *LightGroup) Measure() float64 {
	switch g.Kind {
	case Strip:
		if g.Follows() {
			return 1
		}
		return g.Length()
	case Stars:
		return 1
	}
	return float64(len(g.At))
}

// LightName returns the name of light group i, or its kind and number when it has none.
func (d *Design) LightName(i int) string {
	g := &d.LightGroups[i]
	if g.Name != "" {
		return g.Name
	}
	return fmt.Sprintf("%s, light group %d", g.Kind.Words(), i+1)
}

// Words says what lamps of kind k are called.
func (k LightKind) Words() string {
	switch k {
	case Strip:
		return "light strip"
	case Downlight:
		return "downlights"
	case StepLight:
		return "step lights"
	case Stars:
		return "star ceiling"
	}
	return string(k)
}

func (g LightGroup) clone() LightGroup {
	g.Path, g.At, g.Area = slices.Clone(g.Path), slices.Clone(g.At), slices.Clone(g.Area)
	return g
}

func cloneLights(all []LightGroup) []LightGroup {
	out := slices.Clone(all)
	for i := range out {
		out[i] = out[i].clone()
	}
	return out
}

// Towards says in words to which side a tilted group shines.
func (g *LightGroup) Towards() string {
	switch v := g.Aim(); {
	case math.Abs(v.X) >= math.Abs(v.Y) && v.X > 0:
		return "to the back"
	case math.Abs(v.X) >= math.Abs(v.Y):
		return "to the screen"
	case v.Y < 0:
		return "to the left"
	}
	return "to the right"
}
