// SPDX-License-Identifier: MIT

package main

import (
	"math"

	"earline/project"
	"earline/project/sight"
)

// rangeReport is for whom the plan holds, as data.
type rangeReport struct {
	Words        string             `json:"words"`
	Low          float64            `json:"low_percentile"`
	High         float64            `json:"high_percentile"`
	Loudspeakers rangeTotals        `json:"pairs"`
	Pictures     rangeTotals        `json:"pictures"`
	Breaks       []rangeReportBreak `json:"breaks"`
}

type rangeTotals struct {
	Holds  int `json:"holds"`
	Breaks int `json:"breaks"`
	Open   int `json:"not_certified"`
}

// rangeReportBreak is one pair that does not hold for everyone.
type rangeReportBreak struct {
	Seat        string `json:"seat"`
	Loudspeaker string `json:"loudspeaker"`
	Text        string `json:"text"`
}

func reportRange(r *sight.RangeResult, u project.Units) rangeReport {
	out := rangeReport{
		Words: r.Words(u), Low: r.Options.Low, High: r.Options.High,
		Loudspeakers: rangeTotals(r.Count), Pictures: rangeTotals(r.PictureCount),
		Breaks: []rangeReportBreak{},
	}
	for i, s := range r.Seats {
		for k, sp := range r.Speakers {
			if p := r.Pair(i, k); p.Judged && !p.Holds {
				out.Breaks = append(out.Breaks, rangeReportBreak{s.Name(), sp.Name(), r.Sentence(i, k, u)})
			}
		}
	}
	return out
}

// printRange says for whom the plan holds; with all, for every pair that breaks.
func printRange(p *printer, r *sight.RangeResult, u project.Units, all bool) {
	p.printf("%s\n", wrapped("Over the range of people the plan "+r.Words(u)+".", 100, "  "))
	if !all {
		return
	}
	for _, b := range reportRange(r, u).Breaks {
		p.printf("  %s\n", b.Text)
	}
}

// toleranceReport is how far one loudspeaker may be misplaced, as data.
type toleranceReport struct {
	Loudspeaker string         `json:"loudspeaker"`
	Ways        []toleranceWay `json:"ways"`
}

type toleranceWay struct {
	Way  string  `json:"way"`
	Max  float64 `json:"max_m"`
	Over bool    `json:"over"`
	Text string  `json:"text"`
}

func reportTolerances(d *project.Design, r *sight.Result) []toleranceReport {
	out := []toleranceReport{}
	for k, sp := range r.Speakers {
		t := sight.Tolerance(d, r, k)
		if len(t.Limits) == 0 {
			continue
		}
		rep := toleranceReport{Loudspeaker: sp.Name()}
		for _, l := range t.Limits {
			rep.Ways = append(rep.Ways, toleranceWay{l.Way, math.Floor(l.Max*1e4) / 1e4, l.Over, r.LimitSentence(l, d.Units)})
		}
		out = append(out, rep)
	}
	return out
}

// printTolerances lists how far each loudspeaker may be misplaced before a pair
// gets a worse verdict.
func printTolerances(p *printer, d *project.Design, r *sight.Result) {
	p.printf("\nHow far each may be misplaced before a seat gets a worse answer:\n")
	for k, sp := range r.Speakers {
		if t := sight.Tolerance(d, r, k); len(t.Limits) > 0 {
			p.printf("%-9s %s\n", sp.Name(), t.Words(d.Units))
		}
	}
}
