// SPDX-License-Identifier: MIT

package light

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/shell"
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

// Taken is the finish that the numbers go by at a place.
type Taken struct {
	What        string // the place: "floor"
	Finish      string // "walnut veneer"; empty where only a reflectance is given
	Reflectance float64
}

// String returns what is taken as a line.
func (t Taken) String() string {
	if t.Finish == "" {
		return fmt.Sprintf("%s: reflectance %.2f", t.What, t.Reflectance)
	}
	return fmt.Sprintf("%s: %s, reflectance %.2f", t.What, t.Finish, t.Reflectance)
}

// throws returns what a finish throws back and notes it, or notes and returns what is assumed.
func (m *Model) throws(f project.Finish, what string, p project.FinishPlace) float64 {
	if r := f.Reflects(); r > 0 {
		if t := (Taken{what, f.Words(), r}); !slices.Contains(m.Taken, t) {
			m.Taken = append(m.Taken, t)
		}
		return r
	}
	r := p.UsualReflectance()
	if a := (Assumption{what, r}); !slices.Contains(m.Assumed, a) {
		m.Assumed = append(m.Assumed, a)
	}
	return r
}

// reflectance returns what surface s throws back where nothing covers it.
func (m *Model) reflectance(s *shell.Surface) float64 {
	room := &m.Design.Room
	of := func(p project.FinishPlace) float64 {
		f, what := room.Finishes.Of(p), p.Words()
		if p == project.PlatformsFinish && *room.Finishes.At(p) == (project.Finish{}) {
			what = project.FloorFinish.Words() // they are as the floor
		}
		return m.throws(f, what, p)
	}
	switch s.Kind {
	case shell.Floor:
		return of(project.FloorFinish)
	case shell.Step:
		if f := room.Finishes.Joinery; f.Reflects() > 0 {
			return of(project.JoineryFinish)
		}
		return of(project.PlatformsFinish)
	case shell.Platform:
		return of(project.PlatformsFinish)
	case shell.Ceiling:
		return of(project.CeilingFinish)
	case shell.Wall:
		f := room.WallFinish(s.Index)
		if f == room.Finishes.Walls {
			return of(project.WallsFinish)
		}
		return m.throws(f, room.WallName(s.Index), project.WallsFinish)
	case shell.Feature:
		if s.Index >= 0 && s.Index < len(room.Features) && room.Features[s.Index].Kind.Overhead() {
			return of(project.CeilingFinish)
		}
		if s.Index >= 0 && s.Index < len(room.Features) && room.Features[s.Index].Kind == project.Rack {
			return m.throws(room.Finishes.Loudspeakers, "racks", project.LoudspeakerFinish)
		}
	}
	return of(project.WallsFinish)
}

// covered returns what a part of s throws back, a share of whose area is under treatments
// and doors that have a finish of their own.
func (m *Model) covered(s *shell.Surface, part geometry.Polygon, bare float64) float64 {
	whole, sum, open := math.Abs(part.Area()), 0.0, 1.0
	screenWall := len(s.Covers) > 0 && s.Kind == shell.Wall && m.Design.Room.WallSide(s.Index) == "screen"
	for i := len(s.Covers) - 1; i >= 0; i-- { // the uppermost first
		c := &s.Covers[i]
		p := project.TreatmentsFinish
		switch {
		case c.Hidden:
			continue
		case c.Door:
			p = project.JoineryFinish
		case !c.Treatment || screenWall:
			continue
		}
		f := m.Design.Room.Finishes.At(p)
		r := f.Reflects()
		if r == 0 {
			continue // as bright as s
		}
		lo, hi := c.Outline.Bounds()
		share := min(math.Abs(part.Clip(lo, hi).Area())/whole, open)
		if share > 0 {
			m.throws(*f, p.Words(), p)
			sum, open = sum+share*r, open-share
		}
	}
	return sum + open*bare
}

// screenReflectance returns that of the cloth. A gain of 1 is by definition a perfect matt
// face, one of less a grey one; what has more gain gathers light, and makes none.
func screenReflectance(d *project.Design) float64 {
	if r := d.Room.Finishes.Screen.Reflectance; r > 0 {
		return r
	}
	return min(d.Screen.Gain, 1)
}
