// SPDX-License-Identifier: MIT

package sheet

import (
	"earline/project/setout"
	"earline/scene/drawing"
)

// Spot is where an item of the list is drawn.
type Spot struct {
	Sheet int         // counted from 0
	Box   drawing.Box // round it, in millimetres of the sheet
}

// spot returns where an item is drawn: on its wall as that is seen from inside, on the
// ceiling, on the plan what stands on the floor or on a wall without a drawing of its own.
func (s *set) spot(it *setout.Item) Spot {
	var found Spot
	for i := range s.pages {
		for _, v := range s.pages[i].page.drawn {
			own := v.as.view.shows == it.On || v.as.view.shows == setout.OnWall && it.On == setout.BehindScreen
			if v.as.view.shows == setout.OnWall {
				own = own && v.as.view.wall == it.Wall
			}
			if own {
				return Spot{i, v.as.round(it)}
			}
			if v.as.view.shows == setout.OnFloor {
				found = Spot{i, v.as.round(it)}
			}
		}
	}
	return found
}

// round returns a box round an item: its hole, its edges or its front, and of all else,
// and of what is small on paper, as much as the eye needs.
func (d *drawn) round(it *setout.Item) drawing.Box {
	const least = 4.0 // mm of paper, from the middle
	w, h := 0.0, 0.0
	switch {
	case it.Cutout != nil:
		w, h = it.Cutout.Width, it.Cutout.Height
	case it.Edges != nil:
		w, h = it.Edges.Width, it.Edges.Height
	case it.Frame != nil && it.Kind == setout.Speaker:
		w, h = it.Frame.Width, it.Frame.Height
	}
	k, at := d.scale.mm(), d.at(it.At)
	if d.view.right.X != 0 && d.view.shows != setout.OnWall { // a plan with the screen at the left
		w, h = h, w
	}
	w, h = max(k*w/2+1, least), max(k*h/2+1, least)
	return drawing.Rect(at.X-w, at.Y-h, at.X+w, at.Y+h)
}
