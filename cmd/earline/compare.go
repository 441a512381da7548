// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/compare"
	"earline/project/practice"
	"earline/project/sight"
)

// compareFlags are what the command line can ask of a comparison.
type compareFlags struct {
	answer
	with, found, out string
	all              bool
}

func compareCommand() *cobra.Command {
	var f compareFlags
	c := &cobra.Command{
		Use:   "compare FILE",
		Short: "Set the room as found beside the plan",
		Long: `Compare says what becomes of the room as it was found, or of an option, in the plan:
what stays, what moves and how far, what is new and what goes; which cut-outs are
patched, cut larger, covered or cut new; and what both come to under every judgement.

A file keeps whole designs beside its plan. --found takes the room as found from a
file of its own instead: what has the same label, or the same place in its list, is
the same thing. With -o the plan is written with that room kept beside it.

Exit status: 0 nothing in the plan is blocked and no rule broken that must hold,
1 otherwise, 2 the file or the command cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.one(c, "out"); err != nil {
				return err
			}
			plan, err := load(c, args[0])
			if err != nil {
				return err
			}
			return about(inMessages(args[0]), runCompare(c, plan, &f))
		},
	}
	f.flags(c)
	c.Flags().StringVar(&f.with, "with", "", "the `NAME` of the design kept in FILE; else the room as found, or the first")
	c.Flags().StringVar(&f.found, "found", "", "take the room as found from another `FILE`")
	c.Flags().StringVarP(&f.out, "out", "o", "", "write the plan with the room of --found beside it to `FILE`")
	c.Flags().BoolVar(&f.all, "all", false, "also list what stays, and everything that changes")
	return c
}

func runCompare(c *cobra.Command, plan *project.Design, f *compareFlags) error {
	was, err := f.earlier(c, plan)
	if err != nil {
		return err
	}
	if f.out != "" {
		if f.found == "" {
			return refuse("--out", "no --found", "a room to keep beside the plan")
		}
		if err := writeDesign(c, f.out, plan); err != nil {
			return err
		}
	}
	r := compare.Of(was, plan, practice.Standard{})
	if err := f.give(c, func() any { return r.Report() }, func(p *printer) { printCompare(p, r, f.all) }); err != nil {
		return err
	}
	if r.Is.Sight.Count[sight.Blocked] > 0 || r.Is.Sight.PictureCount[sight.Blocked] > 0 || broken(r.Is.Rules) {
		return errShort
	}
	return nil
}

// earlier returns the design that plan is compared with. One of --found is kept beside
// plan.
func (f *compareFlags) earlier(c *cobra.Command, plan *project.Design) (*project.Design, error) {
	if f.found != "" {
		if f.with != "" {
			return nil, refuse("--with", "--found as well", "one of the two")
		}
		other, err := load(c, f.found)
		if err != nil {
			return nil, about("--found", err)
		}
		other = compare.Adopt(plan, other)
		other.Variant = project.Variant{Name: "As found", Role: project.Existing}
		kept := plan.Variants
		plan.Variants = []project.Design{*other}
		for _, v := range kept {
			if v.Variant.Name != other.Variant.Name {
				plan.Variants = append(plan.Variants, v)
			}
		}
		return other, nil
	}
	if len(plan.Variants) == 0 {
		return nil, refuse("variants", "no design beside the plan", "one at least, or --found FILE")
	}
	i := max(plan.AsFound(), 0)
	if f.with != "" {
		if i = plan.VariantNamed(f.with); i < 0 {
			var names []string
			for _, v := range plan.Variants {
				names = append(names, fmt.Sprintf("%q", v.Variant.Name))
			}
			return nil, refuse("--with", fmt.Sprintf("%q", f.with), strings.Join(names, ", "))
		}
	}
	return &plan.Variants[i], nil
}

// printCompare prints both designs side by side, then what becomes of each thing.
func printCompare(p *printer, r *compare.Result, all bool) {
	show := func(v float64) string { return unit.Length(v).Format(r.Is.Design.Units != project.Imperial) }
	wide := len(r.Was.Name)
	for _, f := range r.Facts {
		wide = max(wide, len(f.Was))
	}
	p.printf("%s\n\n%-42s %-*s  %s\n", r.Is.Design.Name, "", wide, r.Was.Name, r.Is.Name)
	for _, f := range r.Facts {
		p.printf("%-42s %-*s  %s\n", f.What, wide, f.Was, f.Is)
	}
	for _, section := range []struct {
		title string
		fate  compare.Fate
	}{{"New", compare.New}, {"Goes", compare.Goes}, {"Moves", compare.Moves}, {"Changes where it is", compare.Changes}, {"Stays", compare.Stays}} {
		first := true
		for _, t := range r.Things {
			if t.Fate != section.fate || t.Fate == compare.Stays && !all {
				continue
			}
			if first {
				p.printf("\n%s\n", section.title)
				first = false
			}
			text := t.Name
			if t.Fate == compare.Moves {
				text += " " + t.Words(show)
			}
			p.printf("  %s\n", text)
			if all || t.Fate == compare.Changes {
				for _, c := range t.Changes {
					p.printf("    %s\n", c.Sentence(r.Is.Design.Units))
				}
			}
		}
	}
	if len(r.Cables) > 0 {
		p.printf("\nCables\n")
	}
	for _, k := range r.Cables {
		switch {
		case k.Serves:
			p.printf("  %s: serves again if its end can be drawn there: %s there, %s needed\n", k.Name, show(k.There), show(k.Needed))
		case k.There < k.Needed:
			p.printf("  %s: new, the one there is too short by %s\n", k.Name, show(k.Needed-k.There))
		default:
			p.printf("  %s: new, %g mm² there, %g wanted\n", k.Name, k.ThereArea, k.Wanted)
		}
	}
	if len(r.Holes) == 0 {
		return
	}
	p.printf("\nCut-outs\n")
	kept := 0
	for _, h := range r.Holes {
		if h.Fate == compare.Kept && !all {
			kept++
			continue
		}
		p.printf("  %s\n", wrapped(fmt.Sprintf("%s, %s: %s", h.Surface, h.Name, h.Words(show)), 100, "    "))
	}
	if kept > 0 {
		p.printf("  %d stay as they are\n", kept)
	}
	p.printf("\n%s\n", wrapped(compare.Caution, 100, ""))
}
