// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"
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

// ceilingPlanes judges the planes, and, where the rest of the room is sound, what
// they make of it.
func (c *checker) ceilingPlanes(r Room, sound bool) {
	const (
		apart  = 0.1  // m: nearer than that no tape gives a slope
		counts = 1e-4 // square metres, a square centimetre
	)
	before := len(c.faults)
	n := c.count("room.ceiling.planes", len(r.Ceiling.Planes), 0, MaxPlanes)
	at := func(i int) string { return fmt.Sprintf("room.ceiling.planes[%d]", i) }
	for i, p := range r.Ceiling.Planes[:n] {
		c.length(at(i)+".from.x_m", p.From.X, 0, maxPlace)
		c.length(at(i)+".from.y_m", p.From.Y, 0, maxPlace)
		c.length(at(i)+".from_height_m", p.FromHeight, 0, maxHeight)
		c.length(at(i)+".to.x_m", p.To.X, 0, maxPlace)
		c.length(at(i)+".to.y_m", p.To.Y, 0, maxPlace)
		c.length(at(i)+".to_height_m", p.ToHeight, 0, maxHeight)
		if p.From.vec().Dist(p.To.vec()) < apart {
			c.fault(at(i)+".to", "less than 100 mm from where it is from", "100 mm or more apart, seen from above")
		}
	}
	if n == 0 || !sound || len(c.faults) > before {
		return
	}
	slopes, poly := r.Slopes(), r.Polygon()
	area := make([]float64, len(slopes))
	for _, p := range slopes.Pieces(poly) {
		area[p.Slope] = math.Abs(p.Outline.Area())
	}
	for i := range n {
		if k := slices.IndexFunc(slopes[:i+1], func(s geometry.Slope) bool { return same(s, slopes[i+1], poly) }); k >= 0 {
			c.fault(at(i), fmt.Sprintf("ceiling plane %d lies in the %s", i+1, r.CeilingName(k)), "each plane once")
		} else if area[i+1] < counts {
			c.fault(at(i), fmt.Sprintf("ceiling plane %d is everywhere above the others", i+1), "one that lowers the ceiling over some of the floor")
		}
	}
	for i, q := range poly { // between corners no ceiling is lower
		if k := slopes.Over(q.X, q.Y); k > 0 && slopes.At(q.X, q.Y) < minHeight {
			c.fault(at(k-1), fmt.Sprintf("%.3g m over corner %d of the footprint", slopes.At(q.X, q.Y), i+1),
				figure(minHeight)+" m or more over all of it: end the floor at a knee wall")
			return
		}
	}
}

// same reports whether two planes are one over the outline, to a tenth of a
// millimetre.
func same(a, b geometry.Slope, outline geometry.Polygon) bool {
	const tape = 1e-4 // m
	for _, q := range outline {
		if math.Abs(a.At(q.X, q.Y)-b.At(q.X, q.Y)) > tape {
			return false
		}
	}
	return true
}
