// SPDX-License-Identifier: MIT

package app

import (
	"fmt"

	"earline/app/matrix"
	"earline/app/view"
	"earline/geometry"
	"earline/project/sight"
	"earline/scene"
)

// look is where the camera is by choice: along the path of a cell, or in a seat.
type look struct {
	back *view.Rig    // where Escape returns to
	cell *matrix.Cell // the path that is looked along
	seat int          // the seat of the view from a seat, from 0
}

// setView changes to another view of the room.
func (w *Window) setView(k view.Kind) {
	w.commit() // and the walking keys go to the picture
	w.session.Hint = ""
	w.leaveCell()
	w.cancelDrag()
	w.options.Hot = scene.Item{}
	rig := &w.view.Rig
	again := rig.Kind == k
	switch k {
	case view.Seat:
		i := w.startSeat()
		if again && w.Result() != nil && len(w.Result().Seats) > 0 {
			i = (w.look.seat + 1) % len(w.Result().Seats)
		}
		w.sitIn(i)
		return
	case view.Walk:
		rig.Kind = k
		// In by the back of the room, facing the screen.
		x, y := w.view.Hi.X-0.4, (w.view.Lo.Y+w.view.Hi.Y)/2
		eye := geometry.V(x, y, w.ground(x, y)+view.EyeLevel)
		rig.LookAt(eye, geometry.V(w.view.Lo.X, y, 1.2))
		rig.Fit(w.view.Lo, w.view.Hi, 1)
		w.session.Hint = "Walk with W A S D or the arrows, E and Q go up and down, drag to look about."
	default:
		rig.Kind = k
		w.options.FromSeat = scene.None
		w.view.Fit()
	}
	w.options.FromSeat = scene.None
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
	if w.options.Seat != scene.None {
		return w.options.Seat
	}
	row := max(w.Design().Seating.Main.Row, 1)
	if w.Result() == nil {
		return 0
	}
	first, n := 0, 0
	for i, s := range w.Result().Seats {
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
	if w.Result() == nil || i < 0 || i >= len(w.Result().Views) {
		return
	}
	w.leaveCell()
	w.look.seat = i
	w.options.Seat, w.options.FromSeat = i, i
	w.options.Speaker = scene.None
	rig := &w.view.Rig
	rig.Kind = view.Seat
	centre, _, _ := w.Design().Screen.Picture()
	rig.LookAt(w.Result().Views[i].Eye, centre)
	rig.Fit(w.view.Lo, w.view.Hi, 1)
	w.redraw()
	w.moved()
}

// choose puts the camera at the ear of a cell and looks along its path, all
// other rays left out.
func (w *Window) choose(c matrix.Cell) {
	if w.Result() == nil {
		return
	}
	if w.look.cell == nil {
		back := w.view.Rig
		w.look.back = &back
	}
	w.unmark()
	w.look.cell = &c
	w.look.seat = c.Seat
	w.options.Seat, w.options.Speaker, w.options.Only = c.Seat, c.Speaker, true
	w.options.FromSeat = c.Seat
	if c.Speaker == matrix.Picture {
		w.options.Speaker = scene.None
	}
	w.view.Rig.Kind = view.Seat
	w.aimAtCell()
	w.view.Rig.FOV = view.EarFOV
	w.matrix.Choose(&c)
	w.inspector.Follow(c.Speaker)
	w.redraw()
	w.moved()
}

// aimAtCell turns the camera along the path of the cell in look.
func (w *Window) aimAtCell() {
	c := *w.look.cell
	if c.Speaker == matrix.Picture {
		v := w.Result().Views[c.Seat]
		centre, _, _ := w.Design().Screen.Picture()
		w.view.Rig.LookAt(v.Eye, centre)
		return
	}
	if p := w.Result().Pair(c.Seat, c.Speaker); p.Worst >= 0 {
		path := p.Deciding()
		w.view.Rig.LookAt(path.From, path.To)
		return
	}
	b := w.Result().Bodies[c.Seat]
	w.view.Rig.LookAt(b.EarLeft.Lerp(b.EarRight, 0.5), w.Result().Speakers[c.Speaker].At.Vec())
}

// followLook keeps the camera with its seat after an edit.
func (w *Window) followLook() {
	r := w.Result()
	switch {
	case r == nil || w.view.Rig.Kind != view.Seat:
	case w.look.cell != nil && (w.look.cell.Seat >= len(r.Seats) || w.look.cell.Speaker >= len(r.Speakers)),
		w.look.seat >= len(r.Views):
		w.options.Seat = scene.None
		w.goBack()
	case w.look.cell != nil:
		w.aimAtCell()
	default:
		w.view.Rig.Eye = r.Views[w.look.seat].Eye
	}
	if r != nil && w.options.Seat >= len(r.Seats) {
		w.options.Seat = scene.None
	}
	if w.options.Speaker >= len(w.Design().Speakers) {
		w.options.Speaker = scene.None
	}
}

// leaveCell shows all rays again, the camera where it is.
func (w *Window) leaveCell() {
	if w.look.cell == nil {
		return
	}
	w.look.cell, w.look.back = nil, nil
	w.options.Only = false
	w.options.FromSeat = scene.None
	w.matrix.Choose(nil)
}

// goBack returns from a cell to the view before it. From a seat it returns to
// the overview, from elsewhere it only unselects.
func (w *Window) goBack() {
	back := w.look.back
	seat := w.view.Rig.Kind == view.Seat
	w.leaveCell()
	w.options.Seat, w.options.Speaker, w.options.FromSeat = scene.None, scene.None, scene.None
	switch {
	case back != nil:
		w.view.Rig = *back
		if back.Kind == view.Seat {
			w.options.FromSeat = w.look.seat
		}
	case seat:
		w.view.Rig.Kind = view.Overview
		if w.view.Rig.Dist == 0 {
			w.view.Fit()
		}
	}
	w.redraw()
	w.moved()
}

// selectSpeaker marks loudspeaker k in the picture.
func (w *Window) selectSpeaker(k int) {
	w.unlook()
	w.unmark()
	w.options.Seat, w.options.Speaker = scene.None, k
	w.redraw()
	w.showStatus()
}

// selectRow marks nothing, but leaves what was selected elsewhere.
func (w *Window) selectRow(int) {
	w.unlook()
	w.unmark()
	w.options.Seat, w.options.Speaker = scene.None, scene.None
	w.redraw()
	w.showStatus()
}

// selectSeat marks seat i in the picture and opens its row.
func (w *Window) selectSeat(i int) {
	w.unlook()
	w.unmark()
	w.options.Seat, w.options.Speaker = i, scene.None
	w.inspector.ShowRow(w.Result().Seats[i].Row - 1)
	w.redraw()
	w.showStatus()
}

// unlook leaves a cell for good: the camera returns, because a selection in the
// panel is about the room and not about one path.
func (w *Window) unlook() {
	if w.look.cell != nil {
		w.goBack()
	}
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
	switch {
	case w.Result() == nil || w.view.Rig.Kind != view.Seat:
		return w.view.Rig.Kind.String()
	case w.look.cell != nil && w.look.cell.Speaker != matrix.Picture:
		return fmt.Sprintf("From seat %s to %s", sight.SeatName(w.Result().Seats[w.look.seat]),
			w.Result().Speakers[w.look.cell.Speaker].Name())
	}
	return "From seat " + sight.SeatName(w.Result().Seats[w.look.seat])
}
