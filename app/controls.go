// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"earline/app/command"
)

// menu is the main menu.
type menu struct {
	*command.MainMenu
	main *fyne.MainMenu
}

func (w *Window) newMenu() *menu {
	m := command.NewMainMenu(w.commands, w.run)
	command.AddShortcuts(w.win.Canvas(), w.commands, w.run)
	return &menu{m, m.Fyne}
}

func (m *menu) update(*Window) { m.Update() }

// bar holds the two strips of controls: files above the inspector, views above
// the picture.
type bar struct {
	files, views fyne.CanvasObject
	toolbars     []*command.Toolbar
}

func (w *Window) newBar() *bar {
	b := &bar{}
	strip := func(gap float32, left, right command.Bar) fyne.CanvasObject {
		c := container.New(layout.NewCustomPaddedHBoxLayout(gap))
		for i, name := range []command.Bar{left, right} {
			t := command.NewToolbar(w.commands, name, w.run)
			b.toolbars = append(b.toolbars, t)
			if i > 0 {
				c.Add(layout.NewSpacer())
			}
			for _, o := range t.Controls {
				c.Add(o)
			}
		}
		return c
	}
	b.files = strip(1, command.Files, command.Edits)
	b.views = strip(2, command.Views, command.Options)
	return b
}

func (b *bar) update(*Window) {
	for _, t := range b.toolbars {
		t.Update()
	}
}

// key handles the keys that the focused widget did not use.
func (w *Window) key(ev *fyne.KeyEvent) {
	if w.ask.Busy() {
		if ev.Name == fyne.KeyEscape {
			w.ask.Escape()
		}
		return
	}
	if k := command.EventKey(ev); !k.IsCharacter() {
		w.runKey(k)
	}
}

// rune handles letters and digits typed outside text entries.
func (w *Window) rune(r rune) { w.runKey(command.RuneKey(r)) }

func (w *Window) runKey(k command.Key) {
	if c, ok := w.commands.ForKey(k); ok {
		w.run(c)
	}
}

// escape leaves the first of these that there is: a drag, the client view, a
// marked remark, the view from an ear or a seat, the selection.
func (w *Window) escape() {
	switch {
	case w.cancelDrag():
	case w.options.Client:
		w.setClient(false)
	case !w.session.Chosen.Path && w.unmark():
	default:
		w.goBack()
	}
}

// findCommand shows the list of all commands.
func (w *Window) findCommand() {
	w.commit()
	w.ask.Show(command.NewFinder(w.commands, w.win, w.run), 640, 540)
}
