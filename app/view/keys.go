// SPDX-License-Identifier: MIT

package view

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// pace is the speed of a walker, m/s; Shift doubles it.
const pace = 1.4

// gait is which walking keys are down. Keys repeat at the system's leisure, so
// walking goes by the clock while they are down.
type gait struct {
	held map[fyne.KeyName]bool
	tick *fyne.Animation
}

// direction is what one walking key does.
type direction struct{ ahead, right, up float64 }

// walking returns what key does on foot.
func walking(key fyne.KeyName) (d direction, ok bool) {
	switch key {
	case fyne.KeyW, fyne.KeyUp:
		return direction{ahead: 1}, true
	case fyne.KeyS, fyne.KeyDown:
		return direction{ahead: -1}, true
	case fyne.KeyD, fyne.KeyRight:
		return direction{right: 1}, true
	case fyne.KeyA, fyne.KeyLeft:
		return direction{right: -1}, true
	case fyne.KeyE, fyne.KeyPageUp:
		return direction{up: 1}, true
	case fyne.KeyQ, fyne.KeyPageDown:
		return direction{up: -1}, true
	}
	return direction{}, false
}

// FocusGained implements fyne.Focusable.
func (v *Viewport) FocusGained() {}

// FocusLost implements fyne.Focusable. No KeyUp comes after it.
func (v *Viewport) FocusLost() { v.stopWalking() }

// TypedRune implements fyne.Focusable.
func (v *Viewport) TypedRune(r rune) {
	if v.OnRune != nil {
		v.OnRune(r)
	}
}

// TypedKey implements fyne.Focusable.
func (v *Viewport) TypedKey(ev *fyne.KeyEvent) {
	if v.OnKey != nil {
		v.OnKey(ev)
	}
}

// KeyDown implements desktop.Keyable. It also comes for shortcuts such as
// Ctrl+S, which must not walk.
func (v *Viewport) KeyDown(ev *fyne.KeyEvent) {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&^fyne.KeyModifierShift != 0 {
		return
	}
	if _, ok := walking(ev.Name); !ok || v.Rig.Kind != Walk {
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
	}
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		dt *= 2
	}
	before := v.ground()
	v.Rig.Step(sum.ahead*pace*dt, sum.right*pace*dt, sum.up*pace*dt, v.Lo, v.Hi)
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
