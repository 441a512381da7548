// SPDX-License-Identifier: MIT

package light

import (
	"fmt"
	"slices"

	"earline/project"
	"earline/project/shell"
)

// What is assumed of a surface whose reflectance a design does not give: rooms for
// pictures are dark, and darker towards the screen. Common practice, no source: rooms to
// work in are asked for 0.7 or more of the ceiling, 0.5 of the walls and 0.2 of the floor
// (EN 12464-1, from memory).
const (
	assumedFloor   = 0.10
	assumedCeiling = 0.15
	assumedWall    = 0.15
)

// Assumption is a reflectance that is taken where the design gives none.
type Assumption struct {
	What        string
	Reflectance float64
}

// String returns the assumption as a line.
func (a Assumption) String() string {
	return fmt.Sprintf("%s: reflectance not given, taken as %.2f (common practice, no source)", a.What, a.Reflectance)
}

// reflectance returns what surface s throws back, or notes and returns what is assumed.
func (m *Model) reflectance(f *project.Finishes, s *shell.Surface) float64 {
	or := func(given project.Finish, what string, assumed float64) float64 {
		if given.Reflectance > 0 {
			return given.Reflectance
		}
		if a := (Assumption{what, assumed}); !slices.Contains(m.Assumed, a) {
			m.Assumed = append(m.Assumed, a)
		}
		return assumed
	}
	switch s.Kind {
	case shell.Floor:
		return or(f.Floor, "floor", assumedFloor)
	case shell.Platform, shell.Step:
		if f.Platforms.Reflectance > 0 {
			return f.Platforms.Reflectance
		}
		return or(f.Floor, "floor", assumedFloor)
	case shell.Ceiling:
		return or(f.Ceiling, "ceiling", assumedCeiling)
	case shell.Wall:
		return or(f.OfWall(s.Index), "walls", assumedWall)
	}
	return or(f.Walls, "walls", assumedWall)
}

// screenReflectance returns that of the cloth. A gain of 1 is by definition a perfect matt
// face, one of less a grey one; what has more gain gathers light, and makes none.
func screenReflectance(d *project.Design) float64 {
	if r := d.Room.Finishes.Screen.Reflectance; r > 0 {
		return r
	}
	return min(d.Screen.Gain, 1)
}
