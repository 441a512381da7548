// SPDX-License-Identifier: MIT

package plot

import (
	"image"
	"math"
)

// Field returns the rectangle of the field in pixels, empty where the paper is
// too small for one.
func (d *Drawing) Field() image.Rectangle {
	if d.empty {
		return image.Rectangle{}
	}
	f := d.field
	return image.Rect(int(f.x0), int(f.y0), int(f.x1), int(f.y1))
}

// At returns the values at a pixel, y down from the top; false outside the field.
func (d *Drawing) At(px, py float64) (x, y float64, ok bool) {
	f := d.field
	if d.empty || !(px >= f.x0 && px <= f.x1 && py >= f.y0 && py <= f.y1) {
		return 0, 0, false
	}
	return d.x.value(px), d.y.value(py), true
}

// Pixel returns where a pair of values stands, y down from the top; false outside
// the field.
func (d *Drawing) Pixel(x, y float64) (px, py float64, ok bool) {
	if d.empty || math.IsNaN(x) || math.IsNaN(y) {
		return 0, 0, false
	}
	px, py = d.x.pixel(x), d.y.pixel(y)
	const touch = 1e-6 // px, for values at the ends of an axis
	f := d.field
	return px, py, px >= f.x0-touch && px <= f.x1+touch && py >= f.y0-touch && py <= f.y1+touch
}

// Hit is a point of a series.
type Hit struct {
	Series, Index int
	X, Y          float64
	PX, PY        float64 // its pixel, inside the field
}

// Nearest returns the point of a series that is nearest to a pixel, measured to
// the lines between points too, no farther away than within pixels; false when
// there is none. Points outside the field do not count. Where several are as near,
// what is quiet comes after what is not, and an Area, whose edges are those of
// other lines, last.
func (d *Drawing) Nearest(px, py, within float64) (Hit, bool) {
	if d.empty || math.IsNaN(px) || math.IsNaN(py) {
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
			var last point
			lastAt := -2
			d.each(s, func(k int, p point) {
				away := math.Hypot(p.x-px, p.y-py)
				switch {
				case s.Kind == Bars:
					r := d.bar(s, d.looks[i].bar, k, p)
					away = math.Hypot(max(r.x0-px, px-r.x1, 0), max(r.y0-py, py-r.y1, 0))
				case s.Kind == Line && lastAt == k-1 && math.Abs(last.x-px) >= math.Abs(p.x-px):
					away = min(away, toLine(px, py, last, p))
				}
				if s.Kind == Line && k+1 < s.length() {
					if x, y, ok := s.point(k + 1); ok && (d.x.kind != Frequency || x > 0) {
						next := point{d.x.pixel(x), d.y.pixel(y)}
						if math.Abs(next.x-px) >= math.Abs(p.x-px) {
							away = min(away, toLine(px, py, p, next))
						}
					}
				}
				last, lastAt = p, k
				if away < least && d.field.holds(p) {
					least, found = away, true
					best = Hit{Series: i, Index: k, X: s.X[k], Y: s.Y[k], PX: p.x, PY: p.y}
				}
			})
		}
	}
	return best, found
}

// toLine returns how far a place is from the line between a and b.
func toLine(x, y float64, a, b point) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	l := dx*dx + dy*dy
	if l == 0 {
		return math.Hypot(x-a.x, y-a.y)
	}
	t := min(max(((x-a.x)*dx+(y-a.y)*dy)/l, 0), 1)
	return math.Hypot(x-a.x-t*dx, y-a.y-t*dy)
}

// Say returns a point in words: "63 Hz   −3.2 dB   row 2 seat 3".
func (d *Drawing) Say(h Hit) string {
	if h.Series < 0 || h.Series >= len(d.chart.Series) {
		return ""
	}
	s := &d.chart.Series[h.Series]
	if h.Index < 0 || h.Index >= s.length() {
		return ""
	}
	const gap = "   "
	text := d.x.say(s.X[h.Index]) + gap
	if l, ok := s.low(h.Index); ok && s.Kind == Area {
		text += d.y.say(l) + " to "
	}
	text += d.y.say(s.Y[h.Index])
	if s.Name != "" {
		text += gap + s.Name
	}
	if h.Index < len(s.Names) && s.Names[h.Index] != "" {
		text += gap + s.Names[h.Index]
	}
	return text
}

// SayAt returns the values at a pixel in words; empty outside the field.
func (d *Drawing) SayAt(px, py float64) string {
	x, y, ok := d.At(px, py)
	if !ok {
		return ""
	}
	return d.x.say(x) + "   " + d.y.say(y)
}
