// SPDX-License-Identifier: MIT

package room

import (
	"errors"
	"fmt"
	"slices"

	"earline/app/command"
	"earline/app/view"
	"earline/scene"
)

// Commands returns the views, and what can be drawn or left out.
func (p *Picture) Commands() []command.Command {
	kind := func(id, key string, k view.Kind, short, says string) command.Command {
		return command.Command{ID: "view." + id, Name: k.String(), Short: short, Menu: "View", Key: plain(key),
			Bar: command.Views, Says: says,
			Do: func() { p.SetView(k) },
			On: func() bool { return p.View.Rig.Kind == k }}
	}
	option := func(id, name, short, key string, on *bool, says string) command.Command {
		return command.Command{ID: "view." + id, Name: name, Short: short, Menu: "View", Key: plain(key),
			Bar: command.Options, Says: says,
			Do: func() { p.toggle(on) },
			On: func() bool { return *on }}
	}
	all := []command.Command{
		kind("overview", "1", view.Overview, "", "Shows the room from outside and above."),
		kind("plan", "2", view.Plan, "", "Shows the plan: from above, the screen at the top or the left, whichever is larger."),
		kind("long-section", "3", view.Long, "Long", "Shows the long section: from the side, the screen at the left."),
		kind("cross-section", "4", view.Cross, "Cross", "Shows the cross section, facing the screen."),
		kind("seat", "5", view.Seat, "Seat", "Shows the view from a seat; again, from the next seat."),
		kind("walk", "6", view.Walk, "", "Walks through the room with W A S D or the arrows, E and Q up and down."),
		{ID: "view.sit-in", Name: "Sit in", Menu: "View", Bar: command.Views,
			Says: "Shows the view from this seat.",
			Can: func() error {
				if p.session.Result() == nil || len(p.session.Result().Seats) == 0 {
					return errors.New("there is no seat")
				}
				return nil
			},
			Items: p.seatCommands},
		{ID: "view.fit", Name: "Fit room in view", Short: "Fit", Menu: "View", Key: plain("F"), Bar: command.Views,
			Says: "Fits the whole room into the picture.",
			Do:   func() { p.View.Fit() }},
		{ID: "view.nearer", Name: "Nearer", Menu: "Go", Key: plain("+"), Also: []command.Key{plain("=")},
			Says: "Brings what the picture shows nearer, as the wheel does.",
			Do:   func() { p.View.Nearer(1) }},
		{ID: "view.farther", Name: "Farther", Menu: "Go", Key: plain("-"),
			Says: "Shows more of the room, as the wheel does.",
			Do:   func() { p.View.Nearer(-1) }},
		{ID: "view.client", Name: "Client view", Short: "Client", Menu: "Show", Key: plain("C"),
			Bar:  command.Views,
			Says: "Shows the room without the engineering; Esc goes back.",
			Do: func() {
				p.stopPlaying()
				p.setAround(false)
				p.setClient(!p.options.Client)
			},
			On: func() bool { return p.options.Client && p.around == nil && p.playing == nil }},
		{ID: "view.around", Name: "Show around", Menu: "Show", Key: plain("F11"),
			Says: "Walks a client through the room, on the whole screen; Enter sits down, Esc ends.",
			Do:   func() { p.setAround(p.around == nil) },
			On:   func() bool { return p.around != nil }},
		{ID: "view.light", Name: "Light", Menu: "Show",
			Says: "Chooses the light of the client view.",
			Can:  p.lightable, Items: p.lightCommands},
		{ID: "view.back", Name: "Go back", Menu: "View", Key: plain("Escape"),
			Says: "Leaves the client view, a remark, an ear or a seat; cancels a drag.",
			Do:   p.Escape},
		{ID: "view.rays", Name: "Rays", Menu: "View", LineAbove: true, Bar: command.Options,
			Says:  "Chooses which rays are drawn.",
			Items: p.rayCommands},
		{ID: "view.next-rays", Name: "Change rays", Menu: "View", Key: plain("R"),
			Says: "Switches between problem rays, all rays and no rays.",
			Do:   func() { p.setRays((p.options.Rays + 1) % (scene.NoRays + 1)) }},
		option("people", "People", "", "P", &p.options.People, "Shows or hides the people."),
		option("labels", "Labels", "", "L", &p.options.Labels, "Shows or hides the names of loudspeakers and rows."),
		option("cones", "Coverage cones", "Cones", "K", &p.options.Cones, "Shows or hides the coverage of the loudspeakers."),
		{ID: "view.shape", Name: "Picture on the screen", Menu: "Show",
			Says:  "Chooses the shape of picture on the screen.",
			Items: p.shapeCommands},
		{ID: "view.beam", Name: "Beam of the projector", Menu: "Show",
			Says: "Shows or hides the light on its way to the screen, and how far the lens can shift the picture.",
			Can: func() error {
				if !p.session.Doc.Design().Projector.Given() {
					return errors.New("there is no projector")
				}
				return nil
			},
			Do: func() { p.toggle(&p.options.Beam) },
			On: func() bool { return p.options.Beam }},
	}
	return slices.Concat(all, p.showCommands(), p.exposureCommands(), p.curtainCommands(), p.cutCommands())
}

func (p *Picture) rayCommands() []command.Command {
	ray := func(id, name, short, says string, s scene.Show) command.Command {
		return command.Command{ID: "view.rays." + id, Name: name, Short: short, Says: says,
			Do: func() { p.setRays(s) },
			On: func() bool { return p.options.Rays == s }}
	}
	return []command.Command{
		ray("problems", "Problem rays", "", "Draws only the paths that are tight or blocked.", scene.Problems),
		ray("all", "All rays", "", "Draws every path from ear to loudspeaker.", scene.All),
		ray("none", "No rays", "", "Draws no rays.", scene.NoRays),
	}
}

// seatCommands lists the seats, row by row.
func (p *Picture) seatCommands() []command.Command {
	if p.session.Result() == nil {
		return nil
	}
	var rows []command.Command
	var seats []command.Command // of the row at hand
	for i, s := range p.session.Result().Seats {
		if s.Number == 1 || rows == nil {
			seats = nil
			rows = append(rows, command.Command{ID: fmt.Sprintf("view.sit-in.%d", s.Row), Name: fmt.Sprintf("Row %d", s.Row)})
		}
		name := s.Name()
		seats = append(seats, command.Command{ID: "view.sit-in." + name, Name: "Seat " + name, Short: name,
			Says: "Shows the view from this seat.",
			Do:   func() { p.SitIn(i) },
			On:   func() bool { return p.View.Rig.Kind == view.Seat && p.look.seat == i }})
		of := seats
		rows[len(rows)-1].Items = func() []command.Command { return of }
	}
	return rows
}

// setRays, and the functions after it, change what the picture shows.
func (p *Picture) setRays(s scene.Show) {
	p.options.Rays = s
	p.showOptions()
}

func (p *Picture) toggle(option *bool) {
	*option = !*option
	p.showOptions()
}

func (p *Picture) showOptions() {
	p.Redraw()
	p.Changed()
}

// setClient shows the room alone, or everything again.
func (p *Picture) setClient(on bool) {
	if !on && p.options.Client {
		p.View.Caption("")
	}
	p.options.Client = on
	p.OnClient(on)
	p.showOptions()
	p.Commit()
}

// Tell shows words in the client view, which has no status line; none take them away, but
// not what a walk or a tour says.
func (p *Picture) Tell(words string) {
	switch shows := p.around != nil || p.playing != nil; {
	case !p.options.Client || words == "" && shows:
	case p.around != nil:
		p.say(words)
	default:
		p.View.Caption(words)
	}
}

func plain(key string) command.Key { return command.Key{Name: key} }
