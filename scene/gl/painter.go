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
	targets  [2]*target // at one and at four samples a pixel, made when needed
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

// drawOnce draws j into img, with j's own list if it has one.
func (p *painter) drawOnce(j Job, img *image.RGBA) error {
	if j.List == nil {
		return p.draw(p.stage, j, img)
	}
	s, err := newStage(j.List, &p.view, nil)
	if err != nil {
		return err
	}
	defer s.dispose(nil)
	return p.draw(s, j, img)
}

// draw fills img, of j's size, with the picture of s.
func (p *painter) draw(s *stage, j Job, img *image.RGBA) (err error) {
	t, err := p.target(j)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			t.forget()
		}
	}()
	if err := p.view.set(j.Camera, float32(j.W)/float32(j.H)); err != nil {
		return err
	}
	p.view.size = mgl32.Vec2{float32(j.W), float32(j.H)}
	if p.view.still = j.Samples >= 4; p.view.still {
		p.view.around = p.mirror.show(s.around)
	}
	gl.BindFramebuffer(gl.FRAMEBUFFER, t.draw)
	p.gs.Viewport(0, 0, t.w, t.h)
	gl.ColorMask(true, true, true, true)
	p.gs.DepthMask(true)
	if now := (taken{s.fixed, j.Camera}); !t.recall(now) {
		// The backdrop gives the colour, the clearing the opacity: masked, it stays
		// 1 under translucent surfaces.
		p.gs.ClearColor(0, 0, 0, 1)
		p.gs.Clear(gls.COLOR_BUFFER_BIT | gls.DEPTH_BUFFER_BIT)
		if err := p.render(s.fixed); err != nil {
			return err
		}
		t.remember(now)
	}
	if err := p.render(s.rest); err != nil {
		return err
	}
	t.pixels(img)
	p.plates.drawLegend(img, s.legend, j.Scale)
	p.plates.draw(img, s.labels, j.Camera, j.Scale, t.depths)
	if e := gl.GetError(); e != gl.NO_ERROR {
		for i := 0; i < 8 && gl.GetError() != gl.NO_ERROR; i++ {
		}
		return fmt.Errorf("gl: OpenGL error %#x", e)
	}
	return nil
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

// target returns the target for j's size and samples. A new size drops the
// targets of the old one.
func (p *painter) target(j Job) (*target, error) {
	if j.W < 1 || j.H < 1 || j.W > maxSide || j.H > maxSide {
		return nil, fmt.Errorf("gl: picture of %d x %d pixels, allowed 1 to %d each way", j.W, j.H, maxSide)
	}
	w, h := int32(j.W), int32(j.H)
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
