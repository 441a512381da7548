// SPDX-License-Identifier: MIT

package shell

import (
	"math"

	"earline/geometry"
)

// Kind is what a Surface belongs to.
type Kind uint8

// The kinds of surface.
const (
	Floor Kind = iota
	Ceiling
	Wall
	Platform // the top of a row's platform
	Step     // the upright face of a platform
	Feature  // a face of something built in, or of an opaque screen
)

// Surface is a flat piece of the room.
type Surface struct {
	Kind Kind
	// Index is the number of the wall or row, from 1, of the feature, or of the slope
	// of the ceiling, from 0; Screen for the screen.
	Index int
	Words string // "left wall"
	// Begins names the wall at whose corner a wall's U is 0: "screen wall".
	Begins string
	// Origin is a point of its plane, Normal the unit vector into the room. U and
	// V give its flat coordinates: those of p are (p-Origin).U and (p-Origin).V.
	// On a wall U runs from its first corner, V up; on a floor or ceiling they are
	// the room's x and y.
	Origin, Normal, U, V geometry.Vec
	Outline              geometry.Polygon // in U and V
	Finish               Finish
	Covers               []Cover // the later ones lie over the earlier
	// stretch is the true area over that of Outline: above 1 for a sloping
	// ceiling, whose outline is its plan.
	stretch float64
}

// Screen is the Index of the faces of an opaque screen.
const Screen = -1

// Cover is a part of a surface under another finish.
type Cover struct {
	Name    string
	Outline geometry.Polygon // convex, in U and V; it may reach beyond the surface
	Finish  Finish
	// Treatment and Door say what it is; neither is a window, a light or a vent.
	Treatment, Door bool
	// Hidden is whether something built in stands against it, so that neither
	// sound nor light meets it. Hidden covers come last.
	Hidden bool
}

// Piece is an area of one finish.
type Piece struct {
	Name   string
	Area   float64 // m2
	Finish Finish
}

// Flat returns the flat coordinates of p.
func (s *Surface) Flat(p geometry.Vec) geometry.Vec2 {
	d := p.Sub(s.Origin)
	return geometry.Vec2{X: d.Dot(s.U), Y: d.Dot(s.V)}
}

// Height returns how far p lies before s, negative behind it.
func (s *Surface) Height(p geometry.Vec) float64 { return p.Sub(s.Origin).Dot(s.Normal) }

// FinishAt returns the finish at the flat coordinates q: that of the uppermost
// cover there that is not hidden, or the surface's own.
func (s *Surface) FinishAt(q geometry.Vec2) *Finish {
	for i := len(s.Covers) - 1; i >= 0; i-- {
		if c := &s.Covers[i]; !c.Hidden && c.Outline.Contains(q) {
			return &c.Finish
		}
	}
	return &s.Finish
}

// Pieces splits s into its areas of one finish: itself, then its covers in their
// order. What lies under a later cover is not counted again; what is hidden has
// no area.
func (s *Surface) Pieces() []Piece {
	out := make([]Piece, 1, 1+len(s.Covers))
	out[0] = Piece{s.Words, math.Abs(s.Outline.Area()) * s.stretch, s.Finish}
	for i := range s.Covers {
		c := &s.Covers[i]
		area := 0.0
		for _, open := range uncovered(c.Outline, s.Covers[i+1:]) {
			area += math.Abs(within(s.Outline, open).Area()) * s.stretch
		}
		out[0].Area -= area
		if c.Hidden {
			area = 0
		}
		out = append(out, Piece{c.Name, area, c.Finish})
	}
	out[0].Area = max(out[0].Area, 0) // rounding
	return out
}

// uncovered returns what the later covers leave of the convex outline p, as
// convex outlines that do not overlap: along each edge of a cover what lies
// outside is left, and the rest looked at by the next edge.
func uncovered(p geometry.Polygon, later []Cover) []geometry.Polygon {
	open := []geometry.Polygon{p}
	for i := range later {
		c := later[i].Outline
		lo, hi := c.Bounds()
		var left []geometry.Polygon
		for _, q := range open {
			if a, b := q.Bounds(); a.X >= hi.X || b.X <= lo.X || a.Y >= hi.Y || b.Y <= lo.Y {
				left = append(left, q)
				continue
			}
			for edge := range c {
				at, inward := c[edge], c.InwardNormal(edge)
				if out := q.ClipHalf(at, inward.Mul(-1)); math.Abs(out.Area()) > 0 {
					left = append(left, out)
				}
				if q = q.ClipHalf(at, inward); len(q) == 0 {
					break
				}
			}
		}
		open = left
	}
	return open
}

// within returns the part of p that lies in the convex outline c.
func within(p, c geometry.Polygon) geometry.Polygon {
	for edge := range c {
		p = p.ClipHalf(c[edge], c.InwardNormal(edge))
	}
	return p
}

// Mean returns the mean absorption of the surfaces that belong, by octaves and by thirds
// in the bass, by area with all that covers them, and that area in m2. Where all of them
// are hidden it is what they are made of; where none belongs it is 0.
func (s *Shell) Mean(belongs func(*Surface) bool) (mean Finish, area float64) {
	var bare *Finish
	for i := range s.Surfaces {
		on := &s.Surfaces[i]
		if !belongs(on) {
			continue
		}
		bare = &on.Finish
		for _, p := range on.Pieces() {
			area += p.Area
			for o := range mean.Absorption {
				mean.Absorption[o] += p.Area * p.Finish.Absorption[o]
			}
			for t := range mean.Bass {
				mean.Bass[t] += p.Area * p.Finish.Bass[t]
			}
		}
	}
	const least = 1e-6 // m2, rounding of what is hidden
	if area < least {
		if bare != nil {
			mean.Absorption, mean.Bass = bare.Absorption, bare.Bass
		}
		return mean, area
	}
	for o := range mean.Absorption {
		mean.Absorption[o] /= area
	}
	for t := range mean.Bass {
		mean.Bass[t] /= area
	}
	return mean, area
}
