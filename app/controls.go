// SPDX-License-Identifier: MIT

package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"earline/app/command"
)

// controls are the main menu and the two strips of buttons: files above the inspector,
// views above the picture.
type controls struct {
	menu         *command.MainMenu
	files, views fyne.CanvasObject
	toolbars     []*command.Toolbar
}

func newControls(t command.Table, run func(command.Command)) *controls {
	c := &controls{menu: command.NewMainMenu(t, run)}
	both := func(left, right command.Bar) fyne.CanvasObject {
		a, b := command.NewToolbar(t, left, run), command.NewToolbar(t, right, run)
		c.toolbars = append(c.toolbars, a, b)
		return container.New(strip{len(a.Controls)}, slices.Concat(a.Controls, b.Controls)...)
	}
	c.files = both(command.Files, command.Edits)
	c.views = both(command.Views, command.Options)
	return c
}

// update shows what is on and what can be done.
func (c *controls) update() {
	for _, t := range c.toolbars {
		t.Update()
	}
	c.menu.Update()
}

// showAround shows what is about the picture, or in the client view nothing of it.
func (w *Window) showAround(client bool) {
	for _, o := range []fyne.CanvasObject{w.side, w.drawer.object, w.controls.views, w.foot} {
		if client {
			o.Hide()
		} else {
			o.Show()
		}
	}
	if client && !w.room.Alone() {
		w.client.object.Show()
	} else {
		w.client.object.Hide()
	}
	w.across.Refresh()
	w.down.Refresh()
	w.win.Content().Refresh()
}

// fullScreen gives the picture the whole screen, or the window its frame and menu again.
func (w *Window) fullScreen(on bool) {
	if on {
		w.win.SetMainMenu(nil)
		// Fyne leaves the room that the menu took until the window is resized.
		w.win.SetPadded(false)
		w.win.Content().Resize(w.win.Canvas().Size())
	} else {
		w.win.SetMainMenu(w.controls.menu.Fyne)
	}
	w.win.SetFullScreen(on)
}

// key handles the keys that the focused widget did not use.
func (w *Window) key(ev *fyne.KeyEvent) {
	if w.ask.Busy() {
		w.ask.Key(ev.Name)
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

// findCommand shows the list of all commands.
func (w *Window) findCommand() {
	w.commit()
	w.ask.Show(command.NewFinder(w.commands, w.win, w.run), 640, 540)
}
