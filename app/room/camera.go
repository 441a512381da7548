// SPDX-License-Identifier: MIT

package room

import (
	"fmt"

	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/project/place"
	"earline/scene/walk"
)

// look records why the camera is where it is: along one ear's path, or in a seat.
type look struct {
	seat int    // of the view from a seat, counted from 0
	back *stand // where Escape returns to from a path; nil when none is looked along
}

// stand is a place of the camera.
type stand struct {
	rig  view.Rig
	seat int // as of look
}

// SetView changes to another view of the room.
func (p *Picture) SetView(k view.Kind) {
	p.Commit() // and the walking keys go to the picture
	p.setAround(false)
	p.session.Hint = ""
	p.leavePath()
	p.cancelDrag()
	p.options.Hovered = place.Item{}
	rig := &p.View.Rig
	again := rig.Kind == k
	switch k {
	case view.Seat:
		i := p.startSeat()
		if again && p.session.Result() != nil && len(p.session.Result().Seats) > 0 {
			i = (p.look.seat + 1) % len(p.session.Result().Seats)
		}
		p.SitIn(i)
		return
	case view.Walk:
		rig.Kind = k
		// In by the back of the room, facing the screen.
		x, y := p.View.Hi.X-0.4, (p.View.Lo.Y+p.View.Hi.Y)/2
		eye := geometry.V(x, y, p.View.Ground(x, y)+walk.EyeLevel)
		rig.LookAt(eye, geometry.V(p.View.Lo.X, y, 1.2))
		rig.Fit(p.View.Lo, p.View.Hi, 1)
		p.session.Hint = "Walk with W A S D or the arrows, E and Q go up and down, drag to look about."
	default:
		rig.Kind = k
		p.View.Fit()
	}
	p.Redraw()
	p.moved()
}

// moved tells that another view is on show.
func (p *Picture) moved() {
	p.View.Moved()
	p.Changed()
}

// startSeat returns the seat that one first wants to sit in: the selected one,
// else the middle one of the main row.
func (p *Picture) startSeat() int {
	if i := p.session.Chosen.Seat; i != session.None {
		return i
	}
	row := max(p.session.Design().Seating.Main.Row, 1)
	if p.session.Result() == nil {
		return 0
	}
	first, n := 0, 0
	for i, s := range p.session.Result().Seats {
		if s.Row == row {
			if n == 0 {
				first = i
			}
			n++
		}
	}
	return first + n/2
}

// SitIn shows what the sitter of seat i sees of the picture.
func (p *Picture) SitIn(i int) {
	if p.session.Result() == nil || i < 0 || i >= len(p.session.Result().Views) {
		return
	}
	p.leavePath()
	p.look.seat = i
	rig := &p.View.Rig
	rig.Kind = view.Seat
	centre, _, _ := p.session.Design().Screen.Picture()
	rig.LookAt(p.session.Result().Views[i].Eye, centre)
	rig.Fit(p.View.Lo, p.View.Hi, 1)
	p.session.Choose(session.Selection{Seat: i, Speaker: session.None, Remark: p.session.Chosen.Remark})
	p.moved()
}

// ShowSelection draws what is selected. On a path the camera goes to its ear, and
// comes back afterwards: any other selection is about the room and not about one path.
func (p *Picture) ShowSelection() {
	c, turned := p.session.Chosen, true
	switch {
	case c.Path:
		if p.look.back == nil {
			p.look.back = &stand{p.View.Rig, p.look.seat}
		}
		p.look.seat = c.Seat
		p.View.Rig.Kind = view.Seat
		p.aimAlongPath()
		p.View.Rig.FOV = view.EarFOV
	case p.look.back != nil:
		p.View.Rig, p.look.seat = p.look.back.rig, p.look.back.seat
		p.look.back = nil
	default:
		turned = p.keepSeat()
	}
	p.Redraw()
	if turned {
		p.moved()
	}
}

// keepSeat puts the camera where the eyes are of who sits in the seat that it is in, and
// reports whether they have moved.
func (p *Picture) keepSeat() bool {
	r, rig := p.session.Tried(), &p.View.Rig
	if r == nil || rig.Kind != view.Seat || p.look.seat >= len(r.Views) || rig.Eye == r.Views[p.look.seat].Eye {
		return false
	}
	rig.Eye = r.Views[p.look.seat].Eye
	return true
}

// aimAlongPath turns the camera along the path that is selected.
func (p *Picture) aimAlongPath() {
	c, r := p.session.Chosen, p.session.Tried()
	if c.Seat < 0 || c.Seat >= len(r.Seats) || c.Speaker >= len(r.Speakers) {
		return // of a design whose audit is on its way
	}
	if c.Speaker == session.None {
		centre, _, _ := p.session.Design().Screen.Picture()
		p.View.Rig.LookAt(r.Views[c.Seat].Eye, centre)
		return
	}
	if pair := r.Pair(c.Seat, c.Speaker); pair.Worst >= 0 {
		path := pair.Deciding()
		p.View.Rig.LookAt(path.From, path.To)
		return
	}
	b := r.Bodies[c.Seat]
	p.View.Rig.LookAt(b.Ear(), r.Speakers[c.Speaker].At.Vec())
}

// Follow takes in that the design may be another one: how large the room is, and where
// the seat is now that the camera is in.
func (p *Picture) Follow() {
	if !p.session.Dragging() {
		p.drag = nil // something else came between
	}
	p.measure()
	r := p.session.Tried()
	switch {
	case r == nil || p.View.Rig.Kind != view.Seat:
	case p.session.Chosen.Path:
		p.aimAlongPath()
	case p.look.seat >= len(r.Views):
		p.goBack()
	default:
		p.keepSeat()
	}
}

// leavePath shows all rays again, the camera where it is.
func (p *Picture) leavePath() {
	if c := p.session.Chosen; c.Path {
		p.look.back = nil
		p.session.Choose(session.Selection{Seat: c.Seat, Speaker: c.Speaker})
	}
}

// goBack returns from a path to the view before it. From a seat or a walk it returns
// to the overview, from elsewhere it only unselects.
func (p *Picture) goBack() {
	if rig := &p.View.Rig; (rig.Kind == view.Seat || rig.Kind == view.Walk) && !p.session.Chosen.Path {
		rig.Kind = view.Overview
		if rig.Dist == 0 {
			p.View.Fit()
		}
	}
	p.session.Choose(session.Nothing())
	p.moved()
}

// Escape leaves the first of these that there is: a drag, showing around, the client view, a marked
// remark, what was selected on a walk, the view from an ear or a seat or on a walk, the
// selection.
func (p *Picture) Escape() {
	switch {
	case p.cancelDrag():
	case p.around != nil:
		p.setAround(false)
	case p.options.Client:
		p.setClient(false)
	case p.View.Rig.Kind == view.Walk && p.session.Chosen != session.Nothing() && !p.session.Chosen.Path:
		p.session.Choose(session.Nothing())
	case !p.session.Chosen.Path && p.session.Unmark():
	default:
		p.goBack()
	}
}

// Name says what the picture shows, for the status line, and what it leaves out.
func (p *Picture) Name() string {
	if p.rays < p.allRays {
		return fmt.Sprintf("%s, the %d worst of %d rays", p.place(), p.rays, p.allRays)
	}
	if why := p.dark(); why != "" {
		return fmt.Sprintf("%s, dark: %s", p.place(), why)
	}
	return p.place()
}

// place says where the picture is taken from.
func (p *Picture) place() string {
	r, c := p.session.Result(), p.session.Chosen
	switch {
	case r == nil || p.View.Rig.Kind != view.Seat || p.look.seat >= len(r.Seats):
		return p.View.Rig.Kind.String()
	case c.Path && c.Speaker != session.None && c.Speaker < len(r.Speakers):
		return fmt.Sprintf("From seat %s to %s", r.Seats[p.look.seat].Name(), r.Speakers[c.Speaker].Name())
	}
	return "From seat " + r.Seats[p.look.seat].Name()
}
