// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/bass"
	"earline/project/bass/equalise"
	"earline/project/bass/filter"
	"earline/project/file"
	"earline/project/table"
)

// equaliseFlags are what the command line can ask of an equaliser.
type equaliseFlags struct {
	answer
	target                string // a name, a table, or empty for the design's
	most                  int
	boost, from, to, rate float64
	out, filters, biquads string
}

// flatTarget is the name of the target that is the same level everywhere.
const flatTarget = "flat"

func equaliseCommand() *cobra.Command {
	var f equaliseFlags
	c := &cobra.Command{
		Use:   "equalise FILE",
		Short: "Find filters that bring the bass to a target, cuts first",
		Long: `Equalise finds the few parametric filters, the same for all subwoofers, that bring the
mean of the seats nearest a target from 20 Hz to the crossover, with gains, delays and
polarities as the design has them: align first. Peaks are cut. Dips are left unless
--boost allows filling them, and even then not where the seats differ by more than 3 dB,
below what the subwoofers reach, or where no headroom is left. Filters that the design
has for all subwoofers are replaced, but for a high-pass.

The target is that of the design, or flat, or a table with the columns hz,db.

Exit status: 0 answered, 2 the file or the command cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.check(c); err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			target, err := f.targetOf(c, d)
			if err != nil {
				return err
			}
			ctx, stop := interruptible(c)
			defer stop()
			return about(inMessages(args[0]), runEqualise(ctx, c, d, target, &f))
		},
	}
	f.flags(c)
	fs := c.Flags()
	fs.StringVar(&f.target, "target", "", "`NAME` of the target, flat, or a table of it that ends in .csv; left out it is the design's")
	addFlag(c, &f.most, "most", "N", strconv.Itoa(equalise.UsualMost), fmt.Sprintf("how many filters at most, 1 to %d", project.MaxFilters), filterCount)
	addFlag(c, &f.boost, "boost", "DB", "0", fmt.Sprintf("how far a dip may be filled, 0 (cuts only) to %d dB", equalise.GreatestBoost), numberIn(0, equalise.GreatestBoost, "dB"))
	addFlag(c, &f.from, "from", "HERTZ", "20", "where the band begins that is brought to the target", numberIn(16, 160, "Hz"))
	addFlag(c, &f.to, "to", "HERTZ", "", "where it ends; left out it is the crossover", numberIn(16, 160, "Hz"))
	addFlag(c, &f.rate, "rate", "HERTZ", strconv.Itoa(filter.Rate), "sample rate of --biquads", numberIn(8000, 768000, "Hz"))
	fs.StringVarP(&f.out, "output", "o", "", "`FILE` to write the equalised design to, or -")
	fs.StringVar(&f.filters, "filters", "", "`FILE` to write the filters to, a table that ends in .csv, or -")
	fs.StringVar(&f.biquads, "biquads", "", "`FILE` to write the coefficients to, .csv or .json, or - for a table")
	_ = c.RegisterFlagCompletionFunc("target", completeWords(func() []string { return []string{flatTarget} }))
	return c
}

// filterCount reads how many filters may be used.
func filterCount(text string) (int, error) {
	n, err := count(text)
	if err != nil || n < 1 || n > project.MaxFilters {
		return 0, found(text, fmt.Sprintf("1 to %d", project.MaxFilters))
	}
	return n, nil
}

// numberIn reads a number from lo to hi, with or without its unit.
func numberIn(lo, hi float64, unit string) func(string) (float64, error) {
	return func(text string) (float64, error) {
		v, err := table.ParseNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), unit)))
		if err != nil || !(v >= lo && v <= hi) {
			return 0, found(text, fmt.Sprintf("%g to %g %s", lo, hi, unit))
		}
		return v, nil
	}
}

func (f *equaliseFlags) check(c *cobra.Command) error {
	if err := named(c, "target", "output", "filters", "biquads"); err != nil {
		return err
	}
	if err := needs(c, "biquads", "rate"); err != nil {
		return err
	}
	ending := func(flag, name string, allowed ...string) error {
		for _, e := range allowed {
			if name == "" || name == standard || strings.EqualFold(filepath.Ext(name), e) {
				return nil
			}
		}
		return refuse("--"+flag, strconv.Quote(name), "a name that ends in "+strings.Join(allowed, " or ")+", or -")
	}
	if err := ending("filters", f.filters, ".csv"); err != nil {
		return err
	}
	if err := ending("biquads", f.biquads, ".csv", ".json"); err != nil {
		return err
	}
	return f.one(c, "output", "filters", "biquads")
}

// targetOf returns the target that is asked for.
func (f *equaliseFlags) targetOf(c *cobra.Command, d *project.Design) (project.Target, error) {
	switch {
	case f.target == "":
		return d.Equalisation.Target, nil
	case strings.EqualFold(f.target, flatTarget):
		return project.Target{}, nil
	case !strings.EqualFold(filepath.Ext(f.target), ".csv"):
		return project.Target{}, refuse("--target", strconv.Quote(f.target), flatTarget+", or a table that ends in .csv")
	}
	data, err := read(c, f.target, file.MaxSize)
	if err != nil {
		return project.Target{}, err
	}
	t, err := file.DecodeTarget(data, inMessages(f.target))
	if err != nil {
		return project.Target{}, err
	}
	t.Name = strings.TrimSuffix(filepath.Base(f.target), filepath.Ext(f.target))
	with := d.Clone() // the limits of a target are those of the file
	with.Equalisation.Target = t
	return t, about(inMessages(f.target), with.Validate())
}

func runEqualise(ctx context.Context, c *cobra.Command, d *project.Design, target project.Target, f *equaliseFlags) error {
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		return err
	}
	var store bass.Store
	st, err := store.New(ctx, p, nil)
	if err != nil {
		return err
	}
	e, err := st.Equalise(d, bass.EqualiseOptions{Target: target, From: f.from, To: f.to, Most: f.most, Boost: f.boost})
	if err != nil {
		return err
	}
	if err := f.give(c, func() any { return e.Report() }, func(p *printer) { printEqualised(p, e) }); err != nil {
		return err
	}
	if f.filters != "" {
		if err := write(c, f.filters, bass.FilterTable(e.Design)); err != nil {
			return err
		}
	}
	if f.biquads != "" {
		b, err := bass.BiquadsOf(e.Design, f.rate)
		if err != nil {
			return err
		}
		data := b.CSV()
		if strings.EqualFold(filepath.Ext(f.biquads), ".json") {
			if data, err = b.JSON(); err != nil {
				return err
			}
		}
		if err := write(c, f.biquads, data); err != nil {
			return err
		}
	}
	if f.out != "" {
		return writeDesign(c, f.out, e.Design)
	}
	return nil
}
