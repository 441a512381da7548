// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
)

// CeilingPlane is one more slope of a ceiling, by what a tape gives: the height over
// one point of the floor and over another. In between and beyond, the height goes on
// evenly; square to the line through both it does not change. It only ever lowers
// the ceiling: where it is the higher one it does not count.
//
// The far half of a gable whose ridge runs from the screen to the back: from a point
// under the ridge, with the height of the ridge, to the knee wall square across from
// it, with its height.
type CeilingPlane struct {
	From       Corner      `json:"from"`
	FromHeight unit.Length `json:"from_height_m"`
	To         Corner      `json:"to"`
	ToHeight   unit.Length `json:"to_height_m"`
}

// slope returns p as a plane over the floor.
func (p CeilingPlane) slope() geometry.Slope {
	return geometry.SlopeThrough(p.From.vec(), float64(p.FromHeight), p.To.vec(), float64(p.ToHeight))
}

func (c Corner) vec() geometry.Vec2 { return geometry.Vec2{X: float64(c.X), Y: float64(c.Y)} }

// Equal reports whether c and o say the same.
func (c Ceiling) Equal(o Ceiling) bool {
	return c.Slope == o.Slope && c.Height == o.Height && c.FarHeight == o.FarHeight && slices.Equal(c.Planes, o.Planes)
}

// Raised returns c higher by so much everywhere.
func (c Ceiling) Raised(by unit.Length) Ceiling {
	c.Height += by
	c.FarHeight += by
	c.Planes = slices.Clone(c.Planes)
	for i := range c.Planes {
		c.Planes[i].FromHeight += by
		c.Planes[i].ToHeight += by
	}
	return c
}

// first returns the height of the ceiling at (x, y) without its planes.
func (r Room) first(x, y float64) float64 {
	c := r.Ceiling
	h, far := float64(c.Height), float64(c.FarHeight)
	lo, hi := r.Polygon().Bounds()
	switch c.Slope {
	case FrontToBack:
		if hi.X > lo.X {
			return h + (far-h)*(x-lo.X)/(hi.X-lo.X)
		}
	case LeftToRight:
		if hi.Y > lo.Y {
			return h + (far-h)*(y-lo.Y)/(hi.Y-lo.Y)
		}
	}
	return h
}

// CeilingAt returns the height of the ceiling above the floor at (x, y), in
// metres. Beyond the footprint it goes on in the same planes.
func (r Room) CeilingAt(x, y float64) float64 {
	h := r.first(x, y)
	for _, p := range r.Ceiling.Planes {
		h = min(h, p.slope().At(x, y))
	}
	return h
}

// Slopes returns the planes of the ceiling over the floor: the one that slope and
// heights give, then the further ones. Every question of how high the ceiling is and
// of its pieces is put to them.
func (r Room) Slopes() geometry.Ceiling {
	h := r.first(0, 0)
	out := geometry.Ceiling{{Height: h, AlongX: r.first(1, 0) - h, AlongY: r.first(0, 1) - h}}
	for _, p := range r.Ceiling.Planes {
		out = append(out, p.slope())
	}
	return out
}

// CeilingNormal returns the unit normal, into the room, of the piece of ceiling over
// (x, y).
func (r Room) CeilingNormal(x, y float64) geometry.Vec {
	s := r.Slopes()
	return s[s.Over(x, y)].Down()
}

// CeilingName names the piece of ceiling under one of Slopes: "ceiling plane 2" is
// that of the second of Planes. A ceiling of one piece is the "ceiling".
func (r Room) CeilingName(slope int) string {
	if slope == 0 || slope > len(r.Ceiling.Planes) {
		return "ceiling"
	}
	return fmt.Sprintf("ceiling plane %d", slope)
}
