// SPDX-License-Identifier: MIT

package repaint

import (
	"image"
	"image/color"
	"math"
	"reflect"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"github.com/go-gl/gl/v2.1/gl"
)

// toolkitPainter is what Fyne's canvas wants of its painter.
type toolkitPainter interface {
	Init()
	Capture(fyne.Canvas) image.Image
	Clear()
	Free(fyne.CanvasObject)
	Paint(fyne.CanvasObject, fyne.Position, fyne.Size)
	SetFrameBufferScale(float32)
	SetOutputSize(int, int)
	StartClipping(fyne.Position, fyne.Size)
	StopClipping()
}

// painter notes what Fyne wants painted, and when all of it is known has the toolkit's
// own painter paint what is damaged. UI goroutine only.
type painter struct {
	toolkitPainter
	canvas fyne.Canvas
	count  func() int // how many calls of Paint a painting has
	mark   func(step string)

	w, h int     // of the window, in pixels
	tex  float32 // pixels of the frame buffer to one of the window

	left      int // calls of Paint still to come
	now       []step
	clip      image.Rectangle
	refreshed map[fyne.CanvasObject]struct{}

	kept   uint32 // frame buffer with the picture of the window, 0 until there is one
	colour uint32 // its render buffer
	made   setup  // of the picture
	before []step // what is in it
	copies copies
	off    bool // something is otherwise than expected: the toolkit paints
}

// setup is what all of a picture of the window depends on.
type setup struct {
	w, h  int
	scale float32
	back  color.Color
}

// Install has win, which is on show, painted by parts, and reports whether it can be.
// mark, which may be nil, is told when the toolkit has laid out what is to be painted,
// and when that is painted.
func Install(win fyne.Window, mark func(step string)) bool {
	c := win.Canvas()
	v := reflect.ValueOf(c)
	get, set, walk := v.MethodByName("Painter"), v.MethodByName("SetPainter"), v.MethodByName("WalkTrees")
	if !get.IsValid() || !set.IsValid() || !walk.IsValid() {
		return false
	}
	if t := get.Type(); t.NumIn() != 0 || t.NumOut() != 1 {
		return false
	}
	if t := walk.Type(); t.NumIn() != 2 || t.In(0).Kind() != reflect.Func || t.In(0).NumOut() != 0 || t.In(1).Kind() != reflect.Func {
		return false
	}
	inner, ok := get.Call(nil)[0].Interface().(toolkitPainter)
	if _, twice := inner.(*painter); !ok || twice {
		return false
	}
	context, ok := win.(interface{ RunWithContext(func()) })
	if !ok {
		return false
	}
	able := false
	context.RunWithContext(func() { able = offscreen() })
	if !able {
		return false
	}
	p := &painter{toolkitPainter: inner, canvas: c, mark: mark, tex: 1, copies: copies{}, refreshed: map[fyne.CanvasObject]struct{}{}}
	if t := set.Type(); t.NumIn() != 1 || !reflect.TypeOf(p).AssignableTo(t.In(0)) {
		return false
	}
	nodes := 0
	step := reflect.MakeFunc(walk.Type().In(0), func([]reflect.Value) []reflect.Value { nodes++; return nil })
	args := []reflect.Value{step, reflect.Zero(walk.Type().In(1))}
	p.count = func() int {
		nodes = 0
		walk.Call(args)
		return nodes
	}
	set.Call([]reflect.Value{reflect.ValueOf(p)})
	return true
}

// offscreen reports whether the context that is current can draw into a frame buffer
// and copy from it.
func offscreen() bool {
	const need = "GL_ARB_framebuffer_object"
	return slices.Contains(strings.Fields(gl.GoStr(gl.GetString(gl.EXTENSIONS))), need)
}

// SetOutputSize is told the window's size in pixels before each painting.
func (p *painter) SetOutputSize(w, h int) {
	p.toolkitPainter.SetOutputSize(w, h)
	p.w, p.h = w, h
}

// SetFrameBufferScale is told of screens that count more than one pixel as one.
func (p *painter) SetFrameBufferScale(scale float32) {
	p.toolkitPainter.SetFrameBufferScale(scale)
	p.tex = scale
}

// Free is called for what was refreshed, and for pictures long out of use.
func (p *painter) Free(o fyne.CanvasObject) {
	p.toolkitPainter.Free(o)
	p.copies.outdate(o)
	p.refreshed[o] = struct{}{}
}

// Clear begins a painting.
func (p *painter) Clear() {
	p.off = p.off || p.left != 0 // the last one had fewer calls than it said
	if p.off {
		p.toolkitPainter.Clear()
		return
	}
	if p.mark != nil {
		p.mark("layout")
	}
	p.now, p.clip = p.now[:0], p.all()
	p.left = p.count()
}

// Paint notes what is to be painted. The last one paints.
func (p *painter) Paint(o fyne.CanvasObject, pos fyne.Position, frame fyne.Size) {
	if p.left == 0 {
		p.toolkitPainter.Paint(o, pos, frame)
		return
	}
	s := step{obj: o, pos: pos, size: o.Size(), clip: p.clip}
	if o.Visible() && s.note() {
		out := reach(o)
		s.at = p.pixels(pos.Subtract(out), s.size.Add(out).Add(out)).Intersect(p.clip)
		s.whole = p.rounded(pos, s.size)
		if !s.at.Empty() {
			p.now = append(p.now, s)
		}
	}
	if p.left--; p.left == 0 {
		p.paint(frame)
	}
}

// StartClipping and StopClipping note on what may be painted.
func (p *painter) StartClipping(pos fyne.Position, size fyne.Size) {
	if p.left == 0 {
		p.toolkitPainter.StartClipping(pos, size)
		return
	}
	// As the toolkit rounds.
	k := float64(p.scale())
	round := func(v float32) int { return int(math.Round(float64(v) * k)) }
	x, y := round(pos.X), round(p.canvas.Size().Height-pos.Y-size.Height)
	p.clip = image.Rect(x, y, x+round(size.Width), y+round(size.Height)).Intersect(p.all())
}

func (p *painter) StopClipping() {
	if p.left == 0 {
		p.toolkitPainter.StopClipping()
		return
	}
	p.clip = p.all()
}

func (p *painter) scale() float32 { return p.canvas.Scale() * p.tex }

func (p *painter) all() image.Rectangle { return image.Rect(0, 0, p.w, p.h) }

// pixels returns all pixels that something touches.
func (p *painter) pixels(pos fyne.Position, size fyne.Size) image.Rectangle {
	k := float64(p.scale())
	low := func(v float64) int { return int(math.Floor(v)) }
	high := func(v float64) int { return int(math.Ceil(v)) }
	x0, y1 := float64(pos.X)*k, float64(p.h)-float64(pos.Y)*k
	x1, y0 := x0+float64(size.Width)*k, y1-float64(size.Height)*k
	return image.Rect(low(x0), low(y0), high(x1), high(y1))
}

// rounded returns the pixels that something has, rounded as the toolkit rounds.
func (p *painter) rounded(pos fyne.Position, size fyne.Size) image.Rectangle {
	k := float64(p.scale())
	round := func(v float32) int { return int(math.Round(float64(v) * k)) }
	x, top := round(pos.X), p.h-round(pos.Y)
	return image.Rect(x, top-round(size.Height), x+round(size.Width), top)
}

// paint paints what is damaged into the kept picture, and copies that to the window.
func (p *painter) paint(frame fyne.Size) {
	now := setup{p.w, p.h, p.scale(), theme.Color(theme.ColorNameBackground)}
	damaged := []image.Rectangle{p.all()}
	if p.kept != 0 && now == p.made {
		damaged = damage(p.before, p.now, p.refreshed)
	} else if !p.keep(now) {
		p.off = true
		p.toolkitPainter.Clear()
	}
	if !p.off {
		p.copies.update(p.now)
		gl.BindFramebuffer(gl.FRAMEBUFFER, p.kept)
	}
	gl.Enable(gl.SCISSOR_TEST)
	for _, d := range damaged {
		first := p.copies.bottom(p.now, d)
		if first < 0 {
			first = 0
			scissor(d)
			p.toolkitPainter.Clear()
		}
		for i := first; i < len(p.now); i++ {
			s := &p.now[i]
			if s.at.Overlaps(d) {
				p.draw(s, d, frame)
			}
		}
	}
	gl.Disable(gl.SCISSOR_TEST)
	if !p.off {
		gl.BindFramebuffer(gl.DRAW_FRAMEBUFFER, 0)
		w, h := int32(p.w), int32(p.h)
		gl.BlitFramebuffer(0, 0, w, h, 0, 0, w, h, gl.COLOR_BUFFER_BIT, gl.NEAREST)
		gl.BindFramebuffer(gl.FRAMEBUFFER, 0)
	}
	if p.mark != nil {
		gl.Finish() // else OpenGL does its work later
		p.mark("paint")
	}
	p.before, p.now = p.now, p.before
	for o := range p.refreshed {
		delete(p.refreshed, o)
	}
}

// draw paints s within d.
func (p *painter) draw(s *step, d image.Rectangle, frame fyne.Size) {
	on := s.clip.Intersect(d)
	scissor(on)
	if p.off || !p.copies.draw(s, on, p.kept) {
		p.toolkitPainter.Paint(s.obj, s.pos, frame)
	}
}

func scissor(r image.Rectangle) {
	gl.Scissor(int32(r.Min.X), int32(r.Min.Y), int32(r.Dx()), int32(r.Dy()))
}

// keep makes the frame buffer for a picture of the window.
func (p *painter) keep(now setup) bool {
	if p.kept == 0 {
		gl.GenFramebuffers(1, &p.kept)
		gl.GenRenderbuffers(1, &p.colour)
	}
	gl.BindFramebuffer(gl.FRAMEBUFFER, p.kept)
	defer gl.BindFramebuffer(gl.FRAMEBUFFER, 0)
	gl.BindRenderbuffer(gl.RENDERBUFFER, p.colour)
	gl.RenderbufferStorage(gl.RENDERBUFFER, gl.RGBA8, int32(now.w), int32(now.h))
	gl.FramebufferRenderbuffer(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.RENDERBUFFER, p.colour)
	p.made = now
	return gl.CheckFramebufferStatus(gl.FRAMEBUFFER) == gl.FRAMEBUFFER_COMPLETE
}
