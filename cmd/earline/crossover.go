// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/project"
	"earline/project/bass"
	"earline/project/blend"
	"earline/project/sound"
)

// crossoverFlags are what the command line can ask of the crossover.
type crossoverFlags struct {
	answer
	main, out string
}

func crossoverCommand() *cobra.Command {
	var f crossoverFlags
	c := &cobra.Command{
		Use:   "crossover FILE",
		Short: "Say how mains and subwoofers add up, and set the subwoofers against the centre",
		Long: `Crossover adds up each main loudspeaker and the subwoofers through the filters of the
crossover at every seat, from 16 to 300 Hz in a bare rectangular room, to 160 Hz in any
other. It finds the delay and polarity of all subwoofers together that leave the least
dip round the crossover at the main position, compares crossovers from 60 to 120 Hz and
slopes, and says which wall, floor or ceiling digs the deepest dip of each main from 100
to 500 Hz.

Exit status: 0 answered, 2 the file or the command cannot be used.` + fileNote,
		Args:              takes(1, 1),
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := named(c, "output"); err != nil {
				return err
			}
			if err := f.one(c, "output"); err != nil {
				return err
			}
			d, err := load(c, args[0])
			if err != nil {
				return err
			}
			ctx, stop := interruptible(c)
			defer stop()
			return about(inMessages(args[0]), runCrossover(ctx, c, d, &f))
		},
	}
	f.flags(c)
	fs := c.Flags()
	fs.StringVar(&f.main, "main", "", "the main to set the subwoofers against, by `LABEL`; without it the centre")
	fs.StringVarP(&f.out, "output", "o", "", "`FILE` to write the design with the proposed delay and polarity to, or -")
	return c
}

func runCrossover(ctx context.Context, c *cobra.Command, d *project.Design, f *crossoverFlags) error {
	mains := blend.Mains(d)
	main, err := mainNamed(d, mains, f.main)
	if err != nil {
		return err
	}
	var store bass.Store
	s, err := blend.Of(ctx, &store, d, mains, nil)
	if err != nil {
		return err
	}
	boundaries, err := sound.Boundaries(ctx, d, nil)
	if err != nil {
		return err
	}
	a := s.Answer(main)
	if err := f.give(c, func() any { return a.Report(d, boundaries) }, func(p *printer) { printCrossover(p, d, a, boundaries) }); err != nil {
		return err
	}
	if f.out != "" {
		if err := writeDesign(c, f.out, a.Tuned(d, a.Set)); err != nil {
			return err
		}
	}
	if len(a.Reaches()) > 0 {
		return errShort
	}
	return nil
}

// mainNamed returns the index in mains of the loudspeaker with that name or label; that
// of the first, the centre, for none.
func mainNamed(d *project.Design, mains []int, name string) (int, error) {
	if name == "" {
		return 0, nil
	}
	var names []string
	for i, k := range mains {
		if l := d.Speakers[k]; l.Name() == name || l.Label == name {
			return i, nil
		}
		names = append(names, d.Speakers[k].Name())
	}
	return 0, refuse("--main", strconv.Quote(escaped(name)), strings.Join(names, ", "))
}
