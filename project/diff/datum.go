// SPDX-License-Identifier: MIT

package diff

import (
	"slices"

	"earline/project"
)

// datum compares what the room is set out from.
func (c *comparer) datum() {
	a, b := c.was.Datum, c.is.Datum
	c.one(Document, "datum", "datum:")
	c.length("height_m", "height of the line", a.Height, b.Height)
	c.text("from", "measured above", string(a.From), string(b.From))
	c.length("floor_buildup_m", "build-up of the floor", a.FloorBuildup, b.FloorBuildup)
	c.text("across_from", "measured across from", a.Across, b.Across)
	if !slices.Equal(a.WallBuildup, b.WallBuildup) {
		c.words("wall_buildup_m", "the build-ups of the walls are others")
	}
}

func (c *comparer) job() {
	a, b := c.was.Job, c.is.Job
	if a == (project.Job{}) && b == a {
		return
	}
	c.one(Document, "job", "job:")
	c.text("reference", "reference", a.Reference, b.Reference)
	c.text("revision", "revision", a.Revision, b.Revision)
	c.text("revised_on", "revised on", a.RevisedOn, b.RevisedOn)
}
