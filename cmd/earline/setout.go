// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/practice"
	"earline/project/setout"
	"earline/project/sight"
)

// setoutFlags are what the command line can ask of a set-out.
type setoutFlags struct {
	answer
	rules string
	units string
	out   setoutFile
	drawn sheetFlags
}

func setoutCommand() *cobra.Command {
	var f setoutFlags
	c := &cobra.Command{
		Use:   "setout FILE",
		Short: "List and draw where on walls, ceiling and floor everything goes",
		Long: `Setout lists everything that is to be marked, in the order in which one walks the
room: the screen wall, on round to the right, the ceiling, the floor. Heights are
above (+) or below (-) one laser line; offsets are level and square to faces that
can be seen from there, or to the centre line of the picture. Holes are given by
their edges. Of each loudspeaker it says how far it may end up off its place in
every direction, and what gets worse beyond.

With --output it writes the list for a spreadsheet (.csv) or draws it: plan, ceiling,
every wall from inside, sections, cut-outs, list and checks, as pages of one document
(.pdf), as a file for each sheet (.svg: of room.svg the plan becomes room-S1.svg), or
in full size for a drawing program (.dxf).

Exit status: 0 answered, 2 the file or the command cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.one(c, "output"); err != nil {
				return err
			}
			if err := named(c, "rules"); err != nil {
				return err
			}
			if err := f.drawn.check(c, f.out); err != nil {
				return err
			}
			std, err := readRules(c, f.rules)
			if err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			ctx, stop := interruptible(c)
			defer stop()
			return about(inMessages(args[0]), runSetout(ctx, c, args[0], d, std, &f))
		},
	}
	f.flags(c)
	addShortFlag(c, &f.out, "output", "o", "FILE", "", "file to write to: "+strings.Join(setoutEndings(), ", ")+", or - for comma separated", setoutNamed)
	f.drawn.flags(c)
	units := []string{string(project.Metric), string(project.Imperial)}
	addFlag(c, &f.units, "units", "WORD", "", "metric or imperial, in place of the design's own", oneOf(units...))
	_ = c.RegisterFlagCompletionFunc("units", completeWords(func() []string { return units }))
	c.Flags().StringVar(&f.rules, "rules", "", "house standard in `FILE`, for the directions that are accepted (*"+practice.Extension+")")
	_ = c.RegisterFlagCompletionFunc("rules", completeEnding(practice.Extension))
	return c
}

func runSetout(ctx context.Context, c *cobra.Command, name string, d *project.Design, std practice.Standard, f *setoutFlags) error {
	r := sight.Audit(d)
	l, err := setout.Of(ctx, r, std)
	if err != nil {
		return err
	}
	if f.units != "" {
		l.Units = project.Units(f.units)
	}
	if err := f.give(c, func() any { return l.Report() }, func(p *printer) { printSetout(p, l) }); err != nil {
		return err
	}
	if f.out.name == "" {
		return nil
	}
	if f.out.ending == ".csv" {
		return write(c, f.out.name, l.Table().CSV())
	}
	return f.drawn.write(c, f.out, name, &r.Room, l)
}

// setoutEndings are the endings of files that a set-out is written to.
func setoutEndings() []string { return []string{".csv", ".dxf", ".pdf", ".svg"} }

// setoutFile is a file for a set-out, with what its name says it holds.
type setoutFile struct{ name, ending string }

// setoutNamed reads the name of a file for a set-out.
func setoutNamed(name string) (setoutFile, error) {
	if name == standard {
		return setoutFile{name, ".csv"}, nil
	}
	ending := strings.ToLower(filepath.Ext(name))
	if !slices.Contains(setoutEndings(), ending) {
		return setoutFile{}, &unit.ParseError{Found: strconv.Quote(name), Allowed: "a name that ends in " + strings.Join(setoutEndings(), ", ") + ", or -"}
	}
	return setoutFile{name, ending}, nil
}

// printSetout prints the list, a heading for each place.
func printSetout(p *printer, l *setout.List) {
	const width = 100
	p.printf("Set-out of %s\n", l.Name)
	var job []string
	for _, f := range []struct{ name, text string }{{"job ", l.Job.Reference}, {"revision ", l.Job.Revision}, {"revised on ", l.Job.RevisedOn}} {
		if f.text != "" {
			job = append(job, f.name+f.text)
		}
	}
	if len(job) > 0 {
		p.printf("%s\n", wrapped(strings.Join(job, ", "), width, "  "))
	}
	for _, line := range l.Datum.Words(l.Units) {
		p.printf("%s\n", wrapped(line, width, "  "))
	}
	p.printf("%s\n", wrapped("Heights are above (+) or below (-) the line; offsets are level and square, to finished faces. Left and right of a hole or an edge are "+
		"as one faces it, of an aim as one looks along it. What may be off is so in one direction at a time.", width, "  "))
	if l.Warning != "" {
		p.printf("%s\n", wrapped(l.Warning, width, "  "))
	}
	place := ""
	for i := range l.Items {
		it := &l.Items[i]
		if it.Place != place {
			place = it.Place
			p.printf("\n%s\n", strings.ToUpper(place[:1])+place[1:])
		}
		p.printf("  %s\n", wrapped(it.Name+": "+l.Where(it), width-2, "      "))
		for _, text := range l.More(it) {
			p.printf("    %s\n", wrapped(text, width-4, "      "))
		}
	}
}
