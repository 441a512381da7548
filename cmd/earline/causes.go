// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"fmt"

	"earline/project"
	"earline/project/practice"
	"earline/project/settle"
)

// remedies are the cures that were worked out, by the ID of their cause.
type remedies map[string]*settle.Remedy

// remediesOf works out what cures the causes that are shown first.
func remediesOf(ctx context.Context, d *project.Design, l *settle.List, std practice.Standard) (remedies, error) {
	out := remedies{}
	top, _ := l.Lead()
	for _, c := range top {
		if !c.Cure().Can() {
			continue
		}
		r, err := c.Remedy(ctx, d, std, nil)
		if err != nil {
			return nil, about("cure of "+c.Subject, err)
		}
		out[c.ID] = r
	}
	return out, nil
}

// printCauses prints what is to be settled: what nobody may overlook, the most harmful
// causes and what cures them, and how much more there is; or everything.
func printCauses(p *printer, l *settle.List, cures remedies, all bool) {
	line := func(c *settle.Cause) { p.printf("%-6s  %s\n", c.Severity, wrapped(c.Text, 92, "        ")) }
	for _, f := range []settle.Family{settle.Build, settle.Safety} {
		title := map[settle.Family]string{settle.Build: "Cannot be built", settle.Safety: "Steps and ways"}[f]
		first := true
		for _, c := range l.Apart {
			if c.Family != f {
				continue
			}
			if first {
				p.printf("\n%s\n", title)
			}
			first = false
			line(c)
		}
	}
	top, more := l.Lead()
	if all {
		top, more = l.Settle, 0
	}
	if len(top) > 0 {
		p.printf("\nTo settle, the most harmful first\n")
	}
	for _, c := range top {
		line(c)
		for _, f := range c.Folded {
			p.printf("        %s\n", wrapped("with it: "+f.Text, 92, "        "))
		}
		text := c.Cure().Says
		if r := cures[c.ID]; r != nil {
			text = r.Verdict
		}
		p.printf("        %s\n", wrapped("cure: "+text, 92, "        "))
		if r := cures[c.ID]; r != nil {
			for _, line := range r.Why {
				p.printf("        %s\n", wrapped("why: "+line, 92, "        "))
			}
			for _, change := range r.Changes {
				p.printf("        change: %s\n", change.Sentence(r.Design.Units))
			}
			for _, line := range r.Cost {
				p.printf("        %s\n", wrapped("cost: "+line, 92, "        "))
			}
		}
	}
	if more > 0 {
		p.printf("and %d more; --all lists them\n", more)
	}
	switch n := len(l.Notes); {
	case n > 0 && all:
		p.printf("\nNotes\n")
		for _, c := range l.Notes {
			line(c)
		}
	case n > 0:
		p.printf("\n%s; --all lists them\n", noted(n))
	}
}

func noted(n int) string {
	if n == 1 {
		return "1 note"
	}
	return fmt.Sprintf("%d notes", n)
}
