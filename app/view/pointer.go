// SPDX-License-Identifier: MIT

package view

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/geometry"
)

// slack is how far a press may travel and still be a click, in Fyne's points.
const slack = 4

// Held is something of the room that the pointer took hold of.
type Held interface {
	// Move takes it to where the pointer has gone by since the press, in the
	// room frame. reach is how far the pointer may be off and still mean a place.
	Move(by geometry.Vec, reach float64)
	// Drop leaves it where it is.
	Drop()
}

// grip is how near, in Fyne's points, one must come to something to mean it.
const grip = 7

// pointer is what the mouse is doing.
type pointer struct {
	button desktop.MouseButton
	shift  bool
	last   fyne.Position
	path   float32    // travelled since the press
	held   Held       // nil while the camera is dragged
	pull   fyne.Delta // of what is held, since the press
	pulls  bool       // the curtain
	posted bool       // what is held moves as soon as the events are dealt with
}

// MouseDown implements desktop.Mouseable.
func (v *Viewport) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
	v.ring.Show(false)
	v.release()
	v.pointer = pointer{button: ev.Button, shift: ev.Modifier&fyne.KeyModifierShift != 0, last: ev.Position}
	v.pointer.pulls = ev.Button == desktop.MouseButtonPrimary && v.onCurtain(ev.Position)
	if ev.Button == desktop.MouseButtonPrimary && !v.pointer.shift && v.Rig.Kind.parallel() && v.OnGrab != nil && v.pw > 0 {
		x, y := v.pixel(ev.Position)
		v.pointer.held = v.OnGrab(x, y, v.pw, v.ph, v.Rig.Camera())
	}
}

// pixel returns where p is in the picture.
func (v *Viewport) pixel(p fyne.Position) (x, y float32) {
	k := float32(v.pw) / v.Size().Width
	return p.X * k, p.Y * k
}

// release drops what is held, once it is where the pointer left it.
func (v *Viewport) release() {
	held := v.pointer.held
	if held == nil {
		return
	}
	if v.pointer.posted {
		v.pull()
	}
	v.pointer.held = nil
	held.Drop()
}

// pull moves what is held to where the pointer is.
func (v *Viewport) pull() {
	v.pointer.posted = false
	h := float64(v.Size().Height)
	if v.pointer.held == nil || h <= 0 {
		return
	}
	_, right, up := v.Rig.axes()
	k := v.Rig.Height / h
	by := right.Mul(float64(v.pointer.pull.DX) * k).Sub(up.Mul(float64(v.pointer.pull.DY) * k))
	v.pointer.held.Move(by, grip*k)
}

// MouseUp implements desktop.Mouseable: a press that did not travel is a click.
func (v *Viewport) MouseUp(ev *desktop.MouseEvent) {
	p := v.pointer
	v.release()
	v.pointer = pointer{}
	if p.button != desktop.MouseButtonPrimary || p.path > slack || p.pulls || v.OnPick == nil || v.pw < 1 {
		return
	}
	x, y := v.pixel(ev.Position)
	v.OnPick(x, y, v.pw, v.ph, v.Rig.Camera())
}

// Dragged implements fyne.Draggable. It says nothing of the button, which is
// remembered from MouseDown.
func (v *Viewport) Dragged(ev *fyne.DragEvent) { v.drag(ev.Dragged.DX, ev.Dragged.DY) }

// DragEnd implements fyne.Draggable. After a release outside no MouseUp comes.
func (v *Viewport) DragEnd() {
	v.release()
	v.pointer = pointer{}
}

// MouseIn implements desktop.Hoverable.
func (v *Viewport) MouseIn(ev *desktop.MouseEvent) { v.hover(ev) }

// hover tells what the pointer is over in a drawing, where it could be dragged.
func (v *Viewport) hover(ev *desktop.MouseEvent) {
	v.overCurtain = v.onCurtain(ev.Position)
	if v.OnHover == nil || ev.Button != 0 || v.pw < 1 {
		return
	}
	v.warm = false
	if v.Rig.Kind.parallel() {
		x, y := v.pixel(ev.Position)
		v.warm = v.OnHover(x, y, v.pw, v.ph, v.Rig.Camera())
	}
}

// Cursor implements desktop.Cursorable.
func (v *Viewport) Cursor() desktop.Cursor {
	switch {
	case v.overCurtain:
		return desktop.HResizeCursor
	case v.warm:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// MouseOut implements desktop.Hoverable.
func (v *Viewport) MouseOut() {
	if v.pointer.button == desktop.MouseButtonSecondary {
		v.pointer = pointer{} // its release outside is never told
	}
	if v.warm && v.OnHover != nil && v.pointer.held == nil {
		v.warm = v.OnHover(-1, -1, v.pw, v.ph, v.Rig.Camera()) // over nothing
	}
}

// MouseMoved implements desktop.Hoverable. Drags with the right button never
// come as Dragged.
func (v *Viewport) MouseMoved(ev *desktop.MouseEvent) {
	if v.pointer.button != desktop.MouseButtonSecondary || ev.Button&desktop.MouseButtonSecondary == 0 {
		v.hover(ev)
		return
	}
	d := ev.Position.Subtract(v.pointer.last)
	v.pointer.last = ev.Position
	v.drag(d.X, d.Y)
}

func (v *Viewport) drag(dx, dy float32) {
	v.pointer.path += float32(math.Hypot(float64(dx), float64(dy)))
	v.pointer.pull.DX += dx
	v.pointer.pull.DY += dy
	h := v.Size().Height
	if v.pointer.path <= slack || h <= 0 {
		return
	}
	if v.pointer.pulls {
		v.MoveCurtain(v.curtainAt() + float64(dx/v.Size().Width))
		return
	}
	if v.pointer.held != nil {
		// The pointer tells of more places than there are pictures: only the
		// last of those that came together counts.
		if !v.pointer.posted {
			v.pointer.posted = true
			v.Post(func() {
				if v.pointer.posted {
					v.pull()
					v.present()
				}
			})
		}
		return
	}
	x, y := float64(dx/h), float64(dy/h)
	if v.pointer.button == desktop.MouseButtonPrimary && !v.pointer.shift || v.pointer.button == 0 {
		v.Rig.Drag(x, y)
	} else {
		v.Rig.Pan(x, y)
	}
	v.Moved()
}

// Scrolled implements fyne.Scrollable. A notch of a common wheel is 25.
func (v *Viewport) Scrolled(ev *fyne.ScrollEvent) {
	if v.pointer.held != nil {
		return // it would slip from under the pointer
	}
	v.Rig.Zoom(math.Exp(float64(ev.Scrolled.DY) * 0.004))
	v.Moved()
}
