// SPDX-License-Identifier: MIT

package app

import (
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/app/hear"
	"earline/app/view"
	"earline/assets"
	"earline/project"
	"earline/project/practice"
	"earline/project/sight"
	"earline/scene"
)

// menu is the main menu and those of its items that change.
type menu struct {
	main *fyne.MainMenu

	recent, seats  *fyne.MenuItem
	undo, redo     *fyne.MenuItem
	kinds          []*fyne.MenuItem
	rays           []*fyne.MenuItem
	people, labels *fyne.MenuItem
	cones, client  *fyne.MenuItem
	metric, inch   *fyne.MenuItem
	own            *fyne.MenuItem
	shown          string // what update last showed
}

// ctrl is the platform's main modifier.
const ctrl = fyne.KeyModifierShortcutDefault

func item(label string, do func(), key fyne.KeyName, mod fyne.KeyModifier) *fyne.MenuItem {
	i := fyne.NewMenuItem(label, do)
	if key != "" {
		// Keys without modifier are only shown here; Window.key and .rune act on
		// them, so that they can be typed into an entry.
		i.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: mod}
	}
	return i
}

func (w *Window) newMenu() *menu {
	m := &menu{}
	line := fyne.NewMenuItemSeparator

	m.recent = fyne.NewMenuItem("Open recent", nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	demos := fyne.NewMenuItem("Demo rooms", nil)
	demos.ChildMenu = fyne.NewMenu("")
	for _, d := range assets.Demos() {
		demos.ChildMenu.Items = append(demos.ChildMenu.Items, fyne.NewMenuItem(d.Title, func() { w.openDemo(d) }))
	}
	quit := item("Quit", w.quit, fyne.KeyQ, ctrl)
	quit.IsQuit = true
	files := fyne.NewMenu("File",
		item("New room", w.newRoom, fyne.KeyN, ctrl),
		item("Open…", w.chooseFile, fyne.KeyO, ctrl),
		m.recent, demos, line(),
		item("Save", func() { w.save(nil) }, fyne.KeyS, ctrl),
		item("Save as…", func() { w.saveAs(nil) }, fyne.KeyS, ctrl|fyne.KeyModifierShift),
		item("Save picture…", w.savePicture, fyne.KeyE, ctrl),
		line(), quit)

	m.undo = fyne.NewMenuItem("Undo", w.undo)
	m.undo.Shortcut = &fyne.ShortcutUndo{}
	m.redo = item("Redo", w.redo, fyne.KeyZ, ctrl|fyne.KeyModifierShift)
	edits := fyne.NewMenu("Edit", m.undo, m.redo)

	views := fyne.NewMenu("View")
	keys := [...]fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4, fyne.Key5, fyne.Key6}
	for i, k := range view.Kinds {
		m.kinds = append(m.kinds, item(k.String(), func() { w.setView(k) }, keys[i], 0))
	}
	m.seats = fyne.NewMenuItem("Sit in", nil)
	m.seats.ChildMenu = fyne.NewMenu("")
	for i, words := range []string{"Problem rays", "All rays", "No rays"} {
		m.rays = append(m.rays, fyne.NewMenuItem(words, func() { w.setRays(scene.Show(i)) }))
	}
	m.people = item("People", func() { w.toggle(&w.options.People) }, fyne.KeyP, 0)
	m.labels = item("Labels", func() { w.toggle(&w.options.Labels) }, fyne.KeyL, 0)
	m.cones = item("Coverage cones", func() { w.toggle(&w.options.Cones) }, fyne.KeyK, 0)
	m.client = item("Client view", func() { w.setClient(!w.options.Client) }, fyne.KeyF11, 0)
	m.metric = fyne.NewMenuItem("Metric lengths", func() { w.setUnits(project.Metric) })
	m.inch = fyne.NewMenuItem("Imperial lengths", func() { w.setUnits(project.Imperial) })
	views.Items = append(views.Items, m.kinds...)
	views.Items = append(views.Items, m.seats, item("Fit the room in", w.view.Fit, fyne.KeyF, 0), line())
	views.Items = append(views.Items, m.rays...)
	views.Items = append(views.Items, line(), m.people, m.labels, m.cones, line(), m.client, line(), m.metric, m.inch)

	m.own = fyne.NewMenuItem("Back to the rules' own limits", func() { w.setStandard(practice.Standard{}) })
	rules := fyne.NewMenu("Practice",
		item("What the rules find", func() { w.drawer.show(practicePage) }, fyne.KeyF3, 0), line(),
		fyne.NewMenuItem("Open a house standard…", w.openStandard),
		fyne.NewMenuItem("Save the house standard…", w.saveStandard), m.own)

	solve := fyne.NewMenu("Solve")
	for _, s := range solvers() {
		solve.Items = append(solve.Items, fyne.NewMenuItem(s.name+"…", func() { w.wish(s) }))
	}

	sounds := fyne.NewMenu("Sound")
	for _, t := range hear.Topics() {
		sounds.Items = append(sounds.Items, fyne.NewMenuItem(t.String(), func() { w.showTopic(t) }))
	}
	sounds.Items = append(sounds.Items, line(),
		fyne.NewMenuItem("Set delays and levels for the main position", w.setDelaysAndLevels),
		fyne.NewMenuItem("Read measured directivity…", w.choosePolar))

	help := fyne.NewMenu("Help",
		item("Keys and mouse", w.showKeys, fyne.KeyF1, 0),
		fyne.NewMenuItem("About Earline", w.showAbout))
	m.main = fyne.NewMainMenu(files, edits, views, rules, sounds, solve, help)
	return m
}

// update shows what is on and what can be done. Making the menu anew costs a
// millisecond or more, so it is done only when something differs.
func (m *menu) update(w *Window) {
	undo, redo := w.session.Doc.UndoLabel(), w.session.Doc.RedoLabel()
	recent := w.recent()
	units := w.session.Doc.Design().Units
	seats := 0
	if w.session.Result() != nil {
		seats = len(w.session.Result().Seats)
	}
	now := fmt.Sprintln(undo, redo, recent, units, seats, w.view.Rig.Kind, w.options.Rays, w.options.People,
		w.options.Labels, w.options.Cones, w.options.Client, len(w.session.Standard().Changes))
	if now == m.shown {
		return
	}
	m.shown = now
	name := func(i *fyne.MenuItem, verb, label string) {
		i.Label, i.Disabled = verb, label == ""
		if label != "" {
			i.Label = verb + ": " + label
		}
	}
	name(m.undo, "Undo", undo)
	name(m.redo, "Redo", redo)
	m.recent.ChildMenu.Items = nil
	for _, p := range recent {
		m.recent.ChildMenu.Items = append(m.recent.ChildMenu.Items,
			fyne.NewMenuItem(filepath.Base(p)+"  in  "+filepath.Dir(p), func() { w.confirmUnsaved(func() { w.open(p) }) }))
	}
	m.recent.Disabled = len(recent) == 0
	m.showSeats(w)
	for i, k := range view.Kinds {
		m.kinds[i].Checked = w.view.Rig.Kind == k
	}
	for i := range m.rays {
		m.rays[i].Checked = int(w.options.Rays) == i
	}
	m.people.Checked, m.labels.Checked = w.options.People, w.options.Labels
	m.cones.Checked, m.client.Checked = w.options.Cones, w.options.Client
	m.metric.Checked, m.inch.Checked = units != project.Imperial, units == project.Imperial
	m.own.Disabled = len(w.session.Standard().Changes) == 0
	m.main.Refresh()
}

// showSeats lists the seats, row by row.
func (m *menu) showSeats(w *Window) {
	m.seats.ChildMenu.Items = nil
	if w.session.Result() == nil {
		return
	}
	var row *fyne.MenuItem
	for i, s := range w.session.Result().Seats {
		if row == nil || s.Number == 1 {
			row = fyne.NewMenuItem(fmt.Sprintf("Row %d", s.Row), nil)
			row.ChildMenu = fyne.NewMenu("")
			m.seats.ChildMenu.Items = append(m.seats.ChildMenu.Items, row)
		}
		row.ChildMenu.Items = append(row.ChildMenu.Items,
			fyne.NewMenuItem("Seat "+sight.SeatName(s), func() { w.sitIn(i) }))
	}
	m.seats.Disabled = len(m.seats.ChildMenu.Items) == 0
}
