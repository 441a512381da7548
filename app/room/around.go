// SPDX-License-Identifier: MIT

package room

import (
	"math"

	"fyne.io/fyne/v2"

	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/project/place"
	"earline/scene"
	"earline/scene/walk"
)

// around is a client being shown around: the picture alone, on foot, stopped by walls
// and chairs, and seated wherever they like.
type around struct {
	back   stand // where the camera was before
	client bool  // whether the client view was on before
	foot   geometry.Vec
	told   geometry.Vec // where they stood when the caption came
	door   int          // that stands open, a feature of the design, and by what share
	open   float64
	shut   *scene.List // what is on show, with the doors shut
	ground *walk.Ground
	of     *place.Room // that ground is of
}

const howToWalk = "Walk with W A S D, turn with the arrows or by dragging. Click a seat, or press Enter beside it, to sit down. Esc ends."

// Alone reports whether the picture is on the whole screen with nothing about it: a client
// is shown around, or a tour or the entrance plays.
func (p *Picture) Alone() bool { return p.around != nil || p.playing != nil }

// setAround begins or ends showing a client around.
func (p *Picture) setAround(on bool) {
	if on == (p.around != nil) {
		return
	}
	p.stopPlaying()
	if !on {
		a := p.around
		p.around, p.View.Stride = nil, nil
		p.View.Caption("")
		p.View.Rig, p.look = a.back.rig, look{seat: a.back.seat}
		p.OnAround(false)
		p.setClient(a.client)
		p.session.Choose(session.Nothing())
		p.moved()
		return
	}
	p.Commit()
	p.leavePath()
	p.cancelDrag()
	p.around = &around{back: stand{p.View.Rig, p.look.seat}, client: p.options.Client}
	p.View.Stride = p.stride
	p.OnAround(true)
	p.setClient(true)
	foot, at, _ := p.ground().Entrance()
	p.standAt(foot)
	p.View.Rig.LookAt(p.View.Rig.Eye, at)
	p.View.Rig.El = 0
	p.Redraw()
	p.moved()
	p.say(howToWalk)
}

// ground returns the room to walk in, as it is now.
func (p *Picture) ground() *walk.Ground {
	a, of := p.around, p.session.Room()
	if of == nil && a.of == nil || of != nil && a.of != of {
		if of == nil { // not known yet
			of = place.Of(p.session.Design())
		}
		a.of, a.ground = of, walk.In(of)
	}
	return a.ground
}

// say shows words to the client until they have walked on.
func (p *Picture) say(words string) {
	p.around.told = p.around.foot
	p.View.Caption(words)
}

// standAt stands the client on foot.
func (p *Picture) standAt(foot geometry.Vec) {
	p.around.foot = foot
	p.View.Rig.Kind = view.Walk
	p.View.Rig.Eye = p.ground().Eyes(foot)
	p.View.Rig.Fit(p.View.Lo, p.View.Hi, 1)
}

// stride takes the client as far as nothing is in the way.
func (p *Picture) stride(_, by geometry.Vec) geometry.Vec {
	const read = 1.5 // m, by when the caption has been read
	a := p.around
	a.foot = p.ground().Go(a.foot, geometry.Vec2{X: by.X, Y: by.Y})
	if a.foot.Dist(a.told) > read {
		p.View.Caption("")
	}
	p.swing()
	return p.ground().Eyes(a.foot)
}

// swing opens the door that one walks into, and shuts it behind one.
func (p *Picture) swing() {
	const step = 0.04 // of a share, by which it is seen to move
	a := p.around
	door, open := p.ground().Ajar(a.foot, p.View.Rig.Az)
	still := math.Abs(open-a.open) < step && (open == 0) == (a.open == 0) && (open == 1) == (a.open == 1)
	if a.shut == nil || still && (door == a.door || open == 0) {
		return
	}
	a.door, a.open = door, open
	p.show(a.shut)
}

// key goes to what plays, seats who is shown around, or has them get up, on Enter.
func (p *Picture) key(ev *fyne.KeyEvent) {
	if p.playingKey(ev.Name) {
		return
	}
	if p.around != nil && (ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter) {
		p.sitOrRise()
		return
	}
	p.OnKey(ev)
}

// sitOrRise seats the client in the seat that is in reach, or has them get up.
func (p *Picture) sitOrRise() {
	if p.View.Rig.Kind == view.Seat {
		p.rise()
		return
	}
	i, ok := p.ground().Seat(p.around.foot)
	if !ok {
		p.say("No seat is in reach: walk up to one, or click it.")
		return
	}
	p.sitDown(i)
}

// sitDown seats the client, and says what they get there.
func (p *Picture) sitDown(i int) {
	p.SitIn(i)
	if r := p.session.Tried(); r != nil && p.View.Rig.Kind == view.Seat {
		p.say(r.ClientSentence(i))
	}
}

// rise has the client get up from their seat.
func (p *Picture) rise() {
	foot, ok := p.ground().Rise(p.look.seat)
	if !ok {
		p.say("There is no room to get up here: click another seat.")
		return
	}
	az := p.View.Rig.Az
	p.standAt(foot)
	p.View.Rig.Az, p.View.Rig.El = az, 0
	p.session.Choose(session.Nothing())
	p.moved()
	p.say("")
}
