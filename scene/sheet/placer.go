// SPDX-License-Identifier: MIT

package sheet

import (
	"cmp"
	"math"
	"slices"

	"earline/scene/drawing"
)

// placeLabels gives every label its place, in an order that does not depend on that of
// drawing: candidates lie on rings about the point, and the first ring on which one is
// free is taken, at the place that covers least. It returns how many found none.
func (p *page) placeLabels() (lost int) {
	marks := p.marks
	p.marks = nil
	slices.SortStableFunc(marks, func(a, b mark) int {
		switch {
		case a.prior != b.prior:
			return a.prior - b.prior
		case math.Abs(a.at.Y-b.at.Y) > 1e-6:
			return cmp.Compare(a.at.Y, b.at.Y)
		case math.Abs(a.at.X-b.at.X) > 1e-6:
			return cmp.Compare(a.at.X, b.at.X)
		}
		return slices.Compare(a.lines, b.lines)
	})
	for _, m := range marks {
		if !p.placeLabel(m) {
			lost++
		}
	}
	return lost
}

func (p *page) placeLabel(m mark) bool {
	const h = small
	w := 0.0
	for _, l := range m.lines {
		w = max(w, p.width(l, h))
	}
	high := h + float64(len(m.lines)-1)*lineStep*h + drop*size(h)
	const step = 1.5 // mm from ring to ring
	// Not far in the room, farther beside it, anywhere on the sheet.
	for pass, rings := range [3]int{16, 60, 260} {
		if m.in[pass] == (drawing.Box{}) {
			continue
		}
		for ring := range rings {
			r := m.clear + gap + float64(ring)*step
			best, found := math.Inf(1), drawing.Box{}
			try := func(b drawing.Box, more float64) {
				if cost, free := p.cost(&m, b, m.in[pass], ring); free && cost+more < best {
					best, found = cost+more, b
				}
			}
			for _, q := range m.also {
				if ring > 3 {
					break
				}
				for i := range 4 {
					s, c := math.Sincos(math.Pi / 2 * float64(i))
					if m.over && i%2 == 0 {
						continue
					}
					x, y := q.X+r*c+c*w/2, q.Y+r*s+s*high/2
					try(drawing.Rect(x-w/2, y-high/2, x+w/2, y+high/2), 0.1)
				}
			}
			if ring == 0 && m.clear == 0 { // on its thing, where that is only an outline
				try(drawing.Rect(m.at.X-w/2, m.at.Y-high/2, m.at.X+w/2, m.at.Y+high/2), -1)
			}
			// Beside it first, then over and under, then the corners.
			n := 8
			if ring > 3 {
				n = 16
			}
			for i := range n {
				s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				if m.over && ring < 6 && math.Abs(c) > 1e-9 {
					continue
				}
				// The box touches the ring with the side or corner towards the point.
				x, y := m.at.X+r*c+c*w/2, m.at.Y+r*s+s*high/2
				try(drawing.Rect(x-w/2, y-high/2, x+w/2, y+high/2), 0.01*float64(i))
			}
			// The farther, the less is asked for; in the end only that no words are hit.
			worth := [3]float64{0.01 + 0.008*float64(ring), 0.04 + 0.01*float64(ring), 0.05 + 0.02*float64(ring)}[pass] * w * high
			if pass == 2 && ring > 20 {
				worth *= float64(ring)
			}
			if best <= worth {
				p.write(m, found, m.clear+gap+2.1*step)
				return true
			}
		}
	}
	return false
}

// cost says how much a label at b would cover, and whether it may stand there at all.
func (p *page) cost(m *mark, b, in drawing.Box, ring int) (cost float64, free bool) {
	if b.X0 < in.X0+0.2 || b.Y0 < in.Y0+0.2 || b.X1 > in.X1-0.2 || b.Y1 > in.Y1-0.2 {
		return 0, false
	}
	room := grown(b, gap)
	for i := range p.words {
		if overlap(room, p.words[i].box) > 0 {
			return 0, false
		}
	}
	for i := range p.solids {
		cost += overlap(b, p.solids[i])
	}
	const dear = 8 // times as much as what may be covered a little
	for i := range p.dear {
		cost += dear * overlap(b, p.dear[i])
	}
	for _, l := range p.leaders {
		if crosses(l[0], l[1], b) {
			cost += leaderCost
		}
	}
	if ring > 2 { // a leader had better not run through words
		at := m.nearest(b)
		end := nearestOn(b, at)
		for i := range p.words {
			if crosses(at, end, p.words[i].box) {
				cost += leaderCost
			}
		}
	}
	return cost, true
}

// nearest returns the point of the mark that is nearest to b.
func (m *mark) nearest(b drawing.Box) drawing.Point {
	far := func(q drawing.Point) float64 {
		e := nearestOn(b, q)
		return math.Hypot(e.X-q.X, e.Y-q.Y)
	}
	at := m.at
	for _, q := range m.also {
		if far(q) < far(at) {
			at = q
		}
	}
	return at
}

// write writes a label in its box, on white, with a line to the nearest of its points
// when that is farther than beside.
func (p *page) write(m mark, b drawing.Box, beside float64) {
	p.canvas = m.on
	at := m.nearest(b)
	if end := nearestOn(b, at); math.Hypot(end.X-at.X, end.Y-at.Y) > beside {
		p.lines(m.layer, m.ink, finest, []drawing.Point{at, end})
		p.leaders = append(p.leaders, [2]drawing.Point{at, end})
		p.dot(m.layer, m.ink, at, 0.35)
	}
	p.fill(maskLayer, white, corners(grown(b, 0.25)))
	for i, l := range m.lines {
		p.text(m.layer, m.ink, b.X0, b.Y0+small+float64(i)*lineStep*small, small, drawing.Start, l)
	}
	p.words = append(p.words[:len(p.words)-len(m.lines)], word{m.lines[0], b})
	if m.item != "" {
		p.named = append(p.named, named{m.item, b})
	}
}
