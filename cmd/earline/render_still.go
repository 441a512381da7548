// SPDX-License-Identifier: MIT

package main

import (
	"fmt"
	"image"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"earline/app/export"
	"earline/geometry/unit"
	"earline/project"
	"earline/scene/bake"
	"earline/scene/gl"
)

// develop takes a still. On a terminal it says how far it is; an interrupt gives it up.
func develop(c *cobra.Command, s *export.Still) ([]byte, error) {
	ctx, stop := interruptible(c)
	defer stop()
	context, err := gl.NewContext()
	if err != nil {
		return nil, err
	}
	r, err := gl.Start(context)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	draw := func(j gl.Job) (*image.RGBA, error) { return r.Draw(j) }
	tell, done := progress(c, "Taking the picture")
	data, err := s.PNG(ctx, draw, tell)
	done()
	if ctx.Err() != nil {
		return nil, fmt.Errorf("given up: nothing is written")
	}
	return data, err
}

// stops reads an exposure.
func stops(text string) (float64, error) {
	v, err := unit.ParseNumber(text)
	if err != nil || v < -bake.MostStops || v > bake.MostStops {
		return 0, found(text, fmt.Sprintf("-%d to %[1]d stops, such as 0.5", bake.MostStops))
	}
	return v, nil
}

// curtainOf reads NAME or NAME:SHARE: which design beside d is seen left of a curtain, and
// over what share of the width.
func curtainOf(d *project.Design, text string) (before *project.Design, _ float32, _ error) {
	name, share := text, float32(0.5)
	if d.VariantNamed(name) < 0 { // else a name may have a colon in it
		if i := strings.LastIndex(text, ":"); i >= 0 {
			v, err := unit.ParseNumber(text[i+1:])
			if err != nil || v < 0 || v > 1 {
				return nil, 0, refuse("--curtain", strconv.Quote(text[i+1:])+" after the name", "a share from 0 to 1, such as 0.5")
			}
			name, share = text[:i], float32(v)
		}
	}
	i := d.VariantNamed(name)
	switch names := variantNames(d); {
	case i >= 0:
		return &d.Variants[i], share, nil
	case names == nil:
		return nil, 0, refuse("--curtain", "a file with one design", "one that keeps the room as found, or an option, beside the plan")
	default:
		return nil, 0, refuse("--curtain", strconv.Quote(name), strings.Join(names, ", "))
	}
}

// variantNames returns what the designs beside d are called.
func variantNames(d *project.Design) (names []string) {
	for i := range d.Variants {
		names = append(names, d.Variants[i].Variant.Name)
	}
	return names
}
