// SPDX-License-Identifier: MIT

package view

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/geometry"
)

// pace is the speed of a walker, m/s; Shift doubles it.
const pace = 1.4

// turnRate is how fast the arrows turn a walker, radians a second.
const turnRate = 1.3

// gait is which walking keys are down. Keys repeat at the system's leisure, so
// walking goes by the clock while they are down.
type gait struct {
	held map[fyne.KeyName]bool
	tick *fyne.Animation
}

// direction is what one walking key does. turn is to the right, of who cannot pass through
// things; others go to the right.
type direction struct{ ahead, right, up, turn float64 }

// walking returns what key does on foot.
func walking(key fyne.KeyName) (d direction, ok bool) {
	switch key {
	case fyne.KeyW, fyne.KeyUp:
		return direction{ahead: 1}, true
	case fyne.KeyS, fyne.KeyDown:
		return direction{ahead: -1}, true
	case fyne.KeyD:
		return direction{right: 1}, true
	case fyne.KeyA:
		return direction{right: -1}, true
	case fyne.KeyRight:
		return direction{turn: 1}, true
	case fyne.KeyLeft:
		return direction{turn: -1}, true
	case fyne.KeyE, fyne.KeyPageUp:
		return direction{up: 1}, true
	case fyne.KeyQ, fyne.KeyPageDown:
		return direction{up: -1}, true
	}
	return direction{}, false
}

// FocusGained implements fyne.Focusable. The ring waits for a key: the picture has
// the keyboard after most clicks, and a ring around it then would only be in the way.
func (v *Viewport) FocusGained() {}

// FocusLost implements fyne.Focusable. No KeyUp comes after it.
func (v *Viewport) FocusLost() {
	v.ring.Show(false)
	v.stopWalking()
}

// showRing shows the ring for a key by which one finds one's way about the window.
func (v *Viewport) showRing(key fyne.KeyName) {
	switch _, walks := walking(key); {
	case v.Rig.Kind == Walk && walks || v.ring.Shown():
	case key == fyne.KeyTab, key == fyne.KeyF5, key == fyne.KeyF6, turning(key) != direction{}:
		v.ring.Show(true)
	}
}

// turning returns where to an arrow turns or moves the picture.
func turning(key fyne.KeyName) direction {
	switch key {
	case fyne.KeyUp:
		return direction{up: 1}
	case fyne.KeyDown:
		return direction{up: -1}
	case fyne.KeyLeft:
		return direction{right: -1}
	case fyne.KeyRight:
		return direction{right: 1}
	}
	return direction{}
}

// Shares of the picture's height that an arrow goes by, and how much nearer a step
// comes.
const (
	arrowStep = 0.05
	nearStep  = 1.15
)

// turn turns the camera by a step, or moves a drawing: the arrows go where they point.
func (v *Viewport) turn(to direction, sideways bool) {
	dx, dy := -to.right*arrowStep, to.up*arrowStep
	if sideways {
		v.Rig.Pan(dx, dy)
	} else {
		v.Rig.Drag(dx, dy)
	}
	v.Moved()
}

// Nearer brings what is seen nearer by n steps, farther when n is below zero.
func (v *Viewport) Nearer(n int) {
	if v.pointer.held != nil {
		return // it would slip from under the pointer
	}
	v.Rig.Zoom(math.Pow(nearStep, float64(n)))
	v.Moved()
}

// TypedRune implements fyne.Focusable.
func (v *Viewport) TypedRune(r rune) {
	if v.OnRune != nil {
		v.OnRune(r)
	}
}

// TypedKey implements fyne.Focusable.
func (v *Viewport) TypedKey(ev *fyne.KeyEvent) {
	if to := turning(ev.Name); to != (direction{}) && v.Rig.Kind != Walk && v.pointer.held == nil && !v.Guided {
		d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
		v.turn(to, ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0)
		return
	}
	if v.OnKey != nil {
		v.OnKey(ev)
	}
}

// KeyDown implements desktop.Keyable. It also comes for shortcuts such as
// Ctrl+S, which must not walk.
func (v *Viewport) KeyDown(ev *fyne.KeyEvent) {
	v.showRing(ev.Name)
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&^fyne.KeyModifierShift != 0 {
		return
	}
	if _, ok := walking(ev.Name); !ok || v.Rig.Kind != Walk || v.Guided {
		return
	}
	if v.gait.held == nil {
		v.gait.held = map[fyne.KeyName]bool{}
	}
	v.gait.held[ev.Name] = true
	v.startWalking()
}

// KeyUp implements desktop.Keyable.
func (v *Viewport) KeyUp(ev *fyne.KeyEvent) {
	v.showRing(ev.Name) // of the key that brought the keyboard here
	delete(v.gait.held, ev.Name)
	if len(v.gait.held) == 0 {
		v.stopWalking()
	}
}

func (v *Viewport) startWalking() {
	if v.gait.tick != nil {
		return
	}
	last := time.Now()
	v.gait.tick = &fyne.Animation{
		Duration: time.Hour, RepeatCount: fyne.AnimationRepeatForever, Curve: fyne.AnimationLinear,
		Tick: func(float32) {
			now := time.Now()
			v.walk(min(now.Sub(last).Seconds(), 0.1))
			last = now
		},
	}
	v.gait.tick.Start()
}

// walk takes the steps of dt seconds. The eye rises and falls with the floor.
func (v *Viewport) walk(dt float64) {
	var sum direction
	for key := range v.gait.held {
		d, _ := walking(key)
		sum.ahead += d.ahead
		sum.right += d.right
		sum.up += d.up
		sum.turn += d.turn
	}
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		dt *= 2
	}
	if v.Stride != nil {
		v.Rig.Az = math.Remainder(v.Rig.Az-sum.turn*turnRate*dt, 2*math.Pi)
		if by := v.Rig.level(sum.ahead*pace*dt, sum.right*pace*dt); by != (geometry.Vec{}) {
			v.Rig.Eye = v.Stride(v.Rig.Eye, by)
		}
		v.Moved()
		return
	}
	before := v.ground()
	v.Rig.Step(sum.ahead*pace*dt, (sum.right+sum.turn)*pace*dt, sum.up*pace*dt, v.Lo, v.Hi)
	v.Rig.Eye.Z += v.ground() - before
	v.Moved()
}

func (v *Viewport) ground() float64 {
	if v.Ground == nil {
		return 0
	}
	return v.Ground(v.Rig.Eye.X, v.Rig.Eye.Y)
}

func (v *Viewport) stopWalking() {
	clear(v.gait.held)
	if v.gait.tick != nil {
		v.gait.tick.Stop()
		v.gait.tick = nil
	}
}
