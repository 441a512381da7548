// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"image"

	"github.com/go-gl/gl/v3.3-core/gl"

	"earline/scene"
)

// maxSide bounds a picture's width and height, pixels: every driver of OpenGL
// 3.3 we know of goes to 8192, and a multisampled square of that size already
// takes 2 GB.
const maxSide = 8192

// target is where a picture is drawn before it is read back: renderbuffers for
// colour and depth, and single-sample copies of both if it has more than one
// sample a pixel. It keeps the picture of the fixed things while the camera rests:
// they are most of all vertices, and an edit then draws the others over it. GL thread
// only.
type target struct {
	w, h, samples int32
	draw, read    uint32 // framebuffers; the same one at one sample a pixel
	buffers       []uint32

	kept   uint32 // framebuffer with the picture of fixed things, 0 until one is wanted
	of     taken  // what is in it
	last   taken  // of the picture before
	unable bool   // to keep any
}

// taken is what a picture of fixed things shows; of no use but to be compared.
type taken struct {
	fixed *part
	from  scene.Camera
}

// newTarget makes a target of w by h pixels. samples above what the driver has
// are lowered to that.
func newTarget(w, h, samples int32) (*target, error) {
	var most int32
	gl.GetIntegerv(gl.MAX_SAMPLES, &most)
	samples = min(samples, most)
	t := &target{w: w, h: h, samples: samples}
	var err error
	if t.read, err = t.framebuffer(0); err == nil {
		t.draw = t.read
		if samples > 1 {
			t.draw, err = t.framebuffer(samples)
		}
	}
	if err != nil {
		t.dispose()
		return nil, err
	}
	return t, nil
}

func (t *target) framebuffer(samples int32) (fbo uint32, err error) {
	gl.GenFramebuffers(1, &fbo)
	gl.BindFramebuffer(gl.FRAMEBUFFER, fbo)
	for _, part := range [2]struct{ attachment, format uint32 }{
		{gl.COLOR_ATTACHMENT0, gl.RGBA8},
		{gl.DEPTH_ATTACHMENT, gl.DEPTH_COMPONENT24},
	} {
		var rb uint32
		gl.GenRenderbuffers(1, &rb)
		t.buffers = append(t.buffers, rb)
		gl.BindRenderbuffer(gl.RENDERBUFFER, rb)
		gl.RenderbufferStorageMultisample(gl.RENDERBUFFER, samples, part.format, t.w, t.h)
		gl.FramebufferRenderbuffer(gl.FRAMEBUFFER, part.attachment, gl.RENDERBUFFER, rb)
	}
	if s := gl.CheckFramebufferStatus(gl.FRAMEBUFFER); s != gl.FRAMEBUFFER_COMPLETE {
		gl.DeleteFramebuffers(1, &fbo)
		gl.GetError() // told here
		return 0, fmt.Errorf("gl: no room for a picture of %d x %d pixels (status %#x)", t.w, t.h, s)
	}
	return fbo, nil
}

// dispose frees the target; nil is allowed.
func (t *target) dispose() {
	if t == nil {
		return
	}
	for _, fbo := range [3]uint32{t.draw, t.read, t.kept} {
		if fbo != 0 {
			gl.DeleteFramebuffers(1, &fbo) // a name already deleted is ignored
		}
	}
	if n := len(t.buffers); n > 0 {
		gl.DeleteRenderbuffers(int32(n), &t.buffers[0])
	}
	*t = target{}
}

// recall puts the picture of now into the target, if it was kept.
func (t *target) recall(now taken) bool {
	if t.kept == 0 || t.of != now {
		return false
	}
	t.copy(t.kept, t.draw)
	return true
}

// remember keeps the target's picture, of now, if it is the second like that: a camera
// that moves shows none twice, and should not pay for keeping any. Where there is no
// room for it, or the driver cannot, nothing is kept.
func (t *target) remember(now taken) {
	again := t.last == now
	t.last = now
	if !again || t.unable {
		return
	}
	if t.kept == 0 {
		samples := t.samples
		if t.draw == t.read {
			samples = 0
		}
		var err error
		if t.kept, err = t.framebuffer(samples); err != nil {
			t.unable = true
			gl.BindFramebuffer(gl.FRAMEBUFFER, t.draw)
			return
		}
	}
	t.of = taken{}
	if t.copy(t.draw, t.kept); gl.GetError() != gl.NO_ERROR {
		t.unable = true
		return
	}
	t.of = now
}

// forget gives up what is kept.
func (t *target) forget() { t.of, t.last = taken{}, taken{} }

// copy copies colours and depths between framebuffers of the same kind, sample by
// sample, and makes t.draw the current one.
func (t *target) copy(from, to uint32) {
	gl.BindFramebuffer(gl.READ_FRAMEBUFFER, from)
	gl.BindFramebuffer(gl.DRAW_FRAMEBUFFER, to)
	gl.BlitFramebuffer(0, 0, t.w, t.h, 0, 0, t.w, t.h, gl.COLOR_BUFFER_BIT|gl.DEPTH_BUFFER_BIT, gl.NEAREST)
	gl.BindFramebuffer(gl.FRAMEBUFFER, t.draw)
}

// resolve copies the samples of the rectangle at (x, y) to single ones.
func (t *target) resolve(x, y, w, h int32, what uint32) {
	if t.draw == t.read {
		return
	}
	gl.BindFramebuffer(gl.READ_FRAMEBUFFER, t.draw)
	gl.BindFramebuffer(gl.DRAW_FRAMEBUFFER, t.read)
	gl.BlitFramebuffer(x, y, x+w, y+h, x, y, x+w, y+h, what, gl.NEAREST)
}

// pixels reads the picture into m, which has the target's size.
func (t *target) pixels(m *image.RGBA) {
	t.resolve(0, 0, t.w, t.h, gl.COLOR_BUFFER_BIT)
	gl.BindFramebuffer(gl.READ_FRAMEBUFFER, t.read)
	gl.ReadPixels(0, 0, t.w, t.h, gl.RGBA, gl.UNSIGNED_BYTE, gl.Ptr(m.Pix))
}

// depths reads the depths, 0 near to 1 far, of the 3 x 3 pixels about (x, y),
// moved inward at the picture's edge. The picture is at least 3 x 3.
func (t *target) depths(x, y int) (d [9]float32) {
	x0 := min(max(int32(x)-1, 0), t.w-3)
	y0 := min(max(int32(y)-1, 0), t.h-3)
	t.resolve(x0, y0, 3, 3, gl.DEPTH_BUFFER_BIT)
	gl.BindFramebuffer(gl.READ_FRAMEBUFFER, t.read)
	gl.ReadPixels(x0, y0, 3, 3, gl.DEPTH_COMPONENT, gl.FLOAT, gl.Ptr(&d[0]))
	return d
}
