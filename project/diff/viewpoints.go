// SPDX-License-Identifier: MIT

package diff

import "earline/project"

// viewpoints compares from where the room is shown, and the times of the entrance.
func (c *comparer) viewpoints() {
	a, b := c.was.Entrance, c.is.Entrance
	c.one(Document, "entrance", "entrance:")
	c.number("each_s", "seconds from group to group", a.Each, b.Each)
	c.number("house_s", "seconds of house light", a.House, b.House)
	c.number("down_s", "seconds down to the show", a.Down, b.Down)
	was, is := c.was.Viewpoints, c.is.Viewpoints
	if kept(was, is) {
		return
	}
	named := func(d *project.Design, i int) string { return "viewpoint " + d.Viewpoints[i].Name }
	pairs := renamed(byKey(was, is, func(v *project.Viewpoint) string { return v.Name }))
	each(c, Viewpoint, "viewpoints", was, is, pairs, named, func(a, b *project.Viewpoint) {
		c.text("name", "name", a.Name, b.Name)
		c.text("kind", "kind", string(a.Kind), string(b.Kind))
		c.place("at", a.At, b.At)
		c.text("seat", "seat", a.Seat, b.Seat)
		c.degrees("heading_deg", "heading", a.Heading, b.Heading)
		c.degrees("pitch_deg", "pitch", a.Pitch, b.Pitch)
		c.degrees("sees_deg", "angle seen", a.Sees, b.Sees)
		c.text("scene", "scene of light", string(a.Scene), string(b.Scene))
		c.number("stay_s", "seconds that the tour stays", a.Stay, b.Stay)
	})
}
