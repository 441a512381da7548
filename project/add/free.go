// SPDX-License-Identifier: MIT

package add

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

// finder finds places in a design.
type finder struct {
	d     *project.Design
	main  geometry.Vec
	poly  geometry.Polygon
	known map[string]int // what is remarked upon already
	parts []place.Part   // what a box must not stand in
	doors []geometry.Box // what must stay free for doors
}

func newFinder(d *project.Design) *finder {
	f := &finder{d: d, main: place.MainPoint(d), poly: d.Room.Polygon(), known: map[string]int{}, parts: place.Parts(d)}
	for _, r := range fit.Findings(d) {
		f.known[r.String()]++
	}
	for _, ft := range d.Room.Features {
		if ft.Kind == project.Door {
			f.doors = append(f.doors, f.swing(ft))
		}
	}
	return f
}

// swing returns the space before a door: as deep as it is wide.
func (f *finder) swing(ft project.Feature) geometry.Box {
	b := ft.Box()
	n := f.d.Room.WallNormal(geometry.Vec2{X: b.Center.X, Y: b.Center.Y})
	wide := max(b.Half.X, b.Half.Y)
	b.Center = b.Center.Add(geometry.Vec{X: n.X, Y: n.Y}.Mul(wide))
	b.Half.X, b.Half.Y = wide, wide
	return b
}

// reason says why l cannot be where it is: "it would stand in the left soffit"; empty
// when it can.
func (f *finder) reason(l project.Loudspeaker) string {
	const touch = 0.002 // m, as in fit.Findings
	p := place.OneSpeaker(f.d, l, f.main)
	if !p.At.Vec().Finite() {
		return "it would be nowhere"
	}
	for i := range f.doors {
		if geometry.Overlap(f.doors[i], p.Box) > touch {
			return "it would be in the way of a door"
		}
	}
	for i := range f.parts {
		part := &f.parts[i]
		if p.Spec.Flush && part.Kind == place.FeaturePart {
			continue // it may be let into one; fit.Findings knows of the others
		}
		if in := overlap(part, p.Box); in > touch {
			return "it would reach " + unit.Length(in).Format(f.d.Units != project.Imperial) + " into " + name(part)
		}
	}
	if f.coversPicture(p) {
		return "it would stand in front of the picture, or behind a screen that is not sound-transparent"
	}
	next := *f.d
	next.Speakers = append(f.d.Speakers[:len(f.d.Speakers):len(f.d.Speakers)], l)
	seen := map[string]int{}
	for _, r := range fit.Findings(&next) {
		if seen[r.String()]++; seen[r.String()] > f.known[r.String()] {
			return r.String()
		}
	}
	return ""
}

// coversPicture reports whether p stands close before the picture, or behind one that
// no sound passes.
func (f *finder) coversPicture(p place.Speaker) bool {
	const close = 1 // m
	before := p.At.Vec().X - float64(f.d.Screen.Distance)
	if before > close || before <= 0 && f.d.Screen.Transparent {
		return false
	}
	for _, c := range p.Box.Corners() {
		if f.onPicture(c) {
			return true
		}
	}
	return f.onPicture(p.At.Vec())
}

// name names a part with its article.
func name(p *place.Part) string {
	if p.Kind == place.SpeakerPart || p.Kind == place.ScreenPart {
		return p.String()
	}
	return "the " + p.String()
}

// overlap returns how far a box reaches into a part, one of a body taken as the box
// about it.
func overlap(p *place.Part, b geometry.Box) float64 {
	switch {
	case p.Box != nil:
		return geometry.Overlap(*p.Box, b)
	case p.Cylinder != nil:
		return p.Cylinder.Overlap(b)
	case p.Ellipsoid != nil:
		e := p.Ellipsoid
		return geometry.Overlap(geometry.Box{Center: e.Center, Basis: e.Basis, Half: e.Radii}, b)
	}
	return math.Inf(-1)
}
