// SPDX-License-Identifier: MIT

package app

import (
	"fmt"

	"earline/app/session"
	"earline/app/view"
	"earline/geometry"
	"earline/project/place"
	"earline/scene"
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

// setView changes to another view of the room.
func (w *Window) setView(k view.Kind) {
	w.commit() // and the walking keys go to the picture
	w.session.Hint = ""
	w.leavePath()
	w.cancelDrag()
	w.options.Hot = place.Item{}
	rig := &w.view.Rig
	again := rig.Kind == k
	switch k {
	case view.Seat:
		i := w.startSeat()
		if again && w.session.Result() != nil && len(w.session.Result().Seats) > 0 {
			i = (w.look.seat + 1) % len(w.session.Result().Seats)
		}
		w.sitIn(i)
		return
	case view.Walk:
		rig.Kind = k
		// In by the back of the room, facing the screen.
		x, y := w.view.Hi.X-0.4, (w.view.Lo.Y+w.view.Hi.Y)/2
		eye := geometry.V(x, y, w.view.Ground(x, y)+view.EyeLevel)
		rig.LookAt(eye, geometry.V(w.view.Lo.X, y, 1.2))
		rig.Fit(w.view.Lo, w.view.Hi, 1)
		w.session.Hint = "Walk with W A S D or the arrows, E and Q go up and down, drag to look about."
	default:
		rig.Kind = k
		w.view.Fit()
	}
	w.redraw()
	w.moved()
}

// moved tells the parts that another view is on show.
func (w *Window) moved() {
	w.view.Moved()
	w.bar.update(w)
	w.menu.update(w)
	w.showStatus()
}

// startSeat returns the seat that one first wants to sit in: the selected one,
// else the middle one of the main row.
func (w *Window) startSeat() int {
	if i := w.session.Chosen.Seat; i != session.None {
		return i
	}
	row := max(w.session.Design().Seating.Main.Row, 1)
	if w.session.Result() == nil {
		return 0
	}
	first, n := 0, 0
	for i, s := range w.session.Result().Seats {
		if s.Row == row {
			if n == 0 {
				first = i
			}
			n++
		}
	}
	return first + n/2
}

// sitIn shows what the sitter of seat i sees of the picture.
func (w *Window) sitIn(i int) {
	if w.session.Result() == nil || i < 0 || i >= len(w.session.Result().Views) {
		return
	}
	w.leavePath()
	w.look.seat = i
	rig := &w.view.Rig
	rig.Kind = view.Seat
	centre, _, _ := w.session.Design().Screen.Picture()
	rig.LookAt(w.session.Result().Views[i].Eye, centre)
	rig.Fit(w.view.Lo, w.view.Hi, 1)
	w.session.Choose(session.Selection{Seat: i, Speaker: session.None, Remark: w.session.Chosen.Remark})
	w.moved()
}

// showSelection shows what is selected in every part of the window. On a path the
// camera goes to its ear, and comes back afterwards: any other selection is about
// the room and not about one path.
func (w *Window) showSelection() {
	w.drawer.top.Update()
	c, turned := w.session.Chosen, true
	switch {
	case c.Path:
		if w.look.back == nil {
			w.look.back = &stand{w.view.Rig, w.look.seat}
		}
		w.look.seat = c.Seat
		w.view.Rig.Kind = view.Seat
		w.aimAlongPath()
		w.view.Rig.FOV = view.EarFOV
		w.inspector.Follow(c.Speaker)
	case w.look.back != nil:
		w.view.Rig, w.look.seat = w.look.back.rig, w.look.back.seat
		w.look.back = nil
	default:
		turned = false
	}
	w.inspector.Show(c.Item)
	w.redraw()
	if turned {
		w.moved()
		return
	}
	w.showStatus()
}

// aimAlongPath turns the camera along the path that is selected.
func (w *Window) aimAlongPath() {
	c, r := w.session.Chosen, w.session.Result()
	if c.Seat < 0 || c.Seat >= len(r.Seats) || c.Speaker >= len(r.Speakers) {
		return // of a design whose audit is on its way
	}
	if c.Speaker == session.None {
		centre, _, _ := w.session.Design().Screen.Picture()
		w.view.Rig.LookAt(r.Views[c.Seat].Eye, centre)
		return
	}
	if p := r.Pair(c.Seat, c.Speaker); p.Worst >= 0 {
		path := p.Deciding()
		w.view.Rig.LookAt(path.From, path.To)
		return
	}
	b := r.Bodies[c.Seat]
	w.view.Rig.LookAt(b.Ear(), r.Speakers[c.Speaker].At.Vec())
}

// followSeat keeps the camera with its seat after an edit.
func (w *Window) followSeat() {
	r := w.session.Result()
	switch {
	case r == nil || w.view.Rig.Kind != view.Seat:
	case w.session.Chosen.Path:
		w.aimAlongPath()
	case w.look.seat >= len(r.Views):
		w.goBack()
	default:
		w.view.Rig.Eye = r.Views[w.look.seat].Eye
	}
}

// leavePath shows all rays again, the camera where it is.
func (w *Window) leavePath() {
	if c := w.session.Chosen; c.Path {
		w.look.back = nil
		w.session.Choose(session.Selection{Seat: c.Seat, Speaker: c.Speaker})
	}
}

// goBack returns from a path to the view before it. From a seat it returns to
// the overview, from elsewhere it only unselects.
func (w *Window) goBack() {
	if rig := &w.view.Rig; rig.Kind == view.Seat && !w.session.Chosen.Path {
		rig.Kind = view.Overview
		if rig.Dist == 0 {
			w.view.Fit()
		}
	}
	w.session.Choose(session.Nothing())
	w.moved()
}

// unmark takes the mark of a remark out of the picture; false when there is
// none.
func (w *Window) unmark() bool {
	if w.session.Marked() == nil {
		return false
	}
	w.session.Choose(session.Nothing())
	return true
}

// setRays, and the functions after it, change what the picture shows.
func (w *Window) setRays(s scene.Show) {
	w.options.Rays = s
	w.showOptions()
}

func (w *Window) toggle(option *bool) {
	*option = !*option
	w.showOptions()
}

func (w *Window) showOptions() {
	w.redraw()
	w.bar.update(w)
	w.menu.update(w)
}

// setClient shows the room alone, or everything again.
func (w *Window) setClient(on bool) {
	w.options.Client = on
	for _, o := range []interface {
		Show()
		Hide()
	}{w.side, w.drawer.object, w.bar.views, w.status.object} {
		if on {
			o.Hide()
		} else {
			o.Show()
		}
	}
	w.across.Refresh()
	w.down.Refresh()
	w.win.Content().Refresh()
	w.showOptions()
	w.win.Canvas().Focus(w.view)
}

// lookName says what the picture shows, for the status line.
func (w *Window) lookName() string {
	r, c := w.session.Result(), w.session.Chosen
	switch {
	case r == nil || w.view.Rig.Kind != view.Seat || w.look.seat >= len(r.Seats):
		return w.view.Rig.Kind.String()
	case c.Path && c.Speaker != session.None && c.Speaker < len(r.Speakers):
		return fmt.Sprintf("From seat %s to %s", r.Seats[w.look.seat].Name(), r.Speakers[c.Speaker].Name())
	}
	return "From seat " + r.Seats[w.look.seat].Name()
}
