// SPDX-License-Identifier: MIT

// Package view is the 3D viewport: pictures come in from a renderer on a thread
// of its own, the camera's moves go out to it. UI goroutine only.
package view

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/geometry"
	"earline/scene"
	"earline/scene/gl"
)

// Renderer draws display lists; *gl.Renderer is one.
type Renderer interface {
	Submit(gl.Job)
	OnFrame(func(gl.Frame))
	Draw(gl.Job) (*image.RGBA, error)
	Close()
}

var _ Renderer = (*gl.Renderer)(nil)

// rest is how long the camera must have been still before the picture is drawn
// once more with smooth edges.
const rest = 150 * time.Millisecond

// Viewport shows the room and moves the camera about it.
type Viewport struct {
	widget.BaseWidget
	Rig Rig
	// Lo and Hi bound the room, for Fit and for walking.
	Lo, Hi geometry.Vec
	// Overview returns where a picture whose width is aspect times its height
	// shows the whole room from outside; nil leaves that to Rig.Fit.
	Overview func(aspect float32) scene.Camera
	// Ground returns how high the feet of a walker stand at a place.
	Ground func(x, y float64) float64
	// Stride returns where the eyes are of a walker who goes by so much from there,
	// stopped by what is in the way. While it is set, the arrows at the left and right
	// turn; nil lets a walker pass through everything.
	Stride func(eye, by geometry.Vec) geometry.Vec
	// Guided says that the owner moves the camera: no key does then.
	Guided bool
	// OnPick is told of a click, in pixels of a picture of w by h.
	OnPick func(x, y float32, w, h int, cam scene.Camera)
	// OnGrab takes hold of what a press in a drawing meets, in pixels of a
	// picture of w by h; nil drags the camera.
	OnGrab func(x, y float32, w, h int, cam scene.Camera) Held
	// OnHover is told where the pointer is in a drawing while no button is down,
	// and reports whether OnGrab would find something there.
	OnHover func(x, y float32, w, h int, cam scene.Camera) bool
	// OnCurtain is told where the curtain was moved to.
	OnCurtain func(at float64)
	// OnMove is told that the camera moved.
	OnMove func()
	// OnKey and OnRune get the keys that do not move the camera.
	OnKey  func(*fyne.KeyEvent)
	OnRune func(rune)
	// OnFirst is called once, with the first picture.
	OnFirst func()
	// Post runs a function on the UI goroutine soon; New makes it fyne.Do.
	Post func(func())
	// Present paints the window at once; nil leaves that to the toolkit's next tick.
	Present func()

	renderer Renderer
	list     *scene.List
	unsent   bool // the renderer does not have list yet
	raster   *canvas.Raster
	trouble  *widget.Label
	frames   chan gl.Frame // the latest picture, until it is shown
	shown    *image.RGBA
	pw, ph   int
	seq      uint64
	still    *time.Timer
	fitted   bool
	pointer  pointer
	warm     bool // the pointer is over something that can be dragged
	ring     *field.Ring
	caption  *caption
	curtain  *Curtain // nil for none

	overCurtain bool // the pointer
	gait        gait
}

// New returns a viewport without a renderer; see Attach.
func New() *Viewport {
	v := &Viewport{trouble: widget.NewLabel(""), Post: fyne.Do, ring: field.NewRing(), caption: newCaption()}
	v.raster = canvas.NewRaster(v.picture)
	v.raster.ScaleMode = canvas.ImageScaleFastest
	v.trouble.Alignment = fyne.TextAlignCenter
	v.trouble.Wrapping = fyne.TextWrapWord
	v.trouble.Hide()
	v.ExtendBaseWidget(v)
	return v
}

// Attach gives the viewport its renderer, which stays its owner's to close.
func (v *Viewport) Attach(r Renderer) {
	v.renderer, v.unsent = r, true
	frames := make(chan gl.Frame, 1)
	v.frames = frames
	r.OnFrame(func(f gl.Frame) {
		select { // only the latest waits to be fetched
		case <-frames:
		default:
		}
		frames <- f
		v.Post(v.fetch)
	})
	v.submit(1)
	v.Settle()
}

// Fail shows one line where the picture would be.
func (v *Viewport) Fail(line string) {
	v.trouble.SetText(words.Of(line))
	v.trouble.Show()
}

// SetList takes a new display list.
func (v *Viewport) SetList(l *scene.List) {
	v.list, v.unsent = l, true
	v.submit(1)
	v.Settle()
}

// Moved redraws after the owner changed Rig.
func (v *Viewport) Moved() {
	v.submit(1)
	v.Settle()
	if v.OnMove != nil {
		v.OnMove()
	}
}

// Fit brings the whole room into the picture.
func (v *Viewport) Fit() {
	v.fit()
	v.Moved()
}

func (v *Viewport) fit() {
	v.Rig.Fit(v.Lo, v.Hi, v.aspect())
	if v.Rig.Kind == Overview && v.Overview != nil {
		v.Rig.Stand(v.Overview(float32(v.aspect())))
	}
}

// Settle draws with smooth edges once nothing has moved for a while.
func (v *Viewport) Settle() {
	seq := v.seq
	if v.still != nil {
		v.still.Stop()
	}
	v.still = time.AfterFunc(rest, func() {
		v.Post(func() {
			if v.seq == seq {
				v.submit(4)
			}
		})
	})
}

// Stop ends everything that would still ask for pictures.
func (v *Viewport) Stop() {
	v.stopWalking()
	if v.still != nil {
		v.still.Stop()
	}
	v.renderer = nil
}

func (v *Viewport) job(samples int) gl.Job {
	scale := float32(1)
	if w := v.Size().Width; w > 0 && v.pw > 0 {
		scale = float32(v.pw) / w
	}
	from := v.Rig.Camera()
	return gl.Job{W: v.pw, H: v.ph, Camera: from, Curtain: v.curtain.job(from), Samples: samples, Scale: scale, Seq: v.seq}
}

func (v *Viewport) submit(samples int) {
	if v.renderer == nil {
		return
	}
	if samples == 1 {
		v.seq++
	}
	j := v.job(samples)
	if v.unsent {
		j.List, v.unsent = spoken(v.list), false
	}
	v.renderer.Submit(j)
}

// Await shows the picture last asked for, waiting for it no longer than limit.
// Fyne paints the window right after it has handled events: a picture that is
// there by then is on the display one whole painting earlier, and the window is
// painted once and not twice.
func (v *Viewport) Await(limit time.Duration) {
	if v.renderer == nil || v.pw < 1 {
		return
	}
	late := time.NewTimer(limit)
	defer late.Stop()
	for {
		select {
		case f := <-v.frames:
			v.take(f)
			if f.Seq >= v.seq {
				return
			}
		case <-late.C:
			return
		}
	}
}

// fetch shows the latest picture, unless Await did already.
func (v *Viewport) fetch() {
	select {
	case f := <-v.frames:
		v.take(f)
		v.present()
	default:
	}
}

func (v *Viewport) present() {
	if v.Present != nil {
		v.Present()
	}
}

func (v *Viewport) take(f gl.Frame) {
	if f.Err != nil {
		v.Fail(f.Err.Error())
		return
	}
	first := v.shown == nil
	v.shown = f.Img
	v.trouble.Hide()
	v.raster.Refresh()
	if first && v.OnFirst != nil {
		v.OnFirst()
	}
}

// picture is the raster's generator; while painting it is told the true size in
// pixels, whatever the screen's scale.
func (v *Viewport) picture(w, h int) image.Image {
	if w != v.pw || h != v.ph {
		v.pw, v.ph = w, h
		if !v.fitted && w > 1 && h > 1 {
			v.fitted = true
			v.fit()
		}
		v.submit(1)
		v.Settle()
	}
	if v.shown == nil {
		blank := image.NewRGBA(image.Rect(0, 0, 1, 1))
		blank.Set(0, 0, theme.Back)
		return blank
	}
	if v.shown.Rect.Dx() != w || v.shown.Rect.Dy() != h {
		return fitted(v.shown, w, h)
	}
	return v.shown
}

func (v *Viewport) aspect() float64 {
	if v.ph < 1 {
		return 1.4
	}
	return float64(v.pw) / float64(v.ph)
}

// MinSize implements fyne.CanvasObject.
func (v *Viewport) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return fyne.NewSize(200, 120)
}

// CreateRenderer implements fyne.Widget. Nothing lies under the picture, which is
// opaque and covers all: half a window painted for nothing is 3 ms of software OpenGL.
func (v *Viewport) CreateRenderer() fyne.WidgetRenderer {
	return &layers{v, append([]fyne.CanvasObject{v.raster, v.trouble, v.caption.plate, v.caption.text}, v.ring.Objects()...)}
}

// layers sets the sentence of Fail in the middle, over the picture.
type layers struct {
	v       *Viewport
	objects []fyne.CanvasObject
}

func (l *layers) Destroy()                     {}
func (l *layers) Refresh()                     { canvas.Refresh(l.v) }
func (l *layers) MinSize() fyne.Size           { return fyne.NewSize(200, 120) }
func (l *layers) Objects() []fyne.CanvasObject { return l.objects }
func (l *layers) Layout(s fyne.Size) {
	l.v.raster.Resize(s)
	l.v.ring.Resize(s)
	l.v.caption.layout(s)
	l.v.trouble.Resize(fyne.NewSize(s.Width-40, 60))
	l.v.trouble.Move(fyne.NewPos(20, s.Height/2-30))
}

var _ interface {
	fyne.Focusable
	fyne.Draggable
	fyne.Scrollable
	desktop.Mouseable
	desktop.Hoverable
	desktop.Keyable
	desktop.Cursorable
} = (*Viewport)(nil)
