// SPDX-License-Identifier: MIT

package gl

import (
	"github.com/g3n/engine/geometry"
	"github.com/g3n/engine/gls"
	"github.com/g3n/engine/material"

	"earline/scene"
)

// grain is what a mesh is drawn with in a picture at rest, and put on the graphics side for
// the first of those. GL thread only.
type grain struct {
	of   *scene.Mesh
	mat  *material.Material // whose program is changed
	done bool               // on the graphics side

	aroundAt, placeAt, loAt, hiAt, meanAt, eyeAt gls.Uniform
}

func newGrain(m *scene.Mesh, mat *material.Material) *grain {
	g := &grain{of: m, mat: mat}
	g.aroundAt.Init("Around")
	g.placeAt.Init("AroundAt")
	g.loAt.Init("AroundLo")
	g.hiAt.Init("AroundHi")
	g.meanAt.Init("Mean")
	g.eyeAt.Init("Eye")
	return g
}

// setup hands the program in use what it needs, while the mesh's geometry is bound.
func (g *grain) setup(gs *gls.GLS, geom *geometry.Geometry, v *view) {
	if !g.done { // not before: the program of a moving picture would not take it in
		g.done = true
		vbo := gls.NewVBO(g.vertices()).AddCustomAttrib("VertexFacing", 3).AddCustomAttrib("VertexMaterial", 1)
		geom.AddVBO(vbo)
		vbo.Transfer(gs)
	}
	a := &v.around
	gs.Uniform1i(g.aroundAt.Location(gs), 0)
	gs.Uniform3f(g.placeAt.Location(gs), a.at[0], a.at[1], a.at[2])
	gs.Uniform3f(g.loAt.Location(gs), a.lo[0], a.lo[1], a.lo[2])
	gs.Uniform3f(g.hiAt.Location(gs), a.hi[0], a.hi[1], a.hi[2])
	gs.Uniform1f(g.meanAt.Location(gs), a.mean)
	gs.Uniform4f(g.eyeAt.Location(gs), v.eye[0], v.eye[1], v.eye[2], v.eye[3])
}

// vertices returns the normal and the material of each vertex.
func (g *grain) vertices() []float32 {
	m := g.of
	out := make([]float32, 0, len(m.Pos)/3*4)
	for i := range len(m.Pos) / 3 {
		made := float32(0)
		if len(m.Mat) > 0 {
			made = float32(int(m.Mat[i].Kind()) + materialStride*m.Mat[i].Axis())
		}
		out = append(out, m.Nor[3*i], m.Nor[3*i+1], m.Nor[3*i+2], made)
	}
	return out
}

// dress gives what has a grain the program that shows it, or the plain one.
func (p *part) dress(still bool) {
	program := bakedProgram
	if still {
		program = grainProgram
	}
	for _, t := range p.things {
		if t.grain != nil {
			t.grain.mat.SetShader(program)
		}
	}
}
