// SPDX-License-Identifier: MIT

package view

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/scene"
)

// The edge of a curtain is dragged and not the camera, never out of the picture; elsewhere
// a drag turns the camera as ever.
func TestTheCurtainIsDraggedByItsEdge(t *testing.T) {
	v, f, w := newView(t)
	v.Attach(f)
	w.Canvas().Capture()
	told, picks := 0.0, 0
	v.OnCurtain = func(at float64) { told = at }
	v.OnPick = func(float32, float32, int, int, scene.Camera) { picks++ }
	v.SetCurtain(&Curtain{List: new(scene.List), At: 0.5})
	wide := v.Size().Width
	drag := func(from, by float32) {
		at := desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
		at.Position = fyne.NewPos(from, 50)
		v.MouseMoved(&desktop.MouseEvent{PointEvent: at.PointEvent})
		v.MouseDown(&at)
		for range 10 {
			v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(by/10, 0)})
		}
		v.MouseUp(&at)
		v.DragEnd()
	}
	rig := v.Rig
	drag(wide/2+3, wide/4)
	if math.Abs(told-0.75) > 0.02 || v.Rig != rig || picks != 0 {
		t.Errorf("told %v, camera moved: %v, %d clicks", told, v.Rig != rig, picks)
	}
	if v.Cursor() != desktop.HResizeCursor {
		t.Error("the pointer does not show that the edge can be dragged")
	}
	if j := f.jobs[len(f.jobs)-1].Curtain; j == nil || float64(j.At) != float64(float32(told)) || j.Camera != v.Rig.Camera() {
		t.Errorf("drawn: %+v", j)
	}
	drag(wide*float32(told), wide)
	if told <= 0.9 || told >= 1 {
		t.Errorf("dragged out to %v", told)
	}
	drag(wide/4, 30)
	if v.Rig == rig || told < 0.9 {
		t.Error("a drag beside the edge does not turn the camera")
	}
	v.SetCurtain(nil)
	v.MoveCurtain(0.3)
	if told < 0.9 || v.job(1).Curtain != nil {
		t.Error("there is still a curtain")
	}
}
