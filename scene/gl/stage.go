// SPDX-License-Identifier: MIT

package gl

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/g3n/engine/core"
	"github.com/g3n/engine/geometry"
	"github.com/g3n/engine/gls"
	"github.com/g3n/engine/graphic"
	"github.com/g3n/engine/material"
	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// Layers in the order of drawing. Within one, solids are drawn nearest first
// (what they hide is then never shaded) and all others farthest first.
const (
	fixedSolids = iota
	backdrop
	solids
	glass
	topSolids
	topGlass
	topLines
)

// stage is a display list ready to be drawn: first what is fixed, then the rest
// over it, so that a picture of the fixed part can be kept. GL thread only.
type stage struct {
	fixed, rest *part
	labels      []scene.Label
	legend      []scene.Key
	around      *scene.Around
}

// newStage builds l's scenes; their things will look at v. It uses the fixed part of
// before, which may be nil, if l has the same. Bad geometry, which could make a
// driver read past a buffer's end, is refused by name.
func newStage(l *scene.List, v *view, before *stage) (*stage, error) {
	fixed, rest := split(l)
	if err := checkAround(l.Around); err != nil {
		return nil, err
	}
	s := &stage{labels: l.Labels, legend: l.Legend, around: l.Around}
	var err error
	if s.rest, err = newPart(rest, v); err != nil {
		return nil, err
	}
	if before != nil {
		if s.fixed = before.fixed.in(fixed); s.fixed != nil {
			return s, nil
		}
	}
	if s.fixed, err = newPart(fixed, v); err != nil {
		s.rest.dispose()
		return nil, err
	}
	s.fixed.add(newBackdrop(l, v))
	return s, nil
}

// dispose frees what s holds on the graphics side and next, which may be nil, does
// not use. A nil s is allowed.
func (s *stage) dispose(next *stage) {
	if s == nil {
		return
	}
	s.rest.dispose()
	if next == nil || next.fixed.root != s.fixed.root {
		s.fixed.dispose()
	}
}

// split returns what of l is drawn first, with the backdrop, and what over it. Only
// opaque things can come first: what is seen through them is drawn later. What shines
// comes and goes with every scene of light.
func split(l *scene.List) (fixed, rest *scene.List) {
	fixed, rest = &scene.List{Sky: l.Sky, Ground: l.Ground, Around: l.Around}, new(scene.List)
	for _, m := range l.Meshes {
		to := rest
		if m.Fixed && m.Alpha >= 1 && !m.OnTop && m.Shines == 0 {
			to = fixed
		}
		to.Meshes = append(to.Meshes, m)
	}
	for _, n := range l.Lines {
		to := rest
		if n.Fixed && !n.OnTop {
			to = fixed
		}
		to.Lines = append(to.Lines, n)
	}
	return fixed, rest
}

// in returns p in the light of l: p itself where l looks the same, and where they differ
// in light alone the same things, lit anew; nil where l is another list.
func (p *part) in(l *scene.List) *part {
	a := p.list
	if a.Sky != l.Sky || a.Ground != l.Ground || len(a.Meshes) != len(l.Meshes) || !slices.EqualFunc(a.Lines, l.Lines, sameLines) {
		return nil
	}
	lit := alike(a.Around, l.Around)
	for i := range l.Meshes {
		a, b := &a.Meshes[i], &l.Meshes[i]
		if !sameButLight(a, b) {
			return nil
		}
		lit = lit && equal(a.Lit, b.Lit)
	}
	if lit {
		return p
	}
	for i, light := range p.light {
		if light != nil {
			light.SetBuffer(l.Meshes[i].Lit)
		}
	}
	q := *p // so that no picture kept of p is taken for one of q
	q.list = l
	return &q
}

// sameButLight reports whether a and b look the same from everywhere in the same light.
func sameButLight(a, b *scene.Mesh) bool {
	return a.Alpha == b.Alpha && a.Whole == b.Whole && a.Unlit == b.Unlit && a.OneSided == b.OneSided && a.OnTop == b.OnTop && a.Facing == b.Facing && len(a.Lit) == len(b.Lit) &&
		equal(a.Pos, b.Pos) && equal(a.Nor, b.Nor) && equal(a.Col, b.Col) && equal(a.Index, b.Index) && equal(a.Mat, b.Mat) && equal(a.Deep, b.Deep)
}

func sameLines(a, b scene.Lines) bool {
	return a.OnTop == b.OnTop && equal(a.Pos, b.Pos) && equal(a.Col, b.Col) && equal(a.Dash, b.Dash)
}

func equal[T comparable](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || slices.Equal(a, b))
}

// part is a g3n scene. It is built whole and disposed of whole: g3n's reference
// counts do not survive anything finer. GL thread only.
type part struct {
	list   *scene.List // what it was made of
	root   *core.Node
	things []*thing
	light  []*gls.VBO // of each mesh of list; nil for one that brings none
}

// thing is one mesh or set of lines: a g3n graphic that sets our programs'
// uniforms.
type thing struct {
	graphic.Graphic
	view   *view // shared by all, set anew for each picture
	layer  int
	alpha  float32
	facing [4]float32 // as of a scene.Mesh
	centre mgl32.Vec3
	depth  float32 // of centre, for sorting

	matrixAt, eyeAt, keyAt, alphaAt, partAt gls.Uniform

	grain *grain // nil for what has none
	stars *stars // nil for all else
}

func newPart(l *scene.List, v *view) (*part, error) {
	p := &part{list: l, root: core.NewNode(), light: make([]*gls.VBO, len(l.Meshes))}
	for i := range l.Meshes {
		m := &l.Meshes[i]
		if err := checkMesh(m); err != nil {
			return nil, fmt.Errorf("gl: mesh %s: %w", m.Name, err)
		}
		if len(m.Index) > 0 && m.Alpha > 0 {
			if m.Whole && m.Alpha < 1 {
				p.add(newVeil(m, v))
			}
			t := newMesh(m, v)
			p.add(t)
			p.light[i] = t.GetGeometry().VBOName(lightAttribute)
		}
	}
	for i := range l.Lines {
		n := &l.Lines[i]
		if len(n.Pos)%6 != 0 || len(n.Col) != len(n.Pos) || len(n.Dash) != 0 && len(n.Dash) != len(n.Pos)/3*2 {
			return nil, fmt.Errorf("gl: lines %s: %d position, %d colour and %d dash numbers, want 6 a segment, 6, and 4 or none",
				n.Name, len(n.Pos), len(n.Col), len(n.Dash))
		}
		if len(n.Pos) > 0 {
			p.add(newLines(n, v))
		}
	}
	return p, nil
}

func (p *part) add(t *thing) {
	p.root.Add(t)
	p.things = append(p.things, t)
}

func (p *part) dispose() { p.root.DisposeChildren(true) }

func checkMesh(m *scene.Mesh) error {
	switch {
	case len(m.Pos)%3 != 0 || len(m.Index)%3 != 0:
		return fmt.Errorf("%d position numbers and %d indices, want multiples of 3", len(m.Pos), len(m.Index))
	case len(m.Col) != len(m.Pos):
		return fmt.Errorf("%d colour numbers for %d position numbers", len(m.Col), len(m.Pos))
	case len(m.Lit) != 0 && len(m.Lit) != len(m.Pos):
		return fmt.Errorf("%d light numbers for %d position numbers", len(m.Lit), len(m.Pos))
	case len(m.Mat) != 0 && len(m.Mat) != len(m.Pos)/3:
		return fmt.Errorf("%d materials for %d vertices", len(m.Mat), len(m.Pos)/3)
	case !m.Unlit && len(m.Nor) != len(m.Pos):
		return fmt.Errorf("%d normal numbers for %d position numbers", len(m.Nor), len(m.Pos))
	}
	for _, i := range m.Index {
		if int(i) >= len(m.Pos)/3 {
			return fmt.Errorf("index %d, but only %d vertices", i, len(m.Pos)/3)
		}
	}
	return checkStars(m)
}

// newThing prepares what meshes, lines and backdrop share. pos and col are
// used, not copied: g3n only reads them.
func newThing(v *view, mode uint32, program string, layer int, alpha float32, pos, col []float32) (*thing, *material.Material) {
	t := &thing{view: v, layer: layer, alpha: alpha, centre: centre(pos)}
	g := geometry.NewGeometry()
	g.AddVBO(gls.NewVBO(pos).AddAttrib(gls.VertexPosition))
	g.AddVBO(gls.NewVBO(col).AddAttrib(gls.VertexColor))
	t.Init(t, g, mode)
	t.matrixAt.Init("Matrix")
	t.eyeAt.Init("Eye")
	t.keyAt.Init("Key")
	t.alphaAt.Init("Alpha")
	t.partAt.Init("Part")

	mat := material.NewMaterial()
	mat.SetShader(program)
	mat.SetShaderUnique(true)
	mat.SetUseLights(material.UseLightNone)
	mat.SetSide(material.SideDouble)
	if alpha < 1 {
		mat.SetDepthMask(false) // writing depth would hide what comes later behind it
	} else {
		mat.SetBlending(material.BlendNone)
	}
	// g3n draws in two lists; all but solids go to the second, which keeps order.
	mat.SetTransparent(layer != fixedSolids && layer != solids)
	t.AddMaterial(t, mat, 0, 0)
	return t, mat
}

func newMesh(m *scene.Mesh, v *view) *thing {
	if len(m.Deep) > 0 {
		return newStars(m, v)
	}
	layer := solids
	switch see := m.Alpha < 1; {
	case m.OnTop && see:
		layer = topGlass
	case m.OnTop:
		layer = topSolids
	case see:
		layer = glass
	case m.Fixed:
		layer = fixedSolids
	}
	program := litProgram
	switch {
	case len(m.Lit) > 0:
		program = bakedProgram
	case m.Unlit:
		program = plainProgram
	case m.OneSided:
		program = facingProgram
	}
	t, mat := newThing(v, gls.TRIANGLES, program, layer, min(m.Alpha, 1), m.Pos, m.Col)
	g := t.GetGeometry()
	g.SetIndices(m.Index)
	switch {
	case len(m.Lit) > 0:
		g.AddVBO(gls.NewVBO(m.Lit).AddCustomAttrib(lightAttribute, 3))
		if !m.Unlit {
			t.grain = newGrain(m, mat)
		}
	case !m.Unlit:
		g.AddVBO(gls.NewVBO(m.Nor).AddAttrib(gls.VertexNormal))
	}
	if m.OneSided {
		mat.SetSide(material.SideFront)
	}
	t.facing = m.Facing
	return t
}

// newVeil is drawn just before a translucent m and shows nothing: it only leaves the
// depth of what is nearest, so that the rest of m is hidden behind it.
func newVeil(m *scene.Mesh, v *view) *thing {
	t := newMesh(m, v)
	t.alpha = 0
	for _, mat := range t.Materials() {
		mat.IMaterial().GetMaterial().SetDepthMask(true)
	}
	return t
}

func newLines(n *scene.Lines, v *view) *thing {
	layer := solids
	switch {
	case n.OnTop:
		layer = topLines
	case n.Fixed:
		layer = fixedSolids
	}
	program := plainProgram
	if len(n.Dash) > 0 {
		program = dashedProgram
	}
	t, mat := newThing(v, gls.LINES, program, layer, 1, n.Pos, n.Col)
	if len(n.Dash) > 0 {
		t.GetGeometry().AddVBO(gls.NewVBO(n.Dash).AddAttrib(gls.VertexTexcoord))
	}
	mat.SetDepthTest(!n.OnTop)
	mat.SetDepthMask(!n.OnTop)
	return t
}

// newBackdrop is the gradient behind everything: a triangle whose corner values
// are such that the picture's top edge is Sky and its foot Ground. The picture
// is drawn upside down, so y = -1 is its top.
func newBackdrop(l *scene.List, v *view) *thing {
	pos := []float32{-1, -1, 0, 3, -1, 0, -1, 3, 0}
	sky, ground := l.Sky, l.Ground
	beyond := func(s, g float32) float32 { return 2*g - s }
	col := []float32{sky.R, sky.G, sky.B, sky.R, sky.G, sky.B,
		beyond(sky.R, ground.R), beyond(sky.G, ground.G), beyond(sky.B, ground.B)}
	t, mat := newThing(v, gls.TRIANGLES, backdropProgram, backdrop, 1, pos, col)
	mat.SetDepthMask(false)
	t.SetCullable(false)
	return t
}

// centre is the middle of pos's bounding box.
func centre(pos []float32) mgl32.Vec3 {
	if len(pos) < 3 {
		return mgl32.Vec3{}
	}
	lo, hi := bounds(pos)
	return lo.Add(hi).Mul(0.5)
}

// bounds returns the corners of pos's bounding box; there is one position at least.
func bounds(pos []float32) (lo, hi mgl32.Vec3) {
	lo, hi = mgl32.Vec3(pos[:3]), mgl32.Vec3(pos[:3])
	for i, p := range pos {
		lo[i%3], hi[i%3] = min(lo[i%3], p), max(hi[i%3], p)
	}
	return lo, hi
}

// arrange fixes for the view what is drawn, and in which order. g3n's own sorting counts a
// position twice and would be wrong for anything not at the origin.
func (p *part) arrange(v *view) {
	for _, t := range p.things {
		t.depth = t.centre.Dot(v.forward)
		t.SetVisible(v.before(t.facing))
	}
	slices.SortStableFunc(p.things, func(a, b *thing) int { // farthest first
		return cmp.Or(cmp.Compare(a.layer, b.layer), cmp.Compare(b.depth, a.depth))
	})
	for rank, t := range p.things {
		t.SetRenderOrder(rank) // g3n draws its opaque list from the end: nearest first
	}
}

// RenderSetup hands the uniforms to the program in use; g3n calls it before
// drawing t.
func (t *thing) RenderSetup(gs *gls.GLS, _ *core.RenderInfo) {
	gs.FrontFace(gls.CW) // counter-clockwise, in a picture that is upside down
	if t.layer == backdrop {
		p := t.view.part
		gs.Uniform4f(t.partAt.Location(gs), p[0], p[1], p[2], p[3])
		return
	}
	m := &t.view.matrix
	if t.layer == topSolids || t.layer == topGlass {
		m = &t.view.top
	}
	gs.UniformMatrix4fv(t.matrixAt.Location(gs), 1, false, &m[0])
	gs.Uniform1f(t.alphaAt.Location(gs), t.alpha)
	if t.stars != nil {
		t.stars.setup(gs, t)
		return
	}
	if t.grain != nil && t.view.still {
		t.grain.setup(gs, t.GetGeometry(), t.view)
		return
	}
	if t.GetGeometry().VBO(gls.VertexNormal) != nil {
		e, k := t.view.eye, t.view.key
		gs.Uniform4f(t.eyeAt.Location(gs), e[0], e[1], e[2], e[3])
		gs.Uniform3f(t.keyAt.Location(gs), k[0], k[1], k[2])
	}
}
