// SPDX-License-Identifier: MIT

package figure

import (
	"fmt"

	"earline/project/picture"
	"earline/scene/chart"
)

// Luminance charts how bright each shape of picture is, aged, from the main position, with
// the screen filled in each way, against the first of the references. Without a projector
// it charts the light that each shape takes.
func Luminance(r *picture.Result) chart.Chart {
	ref := picture.References()[0]
	c := chart.Chart{
		Title: "White, aged lamp",
		X:     chart.Axis{Kind: chart.Category},
		Y:     chart.Axis{Label: "luminance", Unit: "cd/m²"},
		Bands: []chart.Band{chart.Across(ref.White-ref.Within, ref.White+ref.Within, ref.Name)},
	}
	c.Note = "From the main position."
	if !r.Projected {
		c.Title, c.Y, c.Bands = "Light at the screen", chart.Axis{Label: "light", Unit: "lm"}, nil
		c.Note = fmt.Sprintf("For %g cd/m² and an imager of 16:9: the plan has no projector.", ref.White)
	}
	for i := range r.Shapes {
		c.X.Categories = append(c.X.Categories, r.Shapes[i].Called)
	}
	for k, fill := range picture.Fills() {
		s := chart.Series{Name: string(fill), Kind: chart.Bars}
		for i := range r.Shapes {
			f := &r.Shapes[i].Fills[k]
			v, unit := f.Needed, "lm"
			if r.Projected {
				v, unit = r.Toward(&r.Main, f.Aged), "cd/m²"
			}
			s.X, s.Y = append(s.X, float64(i)), append(s.Y, v)
			s.Low = append(s.Low, 0)
			s.Names = append(s.Names, fmt.Sprintf("%s, %s: %.1f %s", r.Shapes[i].Called, fill, v, unit))
			c.Y.Max = max(c.Y.Max, 1.1*v)
		}
		if r.Projected {
			c.Y.Max = max(c.Y.Max, 1.1*(ref.White+ref.Within))
		}
		c.Series = append(c.Series, s)
	}
	return c
}
