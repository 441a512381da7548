// SPDX-License-Identifier: MIT

package scene

import "github.com/go-gl/mathgl/mgl32"

// Around is what is seen all about from one place in a room: six faces of a cube, for what
// mirrors the room. It is one small picture for all surfaces, so a reflection of what is
// near is neither where it should be nor sharp; what stands about the room is in it, what
// is reflected in it is not.
type Around struct {
	At     mgl32.Vec3 // from where
	Lo, Hi mgl32.Vec3 // of the room: what is seen is taken to be on these bounds
	Side   int        // cells along an edge of the cube
	// Light is 3 a cell, Side rows of Side cells on each of the faces +x, -x, +y, -y, +z and
	// -z, as bright as a white surface with that Mesh.Lit.
	Light []float32
}

// Way returns the direction, not of unit length, in which s and t, each from -1 to 1, lie
// on a face: along its rows and from row to row. The faces lie as OpenGL has them (core
// profile 3.3, table 3.19).
func (a *Around) Way(face int, s, t float32) mgl32.Vec3 {
	switch face {
	case 0:
		return mgl32.Vec3{1, -t, -s}
	case 1:
		return mgl32.Vec3{-1, -t, s}
	case 2:
		return mgl32.Vec3{s, 1, t}
	case 3:
		return mgl32.Vec3{s, -1, -t}
	case 4:
		return mgl32.Vec3{s, -t, 1}
	}
	return mgl32.Vec3{-s, -t, -1}
}

// Cell returns the face and the place on it in which a direction lies: the inverse of Way.
func (a *Around) Cell(v mgl32.Vec3) (face int, s, t float32) {
	axis, most := 0, float32(-1)
	for i, x := range v {
		if x = max(x, -x); x > most {
			axis, most = i, x
		}
	}
	if most == 0 {
		return 0, 0, 0
	}
	w := v.Mul(1 / most)
	face = 2 * axis
	if v[axis] < 0 {
		face++
	}
	switch face {
	case 0:
		return face, -w[2], -w[1]
	case 1:
		return face, w[2], -w[1]
	case 2:
		return face, w[0], w[2]
	case 3:
		return face, w[0], -w[2]
	case 4:
		return face, w[0], -w[1]
	}
	return face, -w[0], -w[1]
}
