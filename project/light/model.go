// SPDX-License-Identifier: MIT

package light

import (
	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/shell"
)

// Model is a room as light meets it.
type Model struct {
	Design *project.Design
	// Layers is how many there are: one for each light group, in their order, then the
	// one of Picture.
	Layers  int
	Picture int // the layer of the picture, white of 1 cd/m² all over it
	// Emitters are all that shines, group by group, the picture's last. What lies more
	// than a hand outside the room is left out.
	Emitters []Emitter
	Patches  []Patch // of the surfaces; chairs and people throw nothing back
	Taken    []Taken // the finishes that are given and count, each once
	Assumed  []Assumption

	outline geometry.Polygon
	slopes  geometry.Ceiling
	boxes   []geometry.Box // in whose faces lamps may be set
	shade   *shade
}

// Of returns the model of a valid design.
func Of(d *project.Design) *Model { return In(place.Of(d)) }

// In is Of where the room of the design is at hand.
func In(room *place.Room) *Model {
	d := room.Design
	m := &Model{Design: d, Layers: len(d.LightGroups) + 1, Picture: len(d.LightGroups), outline: d.Room.Polygon(), slopes: d.Room.Slopes()}
	var solids []geometry.Solid
	for i := range room.Parts {
		p := &room.Parts[i]
		if p.Kind == place.ScreenPart || p.Kind == place.FeaturePart && shell.InSurface(d.Room.Features[p.Index].Kind) {
			continue // the screen follows, open to sound or not; the others are flush
		}
		solids = append(solids, p.Solid())
		if p.Box != nil && (p.Kind == place.FeaturePart || p.Kind == place.RiserPart) {
			m.boxes = append(m.boxes, *p.Box)
		}
	}
	solids = append(solids, d.Screen.Sheet().Solid())
	m.shade = shadeOf(solids, m.outline)
	m.emit(d)
	m.surfaces()
	return m
}

// surfaces adds the patches of the room and of the screen.
func (m *Model) surfaces() {
	d := m.Design
	var all []shell.Surface
	for _, s := range shell.Of(d).Surfaces {
		if s.Kind != shell.Feature || s.Index != shell.Screen {
			all = append(all, s)
		}
	}
	m.patches(all, m.reflectance)
	center, right, up := d.Screen.Picture()
	h := geometry.Vec2{X: right.Y, Y: up.Z}
	cloth := shell.Surface{Kind: shell.Feature, Origin: center, Normal: geometry.Vec{X: 1}, U: geometry.Vec{Y: 1}, V: geometry.Vec{Z: 1},
		Outline: geometry.Polygon{{X: -h.X, Y: -h.Y}, {X: h.X, Y: -h.Y}, {X: h.X, Y: h.Y}, {X: -h.X, Y: h.Y}}}
	const cell = 0.5 // m
	m.cut(&cloth, cell, screenReflectance(d))
}

// Clear reports whether light passes from one point to another: nothing stands between.
func (m *Model) Clear(from, to geometry.Vec) bool { return m.shade.clear(from, to) }

// Direct adds, layer by layer, the illuminance of a small face at a point, with that unit
// normal, straight from the emitters at full level, with shadows. lux has Layers entries.
// What is nearer than a millimetre before the face throws no shadow on it.
func (m *Model) Direct(lux []float64, at, normal geometry.Vec) {
	at = at.Add(normal.Mul(before))
	for i := range m.Emitters {
		e := &m.Emitters[i]
		if v := e.Lux(at, normal); v > 0 && m.shade.clear(e.At, at) {
			lux[e.Layer] += v
		}
	}
}

// Thrown adds, layer by layer, what the surfaces throw back on such a face after Bounce.
func (m *Model) Thrown(lux []float64, at, normal geometry.Vec) {
	at = at.Add(normal.Mul(before))
	for i := range m.Patches {
		p := &m.Patches[i]
		if at.Sub(p.At).Dot(p.Normal) <= 0 {
			continue
		}
		f := p.Reflectance * Factor(at, normal, p.Outline)
		if f == 0 || !m.shade.clear(p.lit, at) {
			continue
		}
		for k, v := range p.Lux {
			lux[k] += f * v
		}
	}
}
