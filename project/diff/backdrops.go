// SPDX-License-Identifier: MIT

package diff

import (
	"fmt"

	"earline/project"
)

// backdrops compares meshes and plan lines of other programs; a shape as a whole.
func (c *comparer) backdrops() {
	if kept(c.was.Backdrops, c.is.Backdrops) {
		return
	}
	named := func(d *project.Design, i int) string {
		if b := &d.Backdrops[i]; b.Name != "" {
			return b.Words()
		}
		return fmt.Sprintf("backdrop %d", i+1)
	}
	each(c, Backdrop, "backdrops", c.was.Backdrops, c.is.Backdrops, byPlace(c.was.Backdrops, c.is.Backdrops, equal), named, func(a, b *project.Backdrop) {
		c.text("name", "name", a.Name, b.Name)
		c.text("file", "file", a.File, b.File)
		c.text("unit", "unit of the file", string(a.Unit), string(b.Unit))
		c.place("at", a.At, b.At)
		c.degrees("turn_deg", "turn", a.Turn, b.Turn)
		c.yes("obstacle", "in the way of sight", a.Obstacle, b.Obstacle)
		c.yes("hidden", "hidden", a.Hidden, b.Hidden)
		for _, s := range [...]struct{ field, was, is string }{{"points", a.Points, b.Points}, {"triangles", a.Triangles, b.Triangles}, {"lines", a.Lines, b.Lines}} {
			if s.was != s.is {
				c.words(s.field, "has another shape")
				return
			}
		}
	})
}
