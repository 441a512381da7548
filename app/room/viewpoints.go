// SPDX-License-Identifier: MIT

package room

import (
	"errors"
	"fmt"

	"earline/app/command"
	"earline/app/view"
	"earline/project"
	"earline/project/place"
	"earline/scene"
	"earline/scene/tour"
)

// pose returns where the camera is and looks; ok is false for a drawing.
func (p *Picture) pose() (tour.Pose, bool) {
	v := scene.View{Camera: p.View.Rig.Camera(), Seat: scene.None}
	if p.View.Rig.Kind == view.Seat {
		v.Seat = p.look.seat
	}
	return tour.PoseOf(v)
}

// keepable says why the view cannot be kept.
func (p *Picture) keepable() error {
	switch _, ok := p.pose(); {
	case p.playing != nil:
		return errors.New("a tour plays: Esc ends it")
	case !ok:
		return errors.New("a drawing is no place to look from: take the overview, a seat or a walk")
	case p.session.Chosen.Path:
		return errors.New("this is the view along a path: Esc leaves it")
	case len(p.session.Design().Viewpoints) >= project.MaxViewpoints:
		return fmt.Errorf("a room has at most %d viewpoints: remove one in the inspector", project.MaxViewpoints)
	}
	return nil
}

// keepView keeps the view as a viewpoint behind the others.
func (p *Picture) keepView() {
	at, _ := p.pose()
	r := p.session.Room()
	if r == nil {
		r = place.Of(p.session.Design())
	}
	if at.Seat >= len(r.Seats) {
		return // of a design whose answer is on its way
	}
	v := tour.Keep(r, at, p.around != nil && at.Seat == scene.None)
	if p.options.Client && len(p.session.Design().LightGroups) > 0 {
		v.Scene = p.lighting.scene
	}
	err := p.session.Do("keep view "+v.Name, "", func(d *project.Design) {
		d.Identify() // the seat is known by its row's id
		if i := at.Seat; i != scene.None {
			s := r.Seats[i]
			v.Seat = d.Seating.Rows[s.Row-1].SeatID(s.Number)
		}
		d.Viewpoints = append(d.Viewpoints, v)
	})
	words := fmt.Sprintf("Kept as viewpoint %q.", v.Name)
	if err != nil {
		words = "Not done: " + err.Error()
	}
	if p.around != nil {
		p.say(words)
		return
	}
	p.session.Say(words)
}

// LookFrom shows the view from a viewpoint, counted from 0, in its light.
func (p *Picture) LookFrom(i int) {
	all := p.session.Design().Viewpoints
	if i < 0 || i >= len(all) {
		return
	}
	v := &all[i]
	r := p.session.Room()
	if r == nil {
		r = place.Of(p.session.Design())
	}
	to, err := tour.Of(r, v)
	if err != nil {
		p.session.Say("Not done: " + err.Error() + ".")
		return
	}
	p.stopPlaying()
	p.Commit()
	p.leavePath()
	p.cancelDrag()
	if v.Scene != "" {
		p.lighting.scene = v.Scene
	}
	rig := &p.View.Rig
	switch {
	case to.Seat != scene.None && p.around != nil:
		p.sitDown(to.Seat)
	case to.Seat != scene.None:
		p.SitIn(to.Seat)
	case p.around != nil:
		p.standAt(p.ground().OnFloor(to.Eye))
	}
	if to.Seat == scene.None {
		rig.Kind, rig.Eye = view.Walk, to.Eye
	}
	rig.Az, rig.El, rig.FOV = to.Az, to.El, to.Sees
	p.Redraw()
	p.moved()
}

// showCommands are what shows the room to somebody.
func (p *Picture) showCommands() []command.Command {
	return []command.Command{
		{ID: "view.keep", Name: "Keep this view", Menu: "Show", LineAbove: true, Key: plain("V"),
			Says: "Keeps where the camera is as a viewpoint of the tour.",
			Can:  p.keepable, Do: p.keepView},
		{ID: "view.viewpoints", Name: "Viewpoints", Menu: "Show",
			Says: "Shows the view from a viewpoint.",
			Can: func() error {
				if len(p.session.Design().Viewpoints) == 0 {
					return errors.New("no view is kept yet")
				}
				return nil
			},
			Items: p.viewpointCommands},
		{ID: "view.tour", Name: "Play the tour", Menu: "Show", Key: plain("T"),
			Says: "Walks from viewpoint to viewpoint on the whole screen; Space pauses, Right goes on, Esc ends.",
			Do:   p.playTour,
			On:   func() bool { _, is := p.plays().(*tour.Tour); return is }},
		{ID: "view.entrance", Name: "Play the entrance", Menu: "Show",
			Says: "Shows how the lights receive people, group by group, and go down for the show.",
			Can:  p.lightable, Do: p.playEntrance,
			On: func() bool { _, is := p.plays().(*tour.Entrance); return is }},
	}
}

// plays returns what plays; nil for nothing.
func (p *Picture) plays() tour.Sequence {
	if p.playing == nil {
		return nil
	}
	return p.playing.seq
}

func (p *Picture) viewpointCommands() []command.Command {
	var all []command.Command
	for i, v := range p.session.Design().Viewpoints {
		all = append(all, command.Command{ID: fmt.Sprintf("view.viewpoints.%d", i+1), Name: v.Name, Says: "Shows the view from there.",
			Do: func() { p.LookFrom(i) }})
	}
	return all
}
