// SPDX-License-Identifier: MIT

package view

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"earline/app/theme"
	"earline/geometry"
	"earline/project/file"
	"earline/scene"
	"earline/scene/gl"
)

// fake answers each job that has a size with a grey picture.
type fake struct {
	jobs []gl.Job
	sink func(gl.Frame)
}

func (f *fake) OnFrame(s func(gl.Frame)) { f.sink = s }
func (f *fake) Close()                   {}
func (f *fake) Draw(j gl.Job) (*image.RGBA, error) {
	return image.NewRGBA(image.Rect(0, 0, j.W, j.H)), nil
}
func (f *fake) Submit(j gl.Job) {
	f.jobs = append(f.jobs, j)
	if j.W < 1 || j.H < 1 {
		return
	}
	m := image.NewRGBA(image.Rect(0, 0, j.W, j.H))
	for i := range m.Pix {
		m.Pix[i] = 0x80
	}
	for i := 3; i < len(m.Pix); i += 4 {
		m.Pix[i] = 255
	}
	f.sink(gl.Frame{Img: m, Seq: j.Seq})
}

func newView(t *testing.T) (*Viewport, *fake, fyne.Window) {
	t.Helper()
	test.NewTempApp(t)
	f, v := &fake{}, New()
	v.Post = func(do func()) { do() }
	v.Lo, v.Hi = geometry.V(0, 0, 0), geometry.V(6, 4, 2.6)
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(300, 200))
	t.Cleanup(v.Stop)
	return v, f, w
}

func TestPictureComesAtTheTrueSize(t *testing.T) {
	v, f, w := newView(t)
	v.SetList(&scene.List{})
	v.Attach(f)
	w.Canvas().Capture()
	if v.pw != 300 || v.ph != 200 {
		t.Fatalf("asked for %dx%d pixels, want 300x200", v.pw, v.ph)
	}
	if c := color.RGBAModel.Convert(w.Canvas().Capture().At(150, 100)).(color.RGBA); c.R != 0x80 {
		t.Errorf("the middle is %v, want the renderer's grey", c)
	}
	if f.jobs[0].List == nil {
		t.Error("a list made before the renderer was lost")
	}
	lists := 0
	for _, j := range f.jobs {
		if j.List != nil {
			lists++
		}
	}
	if lists != 1 {
		t.Errorf("the list went over %d times, want once", lists)
	}
}

func TestMovingDrawsPlainAndStillDrawsSmooth(t *testing.T) {
	v, f, w := newView(t)
	v.Attach(f)
	w.Canvas().Capture()
	v.still.Stop()
	f.jobs = nil
	test.Drag(w.Canvas(), fyne.NewPos(50, 50), 20, 0)
	for _, j := range f.jobs {
		if j.Samples != 1 {
			t.Errorf("a moving picture with %d samples, want 1", j.Samples)
		}
	}
	if len(f.jobs) == 0 {
		t.Fatal("a drag asked for no picture")
	}
	v.still.Stop()
	v.submit(4)
	if got := f.jobs[len(f.jobs)-1]; got.Samples != 4 || got.Seq != v.seq {
		t.Errorf("the still picture has %d samples", got.Samples)
	}
}

func TestPointerMovesTheCamera(t *testing.T) {
	v, f, w := newView(t)
	v.Attach(f)
	w.Canvas().Capture()
	before := v.Rig
	press := func(b desktop.MouseButton, mod fyne.KeyModifier) {
		v.MouseDown(&desktop.MouseEvent{Button: b, Modifier: mod})
	}
	press(desktop.MouseButtonPrimary, 0)
	if w.Canvas().Focused() != v {
		t.Error("a press does not focus the view")
	}
	v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(30, 0)})
	v.DragEnd()
	if v.Rig.Turn == before.Turn || v.Rig.Target != before.Target {
		t.Error("a left drag must turn and not move")
	}
	turned := v.Rig.Turn
	press(desktop.MouseButtonPrimary, fyne.KeyModifierShift)
	v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(30, 0)})
	v.DragEnd()
	if v.Rig.Turn != turned || v.Rig.Target == before.Target {
		t.Error("Shift and drag must move and not turn")
	}
	at := v.Rig.Target
	press(desktop.MouseButtonSecondary, 0)
	move := &desktop.MouseEvent{Button: desktop.MouseButtonSecondary}
	move.Position = fyne.NewPos(30, 0)
	v.MouseMoved(move)
	if v.Rig.Target == at {
		t.Error("a right drag must move")
	}
	v.MouseOut()
	dist := v.Rig.Dist
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	if v.Rig.Dist >= dist {
		t.Error("the wheel does not bring the room nearer")
	}
}

func TestAClickIsAPressThatDidNotTravel(t *testing.T) {
	v, f, w := newView(t)
	v.Attach(f)
	w.Canvas().Capture()
	picks := 0
	v.OnPick = func(x, y float32, pw, ph int, _ scene.Camera) {
		picks++
		if x != 150 || y != 100 || pw != 300 || ph != 200 {
			t.Errorf("picked (%v, %v) of %dx%d", x, y, pw, ph)
		}
	}
	ev := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	ev.Position = fyne.NewPos(150, 100)
	v.MouseDown(ev)
	v.MouseUp(ev)
	v.MouseDown(ev)
	v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(10, 0)})
	v.MouseUp(ev)
	v.DragEnd()
	if picks != 1 {
		t.Errorf("%d clicks, want 1", picks)
	}
}

func TestWalkingFollowsTheFloor(t *testing.T) {
	v, _, _ := newView(t)
	v.Rig.Kind = Walk
	v.Ground = func(x, _ float64) float64 {
		if x > 3 {
			return 0.3
		}
		return 0
	}
	v.Rig.LookAt(geometry.V(3.05, 2, 0.3+1.6), geometry.V(0, 2, 0.3+1.6))
	v.gait.held = map[fyne.KeyName]bool{fyne.KeyW: true}
	v.walk(0.1) // 0.14 m ahead, off the platform
	if got, want := v.Rig.Eye, geometry.V(2.91, 2, 1.6); got.Dist(want) > 1e-9 {
		t.Errorf("walked to %v, want %v", got, want)
	}
	v.FocusLost() // no KeyUp comes after it
	at := v.Rig.Eye
	v.walk(0.1)
	if v.Rig.Eye != at {
		t.Error("still walking though the keys cannot be known any more")
	}
}

// Each view's camera has the whole room in the picture, the screen wall where
// the doc comment of the view says it is.
func TestViewsShowTheRoomTheRightWayRound(t *testing.T) {
	lo, hi := geometry.V(0, 0, 0), geometry.V(6, 4, 2.6)
	const w, h = 900, 600
	for _, k := range []Kind{Overview, Plan, Long, Cross} {
		r := Rig{Kind: k}
		r.Fit(lo, hi, float64(w)/h)
		cam := r.Camera()
		at := func(x, y, z float64) (px, py float32) {
			px, py, _, ok := cam.Project(scene.World(geometry.V(x, y, z)), w, h)
			if !ok || px < 0 || py < 0 || px > w || py > h {
				t.Errorf("%v: the corner (%v, %v, %v) is out of the picture at (%v, %v)", k, x, y, z, px, py)
			}
			return px, py
		}
		for _, x := range []float64{0, 6} {
			for _, y := range []float64{0, 4} {
				at(x, y, 0)
				at(x, y, 2.6)
			}
		}
		leftX, frontY := at(0, 0, 0)
		rightX, _ := at(0, 4, 0)
		backX, _ := at(6, 0, 0)
		_, top := at(0, 0, 2.6)
		switch k {
		case Plan: // turned, as the room is larger so
			_, rightY := at(0, 4, 0)
			if leftX >= backX || rightY >= frontY {
				t.Error("plan: the screen must be at the left, the right wall at the top")
			}
			r.Fit(lo, hi, 0.7)
			if cam = r.Camera(); r.PlanUp.X >= 0 {
				t.Errorf("upright plan: %v is at the top, want the screen", r.PlanUp)
			}
		case Long:
			if leftX >= backX || top >= frontY {
				t.Error("long section: the screen must be at the left, the ceiling on top")
			}
		default:
			if leftX >= rightX || top >= frontY {
				t.Errorf("%v: the left wall must be at the left, the ceiling on top", k)
			}
		}
	}
}

func TestOverviewIsTheScenes(t *testing.T) {
	d, _ := file.Demo("large")
	var r Rig
	r.Stand(scene.Overview(d, 1.5))
	got, want := r.Camera(), scene.Overview(d, 1.5)
	if got.Eye.Sub(want.Eye).Len() > 1e-3 || got.At.Sub(want.At).Len() > 1e-3 {
		t.Errorf("the window's overview looks from %v at %v, the command's from %v at %v", got.Eye, got.At, want.Eye, want.At)
	}
}

// What is dragged stays under the pointer.
func TestPanFollowsThePointer(t *testing.T) {
	const w, h = 900, 600
	for _, k := range []Kind{Overview, Plan, Long, Cross} {
		r := Rig{Kind: k}
		r.Fit(geometry.V(0, 0, 0), geometry.V(6, 4, 2.6), float64(w)/h)
		p := scene.World(r.Target)
		x0, y0, _, _ := r.Camera().Project(p, w, h)
		r.Pan(0.1, -0.05)
		x1, y1, _, _ := r.Camera().Project(p, w, h)
		if math.Abs(float64(x1-x0)-60) > 0.5 || math.Abs(float64(y1-y0)+30) > 0.5 {
			t.Errorf("%v: dragged by (60, -30), moved by (%v, %v)", k, x1-x0, y1-y0)
		}
	}
}

func TestRigStaysFinite(t *testing.T) {
	for _, k := range Kinds {
		r := Rig{Kind: k}
		r.Fit(geometry.Vec{}, geometry.Vec{}, 0)
		r.LookAt(geometry.Vec{}, geometry.Vec{})
		r.Zoom(0)
		r.Zoom(1e9)
		r.Zoom(1e-9)
		r.Drag(1e6, -1e6)
		r.Pan(1, 1)
		c := r.Camera()
		for _, v := range []float32{c.Eye[0], c.Eye[1], c.Eye[2], c.At[0], c.At[1], c.At[2], c.Up.Len()} {
			if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
				t.Errorf("%v: camera %+v", k, c)
			}
		}
	}
}

// hold counts what it is told.
type hold struct {
	moves []geometry.Vec
	reach float64
	drops int
}

func (h *hold) Move(by geometry.Vec, reach float64) { h.moves, h.reach = append(h.moves, by), reach }
func (h *hold) Drop()                               { h.drops++ }

// Of the places that the pointer tells of at once only the last counts.
func TestDragsOfAnItemAreGathered(t *testing.T) {
	v, f, w := newView(t)
	v.Attach(f)
	v.Rig.Kind = Plan
	w.Canvas().Capture()
	v.Fit()
	var posted []func()
	v.Post = func(do func()) { posted = append(posted, do) }
	h := &hold{}
	v.OnGrab = func(float32, float32, int, int, scene.Camera) Held { return h }
	rig := v.Rig
	v.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	for range 10 {
		v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(2, -1)})
	}
	if len(h.moves) != 0 {
		t.Fatal("moved while events were still being told")
	}
	for _, do := range posted {
		do()
	}
	k := v.Rig.Height / 200           // the view is 200 points high
	want := geometry.V(20*k, 10*k, 0) // in a turned plan
	if len(h.moves) != 1 || h.moves[0].Dist(want) > 1e-6 || math.Abs(h.reach-grip*k) > 1e-9 {
		t.Errorf("moved by %v with reach %v, want once by %v", h.moves, h.reach, want)
	}
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	v.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(2, 0)})
	v.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary}) // before what was posted runs
	v.DragEnd()
	if len(h.moves) != 2 || h.drops != 1 {
		t.Errorf("%d moves and %d drops at the release, want 2 and 1", len(h.moves), h.drops)
	}
	if v.Rig != rig {
		t.Error("the camera moved with what is held")
	}
}

func TestOnlyAPlainPressInADrawingTakesHold(t *testing.T) {
	v, f, w := newView(t)
	v.Attach(f)
	w.Canvas().Capture()
	grabs := 0
	v.OnGrab = func(float32, float32, int, int, scene.Camera) Held { grabs++; return nil }
	for _, c := range []struct {
		kind   Kind
		button desktop.MouseButton
		mod    fyne.KeyModifier
		want   int
	}{
		{Plan, desktop.MouseButtonPrimary, 0, 1}, {Long, desktop.MouseButtonPrimary, 0, 1}, {Cross, desktop.MouseButtonPrimary, 0, 1},
		{Plan, desktop.MouseButtonPrimary, fyne.KeyModifierShift, 0}, {Plan, desktop.MouseButtonSecondary, 0, 0},
		{Overview, desktop.MouseButtonPrimary, 0, 0}, {Walk, desktop.MouseButtonPrimary, 0, 0}, {Seat, desktop.MouseButtonPrimary, 0, 0},
	} {
		grabs = 0
		v.Rig.Kind = c.kind
		v.MouseDown(&desktop.MouseEvent{Button: c.button, Modifier: c.mod})
		v.MouseUp(&desktop.MouseEvent{Button: c.button})
		if grabs != c.want {
			t.Errorf("%v, button %v, modifier %v: %d grabs, want %d", c.kind, c.button, c.mod, grabs, c.want)
		}
	}
}

// A plain colour as large as the picture was painted under it, where nobody could see
// it: half the window for nothing, at every painting.
func TestNothingIsPaintedUnderThePicture(t *testing.T) {
	v, _, w := newView(t)
	w.Canvas().Capture()
	if o := test.WidgetRenderer(v).Objects(); o[0] != fyne.CanvasObject(v.raster) || v.raster.Size() != v.Size() {
		t.Errorf("the lowest of the view is %T, the picture is %v of %v large", o[0], v.raster.Size(), v.Size())
	}
	// Before the first picture the raster itself has the window's colour.
	got, want := color.RGBAModel.Convert(w.Canvas().Capture().At(150, 100)), color.RGBAModel.Convert(theme.Back)
	if got != want {
		t.Errorf("without a picture the middle is %v, want %v", got, want)
	}
}
