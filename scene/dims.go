// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// Axes are the axes of the room frame along which a drawing shows true lengths: a
// plan shows X and Y.
type Axes struct{ X, Y, Z bool }

// plan reports whether a drawing with these axes is a plan.
func (a Axes) plan() bool { return a.X && a.Y }

// ifPlan returns a if it is a plan's.
func (a Axes) ifPlan() Axes {
	if a.plan() {
		return a
	}
	return Axes{}
}

// Dim is a dimension line, or a guide.
type Dim struct {
	From, To geometry.Vec // in the room frame
	Text     string       // shown at its middle; may be empty
	// Guide is a broken line without ends; it shows an alignment.
	Guide bool
}

// Measure returns the dimension lines of it along those axes: from the screen
// wall, the left wall and the floor, in the units of d. There are none for an item
// that d does not have, and none for a length under a millimetre.
func Measure(d *project.Design, it place.Item, a Axes) []Dim {
	var at geometry.Vec
	switch {
	case it.Kind == place.SpeakerItem && it.Index >= 0 && it.Index < len(d.Speakers):
		at = d.Speakers[it.Index].At.Vec()
	case it.Kind == place.RowItem && it.Index >= 0 && it.Index < len(d.Seating.Rows):
		r := d.Seating.Rows[it.Index]
		at = geometry.Vec{X: float64(r.Distance), Y: float64(r.Centre + r.Stagger), Z: float64(r.Riser)}
		a.Y = false
	case it.Kind == place.ScreenItem:
		at = geometry.Vec{X: float64(d.Screen.Distance), Y: float64(d.Screen.Centre), Z: float64(d.Screen.Bottom)}
		a.Y = false
	case it.Kind == place.ProjectorItem && d.Projector.Given():
		at = d.Projector.At.Vec()
	default:
		return nil
	}
	var out []Dim
	add := func(on bool, from geometry.Vec, length float64) {
		const least = 0.001 // m, what a drawing rounds to
		if on && from.Finite() && (length >= least || length <= -least) {
			out = append(out, Dim{From: from, To: at, Text: unit.Length(length).Format(d.Units != project.Imperial)})
		}
	}
	add(a.X, geometry.Vec{Y: at.Y, Z: at.Z}, at.X)
	add(a.Y, geometry.Vec{X: at.X, Z: at.Z}, at.Y)
	add(a.Z, geometry.Vec{X: at.X, Y: at.Y}, at.Z)
	return out
}

// dims draws the dimension lines and guides of the options.
func (s *painter) dims() {
	l := &Lines{Name: "dimensions", OnTop: true}
	dims := s.o.Dims
	if s.o.Labels && s.o.Drawing != (Axes{}) {
		dims = append(Chains(s.d, s.o.Drawing), dims...)
	}
	for _, d := range dims {
		along, ok := d.To.Sub(d.From).Unit()
		if !ok || !d.From.Finite() || !d.To.Finite() {
			continue
		}
		if d.Guide {
			l.dashes(d.From, d.To, 0.05, 0.05, s.ink.Guide)
			s.tag(d.From.Lerp(d.To, 0.5), d.Text, s.ink.Reverse, s.ink.Guide, false)
			continue
		}
		l.stroke(d.From, d.To, s.ink.Dim)
		for _, end := range [2]geometry.Vec{d.From, d.To} {
			stop(l, end, along, s.ink.Dim)
		}
		s.tag(d.From.Lerp(d.To, 0.5), d.Text, s.ink.Dim, s.ink.NamePlate, false)
	}
	s.addLines(l)
}

// stop draws the end of a dimension line: short strokes across it, one along
// each other axis, so that every drawing shows one.
func stop(l *Lines, at, along geometry.Vec, c RGB) {
	const half = 0.04 // m
	u := across(along)
	v := along.Cross(u)
	l.stroke(at.Sub(u.Mul(half)), at.Add(u.Mul(half)), c)
	l.stroke(at.Sub(v.Mul(half)), at.Add(v.Mul(half)), c)
}
