// SPDX-License-Identifier: MIT

package handout

import (
	"fmt"
	"strings"

	"earline/project"
	"earline/project/handover"
	"earline/scene/drawing"
)

// Sizes of the calibration record, mm: small enough that a usual room is one page, large
// enough to be read at the rack.
const (
	recordSize = 2.75
	recordStep = 3.7  // from line to line
	recordGap  = 2.6  // between columns
	recordBox  = 15.0 // the least width of a column to write in
)

// Record returns the calibration record, on one page for a usual room; one with many
// loudspeakers goes on over more. fingerprint is that of the file; empty for none.
func Record(r *handover.Record, fingerprint string, t *drawing.Typeface) []drawing.Sheet {
	w := recorder{d: r.Design, face: t, paper: paperFor(r.Design).Portrait()}
	w.begin()
	tables := r.Tables()
	for i := range tables {
		w.table(&tables[i])
	}
	w.words("Microphone", r.MicrophoneWords())
	steps := handover.Steps()
	for i := range steps {
		steps[i] = fmt.Sprintf("%d. %s", i+1, steps[i])
	}
	w.words("Order of work", steps)
	w.room(3 * recordStep)
	w.y = w.p.para(margin, w.y, w.paper.Width-2*margin, recordSize-0.2, false, alarm, r.Cautions())
	out := make([]drawing.Sheet, len(w.pages))
	for i, p := range w.pages {
		p.text(margin, w.paper.Height-7, recordSize, drawing.Start, false, soft, "File "+orDash(fingerprint))
		p.text(w.paper.Width-margin, w.paper.Height-7, recordSize, drawing.End, false, soft, fmt.Sprintf("%d of %d", i+1, len(w.pages)))
		out[i] = p.Sheet
	}
	return out
}

// recorder writes a record.
type recorder struct {
	d     *project.Design
	face  *drawing.Typeface
	paper drawing.Paper
	pages []*page
	p     *page
	y     float64
}

func (w *recorder) begin() {
	n := len(w.pages) + 1
	name := "Calibration record"
	if n > 1 {
		name = fmt.Sprintf("Calibration record, page %d", n)
	}
	w.p = newPage(fmt.Sprintf("%d", n), name, w.paper, w.face)
	w.pages = append(w.pages, w.p)
	right := w.paper.Width - margin
	w.p.text(right, margin+2, normal, drawing.End, false, warm, name)
	w.p.text(margin, margin+2, 5.6, drawing.Start, false, dark, w.p.fitted(w.d.Name, 5.6, w.paper.Width-2*margin-60))
	var job []string
	for _, part := range [][2]string{{"", w.d.Job.Reference}, {"revision ", w.d.Job.Revision}, {"", w.d.Job.RevisedOn}, {"measured on ", w.d.Measured.On}} {
		if part[1] != "" {
			job = append(job, part[0]+part[1])
		}
	}
	w.p.text(margin, margin+7, recordSize+0.2, drawing.Start, false, soft, w.p.fitted(strings.Join(job, "   "), recordSize+0.2, w.paper.Width-2*margin-90))
	w.p.text(right-48, margin+7, recordSize+0.2, drawing.End, false, soft, "measured on, by")
	w.p.rule(right-46, right, margin+7.5)
	w.p.rule(margin, right, margin+9.5)
	w.y = margin + 10
}

// room begins another page when less than high is left on this one.
func (w *recorder) room(high float64) {
	if w.y+high > w.paper.Height-margin+3 {
		w.begin()
	}
}

// table writes a table, its notes under it.
func (w *recorder) table(t *handover.Table) {
	w.room(5 * recordStep)
	w.p.text(margin, w.y+4.4, recordSize+0.9, drawing.Start, true, dark, t.Title)
	w.y += 5.6
	shares := w.shares(t)
	line := func(cells []string, head bool, row int) {
		high := 0.0
		lines := make([][]string, len(cells))
		for i, c := range cells {
			lines[i] = w.p.lines(c, recordSize, shares[i]-recordGap, false)
			high = max(high, recordStep*float64(max(len(lines[i]), 1)))
		}
		w.room(high + 0.5)
		x := float64(margin)
		for i, l := range lines {
			ink := dark
			if head {
				ink = soft
			}
			for n, text := range l {
				w.p.text(x, w.y+recordStep*float64(n)+2.8, recordSize, drawing.Start, !head && i == 0, ink, text)
			}
			if row >= 0 && t.Box(row, i) {
				w.p.box(drawing.Rect(x, w.y+0.35, x+shares[i]-recordGap, w.y+high-0.25), soft, 0.2)
			}
			x += shares[i]
		}
		w.y += high + 0.3
		w.p.rule(margin, w.paper.Width-margin, w.y-0.15)
	}
	line(t.Columns, true, -1)
	for n, cells := range t.Rows {
		line(cells, false, n)
	}
	for _, note := range t.Notes {
		lines := w.p.lines(note, recordSize-0.25, w.paper.Width-2*margin, false)
		w.room(recordStep * float64(len(lines)))
		w.y = w.p.para(margin, w.y, w.paper.Width-2*margin, recordSize-0.25, false, soft, note)
	}
	w.y += 0.8
}

// words writes sentences under a heading.
func (w *recorder) words(title string, all []string) {
	w.room(4 * recordStep)
	w.p.text(margin, w.y+4.4, recordSize+0.9, drawing.Start, true, dark, title)
	w.y += 5.2
	for _, text := range all {
		lines := w.p.lines(text, recordSize-0.1, w.paper.Width-2*margin, false)
		w.room(recordStep * float64(len(lines)))
		w.y = w.p.para(margin, w.y, w.paper.Width-2*margin, recordSize-0.1, false, dark, text)
	}
	w.y += 0.8
}

// shares returns how wide each column is: as its longest text, a box for what is
// measured; where that is too much the widest give way, and what is left goes to the
// boxes.
func (w *recorder) shares(t *handover.Table) []float64 {
	all := w.paper.Width - 2*margin
	wide := make([]float64, len(t.Columns))
	boxes := make([]bool, len(t.Columns))
	for i, c := range t.Columns {
		wide[i] = w.p.width(c, recordSize, false) + recordGap
		for n, row := range t.Rows {
			wide[i] = max(wide[i], w.p.width(row[i], recordSize, i == 0)+recordGap+0.2)
			if t.Box(n, i) {
				boxes[i] = true
			}
		}
		if boxes[i] {
			wide[i] = max(wide[i], recordBox)
		}
	}
	sum, many := 0.0, 0
	for i, v := range wide {
		sum += v
		if boxes[i] {
			many++
		}
	}
	if sum <= all {
		for i := range wide {
			if boxes[i] {
				wide[i] += min((all-sum)/float64(many), 14)
			}
		}
		return wide
	}
	for sum > all { // the widest gives way, a millimetre at a time
		widest := 0
		for i := range wide {
			if wide[i] > wide[widest] && !boxes[i] {
				widest = i
			}
		}
		wide[widest]--
		sum--
	}
	return wide
}
