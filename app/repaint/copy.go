// SPDX-License-Identifier: MIT

package repaint

import (
	"image"
	"unsafe"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"github.com/go-gl/gl/v2.1/gl"
)

// copies are the pictures of opaque rasters, kept to be copied. The toolkit draws them
// with a program that computes opacity and corners for every pixel, which takes OpenGL
// in software ten times as long.
type copies map[*canvas.Raster]*picture

// picture is what a raster shows.
type picture struct {
	w, h          int
	frame, colour uint32 // frame buffer and its texture
	flipped       []uint32
	outdated      bool
	left          bool // to the toolkit, for good: it is not opaque
	used          bool // in this painting
}

// update takes in what the rasters among steps show, and gives up those of others.
func (c copies) update(steps []step) {
	for i := range steps {
		r, ok := steps[i].obj.(*canvas.Raster)
		if !ok || r.Generator == nil {
			continue
		}
		p := c[r]
		if p == nil {
			p = &picture{outdated: true}
			c[r] = p
		}
		p.used = true
		size := steps[i].whole.Size()
		if !p.left && (p.outdated || size != image.Pt(p.w, p.h)) {
			p.outdated = false
			p.left = r.Translucency != 0 || !p.take(r.Generator(size.X, size.Y))
		}
	}
	for r, p := range c {
		if !p.used {
			p.release()
			delete(c, r)
		}
		p.used = false
	}
}

// has returns what s shows, if that can be copied.
func (c copies) has(s *step) (*picture, bool) {
	r, ok := s.obj.(*canvas.Raster)
	if !ok {
		return nil, false
	}
	p := c[r]
	return p, p != nil && !p.left && s.whole.Size() == image.Pt(p.w, p.h)
}

// draw copies what s shows to the frame buffer into, within clip; false when the toolkit
// must draw it.
func (c copies) draw(s *step, clip image.Rectangle, into uint32) bool {
	p, ok := c.has(s)
	if !ok {
		return false
	}
	clip = clip.Intersect(s.whole)
	from := clip.Sub(s.whole.Min)
	gl.BindFramebuffer(gl.READ_FRAMEBUFFER, p.frame)
	gl.Disable(gl.SCISSOR_TEST) // clip does it, and without a test memory is copied as it is
	gl.BlitFramebuffer(int32(from.Min.X), int32(from.Min.Y), int32(from.Max.X), int32(from.Max.Y),
		int32(clip.Min.X), int32(clip.Min.Y), int32(clip.Max.X), int32(clip.Max.Y), gl.COLOR_BUFFER_BIT, gl.NEAREST)
	gl.Enable(gl.SCISSOR_TEST)
	gl.BindFramebuffer(gl.FRAMEBUFFER, into)
	return true
}

// bottom returns the last of steps that covers d wholly: nothing under it need be
// painted. It is -1 where none is sure to.
func (c copies) bottom(steps []step, d image.Rectangle) int {
	for i := len(steps) - 1; i >= 0; i-- {
		if _, ok := c.has(&steps[i]); ok && d.In(steps[i].clip.Intersect(steps[i].whole)) {
			return i
		}
	}
	return -1
}

// take takes in what the raster shows; false when that is not opaque.
func (p *picture) take(m image.Image) bool {
	img, ok := m.(*image.RGBA)
	if !ok || img.Rect.Empty() {
		return false
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if len(p.flipped) != w*h {
		p.flipped = make([]uint32, w*h)
	}
	all := ^uint32(0)
	for y := range h { // OpenGL counts rows from below
		row := unsafe.Slice((*uint32)(unsafe.Pointer(&img.Pix[y*img.Stride])), w)
		copy(p.flipped[(h-1-y)*w:], row)
		for _, v := range row {
			all &= v
		}
	}
	if alpha := (*[4]byte)(unsafe.Pointer(&all))[3]; alpha != 0xff {
		return false
	}
	if p.frame == 0 {
		gl.GenFramebuffers(1, &p.frame)
		gl.GenTextures(1, &p.colour)
	}
	gl.BindTexture(gl.TEXTURE_2D, p.colour)
	data := unsafe.Pointer(&p.flipped[0])
	if p.w == w && p.h == h {
		gl.TexSubImage2D(gl.TEXTURE_2D, 0, 0, 0, int32(w), int32(h), gl.RGBA, gl.UNSIGNED_BYTE, data)
		return true
	}
	p.w, p.h = w, h
	gl.TexParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.NEAREST)
	gl.TexParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, gl.NEAREST)
	gl.TexImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, int32(w), int32(h), 0, gl.RGBA, gl.UNSIGNED_BYTE, data)
	gl.BindFramebuffer(gl.READ_FRAMEBUFFER, p.frame)
	gl.FramebufferTexture2D(gl.READ_FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, p.colour, 0)
	return true
}

// outdate notes that o, if it is a raster, shows something else now.
func (c copies) outdate(o fyne.CanvasObject) {
	if r, ok := o.(*canvas.Raster); ok {
		if p := c[r]; p != nil {
			p.outdated = true
		}
	}
}

func (p *picture) release() {
	if p.frame != 0 {
		gl.DeleteFramebuffers(1, &p.frame)
		gl.DeleteTextures(1, &p.colour)
	}
}
