// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"image"
	"sync"

	"github.com/g3n/engine/gls"
	"github.com/g3n/engine/renderer"
	"github.com/go-gl/gl/v3.3-core/gl"
	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// loading guards the two OpenGL bindings' function tables, which are the
// process's and not the context's: our one mutable global, because theirs are.
// Drivers behind one loader library give the same addresses to every context.
var loading struct {
	sync.Mutex
	done bool
}

// painter draws stages into images. It belongs to one context. GL thread only.
type painter struct {
	gs       *gls.GLS
	renderer *renderer.Renderer
	view     view
	stage    *stage
	left     *stage      // of the curtain; nil for none
	leftOf   *scene.List // what left was made of
	targets  [2]*target  // at one and at four samples a pixel, made when needed
	plates   *plates
	mirror   mirror
}

// newPainter loads OpenGL through c, which is current.
func newPainter(c Context) (*painter, error) {
	loading.Lock()
	defer loading.Unlock()
	if !loading.done {
		if err := gl.InitWithProcAddrFunc(c.Proc); err != nil {
			return nil, fmt.Errorf("this machine lacks OpenGL 3.3 (%w)", err)
		}
		loading.done = true
	}
	var major, minor int32
	gl.GetIntegerv(gl.MAJOR_VERSION, &major)
	gl.GetIntegerv(gl.MINOR_VERSION, &minor)
	if major*10+minor < 33 {
		return nil, fmt.Errorf("OpenGL 3.3 is needed, this machine has %d.%d", major, minor)
	}
	gs, err := gls.New()
	if err != nil {
		return nil, fmt.Errorf("libGL cannot be loaded (%w)", err)
	}
	gs.SetCheckErrors(false) // g3n would end the process
	p := &painter{gs: gs, renderer: renderer.NewRenderer(gs)}
	for _, s := range [...]struct{ program, vertex, fragment string }{
		{litProgram, litVertex, litFragment},
		{facingProgram, facingVertex, facingFragment},
		{bakedProgram, bakedVertex, bakedFragment},
		{grainProgram, grainVertex, grainFragment},
		{starProgram, starVertex, starFragment},
		{plainProgram, plainVertex, plainFragment},
		{dashedProgram, dashedVertex, dashedFragment},
		{backdropProgram, backdropVertex, backdropFragment},
	} {
		p.renderer.AddShader(s.program+"-vertex", s.vertex)
		p.renderer.AddShader(s.program+"-fragment", s.fragment)
		p.renderer.AddProgram(s.program, s.program+"-vertex", s.program+"-fragment")
	}
	if p.plates, err = newPlates(); err != nil {
		return nil, err
	}
	return p, p.show(new(scene.List))
}

func (p *painter) dispose() {
	p.stage.dispose(nil)
	p.left.dispose(nil)
	for _, t := range p.targets {
		t.dispose()
	}
	p.mirror.dispose()
}

// show puts l on show in place of what is; nil keeps it. A list that cannot be
// shown changes nothing.
func (p *painter) show(l *scene.List) error {
	if l == nil {
		return nil
	}
	s, err := newStage(l, &p.view, p.stage)
	if err != nil {
		return err
	}
	p.stage.dispose(s)
	p.stage = s
	return nil
}

// hang hangs a curtain, or takes it away.
func (p *painter) hang(c *Curtain) error {
	switch {
	case c == nil:
		p.left.dispose(nil)
		p.left, p.leftOf = nil, nil
		return nil
	case c.List == p.leftOf && p.left != nil:
		return nil
	}
	s, err := newStage(c.List, &p.view, p.left)
	if err != nil {
		return err
	}
	p.left.dispose(s)
	p.left, p.leftOf = s, c.List
	return nil
}

// drawOnce draws j into img, with j's own list if it has one.
func (p *painter) drawOnce(j Job, img *image.RGBA) error {
	s := p.stage
	var left *stage
	var err error
	if j.List != nil {
		if s, err = newStage(j.List, &p.view, nil); err != nil {
			return err
		}
		defer s.dispose(nil)
	}
	if j.Curtain != nil {
		if left, err = newStage(j.Curtain.List, &p.view, nil); err != nil {
			return err
		}
		defer left.dispose(nil)
	}
	return p.draw(s, left, j, img)
}

// draw fills img, of the size of what j wants drawn, with the picture of s, and left of
// j's curtain with that of left.
func (p *painter) draw(s, left *stage, j Job, img *image.RGBA) (err error) {
	t, err := p.target(j)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			t.forget()
		}
	}()
	p.view.size = mgl32.Vec2{float32(t.w), float32(t.h)}
	p.view.still = j.Samples >= 4
	gl.BindFramebuffer(gl.FRAMEBUFFER, t.draw)
	p.gs.Viewport(0, 0, t.w, t.h)
	gl.ColorMask(true, true, true, true)
	p.gs.DepthMask(true)
	if left == nil {
		err = p.drawAll(s, j, t)
	} else {
		err = p.drawBoth(s, left, j, t)
	}
	if err != nil {
		return err
	}
	t.pixels(img)
	if j.Part.Empty() {
		p.plates.drawLegend(img, s.legend, j.Scale)
		p.plates.draw(img, s.labels, j.Camera, j.Scale, t.depths)
		p.plates.drawCurtain(img, j.Curtain, j.Scale)
	}
	if e := gl.GetError(); e != gl.NO_ERROR {
		for i := 0; i < 8 && gl.GetError() != gl.NO_ERROR; i++ {
		}
		return fmt.Errorf("gl: OpenGL error %#x", e)
	}
	return nil
}

// drawAll draws s into t, its fixed things from where they are kept.
func (p *painter) drawAll(s *stage, j Job, t *target) error {
	if err := p.look(s, j.Camera, j); err != nil {
		return err
	}
	if now := (taken{s.fixed, j.Camera}); !j.Part.Empty() || !t.recall(now) {
		p.clear()
		if err := p.render(s.fixed); err != nil {
			return err
		}
		if j.Part.Empty() {
			t.remember(now)
		}
	}
	return p.render(s.rest)
}

// drawBoth draws left into t as far as the curtain, and s beyond.
func (p *painter) drawBoth(s, left *stage, j Job, t *target) error {
	edge := int32(min(max(j.Curtain.edge(j.W)-j.whole().Min.X, 0), int(t.w)))
	gl.Enable(gl.SCISSOR_TEST)
	defer gl.Disable(gl.SCISSOR_TEST)
	for _, side := range [...]struct {
		s        *stage
		c        scene.Camera
		from, to int32
	}{{left, j.Curtain.Camera, 0, edge}, {s, j.Camera, edge, t.w}} {
		if side.from == side.to {
			continue
		}
		gl.Scissor(side.from, 0, side.to-side.from, t.h)
		if err := p.look(side.s, side.c, j); err != nil {
			return err
		}
		p.clear()
		for _, part := range [...]*part{side.s.fixed, side.s.rest} {
			if err := p.render(part); err != nil {
				return err
			}
		}
	}
	return nil
}

// look sets the view of s for c.
func (p *painter) look(s *stage, c scene.Camera, j Job) error {
	if p.view.still {
		p.view.around = p.mirror.show(s.around)
	}
	return p.view.set(c, j.W, j.H, j.whole())
}

// clear empties the target. The backdrop gives the colour, the clearing the opacity:
// masked, it stays 1 under translucent surfaces.
func (p *painter) clear() {
	gl.ColorMask(true, true, true, true)
	p.gs.DepthMask(true)
	p.gs.ClearColor(0, 0, 0, 1)
	p.gs.Clear(gls.COLOR_BUFFER_BIT | gls.DEPTH_BUFFER_BIT)
}

// render draws s over what is there.
func (p *painter) render(s *part) error {
	s.arrange(&p.view)
	s.dress(p.view.still)
	gl.ColorMask(true, true, true, false)
	err := p.renderer.Render(s.root, &p.view)
	gl.ColorMask(true, true, true, true)
	if err != nil {
		return fmt.Errorf("gl: %w", err)
	}
	return nil
}

// target returns the target for what j draws and its samples. A new size drops the
// targets of the old one.
func (p *painter) target(j Job) (*target, error) {
	r := j.whole()
	if r.Dx() < 1 || r.Dy() < 1 || r.Dx() > maxSide || r.Dy() > maxSide {
		return nil, fmt.Errorf("gl: picture of %d x %d pixels, allowed 1 to %d each way", r.Dx(), r.Dy(), maxSide)
	}
	w, h := int32(r.Dx()), int32(r.Dy())
	for i, t := range p.targets {
		if t != nil && (t.w != w || t.h != h) {
			t.dispose()
			p.targets[i] = nil
		}
	}
	i, samples := 0, int32(1)
	if j.Samples >= 4 {
		i, samples = 1, 4
	}
	if p.targets[i] == nil {
		t, err := newTarget(w, h, samples)
		if err != nil {
			return nil, err
		}
		p.targets[i] = t
	}
	return p.targets[i], nil
}
