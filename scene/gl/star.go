// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"

	"github.com/g3n/engine/gls"
	"github.com/g3n/engine/material"
	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// A star is a soft point, never smaller than what a pixel shows without flicker, and adds
// its light to what is there. It seems to lie behind the ceiling: as the eye goes by, it
// moves over the ceiling less than the ceiling does, and one that leaves the ceiling at one
// side is another that comes in at the other.
const starVertex = `
layout(location = 0) in vec3 VertexPosition; // of the star's middle
layout(location = 1) in vec4 VertexStar; // corner, half its size, how deep it lies
layout(location = 2) in vec3 VertexColor;
layout(location = 3) in vec3 VertexFacing;
uniform mat4 Matrix;
uniform vec4 Eye; // a point, or with w = 0 the direction to a far eye
uniform vec2 Size; // of the picture, pixels
uniform vec3 Home; // from where every star is seen in its place
uniform vec4 Field; // x and z of the ceiling, least and most
out vec3 Color;
out vec2 Corner;
void main() {
	vec3 at = VertexPosition;
	float under = at.y - Eye.y, deep = VertexStar.w;
	if (Eye.w > 0.5 && deep > 0.0 && under > 0.02) {
		vec2 real = Home.xz + (at.xz - Home.xz) * (at.y - Home.y + deep) / (at.y - Home.y);
		vec2 seen = Eye.xz + (real - Eye.xz) * under / (under + deep);
		at.xz = Field.xy + mod(seen - Field.xy, Field.zw - Field.xy);
	}
	vec3 toEye = Eye.xyz - Eye.w * at;
	Corner = VertexStar.xy;
	vec4 p = Matrix * vec4(at, 1.0);
	// Brought towards the eye in depth alone, or the ceiling would cut half of it off.
	vec4 nearer = Matrix * vec4(at + 0.25 * normalize(toEye), 1.0);
	float scale = length(vec3(Matrix[0][1], Matrix[1][1], Matrix[2][1])) * Size.y / 2.0 / p.w; // pixels a metre
	float bright = max(VertexColor.r, max(VertexColor.g, VertexColor.b));
	float radius = max(3.0 * VertexStar.z * scale, Size.y / 800.0 * (1.3 + 2.2 * bright * bright));
	Color = VertexColor;
	p.xy += Corner * radius * 2.0 / Size * p.w;
	p.z = nearer.z / nearer.w * p.w;
	gl_Position = dot(VertexFacing, toEye) > 0.0 ? p : vec4(2.0, 2.0, 2.0, 1.0);
}`

const starFragment = `
precision highp float;
in vec3 Color;
in vec2 Corner;
uniform float Alpha;
out vec4 FragColor;
void main() {
	float r = dot(Corner, Corner);
	float glow = max(exp(-4.0 * r) - 0.018, 0.0);
	FragColor = vec4(Color, Alpha * glow);
}`

// stars is what the program is told of a mesh of stars.
type stars struct {
	home                    mgl32.Vec3
	field                   [4]float32
	sizeAt, homeAt, fieldAt gls.Uniform
}

func checkStars(m *scene.Mesh) error {
	if n := len(m.Pos) / 3; len(m.Deep) != 0 && (len(m.Deep) != n || n%4 != 0 || len(m.Nor) != len(m.Pos)) {
		return fmt.Errorf("%d depths and %d normal numbers for %d vertices, want one and three for each, and four vertices a star", len(m.Deep), len(m.Nor), n)
	}
	return nil
}

// newStars makes points of the squares of m.
func newStars(m *scene.Mesh, v *view) *thing {
	n := len(m.Pos) / 3
	middles, of := make([]float32, 0, len(m.Pos)), make([]float32, 0, 4*n)
	corners := [4][2]float32{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}
	for i := 0; i+3 < n; i += 4 {
		var at mgl32.Vec3
		for k := range 4 {
			at = at.Add(mgl32.Vec3(m.Pos[3*(i+k):]).Mul(0.25))
		}
		size := mgl32.Vec3(m.Pos[3*i:]).Sub(mgl32.Vec3(m.Pos[3*i+6:])).Len() / 2
		for k, c := range corners {
			middles = append(middles, at[:]...)
			of = append(of, c[0], c[1], size, m.Deep[i+k])
		}
	}
	layer := glass
	if m.OnTop {
		layer = topGlass
	}
	t, mat := newThing(v, gls.TRIANGLES, starProgram, layer, min(m.Alpha, 1), middles, m.Col)
	mat.SetDepthMask(false)
	mat.SetBlending(material.BlendAdditive)
	g := t.GetGeometry()
	g.SetIndices(m.Index)
	g.AddVBO(gls.NewVBO(of).AddCustomAttrib("VertexStar", 4))
	g.AddVBO(gls.NewVBO(m.Nor).AddCustomAttrib("VertexFacing", 3))
	lo, hi := bounds(middles)
	const eyes = 1.6 // m under the ceiling: about where those are who sit
	s := &stars{home: lo.Add(hi).Mul(0.5), field: [4]float32{lo[0], lo[2], hi[0], hi[2]}}
	s.home[1] = lo[1] - eyes
	s.sizeAt.Init("Size")
	s.homeAt.Init("Home")
	s.fieldAt.Init("Field")
	t.stars = s
	return t
}

// setup hands the program in use what it needs.
func (s *stars) setup(gs *gls.GLS, t *thing) {
	v := t.view
	gs.Uniform4f(t.eyeAt.Location(gs), v.eye[0], v.eye[1], v.eye[2], v.eye[3])
	gs.Uniform2f(s.sizeAt.Location(gs), v.size[0], v.size[1])
	gs.Uniform3f(s.homeAt.Location(gs), s.home[0], s.home[1], s.home[2])
	gs.Uniform4f(s.fieldAt.Location(gs), s.field[0], s.field[1], s.field[2], s.field[3])
}
