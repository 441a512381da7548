// SPDX-License-Identifier: MIT

package diff

import (
	"slices"
	"strconv"

	"earline/project"
)

// light compares the light groups, one by one; where their lamps are, as a whole.
func (c *comparer) light() {
	was, is := c.was.LightGroups, c.is.LightGroups
	if kept(was, is) {
		return
	}
	named := func(d *project.Design, i int) string { return d.LightName(i) }
	same := func(a, b *project.LightGroup) bool {
		return a.Name == b.Name && a.Kind == b.Kind && slices.Equal(a.Path, b.Path) && a.Panels == b.Panels && a.Nosings == b.Nosings && slices.Equal(a.At, b.At) && slices.Equal(a.Area, b.Area)
	}
	each(c, Lights, "light_groups", was, is, byPlace(was, is, same), named, func(a, b *project.LightGroup) {
		c.text("name", "name", a.Name, b.Name)
		c.text("kind", "kind", string(a.Kind), string(b.Kind))
		if !slices.Equal(a.Path, b.Path) {
			c.words("path", "runs elsewhere")
		}
		c.text("panels", "panels whose joints it lies in", a.Panels, b.Panels)
		if a.Nosings != b.Nosings {
			c.words("nosings", "lies elsewhere")
		}
		if !slices.Equal(a.At, b.At) {
			c.words("at", "lamps are elsewhere")
		}
		if !slices.Equal(a.Area, b.Area) {
			c.words("area", "shines over another part of the ceiling")
		}
		c.number("flux_lm", "light in lm", a.Flux, b.Flux)
		c.number("colour_k", "colour in K", a.Colour, b.Colour)
		c.degrees("beam_deg", "beam", a.Beam, b.Beam)
		c.degrees("tilt_deg", "tilt", a.Tilt, b.Tilt)
		c.degrees("azimuth_deg", "tilted towards", a.Azimuth, b.Azimuth)
		for _, s := range project.LightScenes() {
			c.number("scenes."+string(s), "level in "+string(s), a.Scenes.At(s), b.Scenes.At(s))
		}
	})
}

// finishes compares how the surfaces look.
func (c *comparer) finishes(a, b project.Finishes) {
	c.one(Surface, "room.finishes", "")
	one := func(field, of string, a, b project.Finish) {
		c.text(field+"material", "finish"+of, string(a.Material), string(b.Material))
		c.text(field+"colour", "colour"+of, string(a.Colour), string(b.Colour))
		c.number(field+"reflectance", "reflectance"+of, a.Reflectance, b.Reflectance)
	}
	for _, p := range project.FinishPlaces() {
		one(string(p)+".", " of the "+p.Words(), *a.At(p), *b.At(p))
	}
	named := func(d *project.Design, i int) string { return d.Room.WallName(d.Room.Finishes.Wall[i].Wall) }
	pairs := byKey(a.Wall, b.Wall, func(w *project.WallFinish) string { return strconv.Itoa(w.Wall) })
	each(c, Surface, "room.finishes.wall", a.Wall, b.Wall, renamed(pairs), named, func(x, y *project.WallFinish) {
		c.number("wall", "number", float64(x.Wall), float64(y.Wall))
		one("", "", x.Finish(), y.Finish())
	})
}
