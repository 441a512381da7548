// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"math"
	"slices"

	"earline/project"
	"earline/project/bass"
	"earline/project/blend"
	"earline/project/bs2051"
	"earline/project/lists"
	"earline/project/sound"
)

// printCrossover prints an answer for people.
func printCrossover(p *printer, d *project.Design, a *blend.Answer, boundaries []sound.Interference) {
	say := func(text string) { p.printf("  %s\n", wrapped(text, 100, "  ")) }
	m := &a.Mains[a.Main]
	p.printf("%s\n%s, %s, %s; by %s\n", d.Name, counted(len(a.Plan.Seats), "seat"), counted(len(a.Mains), "main"), counted(len(a.Plan.Speakers), "subwoofer"), a.Plan.Way())
	p.printf("%s against the subwoofers, crossover %.0f Hz, %s; main position: seat %s\n\n", bs2051.InFull(m.Name), m.Crossover, a.Slope, a.Plan.Seats[a.Seat].Name())
	if falls := a.Reaches(); len(falls) > 0 {
		p.printf("Falls short\n")
		for _, text := range falls {
			say(text)
		}
		p.printf("\n")
	}
	p.printf("Proposal\n")
	say(a.Proposal())
	if price := a.Price(); price != "" {
		say(price)
	}
	p.printf("\n")
	for _, t := range crossoverTables(a) {
		printTable(p, &t)
	}
	say(a.Flattest())
	p.printf("\n")
	t := boundaryTable(d, boundaries)
	printTable(p, &t)
	p.printf("How far this holds:\n")
	for _, text := range append(slices.Clone(a.Remarks), sound.BoundaryRemark) {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
	p.printf("\n%s\n", wrapped(blend.Caution+" "+bass.Caution, 100, ""))
}

// crossoverTables returns the tables of an answer.
func crossoverTables(a *blend.Answer) []lists.Table {
	figures := func(c blend.Change) []string {
		cells := []string{fmt.Sprintf("%+.1f", c.Before.Level), fmt.Sprintf("%.1f at %.0f Hz", c.Before.Dip+0, c.Before.DipAt)}
		if a.Changes() {
			cells = append(cells, fmt.Sprintf("%+.1f", c.After.Level), fmt.Sprintf("%.1f at %.0f Hz", c.After.Dip+0, c.After.DipAt))
		}
		return cells
	}
	heads := []string{"level", "dip"}
	if a.Changes() {
		heads = append(heads, "level proposed", "dip proposed")
	}
	mains := lists.Table{Title: "Mains at the main position, dB: level at the crossover; dip against the sum in phase, half an octave either side; thirds of an octave",
		Columns: append([]string{"main", "crossover", "low end"}, heads...)}
	for i, m := range a.Mains {
		reach := "-"
		if m.Reach > 0 {
			reach = fmt.Sprintf("%.0f Hz", m.Reach)
		}
		mains.Rows = append(mains.Rows, append([]string{bs2051.InFull(m.Name), fmt.Sprintf("%.0f Hz", m.Crossover), reach}, figures(a.Rows[i])...))
	}
	seats := lists.Table{Title: a.Mains[a.Main].Name + " at every seat, dB", Columns: append([]string{"seat"}, heads...)}
	for i, s := range a.Plan.Seats {
		seats.Rows = append(seats.Rows, append([]string{s.Name()}, figures(a.Seats[i])...))
	}
	return []lists.Table{mains, seats, thirdsTable(a), slopesTable(a)}
}

// thirdsTable returns the response by third of an octave, with the proposal where there is
// one.
func thirdsTable(a *blend.Answer) lists.Table {
	sum := a.Sum(a.Main, a.Set)
	title := "Level by third of an octave, dB"
	if a.Changes() {
		title = "Level by third of an octave with the proposal, dB"
	}
	t := lists.Table{Title: title, Columns: []string{"Hz"}}
	mids, together := sum.Together.Thirds()
	for _, f := range mids {
		t.Columns = append(t.Columns, fmt.Sprintf("%g", bass.NominalThird(f)))
	}
	row := func(name string, level []float64) {
		cells := []string{name}
		for _, l := range level {
			cells = append(cells, fmt.Sprintf("%.0f", math.Round(l)+0))
		}
		t.Rows = append(t.Rows, cells)
	}
	at := a.Plan.Seats[a.Seat].Name()
	_, main := sum.Main.Thirds()
	_, subs := sum.Subs.Thirds()
	row(a.Mains[a.Main].Name+" at "+at, main[a.Seat])
	row("subwoofers at "+at, subs[a.Seat])
	for i, s := range a.Plan.Seats {
		row("together at "+s.Name(), together[i])
	}
	return t
}

// slopesTable returns how uneven each crossover and slope is.
func slopesTable(a *blend.Answer) lists.Table {
	t := lists.Table{Title: "Uneven by, dB rms from 40 to 160 Hz at the main position, each with the delay and polarity that serve it best", Columns: []string{"slope"}}
	for _, hz := range blend.Frequencies() {
		t.Columns = append(t.Columns, fmt.Sprintf("%.0f Hz", hz))
	}
	short := false
	for _, row := range a.Options {
		cells := []string{string(row[0].Slope)}
		for _, o := range row {
			text := fmt.Sprintf("%.1f", o.Figures.Uneven)
			if !o.Reached {
				text, short = text+" !", true
			}
			cells = append(cells, text)
		}
		t.Rows = append(t.Rows, cells)
	}
	if short {
		t.Notes = []string{"! below the low end of " + a.Mains[a.Main].Name}
	}
	return t
}

// boundaryTable returns what surfaces do to the mains.
func boundaryTable(d *project.Design, boundaries []sound.Interference) lists.Table {
	t := lists.Table{Title: fmt.Sprintf("Deepest dip from %.0f to %.0f Hz at the main position, by one reflection", sound.BoundaryFrom, sound.BoundaryTo),
		Columns: []string{"main", "dip", "surface", "away", "what changes it"}}
	for i := range boundaries {
		n := &boundaries[i]
		name := bs2051.InFull(d.Speakers[n.Speaker].Name())
		if !n.Dip.Matters() {
			t.Rows = append(t.Rows, []string{name, "none below -3 dB", "-", "-", "-"})
			continue
		}
		b := &n.Bounces[n.Dip.Bounce]
		t.Rows = append(t.Rows, []string{name, fmt.Sprintf("%.0f dB at %.0f Hz", n.Dip.Level, n.Dip.Frequency), b.Words, sound.Waved(d.Units, b.Distance), n.Cure(d)})
	}
	return t
}
