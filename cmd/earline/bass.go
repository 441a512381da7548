// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bass"
	"earline/project/place"
	"earline/scene/chart"
	"earline/scene/figure"
)

// bassFlags are what the command line can ask of the bass.
type bassFlags struct {
	answer
	align, seek bool
	out         string
	chart       chartFile
	step        unit.Length
	giveUp      float64 // dB
}

func bassCommand() *cobra.Command {
	var f bassFlags
	c := &cobra.Command{
		Use:   "bass FILE",
		Short: "Say what the subwoofers do at every seat, align them, seek places for them",
		Long: `Bass computes the response of the subwoofers at every seat from 16 to 160 Hz and
says how alike the seats hear them: by the sum over modes in a bare rectangular
room, by finite differences in any other and wherever platforms or soffits stand.

  --align  finds gain, delay and polarity of each subwoofer
  --seek   finds places in the design's zones for subwoofers, and aligns them there

Both say what the level of each third of an octave was and is. From 20 to 50 Hz
none falls more than 3 dB below the best that the subwoofers reach in phase, unless
--give-up says more.

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
			ctx, stop := interruptible(c)
			defer stop()
			return about(inMessages(args[0]), runBass(ctx, c, d, &f))
		},
	}
	f.flags(c)
	fs := c.Flags()
	fs.BoolVar(&f.align, "align", false, "find gain, delay and polarity of each subwoofer")
	fs.BoolVar(&f.seek, "seek", false, "find places for the subwoofers in the design's zones")
	addFlag(c, &f.step, "step", "LENGTH", "30 cm", "from one place to the next that --seek compares", lengthIn(5*unit.Centimetre, 10*unit.Metre))
	addFlag(c, &f.giveUp, "give-up", "DB", fmt.Sprint(bass.GiveUp), "how far --align and --seek may let a third of an octave from 20 to 50 Hz fall below the best in phase", levelUnder(60))
	fs.StringVarP(&f.out, "output", "o", "", "`FILE` to write the aligned design to, or -")
	addFlag(c, &f.chart, "chart", "FILE", "", "file to write the chart to: .png, .svg, .pdf or .csv, or - for comma separated", chartNamed)
	return c
}

func (f *bassFlags) check(c *cobra.Command) error {
	if c.Flags().Changed("output") && !f.align && !f.seek {
		return refuse("--output", "nothing to write", "together with --align or --seek")
	}
	if err := named(c, "output"); err != nil {
		return err
	}
	if err := needs(c, "seek", "step"); err != nil {
		return err
	}
	if c.Flags().Changed("give-up") && !f.align && !f.seek {
		return refuse("--give-up", "nothing to align", "together with --align or --seek")
	}
	return f.one(c, "output", "chart")
}

func runBass(ctx context.Context, c *cobra.Command, d *project.Design, f *bassFlags) error {
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		return err
	}
	p = p.Giving(f.giveUp)
	var store bass.Store
	st, err := store.New(ctx, p, nil)
	if err != nil {
		return err
	}
	var before *bass.Study
	switch {
	case f.seek:
		s, err := store.Seek(ctx, d, p, float64(f.step), nil)
		if err != nil {
			return err
		}
		before, st, d = st, s.Study, s.Design
		st.Response.Remarks = s.Placement.Remarks
		if s.Stay {
			st.Response.Remarks = append(st.Response.Remarks, "The places as they are stay: aligned, they are better than all that were sought.")
		}
	case f.align:
		after, o, err := st.Align(ctx, p.Subs, nil)
		if err != nil {
			return err
		}
		before, st, d = st, after, p.Aligned(d, o.Subs)
		st.Response.Remarks = o.Remarks
	default:
		if st, err = store.Ranged(st); err != nil {
			return err
		}
	}
	if err := f.give(c, func() any { return st.Report(d, before) }, func(p *printer) { printBass(p, d, st, before) }); err != nil {
		return err
	}
	if f.chart.name != "" {
		if err := writeChart(c, f.chart, d, st, before); err != nil {
			return err
		}
	}
	if f.out != "" {
		if err := writeDesign(c, f.out, d); err != nil {
			return err
		}
	}
	if st.Output(d).Short() {
		return errShort
	}
	return nil
}

// chartFile is a file for a chart, with what its name says it holds.
type chartFile struct{ name, kind string }

// chartNamed reads the name of a file for a chart.
func chartNamed(name string) (chartFile, error) {
	if name == standard {
		return chartFile{name, chart.CSV}, nil
	}
	switch kind := strings.TrimPrefix(strings.ToLower(filepath.Ext(name)), "."); kind {
	case chart.PNG, chart.SVG, chart.PDF, chart.CSV:
		return chartFile{name, kind}, nil
	}
	return chartFile{}, &unit.ParseError{Found: strconv.Quote(name), Allowed: "a name that ends in .png, .svg, .pdf or .csv, or -"}
}

// writeChart writes the responses as a picture or a table.
func writeChart(c *cobra.Command, to chartFile, d *project.Design, st, before *bass.Study) error {
	o := figure.ResponseOptions{Seat: -1, Crossover: d.Playback.OrUsual().Crossover, Seats: figure.SeatOf(place.Of(d))}
	if before != nil {
		o.Before = before.Response
	}
	var b bytes.Buffer
	drawn := figure.Response(st.Response, o)
	if err := drawn.Write(&b, to.kind, nil); err != nil {
		return err
	}
	return write(c, to.name, b.Bytes())
}
