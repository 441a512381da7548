// SPDX-License-Identifier: MIT

package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/built"
	"earline/project/practice"
	"earline/project/sight"
)

// asBuiltFlags are what the command line can ask of a room as built.
type asBuiltFlags struct {
	answer
	list, out, rules string
	accept           bool
}

func asBuiltCommand() *cobra.Command {
	var f asBuiltFlags
	c := &cobra.Command{
		Use:   "asbuilt FILE [SITE.csv]",
		Short: "Check the room again with what was measured on site",
		Long: `Asbuilt judges the room again with what was measured on site in the place of what is
planned, and says what must be moved, the most harmful first, and what may stay. The
plan is never changed.

With --list it writes the site list: a line for each figure to be taken. Heights are
against the laser line, below it negative. SITE.csv is that list filled in, wholly or
in part; without it, what FILE holds already is judged. A figure that looks like a slip
- another unit, another wall, the other side of the line - is asked about and not used;
--accept answers every such question with yes. Over 1 m off is refused.

--json has the keys of audit, for the room as built, and "as_built".

Exit status, of the room as built: 0 nothing blocked and no rule broken that must
hold, 1 otherwise, 2 a file cannot be used or a question is open.` + fileNote,
		Args:              takes(1, 2),
		ValidArgsFunction: completeFiles,
		RunE:              func(c *cobra.Command, args []string) error { return runAsBuilt(c, args, &f) },
	}
	f.flags(c)
	c.Flags().StringVar(&f.list, "list", "", "`FILE` to write the site list to, or -")
	c.Flags().StringVarP(&f.out, "output", "o", "", "`FILE` to write the design with its measurements to, or -")
	c.Flags().BoolVar(&f.accept, "accept", false, "answer every question about a figure with yes")
	c.Flags().StringVar(&f.rules, "rules", "", "house standard in `FILE`: rules switched off or with other limits (*"+practice.Extension+")")
	_ = c.RegisterFlagCompletionFunc("rules", completeEnding(practice.Extension))
	return c
}

func runAsBuilt(c *cobra.Command, args []string, f *asBuiltFlags) error {
	if err := f.one(c, "list", "output"); err != nil {
		return err
	}
	if err := named(c, "list", "output", "rules"); err != nil {
		return err
	}
	rules, err := readRules(c, f.rules)
	if err != nil {
		return err
	}
	d, err := load(c, args[0])
	if err != nil {
		return err
	}
	if f.list != "" {
		if len(args) > 1 {
			return refuse("--list", "a filled-in list as well", "one of the two")
		}
		return write(c, f.list, built.NewSheet(d).List())
	}
	if len(args) > 1 {
		if d.AsBuilt, err = readSite(c, d, args[1], f.accept); err != nil {
			return err
		}
	}
	if f.out != "" {
		if err := writeDesign(c, f.out, d); err != nil {
			return err
		}
	}
	ctx, stop := interruptible(c)
	defer stop()
	r, err := built.Compare(ctx, d, rules)
	if err != nil {
		return about(inMessages(args[0])+" as built", err)
	}
	everyone, err := sight.Range(ctx, r.Built.Design)
	if err != nil {
		return err
	}
	a := &audited{file: args[0], design: r.Built.Design, sight: r.Built.Audit, rules: r.Built.Rules, everyone: everyone, causes: r.Built.Causes}
	err = f.give(c, func() any {
		return struct {
			auditReport
			AsBuilt built.Report `json:"as_built"`
		}{a.report(), r.Report(d.AsBuilt.MeasuredOn)}
	}, func(p *printer) { printBuilt(p, r, d) })
	if err == nil && a.short() {
		err = errShort
	}
	return err
}

// readSite returns what d's measurements become with a site list.
func readSite(c *cobra.Command, d *project.Design, name string, accept bool) (none project.AsBuilt, err error) {
	data, err := read(c, name, built.MaxSize)
	if err != nil {
		return none, err
	}
	r, err := built.NewSheet(d).Read(data, inMessages(name))
	if err != nil {
		return none, err
	}
	if accept {
		r.Accept()
	}
	if len(r.Questions) > 0 {
		var open []error
		for i := range r.Questions {
			open = append(open, errors.New(r.Questions[i].String()))
		}
		return none, errors.Join(append(open, fmt.Errorf("%s: %s open: --accept answers yes, or put the figures right", inMessages(name), counted(len(open), "question")))...)
	}
	return r.AsBuilt, nil
}

// printBuilt prints a room as built beside its plan.
func printBuilt(p *printer, r *built.Result, d *project.Design) {
	p.printf("%s, as built\n%s\n", d.Name, r.Headline())
	sheet := built.NewSheet(d)
	wide := 0
	for _, it := range r.Items {
		if it.Measured() {
			wide = max(wide, len([]rune(it.Name)))
		}
	}
	if wide > 0 {
		p.printf("\n")
	}
	for i := range r.Items {
		it := &r.Items[i]
		for k := range it.Measures {
			m := &it.Measures[k]
			if !m.Known {
				continue
			}
			verdict := ""
			if !m.Within() {
				verdict = ", beyond: " + m.Allowed(d.Units)
			}
			p.printf("%-*s  %-18s %s%s\n", wide, it.Name, sheet.Called(it, m.Quantity), m.Words(d.Units), verdict)
		}
	}
	plan, is := r.Plan.Totals(), r.Built.Totals()
	p.printf("\n%-28s %8s %8s\n", "", "plan", "as built")
	for _, l := range []struct {
		name     string
		was, now int
	}{
		{"Ears to drivers, clear", plan.Ears[0], is.Ears[0]}, {"tight", plan.Ears[1], is.Ears[1]}, {"blocked", plan.Ears[2], is.Ears[2]},
		{"Eyes to picture, clear", plan.Eyes[0], is.Eyes[0]}, {"tight", plan.Eyes[1], is.Eyes[1]}, {"blocked", plan.Eyes[2], is.Eyes[2]},
		{"To settle", plan.Settle, is.Settle}, {"Notes", plan.Notes, is.Notes},
	} {
		p.printf("%-28s %8d %8d\n", l.name, l.was, l.now)
	}
	if len(r.Move) > 0 {
		p.printf("\nTo be moved, the most harmful first:\n")
	}
	for i := range r.Move {
		m := &r.Move[i]
		p.printf("%2d. %s: %s\n", i+1, m.Name, m.Words(d.Units))
		const told = 3
		for _, l := range m.Losses[:min(told, len(m.Losses))] {
			p.printf("    %s\n", wrapped(l.Text, 92, "      "))
		}
		if more := len(m.Losses) - told; more > 0 {
			p.printf("    and %d more\n", more)
		}
	}
	if len(r.Stay) > 0 {
		p.printf("\nMay stay:\n")
	}
	for i := range r.Stay {
		p.printf("    %s: %s\n", r.Stay[i].Name, r.Stay[i].Words(d.Units))
	}
	p.printf("\n%s\n", wrapped(r.Built.Causes.Sentence(), 92, "  "))
}
