// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/bass"
	"earline/project/bass/modal"
	"earline/project/disk"
	"earline/project/file"
	"earline/project/place"
	"earline/scene/chart"
	"earline/scene/figure"
)

// bassFlags are what the command line can ask of the bass, as typed.
type bassFlags struct {
	json, align, seek bool
	out, chart, step  string
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

FILE is a design, or demo:NAME. Exit status: 0 answered, 2 the file or the command
cannot be used.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := load(args[0])
			if err != nil {
				return err
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
			defer stop()
			return runBass(ctx, c.OutOrStdout(), d, &f)
		},
	}
	fs := c.Flags()
	fs.BoolVar(&f.json, "json", false, "print the full result as JSON")
	fs.BoolVar(&f.align, "align", false, "find gain, delay and polarity of each subwoofer")
	fs.BoolVar(&f.seek, "seek", false, "find places for the subwoofers in the design's zones")
	fs.StringVar(&f.step, "step", "30 cm", "from one place to the next that --seek compares")
	fs.StringVarP(&f.out, "output", "o", "", "file to write the aligned design to")
	fs.StringVar(&f.chart, "chart", "", "file to write the chart to: .png, .svg or .csv")
	return c
}

func runBass(ctx context.Context, w io.Writer, d *project.Design, f *bassFlags) error {
	if f.out != "" && !f.align && !f.seek {
		return fmt.Errorf("--output: nothing to write; ask for --align or --seek")
	}
	step, err := lengthFlag("step", f.step)
	if err != nil {
		return err
	}
	if step < 0.05 || step > 10 {
		return fmt.Errorf("--step %s: allowed is 5 cm to 10 m", f.step)
	}
	kind := strings.TrimPrefix(strings.ToLower(filepath.Ext(f.chart)), ".")
	if f.chart != "" && kind != chart.PNG && kind != chart.SVG && kind != chart.CSV {
		return fmt.Errorf("--chart %s: allowed is a name that ends in .png, .svg or .csv", f.chart)
	}
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		return err
	}
	var store bass.Store
	st, err := store.New(ctx, p, nil)
	if err != nil {
		return err
	}
	var before *bass.Study
	switch {
	case f.seek:
		s, err := store.Seek(ctx, d, p, float64(step), nil)
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
	}
	if f.json {
		enc := json.NewEncoder(w)
		enc.SetIndent("", " ")
		err = enc.Encode(st.Report(d, before))
	} else {
		out := &printer{w: w}
		printBass(out, d, st, before)
		err = out.err
	}
	if err != nil {
		return err
	}
	if f.chart != "" {
		if err := writeChart(f.chart, kind, d, st, before); err != nil {
			return err
		}
	}
	if f.out != "" {
		return file.Write(f.out, d)
	}
	return nil
}

// writeChart writes the responses as a picture or a table.
func writeChart(name, kind string, d *project.Design, st, before *bass.Study) error {
	o := figure.ResponseOptions{Seat: -1, Crossover: d.Playback.OrUsual().Crossover, Seats: figure.SeatOf(place.Of(d))}
	if before != nil {
		o.Before = before.Response
	}
	c := figure.Response(st.Response, o)
	var b bytes.Buffer
	if err := c.Write(&b, kind, nil); err != nil {
		return err
	}
	return disk.Replace(name, b.Bytes())
}

// printBass prints a study for people.
func printBass(p *printer, d *project.Design, st, before *bass.Study) {
	show := lengths(d.Units)
	p.printf("%s\n%s, %s; by %s\n\n", d.Name, counted(len(st.Plan.Seats), "seat"), counted(len(st.Plan.Speakers), "subwoofer"), st.Way)
	p.printf("%-10s %10s %10s %10s %8s %8s  polarity\n", "", "from screen", "from left", "height", "gain dB", "delay ms")
	for i, k := range st.Plan.Speakers {
		l, at := d.Speakers[k], st.Plan.Places[i]
		polarity := "as wired"
		if l.Tuning.Inverted {
			polarity = "inverted"
		}
		p.printf("%-10s %11s %10s %10s %+8.1f %8.2f  %s\n", l.Name(), show(at.X), show(at.Y), show(at.Z), l.Tuning.Gain, l.Tuning.Delay, polarity)
	}
	mids, level := st.Response.Thirds()
	p.printf("\nLevel in thirds of an octave for 2.83 V at each, dB SPL\n%-10s", "Hz")
	for _, f := range mids {
		p.printf(" %5g", nominalThird(f))
	}
	p.printf("\n")
	for i, s := range st.Plan.Seats {
		p.printf("%-10s", s.Name())
		for _, l := range level[i] {
			p.printf(" %5.1f", l)
		}
		p.printf("\n")
	}
	printFigures(p, "From 20 to 120 Hz", st.Figures)
	if before != nil {
		printFigures(p, "Before", before.Figures)
	}
	if room, ok := st.Plan.Rectangular(); ok {
		printModes(p, room.Modes(bass.Highest))
	}
	p.printf("\nHow far this holds:\n")
	for _, text := range st.Response.Remarks {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
	p.printf("\n%s\n", wrapped(bass.Caution, 100, ""))
}

// nominalThird returns the name of a third-octave band by its exact middle (IEC
// 61260-1:2014, annex E).
func nominalThird(f float64) float64 {
	names := []float64{10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250}
	best := f
	for _, n := range names {
		if math.Abs(math.Log(n/f)) < 0.03 {
			best = n
		}
	}
	return best
}

// counted writes a number of things.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func printFigures(p *printer, when string, f bass.Figures) {
	p.printf("\n%s\n", wrapped(fmt.Sprintf("%s: the seats lie %.1f dB off their mean (mean spatial variance %.1f dB²), loudest to softest %.1f dB, at most %.0f dB at %.0f Hz; mean level %.1f dB",
		when, f.SeatToSeat, f.MeanSpatialVariance, f.Spread, f.WidestSpread, f.WidestAt, f.Output), 100, "  "))
}

// printModes lists the modes of the room.
func printModes(p *printer, modes []modal.Mode) {
	const most = 24
	var words []string
	for i, m := range modes {
		if i == most {
			words = append(words, fmt.Sprintf("and %d more to %d Hz", len(modes)-most, bass.Highest))
			break
		}
		words = append(words, fmt.Sprintf("%.1f Hz %s (%d,%d,%d)", m.Frequency, m.Kind(), m.P, m.Q, m.R))
	}
	p.printf("\nModes of the rectangle, length, width, height:\n%s\n", wrapped(strings.Join(words, ", "), 100, ""))
}
