// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// mark is how a verdict is shown in the table beside its clearance.
var mark = map[sight.Verdict]string{sight.Clear: " ", sight.Tight: "~", sight.Blocked: "X", sight.NotJudged: " "}

// printAudit prints the audit for people: a table of seats by loudspeakers, then
// what is to be settled, then totals; with all every pair, view and rule too.
func printAudit(p *printer, a *audited, all bool) {
	d, r, kept := a.design, a.sight, a.rules
	unitName := "mm"
	if d.Units == project.Imperial {
		unitName = "inches"
	}
	p.printf("%s\n%d seats, %d loudspeakers; margin %s\n\n", d.Name, len(r.Seats), len(r.Speakers), d.Criteria.Margin.Format(d.Units != project.Imperial))
	p.printf("Worst clearance from ear to driver, %s.  X blocked (depth)   ~ tight   - bass: not judged\n", unitName)
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
	if all {
		printPairs(p, r, d.Units)
		var lines []string
		for i := range r.Seats {
			lines = append(lines, r.PictureSentence(i, d.Units))
		}
		for _, f := range fit.Findings(d) {
			lines = append(lines, f.String())
		}
		p.printf("\n%s\n\n%s\n", strings.Join(lines, "\n"), strings.Join(kept.Lines(true), "\n"))
	}
	p.printf("\n%s\n", wrapped(labelsMeant(r), 100, "  "))
	printCauses(p, a.causes, a.cures, all)
	p.printf("\nEars to drivers: %d clear, %d tight, %d blocked, %d not judged\n",
		r.Count[sight.Clear], r.Count[sight.Tight], r.Count[sight.Blocked], r.Count[sight.NotJudged])
	p.printf("Eyes to picture: %d clear, %d tight, %d blocked\n",
		r.PictureCount[sight.Clear], r.PictureCount[sight.Tight], r.PictureCount[sight.Blocked])
	p.printf("Placement rules: %s\nJudged %s\n", kept.Summary(), kept.By())
	p.printf("Checked for listeners of percentile %g behind people of percentile %g, %g %% women.\n",
		d.Seating.Sitters.Listener, d.Seating.Sitters.Others, 100*d.Seating.Sitters.Women)
	p.printf("dB figures are upper bounds (endless straight edge, ITU-R P.526); a head casts less shadow.\n")
}

// labelsMeant says in plain words where the loudspeakers belong: "M+090 left side; U-045 right
// front, height layer".
func labelsMeant(r *sight.Result) string {
	var said []string
	seen := map[string]bool{}
	for _, sp := range r.Speakers {
		if bs2051.Means(sp.Label) != "" && !seen[sp.Label] {
			seen[sp.Label] = true
			said = append(said, bs2051.InFull(sp.Label))
		}
	}
	return strings.Join(said, "; ")
}

// printAuditLine prints how a room stands in one line.
func printAuditLine(p *printer, a *audited) {
	verdict := "fine"
	if a.short() {
		verdict = "falls short"
	}
	misfits := ""
	if n := len(fit.Findings(a.design)); n > 0 {
		misfits = fmt.Sprintf("; %d cannot be built", n)
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

// printPairs prints a line for every pair.
func printPairs(p *printer, r *sight.Result, u project.Units) {
	var rows [][6]string
	for i, s := range r.Seats {
		for k, sp := range r.Speakers {
			q := r.Pair(i, k)
			if q.Verdict == sight.NotJudged {
				continue
			}
			w := q.Deciding()
			row := [6]string{s.Name(), sp.Name(), w.Ear.String(), cell(r, i, k, u),
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
	p.printf("\n%6s  %-8s %-5s %8s  %-28s %s\n", "seat", "to", "ear", "clears", "nearest", "sees of the driver")
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
