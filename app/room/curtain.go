// SPDX-License-Identifier: MIT

package room

import (
	"errors"
	"fmt"

	"earline/app/command"
	"earline/app/view"
	"earline/project"
	"earline/scene"
)

// curtain divides the client view: left of it another design of the document is seen, as a
// rule the room as it was found.
type curtain struct {
	with    string  // the name of that design; empty for no curtain
	last    string  // with, while it was last drawn
	at      float64 // share of the width that is left of it
	builder scene.Builder
}

const middle = 0.5

// Curtain returns the design that is seen left of a curtain, nil for none, and over what
// share of the width.
func (p *Picture) Curtain() (before *project.Design, at float64) {
	d := p.session.Design()
	i := d.VariantNamed(p.curtain.with)
	if !p.options.Client || p.curtain.with == "" || i < 0 || p.View.Rig.Kind.Axes() != (scene.Axes{}) {
		return nil, 0
	}
	return &d.Variants[i], p.curtain.at
}

// hang hangs the curtain before the picture of w, or takes it away.
func (p *Picture) hang(w order) {
	before, at := p.Curtain()
	if before == nil || w.o.Fade != nil {
		p.lighting.other.end()
		p.View.SetCurtain(nil)
		return
	}
	c := &view.Curtain{At: at, Left: before.VariantName(), Right: w.d.VariantName()}
	here := p.View.Rig.Camera()
	there, seat := scene.SameSeat(w.d, before, w.o.FromSeat, here)
	c.By = there.Eye.Sub(here.Eye)
	other := order{before, nil, w.o}
	other.o.FromSeat = seat
	if c.List = p.lit(other, &p.lighting.other); c.List == nil {
		c.List = p.curtain.builder.Build(before, nil, other.o)
	}
	p.View.SetCurtain(c)
}

// curtainable says why there is nothing to draw a curtain before.
func (p *Picture) curtainable() error {
	if len(p.session.Design().Variants) == 0 {
		return errors.New("the file has no other design: the page Compare keeps one beside the plan")
	}
	return nil
}

// SetCurtain shows the design of that name left of a curtain, in the client view; none
// takes the curtain away.
func (p *Picture) SetCurtain(with string) {
	p.curtain.with = with
	if with != "" {
		p.curtain.last = with
	}
	if with != "" && !p.options.Client {
		p.setClient(true)
		return
	}
	p.showOptions()
}

// toggleCurtain draws the curtain before what it was last drawn before, else before the
// room as found, else before the first other design; or takes it away.
func (p *Picture) toggleCurtain() {
	d := p.session.Design()
	switch i := d.VariantNamed(p.curtain.last); {
	case p.curtain.with != "" && p.options.Client:
		p.SetCurtain("")
	case p.curtain.last != "" && i >= 0:
		p.SetCurtain(p.curtain.last)
	default:
		p.SetCurtain(d.Variants[max(d.AsFound(), 0)].Variant.Name)
	}
}

// curtainCommands draw the curtain and move it.
func (p *Picture) curtainCommands() []command.Command {
	const step = 0.05
	move := func(id, name, says, key, arrow string, by float64) command.Command {
		return command.Command{ID: "view.curtain." + id, Name: name, Menu: "Show", Key: plain(key), Also: []command.Key{{Name: arrow, Ctrl: true}}, Says: says,
			Can: func() error {
				if before, _ := p.Curtain(); before == nil {
					return errors.New("there is no curtain")
				}
				return nil
			},
			Do: func() { p.View.MoveCurtain(p.curtain.at + by) }}
	}
	return []command.Command{
		{ID: "view.curtain", Name: "Curtain before and after", Menu: "Show", LineAbove: true, Key: plain("X"),
			Says: "Shows the room as found left of a curtain and the plan right of it, in the client view.",
			Can:  p.curtainable, Do: p.toggleCurtain,
			On: func() bool { before, _ := p.Curtain(); return before != nil }},
		{ID: "view.curtain.before", Name: "Before the curtain", Menu: "Show",
			Says: "Chooses the design that is seen left of the curtain.",
			Can:  p.curtainable,
			Items: func() (all []command.Command) {
				for i := range p.session.Design().Variants {
					name := p.session.Design().Variants[i].Variant.Name
					all = append(all, command.Command{ID: fmt.Sprintf("view.curtain.before.%d", i+1), Name: name, Says: "Shows this design left of the curtain.",
						Do: func() { p.SetCurtain(name) },
						On: func() bool { return p.curtain.with == name }})
				}
				return all
			}},
		move("left", "Curtain to the left", "Moves the curtain to the left: more of the plan is seen.", ",", "Left", -step),
		move("right", "Curtain to the right", "Moves the curtain to the right: more of the room before is seen.", ".", "Right", step),
	}
}
