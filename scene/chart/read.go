// SPDX-License-Identifier: MIT

package chart

import (
	"image"
	"math"

	"earline/scene/drawing"
)

// Field returns the rectangle of the field in pixels, empty when the paper is too
// small for one.
func (d *Layout) Field() image.Rectangle {
	if d.tooSmall {
		return image.Rectangle{}
	}
	f := d.field
	return image.Rect(int(f.X0), int(f.Y0), int(f.X1), int(f.Y1))
}

// At returns the values at a pixel, y down from the top; false outside the field.
func (d *Layout) At(px, py float64) (x, y float64, ok bool) {
	f := d.field
	if d.tooSmall || !(px >= f.X0 && px <= f.X1 && py >= f.Y0 && py <= f.Y1) {
		return 0, 0, false
	}
	return d.x.value(px), d.y.value(py), true
}

// Pixel returns the pixel of a pair of values, y down from the top; false outside
// the field.
func (d *Layout) Pixel(x, y float64) (px, py float64, ok bool) {
	if d.tooSmall || math.IsNaN(x) || math.IsNaN(y) {
		return 0, 0, false
	}
	px, py = d.x.pixel(x), d.y.pixel(y)
	const touch = 1e-6 // px, for values at the ends of an axis
	f := d.field
	return px, py, px >= f.X0-touch && px <= f.X1+touch && py >= f.Y0-touch && py <= f.Y1+touch
}

// Hit is a point of a series.
type Hit struct {
	Series, Index int
	X, Y          float64
	PX, PY        float64 // its pixel, inside the field
}

// Nearest returns the point of a series that is nearest to a pixel and closer than
// within pixels; false when there is none. The distance to a line is that to its
// nearest place, also between points. Points outside the field do not count. Of
// several that are as near, the first that is neither quiet nor an Area is taken,
// then a quiet one, then an Area, whose edges are often lines of their own.
func (d *Layout) Nearest(px, py, within float64) (Hit, bool) {
	if d.tooSmall || math.IsNaN(px) || math.IsNaN(py) {
		return Hit{}, false
	}
	best, found := Hit{}, false
	least := within
	rank := func(s *Series) int {
		switch {
		case s.Kind == Area:
			return 2
		case s.Quiet:
			return 1
		}
		return 0
	}
	for now := range 3 {
		for i := range d.chart.Series {
			s := &d.chart.Series[i]
			if rank(s) != now {
				continue
			}
			var last drawing.Point
			lastAt := -2
			d.eachPoint(s, func(k int, p drawing.Point) {
				away := math.Hypot(p.X-px, p.Y-py)
				switch {
				case s.Kind == Bars:
					r := d.barBox(s, d.styles[i].bar, k, p)
					away = math.Hypot(max(r.X0-px, px-r.X1, 0), max(r.Y0-py, py-r.Y1, 0))
				case s.Kind == Line && lastAt == k-1 && math.Abs(last.X-px) >= math.Abs(p.X-px):
					away = min(away, distanceToLine(px, py, last, p))
				}
				if s.Kind == Line && k+1 < s.length() {
					if next, ok := d.pixelOf(s, k+1); ok && math.Abs(next.X-px) >= math.Abs(p.X-px) {
						away = min(away, distanceToLine(px, py, p, next))
					}
				}
				last, lastAt = p, k
				if away < least && d.inField(p) {
					least, found = away, true
					best = Hit{Series: i, Index: k, X: s.X[k], Y: s.Y[k], PX: p.X, PY: p.Y}
				}
			})
		}
	}
	return best, found
}

// distanceToLine returns how far (x, y) is from the line between a and b.
func distanceToLine(x, y float64, a, b drawing.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := dx*dx + dy*dy
	if l == 0 {
		return math.Hypot(x-a.X, y-a.Y)
	}
	t := min(max(((x-a.X)*dx+(y-a.Y)*dy)/l, 0), 1)
	return math.Hypot(x-a.X-t*dx, y-a.Y-t*dy)
}

// Say returns a point in words, "63 Hz   −3.2 dB   row 2 seat 3"; "" when there is
// no such point.
func (d *Layout) Say(h Hit) string {
	if h.Series < 0 || h.Series >= len(d.chart.Series) {
		return ""
	}
	s := &d.chart.Series[h.Series]
	if h.Index < 0 || h.Index >= s.length() {
		return ""
	}
	const gap = "   "
	text := d.paper.Style.figure(d.x.say(s.X[h.Index])) + gap
	if l, ok := s.foot(h.Index); ok && s.Kind == Area {
		text += d.paper.Style.figure(d.y.say(l)) + " to "
	}
	text += d.paper.Style.figure(d.y.say(s.Y[h.Index]))
	if s.Name != "" {
		text += gap + s.Name
	}
	if h.Index < len(s.Names) && s.Names[h.Index] != "" {
		text += gap + s.Names[h.Index]
	}
	return text
}

// SayAt returns the values at a pixel in words; empty outside the field.
func (d *Layout) SayAt(px, py float64) string {
	x, y, ok := d.At(px, py)
	if !ok {
		return ""
	}
	return d.paper.Style.figure(d.x.say(x) + "   " + d.y.say(y))
}
