// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// mark is how a verdict is shown in the table beside its clearance.
var mark = map[sight.Verdict]string{sight.Clear: " ", sight.Tight: "~", sight.Blocked: "X", sight.NotJudged: " "}

// printAudit prints the audit for people: a table of seats by loudspeakers, then
// a sentence for whatever falls short, then totals.
func printAudit(p *printer, d *project.Design, r *sight.Result, kept *practice.Result, all bool) {
	unitName := "mm"
	if d.Units == project.Imperial {
		unitName = "inches"
	}
	p.printf("%s\n%d seats, %d loudspeakers; margin %s\n\n", d.Name, len(r.Seats), len(r.Speakers), d.Criteria.Margin.Format(d.Units != project.Imperial))
	p.printf("Worst clearance from ear to driver, %s.  X blocked (depth)   ~ tight   - not judged (bass)\n", unitName)
	const perBlock = 10 // columns that fit a terminal 100 wide
	for from := 0; from < len(r.Speakers); from += perBlock {
		to := min(from+perBlock, len(r.Speakers))
		p.printf("\n%6s", "seat")
		for _, sp := range r.Speakers[from:to] {
			p.printf(" %8s", sp.Name())
		}
		if to == len(r.Speakers) {
			p.printf("  %9s", "picture")
		}
		p.printf("\n")
		for i, s := range r.Seats {
			p.printf("%6s", s.Name())
			for k := from; k < to; k++ {
				p.printf(" %8s", cell(r, i, k, d.Units))
			}
			if to == len(r.Speakers) {
				v := r.Views[i]
				p.printf("  %7.1f%%%s", math.Floor(1000*v.Visible)/10, mark[v.Verdict])
			}
			p.printf("\n")
		}
	}
	printPairs(p, d, r, all)
	var lines []string
	for i := range r.Seats {
		if v := r.Views[i].Verdict; all || v == sight.Tight || v == sight.Blocked {
			lines = append(lines, r.PictureSentence(i, d.Units))
		}
	}
	for _, f := range fit.Findings(d) {
		lines = append(lines, f.String())
	}
	if len(lines) > 0 {
		p.printf("\n%s\n", strings.Join(lines, "\n"))
	}
	printRules(p, kept, all)
	p.printf("\nEars to drivers: %d clear, %d tight, %d blocked, %d not judged\n",
		r.Count[sight.Clear], r.Count[sight.Tight], r.Count[sight.Blocked], r.Count[sight.NotJudged])
	p.printf("Eyes to picture: %d clear, %d tight, %d blocked\n",
		r.PictureCount[sight.Clear], r.PictureCount[sight.Tight], r.PictureCount[sight.Blocked])
	p.printf("Placement rules: %s; judged %s\n", kept.Summary(), kept.By())
	p.printf("Checked for listeners of percentile %g behind people of percentile %g, %g %% women.\n",
		d.Seating.Sitters.Listener, d.Seating.Sitters.Others, 100*d.Seating.Sitters.Women)
	p.printf("dB figures are upper bounds (endless straight edge, ITU-R P.526); a head casts less shadow.\n")
}

// printAuditLine prints how a room stands in one line.
func printAuditLine(p *printer, a *audited) {
	verdict := "fine"
	if a.short() {
		verdict = "falls short"
	}
	misfits := ""
	if n := len(fit.Findings(a.design)); n > 0 {
		misfits = "; " + counted(n, "thing") + " cannot stand as drawn"
	}
	p.printf("%s: %s; ears to drivers: %d blocked, %d tight; eyes to picture: %d blocked%s; rules: %s\n", escaped(a.file), verdict,
		a.sight.Count[sight.Blocked], a.sight.Count[sight.Tight], a.sight.PictureCount[sight.Blocked], misfits, a.rules.Short())
}

// broken reports whether a rule that must hold does not.
func broken(kept *practice.Result) bool {
	for _, m := range kept.Failing() {
		if m.Severity == practice.Must {
			return true
		}
	}
	return false
}

// printRules prints the placement rules that are not kept, each with the first
// thing that breaks it, or everything that was measured.
func printRules(p *printer, kept *practice.Result, all bool) {
	if all {
		p.printf("\n%s\n", strings.Join(kept.Lines(true), "\n"))
		return
	}
	var order []string
	first, more := map[string]practice.Remark{}, map[string]int{}
	for _, m := range kept.Failing() {
		if _, seen := first[m.Rule]; seen {
			more[m.Rule]++
			continue
		}
		first[m.Rule] = m
		order = append(order, m.Rule)
	}
	if len(order) > 0 {
		p.printf("\n")
	}
	for _, id := range order {
		m := first[id]
		text := m.Text
		if n := more[id]; n > 0 {
			text += fmt.Sprintf(" (and %d more)", n)
		}
		p.printf("%-6s  %s\n", m.Severity, wrapped(text, 92, "        "))
	}
}

// printPairs prints a line for every pair that falls short, or for all.
func printPairs(p *printer, d *project.Design, r *sight.Result, all bool) {
	var rows [][6]string
	for i, s := range r.Seats {
		for k, sp := range r.Speakers {
			q := r.Pair(i, k)
			if q.Verdict == sight.NotJudged || !all && q.Verdict == sight.Clear {
				continue
			}
			w := q.Deciding()
			row := [6]string{s.Name(), sp.Name(), w.Ear.String(), cell(r, i, k, d.Units),
				r.WordsFrom(i, w.Blocker), fmt.Sprintf("%.0f%%", 100*w.Visible)}
			if q.Verdict == sight.Blocked {
				row[5] += fmt.Sprintf(", up to %.0f dB lost at 2 kHz", w.Loss(2000))
			}
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		return
	}
	what := "nearest"
	if !all {
		what = "in the way or nearest"
	}
	p.printf("\n%6s  %-8s %-5s %8s  %-28s %s\n", "seat", "to", "ear", "clears", what, "sees of the driver")
	for _, row := range rows {
		p.printf("%6s  %-8s %-5s %8s  %-28s %s\n", row[0], row[1], row[2], row[3], row[4], row[5])
	}
}

func cell(r *sight.Result, i, k int, u project.Units) string {
	p := r.Pair(i, k)
	if p.Verdict == sight.NotJudged {
		return "- "
	}
	w := p.Deciding()
	if w.Clearance >= sight.Far {
		return "free" + mark[p.Verdict]
	}
	if u == project.Imperial {
		return fmt.Sprintf("%.1f%s", w.Clearance/float64(unit.Inch), mark[p.Verdict])
	}
	// Adding zero turns a negative zero into a plain one.
	return fmt.Sprintf("%.0f%s", math.Round(w.Clearance*1000)+0, mark[p.Verdict])
}
