// SPDX-License-Identifier: MIT

package main

import (
	"fmt"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/layout"
	"earline/project/solve"
	"earline/project/sound"
)

// printRows prints the risers of a proposal, and the trade-off if it was asked for.
func printRows(p *printer, r *solve.RowsProposal, u project.Units) {
	show := lengths(u)
	for i, n := range r.Rows {
		p.printf("Row %d: needs %s, proposed %s", i+1, show(n.Least), show(n.Riser))
		if n.Steps > 0 {
			p.printf(" in %s", counted(n.Steps, "step"))
		}
		p.printf("\n")
	}
	for _, t := range r.Curve {
		p.printf("Lower edge at %s: last riser %s", show(t.Bottom), show(t.LastRiser))
		if !t.OK {
			p.printf(", which is not enough")
		}
		p.printf("\n")
	}
}

// printLimits prints what each limit of elevation comes to.
func printLimits(p *printer, points []solve.LiftPoint) {
	for _, t := range points {
		p.printf("Up to %g°: %s\n", float64(t.Limit), t.Words())
	}
	p.printf("\n")
}

// printSizes prints what else would do, then the largest picture of each aspect ratio with
// the rows as they are.
func printSizes(p *printer, s *solve.ScreenProposal, u project.Units) {
	show := lengths(u)
	if len(s.Ways) > 0 {
		p.printf("With more than the screen changed, every row sees all of\n")
		for i := range s.Ways {
			p.printf("  %s\n", s.Ways[i].Words(u))
			printShapes(p, s.Ways[i].Shapes, u)
		}
		p.printf("\nWith the rows as they are\n")
	}
	for _, z := range s.Sizes {
		if !z.OK {
			p.printf("%4g:1  none fits\n", z.Aspect)
			continue
		}
		p.printf("%4g:1  %s wide, %s high, lower edge %s, %.1f°, limited by %s\n",
			z.Aspect, show(z.Width), show(z.Height), show(z.Bottom), z.Angle, z.Limit)
		printShapes(p, z.Shapes, u)
	}
}

// printShapes prints what the shapes of picture get on a screen.
func printShapes(p *printer, shapes []solve.ShapeSize, u project.Units) {
	show := lengths(u)
	for _, s := range shapes {
		p.printf("        %s: %s wide, %s high, %.1f°\n", s.Name, show(s.Width), show(s.Height), s.Angle)
	}
}

// printPanels prints how long the room rings before and after, and what becomes of the
// first reflections.
func printPanels(p *printer, r *solve.PanelsProposal) {
	p.printf("Target %.2f s, ±%.2f from 250 Hz to 4 kHz\n", r.Is.Wanted, sound.Tolerance)
	p.printf("%-10s", "octave, Hz")
	for _, f := range project.Octaves() {
		p.printf("%8s", hertz(f))
	}
	p.printf("\n")
	for _, line := range [2]struct {
		name string
		*sound.Reverb
	}{{"before, s", r.Was}, {"after, s", r.Is}} {
		p.printf("%-10s", line.name)
		for o, t := range line.Eyring {
			mark := ""
			if line.Judged[o] && !line.Within[o] {
				mark = "X"
			}
			p.printf("%8s", mark+fmt.Sprintf("%.2f", t))
		}
		p.printf("\n")
	}
	p.printf("%s\n\n", r.Summary())
}

// printProposal prints a proposal for people.
func printProposal(p *printer, prop *solve.Proposal) {
	u := prop.Design.Units
	switch {
	case len(prop.Changes) > 0:
	case prop.Solved():
		p.printf("No change needed.\n")
	default:
		p.printf("Nothing is changed.\n")
	}
	for _, c := range prop.Changes {
		p.printf("%s\n", c.Sentence(u))
	}
	counts := func(name string, c solve.Counts) {
		clashes := "1 clash"
		if c.Findings != 1 {
			clashes = fmt.Sprintf("%d clashes", c.Findings)
		}
		p.printf("%-7s %4d clear %4d tight %4d blocked; %d seats miss some of the picture; %s\n",
			name, c.Clear, c.Tight, c.Blocked, c.PictureBlocked, clashes)
	}
	p.printf("\n")
	counts("before", prop.Before)
	counts("after", prop.After)
	p.printf("\n%s\n", prop.Verdict())
	for _, o := range prop.Obstacles() {
		p.printf("- %s\n", o.Text)
	}
	if prop.Note != "" {
		p.printf("\n%s\n", prop.Note)
	}
}

// printOptions prints plans side by side, a column each, and why one might rather have
// another. A single one needs no table.
func printOptions(p *printer, all []layout.Option, u project.Units) {
	if len(all) < 2 {
		return
	}
	lines := layout.Table(all, func(v float64) string { return unit.Length(v).Format(u != project.Imperial) })
	for _, line := range lines {
		for i, cell := range line {
			width := 24
			if i == len(line)-1 {
				width = 0
			}
			p.printf("%s", fmt.Sprintf("%-*s", width, cell))
		}
		p.printf("\n")
	}
	p.printf("\n")
	for i, o := range all[1:] {
		p.printf("%d: %s. %s\n", i+2, o.Name, o.Why)
	}
	p.printf("\nAs wished for:\n")
}
