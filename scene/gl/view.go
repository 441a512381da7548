// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"image"

	"github.com/g3n/engine/math32"
	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// view is the camera of one picture, as g3n and our programs want it. It has
// one matrix for all: as far as g3n knows, the eye is at the origin.
type view struct {
	matrix  mgl32.Mat4
	top     mgl32.Mat4 // matrix, with all depths squeezed into the nearest topBand
	eye     mgl32.Vec4 // a point, or with w = 0 the direction to a far eye
	key     mgl32.Vec3 // direction to the key light
	forward mgl32.Vec3
	size    mgl32.Vec2 // of the picture, pixels
	still   bool       // what things are made of is shown
	around  mirrors    // what mirrors the room, while still
	part    mgl32.Vec4 // by what x and y of the whole picture are multiplied, and what is added
}

// topBand is the share of the depth range kept for what is drawn on top: it
// then hides itself properly and still stands before everything else. A
// perspective camera has nothing there but the first half millimetre.
const topBand = 0.01

// keyFrom is where the key light stands when it does not follow the camera:
// above, a little to the left, behind the audience.
var keyFrom = mgl32.Vec3{-0.35, 0.85, 0.40}

// set points v along c, for part of a picture of w by h pixels. It fails for a camera that
// looks nowhere.
func (v *view) set(c scene.Camera, w, h int, part image.Rectangle) error {
	// From -1 to 1 over the whole to the same over the part.
	onto := func(whole, from, size int) (scale, shift float32) {
		return float32(whole) / float32(size), float32(whole-2*from)/float32(size) - 1
	}
	v.part[0], v.part[2] = onto(w, part.Min.X, part.Dx())
	v.part[1], v.part[3] = onto(h, part.Min.Y, part.Dy())
	// Turned upside down; see the package comment.
	m := mgl32.Scale3D(1, -1, 1).Mul4(c.Matrix(float32(w) / float32(h)))
	if part != image.Rect(0, 0, w, h) {
		m = mgl32.Translate3D(v.part[2], v.part[3], 0).Mul4(mgl32.Scale3D(v.part[0], v.part[1], 1)).Mul4(m)
	}
	for _, x := range m {
		if x-x != 0 {
			return fmt.Errorf("gl: camera at %v sees nothing: it looks at %v with %v up", c.Eye, c.At, c.Up)
		}
	}
	v.matrix = m
	squeeze := mgl32.Ident4()
	squeeze.Set(2, 2, topBand)
	squeeze.Set(2, 3, topBand-1)
	v.top = squeeze.Mul4(m)
	v.forward = c.At.Sub(c.Eye).Normalize()
	v.eye = c.Eye.Vec4(1)
	if c.FOV <= 0 {
		v.eye = v.forward.Mul(-1).Vec4(0)
	}
	v.key = keyFrom.Mul(0.7).Sub(v.forward.Mul(0.3)).Normalize()
	return nil
}

// before reports whether the eye is before a plane, as of scene.Mesh.Facing. A far eye
// always is: drawings leave nothing out.
func (v *view) before(p [4]float32) bool {
	return v.eye[3] == 0 || p == [4]float32{} || v.eye.Vec3().Dot(mgl32.Vec3{p[0], p[1], p[2]}) > p[3]
}

// ViewMatrix and ProjMatrix make v a g3n camera.
func (v *view) ViewMatrix(m *math32.Matrix4) { m.Identity() }

func (v *view) ProjMatrix(m *math32.Matrix4) { *m = math32.Matrix4(v.matrix) }
