// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/bass"
	"earline/project/decay"
	"earline/scene/figure"
)

// decayFlags are what the command line can ask of how long a room rings.
type decayFlags struct {
	answer
	out    string
	accept bool
	chart  chartFile
}

func decayCommand() *cobra.Command {
	var f decayFlags
	c := &cobra.Command{
		Use:   "decay FILE [TABLE.csv]",
		Short: "Say how long the room rings, mode by mode and third by third, and enter measured times",
		Long: `Decay says how long the room rings: up to 200 Hz third by third of an octave, and mode
by mode in a rectangular room; above by Eyring's formula; beside what was measured and
what is wanted.

TABLE.csv holds measured times, a line each third: its middle in hertz, its time in
seconds, under the heads ` + decay.Header + `. They take the place of those in FILE, and the bass
rings by them; -o keeps the design with them. Milliseconds, columns the other way round
and times that no room has are refused; a time over ten times as long or as short as is
computed is asked about, and --accept answers every such question with yes.

Exit status: 0 answered, 2 a file cannot be used or a question is open.` + fileNote,
		Args:              takes(1, 2),
		ValidArgsFunction: completeFiles,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.check(c, len(args) > 1); err != nil {
				return err
			}
			ctx, stop := interruptible(c)
			defer stop()
			return runDecay(ctx, c, args, &f)
		},
	}
	f.flags(c)
	c.Flags().StringVarP(&f.out, "output", "o", "", "`FILE` to write the design with its measured times to, or -")
	addFlag(c, &f.chart, "chart", "FILE", "", "file to write the chart to: .png, .svg, .pdf or .csv, or - for comma separated", chartNamed)
	c.Flags().BoolVar(&f.accept, "accept", false, "answer every question about a time with yes")
	return c
}

func (f *decayFlags) check(c *cobra.Command, table bool) error {
	for _, name := range []string{"output", "accept"} {
		if c.Flags().Changed(name) && !table {
			return refuse("--"+name, "no measured times", "together with TABLE.csv")
		}
	}
	if err := named(c, "output"); err != nil {
		return err
	}
	return f.one(c, "output", "chart")
}

func runDecay(ctx context.Context, c *cobra.Command, args []string, f *decayFlags) error {
	d, err := load(c, args[0])
	if err != nil {
		return err
	}
	var store bass.Store
	var told []string
	if len(args) > 1 {
		if d, told, err = readDecay(ctx, c, d, args[1], &store, f.accept); err != nil {
			return err
		}
	}
	r, err := decay.Of(ctx, d, &store, nil)
	if err != nil {
		return about(inMessages(args[0]), err)
	}
	r.Remarks = append(told, r.Remarks...)
	if err := f.give(c, func() any { return r.Report() }, func(p *printer) { printDecay(p, r) }); err != nil {
		return err
	}
	if f.chart.name != "" {
		var b bytes.Buffer
		drawn := figure.Ringing(r)
		if err := drawn.Write(&b, f.chart.kind, nil); err != nil {
			return err
		}
		if err := write(c, f.chart.name, b.Bytes()); err != nil {
			return err
		}
	}
	if f.out != "" {
		if err := writeDesign(c, f.out, d); err != nil {
			return err
		}
	}
	if slices.ContainsFunc(r.Thirds, decay.Third.Long) {
		return errShort
	}
	return nil
}

// readDecay returns d with the measured times of a table, and what is to be told of it.
func readDecay(ctx context.Context, c *cobra.Command, d *project.Design, name string, store *bass.Store, accept bool) (*project.Design, []string, error) {
	data, err := read(c, name, decay.MaxSize)
	if err != nil {
		return nil, nil, err
	}
	table, err := decay.Read(data, inMessages(name))
	if err != nil {
		return nil, nil, err
	}
	d = d.Clone()
	d.Measured.Decay = nil
	if !accept {
		r, err := decay.Of(ctx, d, store, nil) // by its materials alone
		if err != nil {
			return nil, nil, err
		}
		var open []error
		for _, q := range r.Doubts(table.Times) {
			open = append(open, fmt.Errorf("%s: %s", inMessages(name), q))
		}
		if len(open) > 0 {
			return nil, nil, errors.Join(append(open, fmt.Errorf("%s: %s open: --accept answers yes, or put the times right", inMessages(name), counted(len(open), "question")))...)
		}
	}
	d.Measured.Decay = table.Times
	return d, table.Remarks, nil
}

// printDecay prints how long a room rings for people.
func printDecay(p *printer, r *decay.Result) {
	p.printf("%s\n%.1f m³; bass by %s", r.Design.Name, r.Reverb.Volume, r.Bass.Way)
	if on := r.Design.Measured.On; on != "" {
		p.printf("; measured on %s", on)
	}
	p.printf("\n\nHow long it rings (T60), by thirds of an octave, above 200 Hz by octaves; seconds\n%-8s %8s %8s %8s %14s\n", "Hz", "bass", "Eyring", "measured", "wanted")
	for _, t := range r.Thirds {
		if !t.Told() {
			continue
		}
		time := func(s float64, mark string) string {
			if s == 0 {
				return "-"
			}
			if over := s - t.Most; t.Long() && s == t.Time() && over < 0.005 {
				return fmt.Sprintf("%s%.3f", mark, s) // as long as wanted, to the hundredth
			}
			return fmt.Sprintf("%s%.2f", mark, s)
		}
		short, wanted := "", "-"
		if t.Short {
			short = "~"
		}
		if t.Most != 0 {
			wanted = fmt.Sprintf("%.2f to %.2f", t.Least, t.Most)
		}
		p.printf("%-8s %8s %8s %8s %14s", hertz(t.Hz), time(t.Modal, short), time(t.Diffuse, ""), time(t.Measured, ""), wanted)
		if t.Long() {
			p.printf("  longer than wanted")
		}
		p.printf("\n")
	}
	printModeDecay(p, r.Bass.Modes)
	p.printf("\n%s\n\nHow far this holds:\n", wrapped(r.Sentence(), 100, ""))
	for _, text := range r.Remarks {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
}

// printModeDecay lists how long the modes of a rectangular room ring.
func printModeDecay(p *printer, modes []bass.ModeDecay) {
	if len(modes) == 0 {
		return
	}
	const most = 24
	p.printf("\nModes of the rectangle\n%-8s %-11s %-9s %7s %6s\n", "Hz", "kind", "order", "T60, s", "Q")
	for i, m := range modes {
		if i == most {
			p.printf("and %d more to %.0f Hz: --json has them all\n", len(modes)-most, modes[len(modes)-1].Frequency)
			return
		}
		p.printf("%-8.1f %-11s %-9s %7.2f %6.0f\n", m.Frequency, m.Kind(), fmt.Sprintf("(%d,%d,%d)", m.P, m.Q, m.R), m.Time, m.Quality())
	}
}
