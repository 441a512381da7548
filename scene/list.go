// SPDX-License-Identifier: MIT

package scene

import (
	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
)

// World returns the room-frame vector v in the y-up picture world.
func World(v geometry.Vec) mgl32.Vec3 {
	return mgl32.Vec3{float32(v.Y), float32(v.Z), float32(v.X)}
}

// RGB is a display (sRGB-encoded) colour with components in 0..1.
type RGB struct{ R, G, B float32 }

// Mesh is a set of triangles in the picture world with a normal and a colour
// at every vertex. Index triples wind counter-clockwise seen from outside.
type Mesh struct {
	Name string
	Pos  []float32 // 3 a vertex, metres
	Nor  []float32 // 3 a vertex, unit
	Col  []float32 // 3 a vertex, 0..1 sRGB
	// Mat is empty, or what the surface is made of at each vertex. A triangle is of the
	// material of its last corner.
	Mat   []Material
	Index []uint32
	// Alpha is 1 for an opaque mesh. Less makes it translucent: drawn after all
	// opaque ones, farthest first, writing no depth.
	Alpha float32
	// Whole shows of a translucent mesh only what is nearest to the eye, as of a solid
	// thing that fades.
	Whole bool
	// Unlit meshes show their colours as they are (a lit screen, a ray).
	Unlit bool
	// OneSided draws only the faces turned towards the eye: right for every closed
	// solid, and it saves a third of a frame. A room's shell faces inwards, so that
	// its near walls and ceiling vanish when seen from outside.
	OneSided bool
	// Facing is a plane, its unit normal and how far along that it lies, in the picture
	// world; zero for none. What hangs on a wall or under the ceiling vanishes with it: a
	// camera in perspective that is not before the plane does not see the mesh.
	Facing [4]float32
	// OnTop draws over everything already there, whatever its depth.
	OnTop bool
	// Fixed says that most edits leave this as it is: it is then worth keeping
	// drawn. Nothing looks different for it.
	Fixed bool
	// Lit is empty, or what falls on each vertex: red, green and blue, so bright that 1
	// makes white of a white surface before the renderer's curve. Such a mesh is drawn in
	// that light alone.
	Lit []float32 // 3 a vertex
	// Shines is the light group, counted from 1, whose lamps the mesh shows; or Picture,
	// or Canvas; 0 for all else.
	Shines int
	// Deep is empty, or how far behind its place each vertex seems to lie, metres. Such a mesh
	// is of stars: four vertices each, drawn as a soft point of light.
	Deep []float32
	// Door is the feature, counted from 1, whose leaf the mesh is; 0 for all else. Only
	// Options.Bare keeps leaves apart: see Ajar.
	Door int
	// Seat is the seat, counted from 1, from which the mesh is not seen: it is the sitter
	// there, or the headrest; 0 for all else. Only Options.Bare keeps them apart.
	Seat int
}

// What a mesh shows that is no light group: the picture, and the bare screen that is seen
// when none runs. Both are in one place; only a List of Options.Bare has both.
const (
	Picture = -1
	Canvas  = -2
)

// Lines is a set of line segments one pixel wide, two vertices each.
type Lines struct {
	Name string
	Pos  []float32 // 3 a vertex
	Col  []float32 // 3 a vertex
	// Dash is empty, or 2 a vertex, the same share at both ends of a segment: how many
	// dashes with their gaps lie before it, and the share of each that is drawn.
	Dash []float32
	// OnTop draws over everything already there, whatever its depth.
	OnTop bool
	// Fixed is as for a Mesh.
	Fixed bool
}

// Label is a short text drawn at a point, upright, over the picture.
type Label struct {
	At    mgl32.Vec3
	Text  string
	Ink   RGB
	Plate RGB  // colour of the plate behind the text
	Bold  bool // for what is selected
	// Hidden labels are left out when something opaque stands in front of At.
	Hidden bool
}

// List is everything one picture shows. It is immutable once made and may be
// handed between goroutines.
type List struct {
	Meshes []Mesh
	Lines  []Lines
	Labels []Label
	Legend []Key // of the paths that are drawn
	Sky    RGB   // colour of the background at the top of the picture
	Ground RGB   // and at its foot
	// Around is what mirrors of the room, nil where nothing does.
	Around *Around

	// Rays are drawn of AllRays that were to be: the selected and the worst.
	Rays, AllRays int
}

// Camera is where a picture is taken from, in the picture world.
type Camera struct {
	Eye, At, Up mgl32.Vec3
	// FOV is the vertical field of view in radians; 0 makes the picture a
	// parallel projection Height metres high.
	FOV    float32
	Height float32
	// Cut leaves out of a parallel projection what is nearer than that, metres from
	// Eye; 0 shows all.
	Cut float32
}

// Clip distances of every camera, metres. 0.05 lets an eye stand close behind
// a headrest; 24-bit depth still tells 1 mm apart at 10 m.
const (
	Near = 0.05
	Far  = 120
)

// Matrix returns the view-projection matrix of c for a picture whose width is
// aspect times its height.
func (c Camera) Matrix(aspect float32) mgl32.Mat4 {
	view := mgl32.LookAtV(c.Eye, c.At, c.Up)
	if c.FOV > 0 {
		return mgl32.Perspective(c.FOV, aspect, Near, Far).Mul4(view)
	}
	h := c.Height / 2
	var before float32 = -Far
	if c.Cut > 0 {
		before = c.Cut
	}
	return mgl32.Ortho(-h*aspect, h*aspect, -h, h, before, Far).Mul4(view)
}

// Project returns where p falls in a picture w by h pixels (x right, y down)
// and its depth, 0 at Near to 1 at Far. ok is false when p lies behind the eye.
func (c Camera) Project(p mgl32.Vec3, w, h int) (x, y, depth float32, ok bool) {
	q := c.Matrix(float32(w) / float32(h)).Mul4x1(p.Vec4(1))
	if q[3] <= 1e-6 {
		return 0, 0, 0, false
	}
	x = (q[0]/q[3] + 1) / 2 * float32(w)
	y = (1 - q[1]/q[3]) / 2 * float32(h)
	return x, y, (q[2]/q[3] + 1) / 2, true
}
