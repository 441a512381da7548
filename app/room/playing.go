// SPDX-License-Identifier: MIT

package room

import (
	"errors"
	"time"

	"fyne.io/fyne/v2"

	"earline/app/session"
	"earline/app/view"
	"earline/project"
	"earline/project/light"
	"earline/project/place"
	"earline/scene"
	"earline/scene/bake"
	"earline/scene/tour"
)

// playing is a tour or an entrance on show: the picture alone, on the whole screen.
type playing struct {
	of     *project.Design
	back   stand // where the camera was before
	client bool  // whether the client view was on before
	seq    tour.Sequence
	model  *light.Model
	says   func(s float64) string // what is told at a time
	at     float64                // seconds from the start
	paused bool
	tick   *fyne.Animation
	set    bake.Dimmed // the light that is on show, or on its way
	mixing bool        // beside the window
}

const (
	howPaused = "Paused. Space goes on, the right arrow goes to the next part, Esc ends."
	howEnded  = "The end. Enter begins again, Esc ends."
)

// playTour shows the tour.
func (p *Picture) playTour() {
	p.begin(func(r *place.Room) (tour.Sequence, func(float64) string, error) {
		t := tour.Plan(r)
		if len(t.Stops) == 0 {
			return nil, nil, errors.New("nobody can stand in the room, and there is no seat")
		}
		audit := p.session.Result()
		return t, func(s float64) string {
			m := t.At(s)
			if !m.Stays {
				return ""
			}
			words := t.Stops[m.Stop].Name
			if m.Seat != scene.None && audit != nil {
				words += ". " + audit.ClientSentence(m.Seat)
			}
			return words
		}, nil
	})
}

// playEntrance shows how the lights receive people: from where the camera is, or from
// outside in the main seat.
func (p *Picture) playEntrance() {
	from, ok := p.pose()
	if k := p.View.Rig.Kind; k != view.Seat && k != view.Walk {
		ok = false
	}
	p.begin(func(r *place.Room) (tour.Sequence, func(float64) string, error) {
		if !ok {
			if from, ok = tour.MainSeat(r); !ok {
				return nil, nil, errors.New("there is no seat: walk to where it is to be seen from")
			}
		}
		e, err := tour.EntranceOf(r, from)
		if err != nil {
			return nil, nil, err
		}
		return e, e.Says, nil
	})
}

// begin works out beside the window what is to play, and plays it.
func (p *Picture) begin(plan func(r *place.Room) (tour.Sequence, func(float64) string, error)) {
	if p.playing != nil {
		p.stopPlaying()
		return
	}
	p.setAround(false)
	p.Commit()
	p.leavePath()
	p.cancelDrag()
	d := p.session.Design()
	p.session.Say("Looking for the way…")
	p.session.Background(func() {
		seq, says, err := plan(place.Of(d))
		model := light.Of(d)
		p.View.Post(func() {
			switch {
			case d != p.session.Design() || p.playing != nil:
			case err != nil:
				p.session.Say("Not done: " + err.Error() + ".")
			default:
				p.session.Say("")
				p.play(&playing{of: d, seq: seq, says: says, model: model})
			}
		})
	})
}

// play shows what is planned from its beginning.
func (p *Picture) play(y *playing) {
	y.back, y.client = stand{p.View.Rig, p.look.seat}, p.options.Client
	p.playing = y
	p.View.Guided = true
	p.OnAround(true)
	p.setClient(true)
	p.View.Rig.Kind = view.Walk
	p.showMoment()
	p.Redraw()
	last := time.Now()
	y.tick = &fyne.Animation{Duration: time.Hour, RepeatCount: fyne.AnimationRepeatForever, Curve: fyne.AnimationLinear,
		Tick: func(float32) {
			const longest = 0.1 // s: who was held up does not jump
			now := time.Now()
			p.pass(min(now.Sub(last).Seconds(), longest))
			last = now
		}}
	y.tick.Start()
}

// stopPlaying shows the room as it was before.
func (p *Picture) stopPlaying() {
	y := p.playing
	if y == nil {
		return
	}
	y.tick.Stop()
	p.playing, p.View.Guided = nil, false
	p.View.Caption("")
	p.View.Rig, p.look = y.back.rig, look{seat: y.back.seat}
	p.OnAround(false)
	p.setClient(y.client)
	p.session.Choose(session.Nothing())
	p.moved()
}

// pass goes on by so many seconds, unless it is paused, at its end, or waits for the light.
func (p *Picture) pass(by float64) {
	y := p.playing
	if y == nil || y.paused {
		return
	}
	if p.lightComes() {
		p.View.Caption("Working out the light…")
		return
	}
	y.at += by
	if y.at >= y.seq.Length() {
		y.at, y.paused = y.seq.Length(), true
	}
	p.showMoment()
}

// lightComes reports whether the first light is still being worked out.
func (p *Picture) lightComes() bool {
	l := &p.lighting.room
	return l.stop != nil && (l.ready == nil || l.ready.of != l.of)
}

// showMoment puts the camera where it is at the time, and sees to the light.
func (p *Picture) showMoment() {
	y := p.playing
	pose, set := y.seq.Show(y.model, y.at)
	seat := p.Options().FromSeat
	rig := &p.View.Rig
	rig.Kind, rig.Eye, rig.Az, rig.El, rig.FOV = view.Walk, pose.Eye, pose.Az, pose.El, pose.Sees
	if pose.Seat != scene.None {
		rig.Kind, p.look.seat = view.Seat, pose.Seat
	}
	words := y.says(y.at)
	switch {
	case y.at >= y.seq.Length():
		words = howEnded
	case y.paused:
		words = howPaused
	}
	p.View.Caption(words)
	if !set.Same(y.set) {
		p.mix(set)
	}
	if seat != pose.Seat && !p.lights() {
		p.Redraw()
	}
	p.View.Moved()
}

// lights reports whether there is light to mix.
func (p *Picture) lights() bool {
	l := &p.lighting.room
	return l.ready != nil && l.ready.of == l.of
}

// mix mixes the light of the moment beside the window; what comes while it does is mixed
// after it.
func (p *Picture) mix(set bake.Dimmed) {
	y, l := p.playing, p.lighting.room.ready
	if y.mixing || !p.lights() {
		return
	}
	y.mixing, y.set = true, set
	set.Exposure = p.lighting.stops
	p.session.Background(func() {
		list := l.light.Show(set)
		p.View.Post(func() {
			if y.mixing = false; p.playing == y && p.lighting.room.ready == l {
				p.show(list)
			}
		})
	})
}

// playingKey does what a key does while something plays, and reports whether it did.
func (p *Picture) playingKey(name fyne.KeyName) bool {
	y := p.playing
	if y == nil {
		return false
	}
	switch name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		if y.at >= y.seq.Length() {
			y.at = 0
		}
		y.paused = !y.paused
	case fyne.KeyRight, fyne.KeyPageDown:
		y.at = min(y.seq.Next(y.at), y.seq.Length())
	case fyne.KeyLeft, fyne.KeyPageUp:
		y.at = 0
	default:
		return false
	}
	p.showMoment()
	return true
}
