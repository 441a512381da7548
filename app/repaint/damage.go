// SPDX-License-Identifier: MIT

package repaint

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// step is one thing painted: text, image, rectangle. Rectangles of pixels have y up, as
// OpenGL has it.
type step struct {
	obj  fyne.CanvasObject
	pos  fyne.Position
	size fyne.Size
	look any             // what it is painted from; of pictures not all
	all  bool            // look is all of it
	clip image.Rectangle // what may be painted on
	at   image.Rectangle // what it may touch, within clip

	whole image.Rectangle // what it has, whatever clip
}

// same reports whether s and o look alike at the same place.
func (s *step) same(o *step) bool {
	return s.pos == o.pos && s.size == o.size && s.at == o.at && s.clip == o.clip && s.look == o.look
}

// note notes what s's object is painted from, and reports whether it is painted at all.
func (s *step) note() (painted bool) {
	s.all = true
	switch o := s.obj.(type) {
	case *canvas.Rectangle:
		s.look = *o
		return !unseen(o.FillColor) || !unseen(o.StrokeColor) && o.StrokeWidth != 0
	case *canvas.Text:
		s.look = *o
		return o.Text != ""
	case *canvas.Line:
		s.look = *o
	case *canvas.Circle:
		s.look = *o
	case *canvas.Polygon:
		s.look = *o
	case *canvas.Arc:
		s.look = *o
	case *canvas.Image:
		s.look, s.all = o.Alpha(), false
	case *canvas.Raster:
		s.look, s.all = o.Alpha(), false
	case *canvas.LinearGradient, *canvas.RadialGradient:
		s.all = false
	default: // containers and widgets
		return false
	}
	return true
}

func unseen(c color.Color) bool { return c == nil || c == color.Transparent }

// reach returns how far o may be painted beyond its place, in points: soft edges, the
// width of a line, a text that is longer than its place.
func reach(o fyne.CanvasObject) fyne.Size {
	out := fyne.NewSquareSize(2)
	switch o := o.(type) {
	case *canvas.Line:
		out = out.AddWidthHeight(o.StrokeWidth, o.StrokeWidth)
	case *canvas.Text:
		over := o.MinSize().Subtract(o.Size())
		// A slanted letter leans out of its place.
		out = out.AddWidthHeight(max(over.Width, 0)+o.TextSize/2, max(over.Height, 0))
	}
	return out
}

// damage returns what must be painted anew where before was painted and now is to be;
// refreshed are those whose pictures may be others. Whatever is in
// both lists, in the same order and alike, is not damaged.
func damage(before, now []step, refreshed map[fyne.CanvasObject]struct{}) []image.Rectangle {
	place := make(map[fyne.CanvasObject]int, len(before))
	for i := range before {
		place[before[i].obj] = i
	}
	kept := make([]bool, len(before))
	var list areas
	last := -1
	for i := range now {
		s := &now[i]
		j, was := place[s.obj]
		if was && j > last {
			last = j
			if _, fresh := refreshed[s.obj]; (s.all || !fresh) && s.same(&before[j]) {
				kept[j] = true
				continue
			}
		}
		list.add(s.at)
	}
	for j := range before {
		if !kept[j] {
			list.add(before[j].at)
		}
	}
	return list
}

// areas are rectangles of which none meets another.
type areas []image.Rectangle

// few is how many areas there are at most: each is a pass over what is painted.
const few = 8

// add puts r in; areas that meet, or lie so near that one pass is less work, become
// one.
func (a *areas) add(r image.Rectangle) {
	if r.Empty() {
		return
	}
	for i := 0; i < len(*a); i++ {
		if o := (*a)[i]; o.Overlaps(r) || len(*a) == few && i == a.nearest(r) || area(o.Union(r)) <= area(o)+area(r)+4096 {
			r = r.Union(o)
			*a = append((*a)[:i], (*a)[i+1:]...)
			i = -1 // it may meet others now
		}
	}
	*a = append(*a, r)
}

// nearest returns the area that grows least if r is put to it.
func (a *areas) nearest(r image.Rectangle) int {
	best, least := 0, math.MaxInt
	for i, o := range *a {
		if grown := area(o.Union(r)) - area(o); grown < least {
			best, least = i, grown
		}
	}
	return best
}

func area(r image.Rectangle) int { return r.Dx() * r.Dy() }
