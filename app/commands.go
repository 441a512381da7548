// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/app/view"
	"earline/assets"
	"earline/project"
	"earline/scene"
)

// commandTable lists everything that can be done in the window, menu by menu. The
// menu, the toolbars, the keys, the sheet of keys and the list are made from it.
func (w *Window) commandTable() command.Table {
	all := slices.Concat(w.fileCommands(), w.editCommands(), w.viewCommands(), w.pageCommands(), w.unitCommands())
	for _, l := range w.drawer.leaves {
		all = append(all, l.Commands()...)
	}
	return append(all, w.helpCommands()...)
}

// run runs c, unless a dialog is open. If c cannot be done now, the status line
// says why.
func (w *Window) run(c command.Command) {
	if w.ask.Busy() || c.Do == nil {
		return
	}
	if why := c.Refusal(); why != nil {
		w.session.Say("Not done: " + why.Error() + ".")
		return
	}
	c.Do()
}

func ctrl(key string) command.Key      { return command.Key{Name: key, Ctrl: true} }
func ctrlShift(key string) command.Key { return command.Key{Name: key, Ctrl: true, Shift: true} }
func plain(key string) command.Key     { return command.Key{Name: key} }

func (w *Window) fileCommands() command.Table {
	return command.Table{
		{ID: "file.new", Name: "New room", Menu: "File", Key: ctrl("N"), Bar: command.Files, Icon: "document",
			Says: "Starts a new room.",
			Do:   w.newRoom},
		{ID: "file.open", Name: "Open…", Menu: "File", Key: ctrl("O"), Bar: command.Files, Icon: "folderOpen",
			Says: "Opens a room from a file.",
			Do:   w.chooseFile},
		{ID: "file.recent", Name: "Open recent", Menu: "File",
			Says: "Opens a room you worked on before.",
			Can: func() error {
				if len(w.recent()) == 0 {
					return errors.New("no room has been opened or saved yet")
				}
				return nil
			},
			Items: w.recentCommands},
		{ID: "file.demo", Name: "Demo rooms", Menu: "File",
			Says:  "Opens one of the demo rooms.",
			Items: w.demoCommands},
		{ID: "file.save", Name: "Save", Menu: "File", LineAbove: true, Key: ctrl("S"), Bar: command.Files, Icon: "documentSave",
			Says: "Saves the room to its file.",
			Do:   func() { w.save(nil) }},
		{ID: "file.save-as", Name: "Save as…", Menu: "File", Key: ctrlShift("S"),
			Says: "Saves the room to another file and continues with that one.",
			Do:   func() { w.saveAs(nil) }},
		{ID: "file.save-picture", Name: "Save picture…", Menu: "File", Key: ctrl("E"),
			Says: "Saves what the picture shows as an image.",
			Can: func() error {
				if w.renderer == nil {
					return errNoPicture
				}
				return nil
			},
			Do: w.savePicture},
		{ID: command.Quit, Name: "Quit", Menu: "File", LineAbove: true, Key: ctrl("Q"),
			Says: "Closes Earline, and asks first if there are unsaved changes.",
			Do:   w.quit},
	}
}

func (w *Window) recentCommands() []command.Command {
	var recent []command.Command
	for i, path := range w.recent() {
		recent = append(recent, command.Command{ID: fmt.Sprintf("file.recent.%d", i+1),
			Name: filepath.Base(path) + "  in  " + filepath.Dir(path), Says: "Opens this room.",
			Do: func() { w.confirmUnsaved(func() { w.open(path) }) }})
	}
	return recent
}

func (w *Window) demoCommands() []command.Command {
	var demos []command.Command
	for _, d := range assets.Demos() {
		demos = append(demos, command.Command{ID: "file.demo." + d.Name, Name: d.Title, Says: d.Story,
			Do: func() { w.openDemo(d) }})
	}
	return demos
}

func (w *Window) editCommands() command.Table {
	return command.Table{
		{ID: "edit.undo", Name: "Undo", Menu: "Edit", Key: ctrl("Z"), Bar: command.Edits, Icon: "contentUndo",
			Says:   "Takes back the last change, or what you are typing.",
			Detail: func() string { return w.session.Doc.UndoLabel() },
			Can: func() error {
				if e, ok := w.win.Canvas().Focused().(*field.Entry); ok && e.Pending() || w.session.Dragging() || w.session.Doc.UndoLabel() != "" {
					return nil
				}
				return errors.New("there is nothing to undo")
			},
			Do: w.undo},
		{ID: "edit.redo", Name: "Redo", Menu: "Edit", Key: ctrlShift("Z"), Also: []command.Key{ctrl("Y")},
			Bar: command.Edits, Icon: "contentRedo",
			Says:   "Makes the last undone change again.",
			Detail: func() string { return w.session.Doc.RedoLabel() },
			Can: func() error {
				if w.session.Dragging() || w.session.Doc.RedoLabel() != "" {
					return nil
				}
				return errors.New("there is nothing to redo")
			},
			Do: w.redo},
	}
}

func (w *Window) viewCommands() command.Table {
	kind := func(id, key string, k view.Kind, short, says string) command.Command {
		return command.Command{ID: "view." + id, Name: k.String(), Short: short, Menu: "View", Key: plain(key),
			Bar: command.Views, Says: says,
			Do: func() { w.setView(k) },
			On: func() bool { return w.view.Rig.Kind == k }}
	}
	option := func(id, name, short, key string, on *bool, says string) command.Command {
		return command.Command{ID: "view." + id, Name: name, Short: short, Menu: "View", Key: plain(key),
			Bar: command.Options, Says: says,
			Do: func() { w.toggle(on) },
			On: func() bool { return *on }}
	}
	return command.Table{
		kind("overview", "1", view.Overview, "", "Shows the room from outside and above."),
		kind("plan", "2", view.Plan, "", "Shows the plan: from above, the screen at the top."),
		kind("long-section", "3", view.Long, "Long", "Shows the long section: from the side, the screen at the left."),
		kind("cross-section", "4", view.Cross, "Cross", "Shows the cross section, facing the screen."),
		kind("seat", "5", view.Seat, "Seat", "Shows the view from a seat; again, from the next seat."),
		kind("walk", "6", view.Walk, "", "Walks through the room with W A S D or the arrows, E and Q up and down."),
		{ID: "view.sit-in", Name: "Sit in", Menu: "View", Bar: command.Views,
			Says: "Shows the view from this seat.",
			Can: func() error {
				if w.session.Result() == nil || len(w.session.Result().Seats) == 0 {
					return errors.New("there is no seat")
				}
				return nil
			},
			Items: w.seatCommands},
		{ID: "view.fit", Name: "Fit room in view", Short: "Fit", Menu: "View", Key: plain("F"), Bar: command.Views,
			Says: "Fits the whole room into the picture.",
			Do:   func() { w.view.Fit() }},
		{ID: "view.client", Name: "Client view", Menu: "View", Key: plain("F11"), Also: []command.Key{plain("C")},
			Bar:  command.Views,
			Says: "Shows the room without the engineering; Esc goes back.",
			Do:   func() { w.setClient(!w.options.Client) },
			On:   func() bool { return w.options.Client }},
		{ID: "view.back", Name: "Go back", Menu: "View", Key: plain("Escape"),
			Says: "Leaves the client view, a remark, an ear or a seat; cancels a drag.",
			Do:   w.escape},
		{ID: "view.rays", Name: "Rays", Menu: "View", LineAbove: true, Bar: command.Options,
			Says:  "Chooses which rays are drawn.",
			Items: w.rayCommands},
		{ID: "view.next-rays", Name: "Change rays", Menu: "View", Key: plain("R"),
			Says: "Switches between problem rays, all rays and no rays.",
			Do:   func() { w.setRays((w.options.Rays + 1) % (scene.Nothing + 1)) }},
		option("people", "People", "", "P", &w.options.People, "Shows or hides the people."),
		option("labels", "Labels", "", "L", &w.options.Labels, "Shows or hides the names of loudspeakers and rows."),
		option("cones", "Coverage cones", "Cones", "K", &w.options.Cones, "Shows or hides the coverage of the loudspeakers."),
	}
}

// pageCommands bring up the pages that are always there, in the order of their tabs.
func (w *Window) pageCommands() command.Table {
	var t command.Table
	for i, l := range w.drawer.leaves {
		if _, ok := l.Page.(page.Transient); ok {
			continue
		}
		t = append(t, command.Command{ID: "view." + strings.ToLower(l.Title()) + "-page", Name: l.Title() + " page", Menu: "View",
			LineAbove: i == 0, Key: plain(fmt.Sprintf("F%d", i+2)), Says: l.Says(),
			Do: func() { w.drawer.show(l.Page) },
			On: func() bool { return w.drawer.top == l }})
	}
	return t
}

func (w *Window) unitCommands() command.Table {
	units := func(id, name, says string, u project.Units) command.Command {
		return command.Command{ID: "view." + id, Name: name, Menu: "View", Says: says,
			Do: func() { w.setUnits(u) },
			On: func() bool { return (w.session.Doc.Design().Units == project.Imperial) == (u == project.Imperial) }}
	}
	t := command.Table{
		units("metric", "Metric lengths", "Shows lengths in metres and millimetres.", project.Metric),
		units("imperial", "Imperial lengths", "Shows lengths in feet and inches.", project.Imperial),
	}
	t[0].LineAbove = true
	return t
}

func (w *Window) rayCommands() []command.Command {
	ray := func(id, name, short, says string, s scene.Show) command.Command {
		return command.Command{ID: "view.rays." + id, Name: name, Short: short, Says: says,
			Do: func() { w.setRays(s) },
			On: func() bool { return w.options.Rays == s }}
	}
	return []command.Command{
		ray("problems", "Problem rays", "", "Draws only the paths that are tight or blocked.", scene.Problems),
		ray("all", "All rays", "", "Draws every path from ear to loudspeaker.", scene.All),
		ray("none", "No rays", "", "Draws no rays.", scene.Nothing),
	}
}

// seatCommands lists the seats, row by row.
func (w *Window) seatCommands() []command.Command {
	if w.session.Result() == nil {
		return nil
	}
	var rows []command.Command
	var seats []command.Command // of the row at hand
	for i, s := range w.session.Result().Seats {
		if s.Number == 1 || rows == nil {
			seats = nil
			rows = append(rows, command.Command{ID: fmt.Sprintf("view.sit-in.%d", s.Row), Name: fmt.Sprintf("Row %d", s.Row)})
		}
		name := s.Name()
		seats = append(seats, command.Command{ID: "view.sit-in." + name, Name: "Seat " + name, Short: name,
			Says: "Shows the view from this seat.",
			Do:   func() { w.sitIn(i) },
			On:   func() bool { return w.view.Rig.Kind == view.Seat && w.look.seat == i }})
		of := seats
		rows[len(rows)-1].Items = func() []command.Command { return of }
	}
	return rows
}

func (w *Window) helpCommands() command.Table {
	return command.Table{
		{ID: "help.find", Name: "Find a command…", Menu: "Help", Key: ctrl("K"),
			Says: "Finds any command by a few letters.",
			Do:   w.findCommand},
		{ID: "help.keys", Name: "Keys and mouse", Menu: "Help", Key: plain("F1"),
			Says: "Shows the keys and what the mouse does.",
			Do:   w.showKeys},
		{ID: "help.about", Name: "About Earline", Menu: "Help",
			Says: "Shows the version, a caution and the licence.",
			Do:   w.showAbout},
	}
}
