// SPDX-License-Identifier: MIT

package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/geometry/unit"
	"earline/scene/drawing"
)

// row is a row of dimensions beside a view.
type row struct {
	metric bool
	// running dimensions all count from zero, as a tape does that is hooked on once;
	// those of a chain from stop to stop.
	running bool
	zero    float64 // along the side, metres
	signed  bool    // running over and under zero
	stops   []stop  // in order
}

// stop is where a dimension ends.
type stop struct {
	at    float64  // along the side, metres
	name  string   // of what is there; may be empty
	names []string // of all that are there, while stops are made one
}

// stopsAt returns stops without names.
func stopsAt(at ...float64) []stop {
	out := make([]stop, len(at))
	for i, v := range at {
		out[i].at = v
	}
	return out
}

// tidy sorts stops and makes one of those that a tape cannot tell apart.
func tidy(stops []stop) []stop {
	const same = 0.0005 // m
	slices.SortStableFunc(stops, func(a, b stop) int {
		if a.at != b.at {
			return sign(a.at - b.at)
		}
		return 0
	})
	var out []stop
	for _, s := range stops {
		if n := len(out); n > 0 && s.at-out[n-1].at < same {
			if s.name != "" && !slices.Contains(out[n-1].names, s.name) {
				out[n-1].names = append(out[n-1].names, s.name)
			}
			continue
		}
		s.names = nil
		if s.name != "" {
			s.names = []string{s.name}
		}
		out = append(out, s)
	}
	for i := range out {
		switch n := paired(out[i].names); {
		case len(n) == 1:
			out[i].name = n[0]
		case len(n) == 2:
			out[i].name = n[0] + ", " + n[1]
		case len(n) > 2:
			out[i].name = fmt.Sprintf("%s and %d more", n[0], len(n)-1)
		}
	}
	return out
}

// paired returns names with left and right in one, as the trade writes them: U±045 of
// U+045 and U-045.
func paired(names []string) (out []string) {
	for i, n := range names {
		left, right := strings.Replace(n, "-", "+", 1), strings.Replace(n, "+", "-", 1)
		if left == right || !slices.Contains(names, left) || !slices.Contains(names, right) {
			out = append(out, n)
			continue
		}
		if i == min(slices.Index(names, left), slices.Index(names, right)) { // once, in place of the first
			out = append(out, strings.Replace(left, "+", "±", 1))
		}
	}
	return out
}

// chain adds a row from stop to stop, and reports whether there is anything to it.
func (s *set) chain(v *view, side int, stops []stop) bool {
	if stops = tidy(stops); len(stops) < 2 {
		return false
	}
	const text = 8 // mm, of a usual dimension
	return s.add(v, side, text, row{metric: s.metric, stops: stops})
}

// parts is chain for parts of a whole: of one part there is nothing to tell.
func (s *set) parts(v *view, side int, stops []stop) bool {
	return len(tidy(stops)) > 2 && s.chain(v, side, stops)
}

// runs adds a row that counts from zero.
func (s *set) runs(v *view, side int, zero float64, signed bool, stops []stop) {
	if stops = tidy(stops); len(stops) > 0 {
		s.add(v, side, pitch, row{metric: s.metric, running: true, zero: zero, signed: signed, stops: stops})
	}
}

// add adds a row, each of whose texts takes so many millimetres, unless it is longer than
// any sheet: then the view says where else to look.
func (s *set) add(v *view, side int, text float64, r row) bool {
	long := s.paper.Width
	if side == leftOf || side == rightOf {
		long = s.paper.Height
	}
	const share = 0.6 // of the sheet, beside frame, title block and other rows
	if float64(len(r.stops))*text > share*long {
		v.notes = append(v.notes, fmt.Sprintf("%d dimensions are too many to draw on one side: see the set-out list.", len(r.stops)))
		return false
	}
	v.rows[side] = append(v.rows[side], r)
	return true
}

// measure writes a length as it is read on a tape: millimetres, or feet, inches and
// sixteenths.
func measure(metric bool, metres float64) string {
	if metric {
		const hair = 1e-6 // mm: half a millimetre that rounding took away
		mm := math.Round(metres*1000 + math.Copysign(hair, metres))
		return strconv.FormatFloat(mm+0, 'f', 0, 64)
	}
	return unit.Length(metres).Format(false)
}

// signed writes a height over or under something, always with its sign.
func signed(metric bool, metres float64) string {
	s := measure(metric, metres)
	switch {
	case s == "0" || s == `0"`:
		return "±" + s
	case metres > 0:
		return "+" + s
	}
	return "−" + s[1:]
}

// step is what a tape reads that is hooked on at the first stop: a dimension is the
// difference of two of its readings, so that the parts of a chain add up to the whole.
func (r *row) step(at float64) float64 {
	if r.metric {
		return math.Round(at*1000+1e-6) / 1000
	}
	const sixteenth = float64(unit.Inch) / 16
	return math.Round(at/sixteenth) * sixteenth
}

// word returns what stands at stop i of running dimensions, or between i and the next.
func (r *row) word(i int) string {
	if !r.running {
		first := r.stops[0].at
		return measure(r.metric, r.step(r.stops[i+1].at-first)-r.step(r.stops[i].at-first))
	}
	by := r.stops[i].at - r.zero
	text := ""
	if r.signed {
		text = signed(r.metric, by)
	} else {
		text = measure(r.metric, math.Abs(by))
	}
	if n := r.stops[i].name; n != "" {
		text += "  " + n
	}
	return text
}

const (
	arrow    = 0.9         // mm, half the stroke that ends a dimension
	lineRoom = small + 2.6 // mm that a row of one line of text takes
	tier     = small + 1.6 // mm for a second line of it
	pitch    = small * 1.5 // mm from one line of running dimensions to the next
	lead     = 4.0         // mm from the line of running dimensions to their text
)

// depth returns how much paper the row takes away from the view.
func (r *row) depth(p *page, v *view, s Scale, side int) float64 {
	if r.running {
		longest := 0.0
		for i := range r.stops {
			longest = max(longest, p.width(r.word(i), small))
		}
		return 2 + lead + longest + 1.6
	}
	if slices.Contains(r.narrow(p, s), true) {
		return lineRoom + tier
	}
	return lineRoom
}

// overflow returns how far the row reaches beyond the ends of the view: at its lower
// and at its higher end along the side, mm.
func (r *row) overflow(p *page, s Scale, lo, hi float64) (low, high float64) {
	k := s.mm()
	var want, sep []float64
	if r.running {
		for _, st := range r.stops {
			want, sep = append(want, k*st.at), append(sep, pitch)
		}
	} else {
		for i, n := range r.narrow(p, s) {
			if n {
				want = append(want, k*(r.stops[i].at+r.stops[i+1].at)/2)
				sep = append(sep, p.width(r.word(i), small)+1.6)
			}
		}
	}
	for i, at := range spread(want, sep) {
		low, high = max(low, k*lo-at+sep[i]/2), max(high, at+sep[i]/2-k*hi)
	}
	return low, high
}

// narrow says between which stops the text has no room.
func (r *row) narrow(p *page, s Scale) []bool {
	out := make([]bool, len(r.stops)-1)
	for i := range out {
		out[i] = p.width(r.word(i), small)+1 > s.mm()*(r.stops[i+1].at-r.stops[i].at)
	}
	return out
}

// gutter is the paper beside a view.
type gutter struct {
	d    *drawn
	side int
}

// at returns the point of the paper that is so far along the side (metres) and so far
// away from the view (mm).
func (g gutter) at(along, away float64) drawing.Point {
	return g.off(g.along(along), away)
}

// along returns where a length along the side is on paper, mm.
func (g gutter) along(metres float64) float64 {
	if g.side == below || g.side == above {
		return g.d.at0.X + g.d.scale.mm()*metres
	}
	return g.d.at0.Y - g.d.scale.mm()*metres
}

// off is at, but with mm along the side.
func (g gutter) off(along, away float64) drawing.Point {
	b := g.d.box()
	switch g.side {
	case below:
		return drawing.Pt(along, b.Y1+away)
	case above:
		return drawing.Pt(along, b.Y0-away)
	case leftOf:
		return drawing.Pt(b.X0-away, along)
	}
	return drawing.Pt(b.X1+away, along)
}

// draw draws the row, depth mm away from the view.
func (r *row) draw(d *drawn, side int, depth float64) {
	g := gutter{d, side}
	if r.running {
		r.drawRunning(g, depth)
		return
	}
	r.drawChain(g, depth)
}

func (r *row) drawRunning(g gutter, depth float64) {
	d := g.d
	line := depth + 1.5
	from, to := r.zero, r.zero
	want, sep := make([]float64, len(r.stops)), make([]float64, len(r.stops))
	for i, s := range r.stops {
		from, to = min(from, s.at), max(to, s.at)
		want[i], sep[i] = g.along(s.at), pitch
	}
	places := spread(want, sep)
	strokes := [][]drawing.Point{{g.at(from, line), g.at(to, line)}}
	for i, s := range r.stops {
		end := g.off(places[i], line+lead)
		strokes = append(strokes, []drawing.Point{g.at(s.at, 1), g.at(s.at, line+1), g.off(places[i], line+lead-1), end})
		d.dot(dimensionLayer, black, g.at(s.at, line), 0.45)
		switch g.side {
		case below:
			d.textUp(dimensionLayer, black, end.X+small/2, end.Y+0.6, small, drawing.End, r.word(i))
		case above:
			d.textUp(dimensionLayer, black, end.X+small/2, end.Y-0.6, small, drawing.Start, r.word(i))
		case leftOf:
			d.text(dimensionLayer, black, end.X-0.6, end.Y+small/2, small, drawing.End, r.word(i))
		default:
			d.text(dimensionLayer, black, end.X+0.6, end.Y+small/2, small, drawing.Start, r.word(i))
		}
	}
	d.lines(dimensionLayer, black, thin, strokes...)
	d.circle(dimensionLayer, black, thin, g.at(r.zero, line), 1) // where the tape is hooked on
}

func (r *row) drawChain(g gutter, depth float64) {
	d := g.d
	flat := g.side == below || g.side == above
	// The text stands over the line as one reads it: from below, or from the right.
	line := depth + lineRoom - 1.2
	if g.side == above || g.side == leftOf {
		line = depth + 1.2
	}
	narrow := r.narrow(d.page, d.scale)
	var strokes [][]drawing.Point
	var want, sep []float64
	var which []int
	for i, n := range narrow {
		a, b := r.stops[i].at, r.stops[i+1].at
		middle := g.at((a+b)/2, line)
		away := max(line-lineRoom, 1)
		if !n {
			turn := 90.0
			box := d.upBox(middle.X-0.8, middle.Y, r.word(i))
			if flat {
				turn, box = 0, d.levelBox(middle.X, middle.Y-0.8, r.word(i))
			}
			d.words = append(d.words, word{r.word(i), box})
			d.dimension(g.at(a, away), g.at(b, away), middle, turn, r.word(i))
			continue
		}
		strokes = append(strokes, []drawing.Point{g.at(a, line), g.at(b, line)})
		for _, at := range [2]float64{a, b} {
			q := g.at(at, line)
			strokes = append(strokes,
				[]drawing.Point{{X: q.X - arrow, Y: q.Y + arrow}, {X: q.X + arrow, Y: q.Y - arrow}},
				[]drawing.Point{g.at(at, away+1), g.at(at, line+1)})
		}
		which = append(which, i)
		want = append(want, g.along((a+b)/2))
		sep = append(sep, d.width(r.word(i), small)+1.6)
	}
	// Text without room stands on the far side of the line, or over the text that has it.
	clear := 1.0 // mm from the line
	if g.side == above || g.side == leftOf {
		clear = small + 1.5
	}
	for k, at := range spread(want, sep) {
		i := which[k]
		q := g.off(at, line+clear)
		switch g.side {
		case below:
			d.text(dimensionLayer, black, q.X, q.Y+small, small, drawing.Middle, r.word(i))
		case above:
			d.text(dimensionLayer, black, q.X, q.Y-drop*size(small), small, drawing.Middle, r.word(i))
		case leftOf:
			d.textUp(dimensionLayer, black, q.X-drop*size(small), q.Y, small, drawing.Middle, r.word(i))
		default:
			d.textUp(dimensionLayer, black, q.X+small, q.Y, small, drawing.Middle, r.word(i))
		}
		strokes = append(strokes, []drawing.Point{g.at((r.stops[i].at+r.stops[i+1].at)/2, line), q})
	}
	d.lines(dimensionLayer, black, thin, strokes...)
}

// dimension draws a dimension that has room for its text, as one that stays a dimension
// where it is kept in a view.
func (p *page) dimension(a, b, line drawing.Point, turn float64, text string) {
	d := drawing.Dimension{Layer: dimensionLayer, Ink: black, A: a, B: b, Line: line, Turn: turn, Text: text, Size: size(small)}
	if m, ok := p.canvas.(*model); ok {
		d.A, d.B, d.Line = m.point(a), m.point(b), m.point(line)
		m.marks.Add(d)
	}
}

// levelBox and upBox return what a line of text takes whose middle is at x, y, level
// and reading upwards.
func (p *page) levelBox(x, y float64, text string) drawing.Box {
	w := p.width(text, small)
	return textBox(x-w/2, y, w, small)
}

func (p *page) upBox(x, y float64, text string) drawing.Box {
	w := p.width(text, small)
	return drawing.Rect(x-small, y-w/2, x+drop*size(small), y+w/2)
}

// spread moves places along a line apart until each is at least half of both its own
// and its neighbour's width from the neighbour, and all move least (sum of squares).
// It keeps their order; they may come in any. Method: with the widths taken off this is
// isotonic regression, by pooling adjacent violators (Ayer and others, 1955).
func spread(want, width []float64) []float64 {
	n := len(want)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case want[a] < want[b]:
			return -1
		case want[a] > want[b]:
			return 1
		}
		return 0
	})
	type block struct {
		sum float64
		n   int
	}
	off := make([]float64, n)
	var blocks []block
	for k, i := range order {
		if k > 0 {
			off[k] = off[k-1] + (width[order[k-1]]+width[i])/2
		}
		blocks = append(blocks, block{want[i] - off[k], 1})
		for len(blocks) > 1 {
			a, b := &blocks[len(blocks)-2], blocks[len(blocks)-1]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			a.sum, a.n = a.sum+b.sum, a.n+b.n
			blocks = blocks[:len(blocks)-1]
		}
	}
	out := make([]float64, n)
	k := 0
	for _, b := range blocks {
		for range b.n {
			out[order[k]] = b.sum/float64(b.n) + off[k]
			k++
		}
	}
	return out
}
