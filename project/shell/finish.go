// SPDX-License-Identifier: MIT

package shell

import (
	"fmt"
	"slices"

	"earline/project"
)

// Finish is what a surface is made of.
type Finish struct {
	Name string
	// Absorption is the random-incidence absorption coefficient in each of
	// project.Octaves, 0 to 1.
	Absorption [project.OctaveCount]float64
	// Bass is the same in each of project.BassThirds, see project.InBass.
	Bass     [project.BassThirdCount]float64
	Scatters bool // as a diffuser does
}

// finish returns one of which nothing but the octaves is known.
func finish(name string, absorption [project.OctaveCount]float64) Finish {
	return Finish{Name: name, Absorption: absorption, Bass: project.InBass(absorption, nil)}
}

// The one table of what is assumed where a design names no material, from the
// tables that the list of materials names. They begin at 125 Hz and end at 4 kHz:
// 63 Hz is taken as 125 Hz and 8 kHz as 4 kHz, so that below 90 Hz, where
// subwoofers play, a real wall may take more (its studs and boards swing) or less.
var (
	// Audio engineering handbook, table 29.3 (AC-175). Walls, ceilings, an opaque
	// screen.
	assumedWall = finish("plasterboard, one layer on timber studs",
		[project.OctaveCount]float64{0.10, 0.10, 0.08, 0.05, 0.03, 0.03, 0.03, 0.03})
	// Audio engineering handbook, table 29.3 (AC-171).
	assumedFloor = finish("a wood floor",
		[project.OctaveCount]float64{0.15, 0.15, 0.11, 0.10, 0.07, 0.06, 0.07, 0.07})
	// Vorlaender, Auralization (2008), Annex (AC-157).
	assumedChair = finish("cloth chairs, empty",
		[project.OctaveCount]float64{0.44, 0.44, 0.60, 0.77, 0.89, 0.82, 0.70, 0.70})
)

// Assumption is a finish that is taken where the design names no material.
type Assumption struct {
	What   string // "walls"
	Finish Finish
}

// String returns the assumption as a line: "walls: material not given, taken as
// plasterboard, one layer on timber studs".
func (a Assumption) String() string {
	return fmt.Sprintf("%s: material not given, taken as %s", a.What, a.Finish.Name)
}

// finishOf returns the finish of the material of that ID, or notes and returns
// what is assumed.
func (s *Shell) finishOf(id, what string, assumed Finish) Finish {
	if f, ok := s.finishes[id]; ok {
		return f
	}
	if a := (Assumption{what, assumed}); !slices.Contains(s.Assumed, a) {
		s.Assumed = append(s.Assumed, a)
	}
	return assumed
}

func (s *Shell) floorFinish() Finish {
	return s.finishOf(s.room.Surfaces.Floor, "floor", assumedFloor)
}

// platformFinish returns that of the platforms, which are as the floor unless
// they say otherwise.
func (s *Shell) platformFinish() Finish {
	if id := s.room.Surfaces.Platforms; id != "" {
		return s.finishOf(id, "platforms", assumedFloor)
	}
	return s.floorFinish()
}

// wallFinish returns that of a wall, counted from 1.
func (s *Shell) wallFinish(wall int) Finish {
	for _, w := range s.room.Surfaces.Wall {
		if w.Wall == wall {
			return s.finishOf(w.Material, s.room.WallName(wall), assumedWall)
		}
	}
	return s.finishOf(s.room.Surfaces.Walls, "walls", assumedWall)
}

// featureFinish returns that of a feature, which is as the walls unless it says
// otherwise (project.Feature): a door without a material counts as a door of what
// the walls are made of, also in a wall that is listed with another.
func (s *Shell) featureFinish(f project.Feature) Finish {
	if f.Material != "" {
		return s.finishOf(f.Material, f.Words(), assumedWall)
	}
	return s.finishOf(s.room.Surfaces.Walls, "walls", assumedWall)
}

// Upholstery returns the finish of empty chairs of that material, of the floor
// that they take. For none of the design's it is an Assumption.
func (s *Shell) Upholstery(id string) (f Finish, assumed bool) {
	if f, ok := s.finishes[id]; ok {
		return f, false
	}
	return assumedChair, true
}
