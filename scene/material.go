// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// Material is what a surface is made of, as far as it shows: scene/gl draws the grain of it
// in a picture at rest. It is kept at every vertex, since a chair's leather, its piping and
// its cup are one mesh, and more meshes would be dearer than a byte.
type Material uint8

// The materials. Timber and Metal have a grain, which is upright unless Along turns it.
const (
	NoMaterial Material = iota // nothing but a colour
	Cloth
	Carpet
	Timber
	Leather
	Paint
	Metal
	Lacquer

	kinds Material = 1<<4 - 1 // the bits of the kind; those above are the grain's axis
)

// Kind returns the material whatever way its grain runs.
func (m Material) Kind() Material { return m & kinds }

// Axis returns the axis of the picture world along which the grain runs: 0 for x, 1 for y,
// which is up, 2 for z.
func (m Material) Axis() int { return int((m>>4 + 1) % 3) }

// Along returns the material with its grain along the axis nearest to v, a direction in
// the room frame; of a zero v as it is.
func (m Material) Along(v geometry.Vec) Material {
	w := World(v)
	axis, most := m.Axis(), float32(0)
	for i, x := range w {
		if x := float32(math.Abs(float64(x))); x > most {
			axis, most = i, x
		}
	}
	return m.Kind() | Material((axis+2)%3)<<4
}

// turned returns the material with its grain as it runs once what was drawn in a frame of
// its own stands as b.
func (m Material) turned(b geometry.Basis) Material {
	switch own := [3]geometry.Vec{b.V, b.W, b.U}; m.Kind() {
	case Timber, Metal:
		return m.Along(own[m.Axis()])
	}
	return m
}

// grained returns p with the grain of timber along v, which is in p's frame: boards are cut
// along their longer side.
func (p pen) grained(v geometry.Vec) pen {
	if p.mat.Kind() == Timber {
		p.mat = p.mat.Along(p.b.World(v))
	}
	return p
}

// longest returns the longest half-axis of a box.
func longest(half geometry.Vec) geometry.Vec {
	switch {
	case half.Z >= half.X && half.Z >= half.Y:
		return geometry.Vec{Z: half.Z}
	case half.X >= half.Y:
		return geometry.Vec{X: half.X}
	}
	return geometry.Vec{Y: half.Y}
}
