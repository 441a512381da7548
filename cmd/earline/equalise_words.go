// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"earline/project"
	"earline/project/bass"
)

// printEqualised prints filters and what they do.
func printEqualised(p *printer, e *bass.Equalised) {
	d := e.Design
	p.printf("%s\n%s, %s; by %s; target %s, %.0f to %.0f Hz\n", d.Name, counted(len(e.Before.Plan.Seats), "seat"), counted(len(e.Before.Plan.Speakers), "subwoofer"),
		e.Before.Way, d.Equalisation.Target.Called(), e.From, e.To)
	if len(e.Filters) > 0 {
		p.printf("\nFilters of all subwoofers\n    %-12s %7s %8s %6s\n", "kind", "Hz", "gain dB", "Q")
		for i, f := range e.Filters {
			printFilter(p, i+1, f, "")
		}
	}
	if kept := d.Equalisation.Filters[len(e.Filters):]; len(kept) > 0 {
		p.printf("\nKept as they were\n")
		for i, f := range kept {
			printFilter(p, i+1, f, of(d, f))
		}
	}
	all := e.Thirds()
	p.printf("\nBy third of an octave, mean of the seats as weighed, dB SPL for 2.83 V at each\n%-16s", "Hz")
	for _, t := range all {
		mark := " "
		switch {
		case !t.Within:
			mark = "*"
		case !t.Whole:
			mark = "~"
		}
		p.printf(" %5g%s", bass.NominalThird(t.Mid), mark)
	}
	for _, line := range []struct {
		name, format string
		of           func(bass.EqualisedThird) float64
	}{
		{"before", " %5.1f ", func(t bass.EqualisedThird) float64 { return t.Before }},
		{"after", " %5.1f ", func(t bass.EqualisedThird) float64 { return t.After }},
		{"target", " %5.1f ", func(t bass.EqualisedThird) float64 { return t.Target }},
		{"after to target", " %+5.1f ", func(t bass.EqualisedThird) float64 { return t.After - t.Target }},
		{"seats apart", " %5.1f ", func(t bass.EqualisedThird) float64 { return t.Apart }},
		{"headroom before", " %+5.1f ", func(t bass.EqualisedThird) float64 { return t.HeadroomBefore }},
		{"headroom after", " %+5.1f ", func(t bass.EqualisedThird) float64 { return t.Headroom }},
	} {
		p.printf("\n%-16s", line.name)
		for _, t := range all {
			p.printf(line.format, math.Round(10*line.of(t))/10+0)
		}
	}
	p.printf("\n* not brought to the target, ~ only in part. Seats apart: their standard deviation, which the filters leave.\n")
	p.printf("Headroom: what is left to rated power and excursion with the target as loud as is wanted.\n")
	p.printf("\n%s\n", wrapped(e.Sentence(), 100, "  "))
	p.printf("%s\n", wrapped(e.HeadroomSentence(), 100, "  "))
	if len(e.Unfilled) > 0 {
		p.printf("\nWhat was not filled:\n")
		for _, dip := range e.Unfilled {
			p.printf("- %s\n", wrapped(dip.String(), 96, "  "))
		}
	}
	p.printf("\nHow far this holds:\n")
	for _, text := range slices.Concat(e.Remarks, e.Before.Response.Remarks) {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
	p.printf("\n%s\n", wrapped(bass.Caution, 100, ""))
}

// of says whose filter f is.
func of(d *project.Design, f project.Filter) string {
	for i := range d.Speakers {
		if d.Speakers[i].ID == f.Of {
			return "of " + d.Speakers[i].Name()
		}
	}
	return "of all subwoofers"
}

func printFilter(p *printer, n int, f project.Filter, of string) {
	gain := ""
	if f.Kind != project.HighPass {
		gain = fmt.Sprintf("%+.1f", f.Gain)
	}
	p.printf("%s\n", strings.TrimRight(fmt.Sprintf("%2d  %-12s %7g %8s %6g  %s", n, f.Kind, f.Frequency, gain, f.Q, of), " "))
}
