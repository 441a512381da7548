// SPDX-License-Identifier: MIT

package diff

import (
	"fmt"
	"slices"
	"strconv"

	"earline/project"
)

func (c *comparer) room() {
	a, b := c.was.Room, c.is.Room
	c.outline(a.Footprint, b.Footprint)
	c.one(Ceiling, "room.ceiling", "ceiling")
	c.text("slope", "slope", string(a.Ceiling.Slope), string(b.Ceiling.Slope))
	c.length("height_m", "height", a.Ceiling.Height, b.Ceiling.Height)
	c.length("far_height_m", "height at the far end", a.Ceiling.FarHeight, b.Ceiling.FarHeight)
	c.planes(a.Ceiling.Planes, b.Ceiling.Planes)
	c.features(a.Features, b.Features)
	c.materials(a.Materials, b.Materials)
	c.surfaces(a.Surfaces, b.Surfaces)
	c.finishes(a.Finishes, b.Finishes)
	c.treatments(a.Treatments, b.Treatments)
	c.one(Air, "room.air", "air")
	c.number("temperature_c", "temperature in °C", a.Air.Temperature, b.Air.Temperature)
	c.number("humidity_percent", "humidity in %", a.Air.Humidity, b.Air.Humidity)
}

func (c *comparer) outline(was, is []project.Corner) {
	if kept(was, is) {
		return
	}
	named := func(_ *project.Design, i int) string { return fmt.Sprintf("corner %d", i+1) }
	each(c, Corner, "room.footprint", was, is, byPlace(was, is, equal), named, func(a, b *project.Corner) {
		c.length("x_m", "distance from the screen wall", a.X, b.X)
		c.length("y_m", "distance from the left wall", a.Y, b.Y)
	})
}

func (c *comparer) planes(was, is []project.CeilingPlane) {
	if kept(was, is) {
		return
	}
	named := func(d *project.Design, i int) string { return d.Room.CeilingName(i + 1) }
	each(c, Ceiling, "room.ceiling.planes", was, is, byPlace(was, is, equal), named, func(a, b *project.CeilingPlane) {
		c.length("from.x_m", "from, distance from the screen wall", a.From.X, b.From.X)
		c.length("from.y_m", "from, distance from the left wall", a.From.Y, b.From.Y)
		c.length("from_height_m", "height there", a.FromHeight, b.FromHeight)
		c.length("to.x_m", "to, distance from the screen wall", a.To.X, b.To.X)
		c.length("to.y_m", "to, distance from the left wall", a.To.Y, b.To.Y)
		c.length("to_height_m", "height at its end", a.ToHeight, b.ToHeight)
	})
}

func (c *comparer) features(was, is []project.Feature) {
	if kept(was, is) {
		return
	}
	named := func(d *project.Design, i int) string { return d.Room.Features[i].Words() }
	each(c, Feature, "room.features", was, is, byPlace(was, is, equal), named, func(a, b *project.Feature) {
		if *a == *b {
			return
		}
		c.text("kind", "kind", string(a.Kind), string(b.Kind))
		c.text("name", "name", a.Name, b.Name)
		c.place("at", a.At, b.At)
		c.length("length_m", "length", a.Length, b.Length)
		if !a.Round && !b.Round { // else it is the length, or becomes it
			c.length("width_m", "width", a.Width, b.Width)
		}
		c.length("height_m", "own height", a.Height, b.Height)
		c.degrees("turn_deg", "turn", a.Turn, b.Turn)
		c.yes("round", "round", a.Round, b.Round)
		c.text("swing", "swing", string(a.Swing), string(b.Swing))
		c.material("material", "material", a.Material, b.Material)
	})
}

func (c *comparer) materials(was, is []project.Material) {
	if kept(was, is) {
		return
	}
	pairs := renamed(byKey(was, is, func(m *project.Material) string { return m.ID }))
	named := func(d *project.Design, i int) string { return either(d.Room.Materials[i].Name, d.Room.Materials[i].ID) }
	each(c, Material, "room.materials", was, is, pairs, named, func(a, b *project.Material) {
		c.text("id", "ID", a.ID, b.ID)
		c.text("name", "name", a.Name, b.Name)
		switch octaves := project.Octaves(); {
		case len(a.Absorption) == len(octaves) && len(b.Absorption) == len(octaves):
			for o, f := range octaves {
				c.number("absorption["+strconv.Itoa(o)+"]", fmt.Sprintf("absorption at %g Hz", f), a.Absorption[o], b.Absorption[o])
			}
		case !slices.Equal(a.Absorption, b.Absorption):
			c.words("absorption", "absorption")
		}
		if !slices.Equal(a.Bass, b.Bass) {
			c.words("bass_absorption", "absorption at low frequencies")
		}
		c.yes("scatters", "scatters", a.Scatters, b.Scatters)
		c.text("source", "source", a.Source, b.Source)
	})
}

func (c *comparer) surfaces(a, b project.Surfaces) {
	c.one(Surface, "room.surfaces", "")
	c.material("floor", "material of the floor", a.Floor, b.Floor)
	c.material("ceiling", "material of the ceiling", a.Ceiling, b.Ceiling)
	c.material("walls", "material of the walls", a.Walls, b.Walls)
	c.material("platforms", "material of the platforms", a.Platforms, b.Platforms)
	named := func(d *project.Design, i int) string { return d.Room.WallName(d.Room.Surfaces.Wall[i].Wall) }
	pairs := byKey(a.Wall, b.Wall, func(w *project.WallSurface) string { return strconv.Itoa(w.Wall) })
	each(c, Surface, "room.surfaces.wall", a.Wall, b.Wall, renamed(pairs), named, func(x, y *project.WallSurface) {
		c.number("wall", "number", float64(x.Wall), float64(y.Wall))
		c.material("material", "material", x.Material, y.Material)
	})
}

func (c *comparer) treatments(was, is []project.Treatment) {
	if kept(was, is) {
		return
	}
	named := func(d *project.Design, i int) string {
		return either(d.Room.Treatments[i].Name, fmt.Sprintf("treatment %d", i+1))
	}
	each(c, Treatment, "room.treatments", was, is, byPlace(was, is, equal), named, func(a, b *project.Treatment) {
		if *a == *b {
			return
		}
		c.text("name", "name", a.Name, b.Name)
		c.material("material", "material", a.Material, b.Material)
		c.number("wall", "wall", float64(a.Wall), float64(b.Wall))
		c.length("from_m", "from", a.From, b.From)
		c.length("to_m", "to", a.To, b.To)
		c.length("low_m", "lower edge", a.Low, b.Low)
		c.length("high_m", "upper edge", a.High, b.High)
	})
}
