// SPDX-License-Identifier: MIT

package diff

import (
	"fmt"
	"slices"

	"earline/project"
)

// equalisation compares the target of the bass and the filters, those of one output in
// their order.
func (c *comparer) equalisation() {
	a, b := c.was.Equalisation, c.is.Equalisation
	c.one(Document, "equalisation", "")
	c.text("target.name", "the target of the bass", a.Target.Name, b.Target.Name)
	if !slices.Equal(a.Target.Points, b.Target.Points) {
		c.words("target.points", "the curve of the target")
	}
	if slices.Equal(a.Filters, b.Filters) {
		return
	}
	if len(a.Filters) != len(b.Filters) {
		c.words("filters", fmt.Sprintf("%d filters instead of %d", len(b.Filters), len(a.Filters)))
		return
	}
	for i, f := range b.Filters {
		was := a.Filters[i]
		c.one(Document, fmt.Sprintf("equalisation.filters[%d]", i), fmt.Sprintf("filter %d", i+1))
		c.text("of", "of", outputOf(was), outputOf(f))
		c.text("kind", "kind", string(was.Kind), string(f.Kind))
		c.number("hz", "frequency in Hz", was.Frequency, f.Frequency)
		c.number("gain_db", "gain in dB", was.Gain, f.Gain)
		c.number("q", "Q", was.Q, f.Q)
	}
}

func outputOf(f project.Filter) string {
	if f.Of == project.AllSubwoofers {
		return "all subwoofers"
	}
	return f.Of
}
