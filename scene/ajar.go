// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/project"
)

// opens is how far a leaf turns that is wholly open, radians.
const opens = 80 * math.Pi / 180

// Ajar returns l with the door that is feature i of d open by a share, from 0 to 1, and
// a passage behind it. It shares all else with l. A list that keeps no leaves apart, and a
// feature that is no door, are left as they are.
func Ajar(l *List, d *project.Design, i int, share float64) *List {
	if share <= 0 || i < 0 || i >= len(d.Room.Features) || d.Room.Features[i].Kind != project.Door {
		return l
	}
	f := d.Room.Features[i]
	box := f.Box()
	h, turns := hinged(planOf(d.Room), box, f)
	found := false
	out := *l
	out.Meshes = slices.Clone(l.Meshes)
	for k := range out.Meshes {
		m := &out.Meshes[k]
		if m.Door != i+1 {
			continue
		}
		found = true
		m.Pos, m.Nor, m.Fixed = slices.Clone(m.Pos), slices.Clone(m.Nor), false
		for v := 0; v+2 < len(m.Pos); v += 3 {
			put(m.Pos[v:], h.moved(room(mgl32.Vec3(m.Pos[v:v+3])), share, turns))
			put(m.Nor[v:], h.moved(h.at.Add(room(mgl32.Vec3(m.Nor[v:v+3]))), share, turns).Sub(h.moved(h.at, share, turns)))
		}
	}
	if !found {
		return l
	}
	out.Meshes = append(out.Meshes, h.beyond())
	return &out
}

// put writes a point of the room as the picture world has it.
func put(to []float32, v geometry.Vec) {
	w := World(v)
	copy(to, w[:])
}

// hinge is how the leaf of a door hangs.
type hinge struct {
	at   geometry.Vec   // the middle of the leaf, closed
	b    geometry.Basis // U through the leaf, V along it, W up
	half geometry.Vec   // of the leaf, along the basis
	in   float64        // 1 where U points into the room, else -1
	side float64        // of the hinge along V, 1 or -1
	into float64        // along U, where the leaf opens to, 1 or -1
}

// hinged returns how the leaf of a door hangs; turns is false for one that slides, or of
// which it is not said.
func hinged(f plan, box geometry.Box, door project.Feature) (h hinge, turns bool) {
	p, half := leaf(new(Mesh).pen().to(box.Center, box.Basis), box.Half)
	in := f.inside(p, half.X)
	h = hinge{at: p.at, b: p.b, half: half, in: in, side: 1, into: in}
	turns = true
	switch door.Swing {
	case project.InLeft:
	case project.InRight:
		h.side = -1
	case project.OutLeft:
		h.into = -in
	case project.OutRight:
		h.side, h.into = -1, -in
	default:
		turns = false
	}
	// For someone in the room who faces the leaf (against U when in is +1), V is
	// to the left: U points at them and W up.
	h.side *= -in
	return h, turns
}

// moved returns where the point v of the closed leaf is when it is open by a share. One
// that does not turn slides.
func (h *hinge) moved(v geometry.Vec, share float64, turns bool) geometry.Vec {
	q := h.b.Local(v.Sub(h.at))
	if !turns {
		const clear = 1.9 // half widths
		q.Y -= share * clear * h.half.Y * h.side
	} else {
		axis := h.side * h.half.Y
		sin, cos := math.Sincos(h.into * h.side * share * opens)
		x, y := q.X, q.Y-axis
		q.X, q.Y = x*cos-y*sin, axis+x*sin+y*cos
	}
	return h.at.Add(h.b.World(q))
}

// beyond returns what is seen through the opening: a passage in a low light, lighter at its
// floor. It lies at the back of the leaf.
func (h *hinge) beyond() Mesh {
	m := Mesh{Name: "beyond a door", Alpha: 1, Unlit: true, OneSided: true}
	p := m.pen().to(h.at, h.b)
	const off = 0.004 // m, before the wall
	x := -h.in * max(h.half.X-off, 0)
	low, high := RGB{0.34, 0.28, 0.21}, RGB{0.17, 0.145, 0.115}
	corner := func(y, z float64) geometry.Vec { return geometry.Vec{X: x, Y: y * h.half.Y, Z: z * h.half.Z} }
	a, b, c, d := corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)
	if h.in < 0 {
		a, b, c, d = b, a, d, c
	}
	p.quad(a, b, c, d, low, low, high, high)
	return m
}
