// SPDX-License-Identifier: MIT

package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/sound"
)

// mapFlags are what the command line can ask of a map of levels.
type mapFlags struct {
	speaker string // its name; empty is all of them
	octave  int    // index
	step    unit.Length
}

// octaveFlag adds --octave, which render and sound have alike.
func (f *mapFlags) octaveFlag(c *cobra.Command) {
	addFlag(c, &f.octave, "octave", "HERTZ", "4000", "octave of the map", octave)
	_ = c.RegisterFlagCompletionFunc("octave", completeWords(octaveNames))
}

// mapOf computes a map; by is the flag that named the loudspeaker.
func mapOf(ctx context.Context, d *project.Design, f mapFlags, by string) (*sound.Grid, error) {
	o := sound.MapOptions{Speaker: sound.AllSpeakers, Octave: f.octave, Step: float64(f.step)}
	if f.speaker != "" {
		o.Speaker = slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Name() == f.speaker })
		if o.Speaker < 0 {
			return nil, refuse(by, strconv.Quote(f.speaker), strings.Join(speakerNames(d), ", "))
		}
	}
	g, err := sound.Map(ctx, d, o)
	return &g, err
}

// speakerNames returns the names of the loudspeakers of a design.
func speakerNames(d *project.Design) []string {
	names := make([]string, len(d.Speakers))
	for i, l := range d.Speakers {
		names[i] = l.Name()
	}
	return names
}

// mapTable writes the points of g that lie in the room, comma separated.
func mapTable(g *sound.Grid) []byte {
	var b strings.Builder
	b.WriteString("x_m,y_m,z_m,level_db\n")
	for i, v := range g.Values {
		if g.Inside[i] {
			fmt.Fprintf(&b, "%.3f,%.3f,%.3f,%.2f\n", g.X0+float64(i%g.NX)*g.Step, g.Y0+float64(i/g.NX)*g.Step, g.Heights[i], v)
		}
	}
	return []byte(b.String())
}
