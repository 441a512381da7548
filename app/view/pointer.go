// SPDX-License-Identifier: MIT

package view

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// slack is how far a press may travel and still be a click, in Fyne's points.
const slack = 4

// pointer is what the mouse is doing.
type pointer struct {
	button desktop.MouseButton
	shift  bool
	last   fyne.Position
	path   float32 // travelled since the press
}

// MouseDown implements desktop.Mouseable.
func (v *Viewport) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
	v.pointer = pointer{button: ev.Button, shift: ev.Modifier&fyne.KeyModifierShift != 0, last: ev.Position}
}

// MouseUp implements desktop.Mouseable: a press that did not travel is a click.
func (v *Viewport) MouseUp(ev *desktop.MouseEvent) {
	p := v.pointer
	v.pointer = pointer{}
	if p.button != desktop.MouseButtonPrimary || p.path > slack || v.OnPick == nil || v.pw < 1 {
		return
	}
	k := float32(v.pw) / v.Size().Width
	v.OnPick(ev.Position.X*k, ev.Position.Y*k, v.pw, v.ph, v.Rig.Camera())
}

// Dragged implements fyne.Draggable. It says nothing of the button, which is
// remembered from MouseDown.
func (v *Viewport) Dragged(ev *fyne.DragEvent) { v.drag(ev.Dragged.DX, ev.Dragged.DY) }

// DragEnd implements fyne.Draggable. After a release outside no MouseUp comes.
func (v *Viewport) DragEnd() { v.pointer = pointer{} }

// MouseIn implements desktop.Hoverable.
func (v *Viewport) MouseIn(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (v *Viewport) MouseOut() {
	if v.pointer.button == desktop.MouseButtonSecondary {
		v.pointer = pointer{} // its release outside is never told
	}
}

// MouseMoved implements desktop.Hoverable. Drags with the right button never
// come as Dragged.
func (v *Viewport) MouseMoved(ev *desktop.MouseEvent) {
	if v.pointer.button != desktop.MouseButtonSecondary || ev.Button&desktop.MouseButtonSecondary == 0 {
		return
	}
	d := ev.Position.Subtract(v.pointer.last)
	v.pointer.last = ev.Position
	v.drag(d.X, d.Y)
}

func (v *Viewport) drag(dx, dy float32) {
	v.pointer.path += float32(math.Hypot(float64(dx), float64(dy)))
	h := v.Size().Height
	if v.pointer.path <= slack || h <= 0 {
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
	v.Rig.Zoom(math.Exp(float64(ev.Scrolled.DY) * 0.004))
	v.Moved()
}
