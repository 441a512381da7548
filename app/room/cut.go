// SPDX-License-Identifier: MIT

package room

import (
	"errors"
	"fmt"
	"math"

	"earline/app/command"
	"earline/app/view"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// cutStep is how far a key moves the cut of a section, metres.
const cutStep = 0.1

// cutCommands choose where a section is cut, and move the cut.
func (p *Picture) cutCommands() []command.Command {
	sections := func() error {
		if k := p.View.Rig.Kind; k != view.Long && k != view.Cross {
			return errors.New("only the sections are cut")
		}
		return nil
	}
	return []command.Command{
		{ID: "view.cut", Name: "Cut the section", Menu: "Go", LineAbove: true,
			Says: "Leaves out what stands before a plane through the room.",
			Can:  sections, Items: p.cuts},
		{ID: "view.cut-further", Name: "Cut further in", Menu: "Go", Key: plain("Next"),
			Says: "Moves the cut of a section 0.1 m away from you.",
			Can:  sections, Do: func() { p.moveCut(cutStep) }},
		{ID: "view.cut-nearer", Name: "Cut nearer", Menu: "Go", Key: plain("Prior"),
			Says: "Moves the cut of a section 0.1 m towards you.",
			Can:  sections, Do: func() { p.moveCut(-cutStep) }},
	}
}

// cuts are the places where one would cut the section on show.
func (p *Picture) cuts() []command.Command {
	at := p.cut()
	if at == nil {
		return nil
	}
	through := func(id, name string, where float64) command.Command {
		return command.Command{ID: "view.cut." + id, Name: name, Says: "Cuts the section there.",
			Do: func() { *at = where; p.showCut() },
			On: func() bool { return math.Abs(*at-where) < cutStep/100 }}
	}
	d := p.session.Design()
	main := place.MainPoint(d)
	all := []command.Command{through("none", "Whole room", 0)}
	if p.View.Rig.Kind == view.Long {
		return append(all, through("main", "Main position", main.Y))
	}
	for i, r := range d.Seating.Rows {
		const behind = 0.15 // m behind the backs at the seats, so that the sitters stay
		all = append(all, through(fmt.Sprintf("row-%d", i+1), fmt.Sprintf("Row %d", i+1), float64(r.Distance)+behind))
	}
	return append(all, through("screen", "Screen", float64(d.Screen.Distance)+cutStep))
}

// cut is where the section on show is cut, to be changed; nil when none is on show.
func (p *Picture) cut() *float64 {
	switch p.View.Rig.Kind {
	case view.Long:
		return &p.View.Rig.Cut.Long
	case view.Cross:
		return &p.View.Rig.Cut.Cross
	}
	return nil
}

// moveCut moves the cut away from who looks; out of the room on their side it ends.
func (p *Picture) moveCut(by float64) {
	at := p.cut()
	near, far, away := p.View.Lo.Y, p.View.Hi.Y, 1.0
	if p.View.Rig.Kind == view.Cross {
		near, far, away = p.View.Hi.X, p.View.Lo.X, -1
	}
	if *at == 0 {
		*at = near
	}
	to := *at + away*by
	switch {
	case away*(to-near) < cutStep/2:
		to = 0
	case away*(far-to) < cutStep/2:
		return
	}
	*at = to
	p.showCut()
}

// showCut draws the cut and says where it is.
func (p *Picture) showCut() {
	at, from := *p.cut(), "the left wall"
	if p.View.Rig.Kind == view.Cross {
		from = "the screen wall"
	}
	p.session.Hint = ""
	if at != 0 {
		p.session.Hint = fmt.Sprintf("Cut %s from %s. Page Up and Page Down move it.", unit.Length(at).Format(p.session.Design().Units != project.Imperial), from)
	}
	p.Redraw()
	p.moved()
}
