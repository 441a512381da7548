// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/bass"
	"earline/project/measured"
	"earline/project/noise"
)

// responsesFlags are what the command line can ask of measured responses.
type responsesFlags struct {
	answer
	tables []string
	noise  []float64
	out    string
}

func responsesCommand() *cobra.Command {
	var f responsesFlags
	c := &cobra.Command{
		Use:   "responses FILE",
		Short: "Lay the responses measured at the seats over the computed ones",
		Long: `Responses lays what was measured at the seats over what is computed of the subwoofers
there: by third of an octave from 20 to 100 Hz how far they lie apart, the root mean
square and the worst of it; whether the computed peaks are found within 5 % of their
frequency; and how far the seats differ from each other, measured and computed. As a
measurement has a reference of its own, the mean difference from 30 to 100 Hz is taken
off, and told.

--read reads a table: the columns seat, hz and db, a line a point, seats as 1.2
or "row 1 seat 2"; or SEAT=TABLE, the columns hz and db of one seat, or their numbers
alone. A column of names the loudspeaker; without it all subwoofers played. Semicolons
and decimal commas are read, lines that begin with # or * passed over. Nothing is used
of a table with a fault. --noise takes the noise at the main position, with all that
runs during a film, as nine levels by octave from 31.5 Hz to 8 kHz. -o writes the design
with what was read.

Exit status: 0 answered, 2 a file or the command cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.one(c, "output"); err != nil {
				return err
			}
			if err := named(c, "output"); err != nil {
				return err
			}
			if f.out != "" && len(f.tables)+len(f.noise) == 0 {
				return refuse("--output", "nothing read", "together with --read or --noise")
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			ctx, stop := interruptible(c)
			defer stop()
			return about(inMessages(args[0]), runResponses(ctx, c, d, &f))
		},
	}
	f.flags(c)
	c.Flags().StringArrayVar(&f.tables, "read", nil, "read measured responses (`[SEAT=]TABLE.csv`); may be repeated")
	addFlag(c, &f.noise, "noise", "LEVELS", "", "noise by octave from 31.5 Hz, dB: nine levels such as \"45 38 30 26 21 18 16 15 15\"", noiseLevels)
	c.Flags().StringVarP(&f.out, "output", "o", "", "`FILE` to write the design with what was read to, or -")
	_ = c.RegisterFlagCompletionFunc("read", completeEnding(".csv"))
	return c
}

func runResponses(ctx context.Context, c *cobra.Command, d *project.Design, f *responsesFlags) error {
	var said []string
	for _, t := range f.tables {
		r, err := readResponses(c, d, t)
		if err != nil {
			return about("--read", err)
		}
		text := fmt.Sprintf("%s: %s", inMessages(tableName(t)), counted(len(r.Responses), "response"))
		if n := r.Into(d); n > 0 {
			text += fmt.Sprintf(", %d in the place of what was there", n)
		}
		said = append(said, strings.Join(append([]string{text}, r.Remarks...), "; "))
	}
	if len(f.noise) > 0 {
		d.Measured.Noise = f.noise
	}
	if err := d.Validate(); err != nil {
		return err
	}
	if len(d.Measured.Responses)+len(d.Measured.Noise) == 0 {
		return refuse("measured.responses", "none", "one at least, or --read TABLE.csv")
	}
	cmp, err := compareMeasured(ctx, d)
	if err != nil {
		return err
	}
	if err := f.give(c, func() any { return cmp.Report() }, func(p *printer) { printResponses(p, cmp, said) }); err != nil {
		return err
	}
	if f.out != "" {
		return writeDesign(c, f.out, d)
	}
	return nil
}

// compareMeasured computes the bass of d, where there is any, and compares.
func compareMeasured(ctx context.Context, d *project.Design) (*measured.Comparison, error) {
	p, err := bass.Of(d, bass.Shown())
	if err != nil {
		return nil, err
	}
	var st *bass.Study
	if len(p.Places) > 0 && len(p.Seats) > 0 {
		var store bass.Store
		if st, err = store.New(ctx, p, nil); err != nil {
			return nil, err
		}
	}
	return measured.Compare(d, st)
}

// noiseLevels reads levels by octave.
func noiseLevels(text string) ([]float64, error) {
	cells := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' })
	wrong := func(found string) error {
		return &unit.ParseError{Found: strconv.Quote(found), Allowed: fmt.Sprintf("%d levels in dB with blanks between, by octave from 31.5 Hz to 8 kHz", project.NoiseOctaves)}
	}
	if len(cells) != project.NoiseOctaves {
		return nil, wrong(text)
	}
	levels := make([]float64, len(cells))
	for i, c := range cells {
		v, err := unit.ParseNumber(c)
		if err != nil {
			return nil, wrong(c)
		}
		levels[i] = v
	}
	return levels, nil
}

// tableName returns the name of the file in [SEAT=]TABLE.
func tableName(arg string) string {
	if _, name, ok := strings.Cut(arg, "="); ok {
		return name
	}
	return arg
}

// readResponses reads one table, named as [SEAT=]TABLE.
func readResponses(c *cobra.Command, d *project.Design, arg string) (*measured.Reading, error) {
	seat, name := "", tableName(arg)
	if name != arg {
		seat, _, _ = strings.Cut(arg, "=")
	}
	if name == "" {
		return nil, fmt.Errorf("found %q, allowed: [SEAT=]TABLE.csv", arg)
	}
	data, err := read(c, name, measured.MaxSize)
	if err != nil {
		return nil, err
	}
	return measured.Read(data, d, measured.Options{Seat: seat, Name: inMessages(name), Source: sourceOf(name)})
}

// sourceOf returns the name of a file as a design keeps it.
func sourceOf(name string) string {
	return strings.ToValidUTF8(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return -1
		}
		return r
	}, filepath.Base(name)), "")
}

// printResponses prints a comparison for people.
func printResponses(p *printer, c *measured.Comparison, said []string) {
	d := c.Design
	p.printf("%s, as measured", d.Name)
	if d.Measured.On != "" {
		p.printf(" on %s", d.Measured.On)
	}
	p.printf("\n")
	for _, text := range said {
		p.printf("%s\n", wrapped(text, 100, "  "))
	}
	for k := range c.Groups {
		g := &c.Groups[k]
		p.printf("\n%s, measured less computed by third of an octave, dB\n", strings.ToUpper(g.Name[:1])+g.Name[1:])
		printDifferences(p, g)
		for i := range g.Seats {
			p.printf("%s\n", wrapped(strings.ToUpper(g.Seats[i].Sentence()[:1])+g.Seats[i].Sentence()[1:]+".", 100, "  "))
		}
		if text := g.SpreadSentence(); text != "" {
			p.printf("%s\n", wrapped(text+".", 100, "  "))
		}
	}
	if quiet := noise.Of(d, 0); quiet.Measured {
		p.printf("\n%s\n", wrapped(quiet.Line(lengths(d.Units))+".", 100, "  "))
	}
	if len(c.Remarks) > 0 {
		p.printf("\nHow far this holds:\n")
	}
	for _, text := range c.Remarks {
		p.printf("- %s\n", wrapped(text, 96, "  "))
	}
}

// printDifferences prints a table of a group, if anything of it is compared.
func printDifferences(p *printer, g *measured.Group) {
	var mids []float64
	for i := range g.Seats {
		for _, t := range g.Seats[i].Thirds {
			if !slices.Contains(mids, t.Middle) {
				mids = append(mids, t.Middle)
			}
		}
	}
	if len(mids) == 0 {
		return
	}
	slices.Sort(mids)
	p.printf("%-9s %9s", "seat", "moved by")
	for _, m := range mids {
		p.printf(" %5g", bass.NominalThird(m))
	}
	p.printf("  %5s\n", "rms")
	row := func(name, moved string, value func(mid float64) (float64, bool), format string) {
		p.printf("%-9s %9s", name, moved)
		for _, m := range mids {
			if v, ok := value(m); ok {
				p.printf(" "+format, tidy(v, 0.1))
			} else {
				p.printf(" %5s", "-")
			}
		}
	}
	for i := range g.Seats {
		s := &g.Seats[i]
		if s.Skipped != "" {
			continue
		}
		row(s.Name(), s.OffsetWords(), func(m float64) (float64, bool) {
			for _, t := range s.Thirds {
				if t.Middle == m {
					return t.Difference(), true
				}
			}
			return 0, false
		}, "%+5.1f")
		p.printf("  %5.1f\n", s.RMS)
	}
	if len(g.Spreads) == 0 {
		return
	}
	spread := func(of func(measured.Spread) float64) func(float64) (float64, bool) {
		return func(m float64) (float64, bool) {
			for _, s := range g.Spreads {
				if s.Middle == m {
					return of(s), true
				}
			}
			return 0, false
		}
	}
	p.printf("Seat to seat, standard deviation, dB\n")
	row("measured", "", spread(func(s measured.Spread) float64 { return s.Measured }), "%5.1f")
	p.printf("  %5.1f\n", g.SpreadMeasured)
	row("computed", "", spread(func(s measured.Spread) float64 { return s.Computed }), "%5.1f")
	p.printf("  %5.1f\n", g.SpreadComputed)
}
