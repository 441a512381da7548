// SPDX-License-Identifier: MIT

package chart

import (
	"slices"

	"earline/app/words"
	"earline/scene/chart"
)

// spoken returns a chart in the language of the window. What is exported stays as it was
// given.
func spoken(p *chart.Chart) *chart.Chart {
	c := *p
	c.Title, c.Note = words.Of(p.Title), words.Of(p.Note)
	for _, a := range []*chart.Axis{&c.X, &c.Y} {
		a.Label, a.Unit, a.Categories = words.Of(a.Label), words.Of(a.Unit), words.All(a.Categories)
	}
	c.Series = slices.Clone(p.Series)
	for i := range c.Series {
		s := &c.Series[i]
		s.Name, s.Group, s.Names = words.Of(s.Name), words.Of(s.Group), words.All(s.Names)
	}
	c.Bands = slices.Clone(p.Bands)
	for i := range c.Bands {
		c.Bands[i].Label = words.Of(c.Bands[i].Label)
	}
	c.Marks = slices.Clone(p.Marks)
	for i := range c.Marks {
		c.Marks[i].Label = words.Of(c.Marks[i].Label)
	}
	c.Outside = slices.Clone(p.Outside)
	for i := range c.Outside {
		c.Outside[i].Label = words.Of(c.Outside[i].Label)
	}
	return &c
}
