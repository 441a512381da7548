// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/sight"
	"earline/project/sound"
)

// soundFlags are what the command line can ask of a study.
type soundFlags struct {
	answer
	second, empty, all, tune bool
	target, seat, out        string
	polar                    []string
	mapTo                    string
	mapped                   mapFlags
}

func soundCommand() *cobra.Command {
	var f soundFlags
	c := &cobra.Command{
		Use:   "sound FILE",
		Short: "Say what every seat will hear above the bass",
		Long: `Sound answers, for every loudspeaker: how far it is from the main listening
position, its delay and trim there, how its level differs over the seats, the watts
that it needs and what its rated power has over them, for subwoofers in the room as
earline bass says it; for the room: how long it
rings in each octave against a published target; which first reflections come too
early and too strong, and where on which wall to treat them.

Exit status: 0 nothing falls short, 1 something does, 2 the file or the command
cannot be used.` + fileNote,
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
			return about(inMessages(args[0]), runSound(ctx, c, d, &f))
		},
	}
	f.flags(c)
	fs := c.Flags()
	fs.BoolVar(&f.all, "all", false, "treat for every seat, not for the main listening position only")
	addFlag(c, &f.seat, "seat", "ROW.SEAT", "", "also what that seat, such as 2.3, hears of each loudspeaker", anyText)
	addFlag(c, &f.target, "target", "WORD", "reference", "reverberation time wanted: reference (ITU-R BS.1116) or private (CEDIA/CTA-RP22)", oneOf(targets...))
	fs.BoolVar(&f.empty, "empty", false, "nobody sits in the chairs")
	fs.BoolVar(&f.second, "second", false, "also reflections by way of two surfaces")
	fs.StringArrayVar(&f.polar, "polar", nil, "measured directivity of a model (`MODEL=TABLE.csv`); may be repeated")
	fs.BoolVar(&f.tune, "tune", false, "put the delays and trims into the design written with --output")
	fs.StringVarP(&f.out, "output", "o", "", "`FILE` for the design, with what --polar and --tune put in it, or -")
	fs.StringVar(&f.mapTo, "map", "", "`FILE` for the level over the plane of the ears, comma separated, or -")
	addFlag(c, &f.mapped.speaker, "loudspeaker", "NAME", "", "loudspeaker that the map shows, such as M+030 or \"M+090 b\"; without it, how far all lie apart", anyText)
	f.mapped.octaveFlag(c)
	addFlag(c, &f.mapped.step, "step", "LENGTH", "", "from one point of the map to the next (default 15 cm)", lengthIn(2*unit.Centimetre, 10*unit.Metre))
	_ = c.RegisterFlagCompletionFunc("target", completeWords(func() []string { return targets }))
	_ = c.RegisterFlagCompletionFunc("seat", completeFrom(seatNames))
	_ = c.RegisterFlagCompletionFunc("loudspeaker", completeFrom(speakerNames))
	_ = c.RegisterFlagCompletionFunc("polar", completeFrom(modelsToMeasure))
	return c
}

// targets are the words for the reverberation time wanted.
var targets = []string{"reference", "private"}

func (f *soundFlags) check(c *cobra.Command) error {
	if f.tune && f.out == "" {
		return refuse("--tune", "no file to write to", "together with --output")
	}
	if err := named(c, "output", "map"); err != nil {
		return err
	}
	if err := needs(c, "map", "loudspeaker", "octave", "step"); err != nil {
		return err
	}
	return f.one(c, "output", "map")
}

func runSound(ctx context.Context, c *cobra.Command, d *project.Design, f *soundFlags) error {
	if err := takePolars(c, d, f.polar); err != nil {
		return err
	}
	o := sound.Options{Empty: f.empty, Second: f.second}
	if f.target == "private" {
		o.Target = sound.PrivateRoom
	}
	audit := sight.Audit(d)
	seat := -1
	if f.seat != "" {
		if seat = slices.Index(seatNames(d), f.seat); seat < 0 {
			return refuse("--seat", strconv.Quote(f.seat), "ROW.SEAT of a seat that there is, such as 1.1")
		}
	}
	var mapped *sound.Grid
	if f.mapTo != "" {
		var err error
		if mapped, err = mapOf(ctx, d, f.mapped, "--loudspeaker"); err != nil {
			return err
		}
	}
	r, err := sound.Study(ctx, d, audit, o)
	if err != nil {
		return err
	}
	if err := f.give(c, func() any { return r.Report() }, func(p *printer) { printSound(p, d, r, seat, f.all) }); err != nil {
		return err
	}
	if mapped != nil {
		if err := write(c, f.mapTo, mapTable(mapped)); err != nil {
			return err
		}
	}
	if f.out != "" {
		if f.tune {
			d = r.Direct.Tuned(d)
		}
		if err := writeDesign(c, f.out, d); err != nil {
			return err
		}
	}
	if r.Short() {
		return errShort
	}
	return nil
}

// takePolars reads measured data into the models that are named.
func takePolars(c *cobra.Command, d *project.Design, polars []string) error {
	for _, p := range polars {
		id, name, ok := strings.Cut(p, "=")
		if !ok || name == "" {
			return refuse("--polar", strconv.Quote(p), "MODEL=TABLE.csv")
		}
		k := slices.IndexFunc(d.Models, func(m project.Model) bool { return m.ID == id })
		if k < 0 {
			return refuse("--polar", "model "+strconv.Quote(id), strings.Join(modelNames(d), ", "))
		}
		data, err := read(c, name, file.MaxSize)
		if err != nil {
			return about("--polar", err)
		}
		polar, err := file.DecodePolar(data, inMessages(name))
		if err != nil {
			return about("--polar", err)
		}
		d.Models[k].Polar = polar
		d.Models[k].Polar.Source = sourceOf(name)
	}
	return nil
}

func modelNames(d *project.Design) []string {
	names := make([]string, len(d.Models))
	for i, m := range d.Models {
		names[i] = m.ID
	}
	return names
}

// modelsToMeasure returns the beginnings of what --polar takes.
func modelsToMeasure(d *project.Design) []string {
	names := modelNames(d)
	for i := range names {
		names[i] += "="
	}
	return names
}

// seatNames returns the names of the seats of a design.
func seatNames(d *project.Design) []string {
	var names []string
	for _, s := range place.Seats(d) {
		names = append(names, s.Name())
	}
	return names
}
