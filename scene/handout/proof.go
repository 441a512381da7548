// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"
	"image/color"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene/drawing"
)

// Inks of verdicts on paper; each has its mark too, so that nothing hangs on colour.
var (
	fine  = color.NRGBA{226, 238, 230, 255}
	tight = color.NRGBA{250, 236, 200, 255}
	bad   = color.NRGBA{246, 208, 200, 255}
	alarm = color.NRGBA{168, 30, 16, 255} // what must not be overlooked
)

// Proof returns the proof sheet of an audited design: who hears every loudspeaker and
// sees the whole picture, the worst path drawn, the height of every hole and how far it
// may be off, and for whom all this holds. fingerprint is that of the file; empty for
// none. A room with many loudspeakers goes on over more pages.
func Proof(r *sight.Result, l *setout.List, fingerprint string, t *drawing.Typeface) []drawing.Sheet {
	q := proof{r: r, l: l, d: r.Design, face: t, paper: paperFor(r.Design).Portrait(), print: fingerprint}
	q.begin()
	q.matrix()
	q.worst()
	q.holes()
	out := make([]drawing.Sheet, len(q.pages))
	for i, p := range q.pages {
		p.text(margin, q.paper.Height-7, 2.8, drawing.Start, false, soft, "File "+orDash(fingerprint))
		p.text(q.paper.Width-margin, q.paper.Height-7, 2.8, drawing.End, false, soft, fmt.Sprintf("%d of %d", i+1, len(q.pages)))
		out[i] = p.Sheet
	}
	return out
}

func orDash(s string) string {
	if s == "" {
		return "not kept yet"
	}
	return s
}

type proof struct {
	r     *sight.Result
	l     *setout.List
	d     *project.Design
	face  *drawing.Typeface
	paper drawing.Paper
	print string
	pages []*page
	p     *page
	y     float64
}

func (q *proof) begin() {
	n := len(q.pages) + 1
	name := "Proof sheet"
	if n > 1 {
		name = fmt.Sprintf("Proof sheet, page %d", n)
	}
	q.p = newPage(fmt.Sprintf("%d", n), name, q.paper, q.face)
	q.pages = append(q.pages, q.p)
	q.p.text(margin, margin+6, 7, drawing.Start, false, dark, q.p.fitted(q.d.Name, 7, q.paper.Width-2*margin-40))
	q.p.text(q.paper.Width-margin, margin+6, normal, drawing.End, false, warm, name)
	q.p.rule(margin, q.paper.Width-margin, margin+9)
	q.y = margin + 13
}

// room begins another page when less than high is left on this one.
func (q *proof) room(high float64) {
	if q.y+high > q.paper.Height-margin-4 {
		q.begin()
	}
}

func (q *proof) heading(text string) {
	q.room(20)
	q.p.text(margin, q.y+5, large, drawing.Start, false, dark, text)
	q.y += 8
}

// matrix writes the table of seats by loudspeakers.
func (q *proof) matrix() {
	r := q.r
	wide := q.paper.Width - 2*margin
	q.y = q.p.para(margin, q.y-2, wide, small+0.2, false, dark, ForWhom(q.d.Seating.Sitters)+" Sitting as the plan draws them.") + 3
	picture, _ := seeing(r)
	q.y = q.p.para(margin, q.y-2, wide, normal, true, dark, fmt.Sprintf("%d of %d paths from ears to loudspeakers are free (%d of them narrowly); the whole picture is seen from %s seats.",
		r.Count[sight.Clear]+r.Count[sight.Tight], r.Count[sight.Clear]+r.Count[sight.Tight]+r.Count[sight.Blocked], r.Count[sight.Tight], of(picture, len(r.Seats)))) + 3

	if q.l.Warning != "" {
		q.y = q.p.para(margin, q.y-2, wide, small+0.2, true, alarm, q.l.Warning) + 3
	}
	const most, high = 12, 5.2
	first := 12.0
	for from := 0; from < len(r.Speakers); from += most {
		to := min(from+most, len(r.Speakers))
		last := to == len(r.Speakers)
		columns := to - from
		if last {
			columns++
		}
		cell := min((wide-first)/float64(max(columns, 8)), 18)
		q.room(18 + 2*high)
		head := func() {
			for k := from; k < to; k++ {
				q.p.text(margin+first+cell*(float64(k-from)+0.5), q.y+4, 2.7, drawing.Middle, true, dark, q.r.Speakers[k].Name())
			}
			if last {
				q.p.text(margin+first+cell*(float64(to-from)+0.5), q.y+4, 2.7, drawing.Middle, true, dark, "picture")
			}
			q.y += 5.5
		}
		head()
		for i, s := range r.Seats {
			if q.y+high > q.paper.Height-margin-4 {
				q.begin()
				head()
			}
			q.p.text(margin, q.y+3.7, small, drawing.Start, true, dark, s.Name())
			for k := from; k < to; k++ {
				q.cell(margin+first+cell*float64(k-from), cell, high, r.Pair(i, k).Verdict, q.clearance(r.Pair(i, k)))
			}
			if last {
				v := r.Views[i]
				q.cell(margin+first+cell*float64(to-from), cell, high, v.Verdict, fmt.Sprintf("%.1f %%", math.Floor(1000*v.Visible)/10))
			}
			q.y += high
		}
		q.y += 3
	}
	unitName := "millimetres"
	if q.d.Units == project.Imperial {
		unitName = "inches"
	}
	q.y = q.p.para(margin, q.y-3, wide, 2.8, false, soft, "Least clearance from ear to driver in "+unitName+
		"; × blocked, with the depth; ~ under the margin of "+q.d.Criteria.Margin.Format(q.d.Units != project.Imperial)+"; – not judged: bass goes round heads. Seats are row.seat, from the left facing the screen.") + 3
}

func (q *proof) clearance(p *sight.Pair) string {
	path := p.Deciding()
	if p.Verdict == sight.NotJudged || path == nil {
		return "–"
	}
	if q.d.Units == project.Imperial {
		const inch = 0.0254
		return fmt.Sprintf("%.1f", path.Clearance/inch)
	}
	return fmt.Sprintf("%.0f", 1000*path.Clearance)
}

func (q *proof) cell(x, wide, high float64, v sight.Verdict, text string) {
	const gap = 0.25
	mark := ""
	if ink, ok := map[sight.Verdict]color.NRGBA{sight.Clear: fine, sight.Tight: tight, sight.Blocked: bad}[v]; ok {
		q.p.fill(drawing.Rect(x+gap, q.y+gap, x+wide-gap, q.y+high-gap), ink)
	}
	switch v {
	case sight.Tight:
		mark = "~ "
	case sight.Blocked:
		mark = "× "
	}
	q.p.text(x+wide/2, q.y+high*0.7, 2.8, drawing.Middle, v == sight.Blocked, dark, mark+text)
}

// worst draws the path with the least clearance from the side: the ear, the driver,
// the floor, and the heads beside the path.
func (q *proof) worst() {
	i, k, ok := q.r.Worst()
	if !ok {
		return
	}
	path := q.r.Pair(i, k).Deciding()
	if path == nil {
		return
	}
	const high = 62.0
	q.room(high + 16)
	q.heading("The worst path")
	along := geometry.Vec{X: path.To.X - path.From.X, Y: path.To.Y - path.From.Y}
	dir, ok := along.Unit()
	if !ok {
		return
	}
	across := geometry.Vec{X: -dir.Y, Y: dir.X}
	wide := q.paper.Width - 2*margin
	span := along.Len() + 0.9
	top := max(path.To.Z, path.From.Z) + 0.35
	low := max(min(path.To.Z, path.From.Z)-0.4, 0) // what is drawn begins there
	scale := min(wide/span, high/(top-low))        // mm to a metre
	x0 := margin + (wide-span*scale)/2 + 0.45*scale
	base := q.y + (top-low)*scale
	at := func(v geometry.Vec) drawing.Point {
		return drawing.Pt(x0+v.Sub(path.From).Dot(dir)*scale, base-(v.Z-low)*scale)
	}
	// What stands beside the path, each at its own place.
	const beside = 0.35 // m
	for s := range q.r.Bodies {
		head := q.r.Bodies[s].Head
		rel := head.Center.Sub(path.From)
		if math.Abs(rel.Dot(across)) > beside || rel.Dot(dir) < -0.4 || rel.Dot(dir) > along.Len()+0.4 {
			continue
		}
		own := s == i
		ink := color.NRGBA{214, 216, 221, 255}
		if own {
			ink = color.NRGBA{196, 206, 218, 255}
		}
		q.p.Marks.Add(drawing.Area{Layer: "areas", Ink: ink, Rings: [][]drawing.Point{ellipse(at(head.Center), head.Radii.X*scale, head.Radii.Z*scale)}})
	}
	ink := dark
	if path.Verdict == sight.Blocked {
		ink = color.NRGBA{178, 40, 24, 255}
	}
	q.p.Marks.Add(drawing.Lines{Layer: "lines", Pen: drawing.Pen{Ink: ink, Width: 0.45}, Lines: [][]drawing.Point{{at(path.From), at(path.To)}}})
	dot := func(v geometry.Vec, radius float64, ink color.NRGBA) {
		q.p.Marks.Add(drawing.Area{Layer: "areas", Ink: ink, Rings: [][]drawing.Point{ellipse(at(v), radius, radius)}})
	}
	dot(path.From, 0.9, ink)
	dot(path.To, 1.2, ink)
	dot(path.Nearest, 0.8, warm)
	n := at(path.Nearest)
	q.p.text(n.X, n.Y-3, small, drawing.Middle, true, warm, q.clearance(q.r.Pair(i, k)))
	q.p.text(at(path.To).X+2, at(path.To).Y-2.5, small, drawing.Start, false, dark, q.r.Speakers[k].Name())
	q.p.text(at(path.From).X-2, at(path.From).Y-2.5, small, drawing.End, false, dark, q.r.Seats[i].Name())
	q.y = base + 2
	q.y = q.p.para(margin, q.y, wide, small, false, dark, q.r.Sentence(i, k, q.d.Units)+
		". Seen square to the path; grey are the listeners' heads within "+unit.Length(beside).Format(q.d.Units != project.Imperial)+" of it.") + 4
}

// ellipse returns a ring about c.
func ellipse(c drawing.Point, rx, ry float64) []drawing.Point {
	const corners = 40
	ring := make([]drawing.Point, corners)
	for i := range ring {
		s, k := math.Sincos(2 * math.Pi * float64(i) / corners)
		ring[i] = drawing.Pt(c.X+rx*k, c.Y+ry*s)
	}
	return ring
}

// holes lists the cut-outs with how far each may be off.
func (q *proof) holes() {
	any := false
	for _, it := range q.l.Items {
		any = any || it.Cutout != nil
	}
	if !any {
		return
	}
	q.heading("Every hole")
	u := q.d.Units
	wide := q.paper.Width - 2*margin
	columns := []float64{0, 46, 70, 94, 136}
	head := func() {
		for c, text := range []string{"loudspeaker", "on", "middle to the line", "lower … upper edge", "may be off"} {
			q.p.text(margin+columns[c], q.y+3.4, 2.8, drawing.Start, false, soft, text)
		}
		q.y += 5
		q.p.rule(margin, q.paper.Width-margin, q.y)
	}
	head()
	for _, it := range q.l.Items {
		if it.Cutout == nil {
			continue
		}
		words := ""
		if it.Tolerance != nil {
			words = it.Tolerance.Words(it.On, u)
		}
		lines := q.p.lines(words, 2.8, wide-columns[4], false)
		high := max(4.6, 1.2+3.6*float64(len(lines)))
		if q.y+high > q.paper.Height-margin-4 {
			q.begin()
			head()
		}
		q.p.text(margin, q.y+3.6, 2.8, drawing.Start, false, dark, q.p.fitted(it.Name, 2.8, columns[1]-2))
		q.p.text(margin+columns[1], q.y+3.6, 2.8, drawing.Start, false, dark, q.p.fitted(it.Place, 2.8, columns[2]-columns[1]-2))
		q.p.text(margin+columns[2], q.y+3.6, 2.8, drawing.Start, true, dark, q.l.ShowHeight(it.Height))
		show := q.l.ShowHeight
		if it.Cutout.LowerUpperFrom != setout.Line {
			show = q.l.Show
		}
		q.p.text(margin+columns[3], q.y+3.6, 2.8, drawing.Start, false, dark, show(it.Cutout.Lower)+" … "+show(it.Cutout.Upper))
		for n, line := range lines {
			q.p.text(margin+columns[4], q.y+3.6+3.6*float64(n), 2.8, drawing.Start, false, dark, line)
		}
		q.y += high
		q.p.rule(margin, q.paper.Width-margin, q.y)
	}
	q.y += 2
	q.room(20)
	q.y = q.p.para(margin, q.y, wide, 2.8, false, soft, "Heights are to the laser line, "+unit.Length(q.l.Datum.Given).Format(u != project.Imperial)+
		" above the "+string(q.l.Datum.From)+"; in a ceiling the edges are from the wall that the set-out names. This sheet proves sight and placement; loads, fire and electrics are for licensed trades and local code.") + 2
}
