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

// printBass prints a study for people.
func printBass(p *printer, d *project.Design, st, before *bass.Study) {
	show, o := lengths(d.Units), st.Output(d)
	p.printf("%s\n%s, %s; by %s\n\n", d.Name, counted(len(st.Plan.Seats), "seat"), counted(len(st.Plan.Speakers), "subwoofer"), st.Way)
	p.printf("%-10s %10s %10s %10s %8s %8s  polarity\n", "", "from screen", "from left", "height", "gain dB", "delay ms")
	for i, k := range st.Plan.Speakers {
		l, at := d.Speakers[k], st.Plan.Places[i]
		polarity := "normal"
		if l.Tuning.Inverted {
			polarity = "inverted"
		}
		p.printf("%-10s %11s %10s %10s %+8.1f %8.2f  %s\n", l.Name(), show(at.X), show(at.Y), show(at.Z), l.Tuning.Gain, l.Tuning.Delay, polarity)
	}
	mids, level := st.Response.Thirds()
	p.printf("\nLevel in thirds of an octave for 2.83 V at each, dB SPL\n%-10s", "Hz")
	for _, f := range mids {
		p.printf(" %5g", bass.NominalThird(f))
	}
	p.printf("\n")
	for i, s := range st.Plan.Seats {
		p.printf("%-10s", s.Name())
		for _, l := range level[i] {
			p.printf(" %5.1f", l)
		}
		p.printf("\n")
	}
	printOutput(p, o)
	printFigures(p, "From 20 to 120 Hz", st.Figures)
	if before != nil {
		printFigures(p, "Before", before.Figures)
		printThirds(p, st, before)
	}
	printModes(p, slices.DeleteFunc(st.Plan.ModeTimes(), func(m bass.ModeDecay) bool { return m.Frequency > bass.Highest }))
	p.printf("\nHow far this holds:\n")
	for _, text := range append(slices.Clone(st.Response.Remarks), o.Remarks...) {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
	p.printf("\n%s\n", wrapped(bass.Caution, 100, ""))
}

// printThirds prints what was paid in output, third by third.
func printThirds(p *printer, st, before *bass.Study) {
	if len(st.Thirds) == 0 {
		return
	}
	p.printf("\nLevel by third of an octave from 20 to 120 Hz, mean of the seats as weighed, dB SPL\n%-12s", "Hz")
	for _, t := range st.Thirds {
		p.printf(" %5s", t.Name())
	}
	for _, line := range []struct {
		name, format string
		of           func(bass.Third) float64
	}{
		{"before", " %5.1f", func(t bass.Third) float64 { return t.Before }},
		{"now", " %5.1f", func(t bass.Third) float64 { return t.After }},
		{"change", " %+5.1f", bass.Third.Change},
		{"to in phase", " %+5.1f", func(t bass.Third) float64 { return t.After - t.InPhase }},
	} {
		p.printf("\n%-12s", line.name)
		for _, t := range st.Thirds {
			p.printf(line.format, math.Round(10*line.of(t))/10+0)
		}
	}
	p.printf("\n\n%s\n", wrapped(st.Paid(before), 100, "  "))
}

func printFigures(p *printer, when string, f bass.Figures) {
	p.printf("\n%s\n", wrapped(fmt.Sprintf("%s: seat-to-seat variation %.1f dB rms (mean spatial variance %.1f dB²), loudest to softest %.1f dB, at most %.0f dB at %.0f Hz; mean level %.1f dB",
		when, f.SeatToSeat, f.MeanSpatialVariance, f.Spread, f.WidestSpread, f.WidestAt, f.Output), 100, "  "))
}

// printModes lists the modes of a rectangular room.
func printModes(p *printer, modes []bass.ModeDecay) {
	if len(modes) == 0 {
		return
	}
	const most = 24
	var words []string
	for i, m := range modes {
		if i == most {
			words = append(words, fmt.Sprintf("and %d more to %d Hz", len(modes)-most, bass.Highest))
			break
		}
		words = append(words, fmt.Sprintf("%.1f Hz %s (%d,%d,%d) %.2f s", m.Frequency, m.Kind(), m.P, m.Q, m.R, m.Time))
	}
	p.printf("\nModes of the rectangle, length, width, height, and how long each rings:\n%s\n", wrapped(strings.Join(words, ", "), 100, ""))
}
