// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"
	"math"
	"slices"

	"earline/scene/drawing"
)

// mark is a label that waits for its place: near a point, off other words, and if it
// can be off what is drawn.
type mark struct {
	at    drawing.Point
	also  []drawing.Point // other points that would do
	over  bool            // it belongs over or under a level line, not on it
	clear float64         // mm from the point that its thing takes
	lines []string
	layer string
	ink   color.NRGBA
	prior int // lower ones choose first
	on    drawing.Canvas
	in    [3]drawing.Box // where it had better stay, had next best stay, must stay
	item  string         // what it names, for links; may be empty
}

// named is where an item is named on a sheet.
type named struct {
	item string
	box  drawing.Box
}

const (
	lineStep = 1.55 // heights of capitals from line to line
	gap      = 0.6  // mm between a label and other words
	// leaderCost is what it costs to stand on another's leader, square millimetres.
	leaderCost = 60
)

// label asks for a place for lines of text near a point.
func (p *page) label(layer string, ink color.NRGBA, at drawing.Point, clear float64, prior int, lines ...string) {
	if !finite(at) {
		return
	}
	const longest = 60 // mm: a name, not a letter
	var fit []string
	for _, l := range lines {
		if l = p.fitted(l, small, longest); l != "" {
			fit = append(fit, l)
		}
	}
	if len(fit) > 0 {
		p.marks = append(p.marks, mark{at: at, clear: clear, lines: fit, layer: layer, ink: ink, prior: prior, on: p.canvas, in: [3]drawing.Box{p.inner, p.cell, p.area}})
	}
}

// labelIn asks for a place in an outline for what names it; beside it where the
// outline is too small.
func (p *page) labelIn(layer string, ink color.NRGBA, ring []drawing.Point, prior int, lines ...string) {
	b := around(ring)
	w := 0.0
	for _, l := range lines {
		w = max(w, p.width(l, small))
	}
	at := drawing.Pt((b.X0+b.X1)/2, (b.Y0+b.Y1)/2)
	if w < b.Dx()-0.5 && (float64(len(lines)-1)*lineStep+1)*small < b.Dy()-0.5 {
		p.label(layer, ink, at, 0, prior, lines...)
		return
	}
	p.solids = append(p.solids, b)
	p.label(layer, ink, at, max(min(b.Dx(), b.Dy())/2, 0.1), prior, lines...)
}

// onLine asks for a place over or under a level line for what names it, at any of some
// places along it.
func (p *page) onLine(layer string, ink color.NRGBA, from, to drawing.Point, prior int, lines ...string) {
	at := func(t float64) drawing.Point { return drawing.Pt(from.X+(to.X-from.X)*t, from.Y+(to.Y-from.Y)*t) }
	p.label(layer, ink, at(0.5), 0.3, prior, lines...)
	for _, t := range [6]float64{0.35, 0.65, 0.2, 0.8, 0.1, 0.9} {
		p.orAt(at(t))
	}
	if n := len(p.marks); n > 0 {
		p.marks[n-1].over = true
	}
}

// orAt says that the label asked for last may as well name another point.
func (p *page) orAt(q drawing.Point) {
	if n := len(p.marks); n > 0 && finite(q) {
		p.marks[n-1].also = append(p.marks[n-1].also, q)
	}
}

// naming says that the label asked for last names an item of the set-out list.
func (p *page) naming(item string) {
	if n := len(p.marks); n > 0 {
		p.marks[n-1].item = item
	}
}

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
			return sign(a.at.Y - b.at.Y)
		case math.Abs(a.at.X-b.at.X) > 1e-6:
			return sign(a.at.X - b.at.X)
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
	for pass, rings := range [3]int{16, 30, 260} {
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
			worth := (0.02 + 0.02*float64(ring)) * w * high
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

// dot fills a disc.
func (p *page) dot(layer string, ink color.NRGBA, at drawing.Point, r float64) {
	p.fill(layer, ink, arc(at, r, 0, 2*math.Pi, 12))
}

// arc returns n+1 points on an arc from one angle to another; y down.
func arc(at drawing.Point, r, from, to float64, n int) []drawing.Point {
	out := make([]drawing.Point, 0, n+1)
	for i := range n + 1 {
		s, c := math.Sincos(from + (to-from)*float64(i)/float64(n))
		out = append(out, drawing.Pt(at.X+r*c, at.Y+r*s))
	}
	return out
}

// nearestOn returns the point of b nearest to q.
func nearestOn(b drawing.Box, q drawing.Point) drawing.Point {
	return drawing.Pt(min(max(q.X, b.X0), b.X1), min(max(q.Y, b.Y0), b.Y1))
}

// crosses reports whether the line from a to b passes through box.
func crosses(a, b drawing.Point, box drawing.Box) bool {
	return len(drawing.ClipLines(box, []drawing.Point{a, b})) > 0
}

func finite(q drawing.Point) bool {
	return !math.IsNaN(q.X) && !math.IsNaN(q.Y) && !math.IsInf(q.X, 0) && !math.IsInf(q.Y, 0)
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

func sortFloats(v []float64) { slices.Sort(v) }

func sortPoints(ps []drawing.Point) {
	slices.SortFunc(ps, func(a, b drawing.Point) int {
		if a.X != b.X {
			return sign(a.X - b.X)
		}
		if a.Y != b.Y {
			return sign(a.Y - b.Y)
		}
		return 0
	})
}

func reversePoints(ps []drawing.Point) { slices.Reverse(ps) }
