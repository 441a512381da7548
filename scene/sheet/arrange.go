// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
)

// scaleOf returns the largest scale at which every view fits onto a page by itself.
func (s *set) scaleOf(p *page, views ...*view) Scale {
	return largest(scales(s.metric), func(c Scale) bool {
		for _, v := range views {
			if w, h, _ := v.need(p, c); w > p.area.Dx() || h > p.area.Dy() {
				return false
			}
		}
		return true
	})
}

// fill puts views onto pages, row by row, all at the largest scale at which each fits.
func (s *set) fill(code, title string, views []*view) {
	if len(views) == 0 {
		return
	}
	p := s.newPage(title)
	scale := s.scaleOf(p, views...)
	pages := arrange(p, scale, views)
	for i, shelves := range pages {
		if i > 0 {
			p = s.newPage(title)
		}
		number := code
		if len(pages) > 1 {
			number = fmt.Sprintf("%s-%d", code, i+1)
			p.sheet.Title = fmt.Sprintf("%s, %d of %d", title, i+1, len(pages))
		}
		high := 0.0
		for _, sh := range shelves {
			high += sh.height
		}
		spare := max(p.area.Dy()-high, 0) / float64(len(shelves)+1)
		y := p.area.Y0 + spare
		for _, sh := range shelves {
			apart := max(p.area.Dx()-sh.width, 0) / float64(len(sh.views)+1)
			x := p.area.X0 + apart
			for _, v := range sh.views {
				w, h, _ := v.need(p, scale)
				// Titles of a shelf stand on one line.
				at := y + sh.height - h
				v.draw(p, scale, x, at)
				x += w + apart
			}
			y += sh.height + spare
		}
		s.lost += p.placeLabels()
		s.pages = append(s.pages, composed{p, scale, number})
	}
}

// shelf is a row of views on a page.
type shelf struct {
	views         []*view
	width, height float64
}

// arrange puts views in their order onto shelves, and shelves onto pages.
func arrange(p *page, scale Scale, views []*view) (pages [][]shelf) {
	var shelves []shelf
	for _, v := range views {
		w, h, _ := v.need(p, scale)
		n := len(shelves)
		if n > 0 && shelves[n-1].width+between+w <= p.area.Dx() {
			sh := &shelves[n-1]
			sh.views, sh.width, sh.height = append(sh.views, v), sh.width+between+w, max(sh.height, h)
			continue
		}
		shelves = append(shelves, shelf{[]*view{v}, w, h})
	}
	left := 0.0
	for _, sh := range shelves {
		if len(pages) == 0 || sh.height > left {
			pages, left = append(pages, nil), p.area.Dy()
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], sh)
		left -= sh.height + between
	}
	return pages
}
