// SPDX-License-Identifier: MIT

package app

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/assets"
	"earline/project"
)

// commandTable lists everything that can be done in the window, menu by menu. The
// menu, the toolbars, the keys, the sheet of keys and the list are made from it.
func (w *Window) commandTable() command.Table {
	all := slices.Concat(w.fileCommands(), w.editCommands(), w.room.Commands(), w.filmCommands(), w.pageCommands(), w.partCommands(), w.themeCommands(), w.languageCommands(), w.unitCommands())
	for _, l := range w.drawer.tabs {
		all = append(all, l.Commands()...)
	}
	all = append(all, command.Command{ID: command.Quit, Name: "Quit", Menu: "File", LineAbove: true, Key: ctrl("Q"),
		Says: "Closes Earline, and asks first if there are unsaved changes.",
		Do:   w.quit}) // below what pages have in that menu
	return append(all, w.helpCommands()...)
}

// run runs c, unless a dialog is open. If c cannot be done now, the status line
// says why.
func (w *Window) run(c command.Command) {
	if w.ask.Busy() && !c.Editing || c.Do == nil {
		return
	}
	w.tips.Dismiss()
	if w.session.Hint != "" { // what was said is past
		w.session.Say("")
	}
	if why := c.Refusal(); why != nil {
		w.session.Say("Not done: " + why.Error() + ".")
		return
	}
	c.Do()
}

// runNamed runs the command with that ID.
func (w *Window) runNamed(id string) {
	if c, ok := w.commands.Command(id); ok {
		w.run(c)
	}
}

func ctrl(key string) command.Key      { return command.Key{Name: key, Ctrl: true} }
func ctrlShift(key string) command.Key { return command.Key{Name: key, Ctrl: true, Shift: true} }
func plain(key string) command.Key     { return command.Key{Name: key} }

func (w *Window) fileCommands() command.Table {
	return command.Table{
		{ID: "file.new", Name: "New room…", Menu: "File", Key: ctrl("N"), Bar: command.Files, Icon: "document",
			Says: "Plans a new room from its size, seats and system.",
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
		{ID: "file.import", Name: "Import backdrop…", Menu: "File", LineAbove: true,
			Says: "Puts a mesh (OBJ, glTF) or the lines of a plan (DXF) into the room.",
			Can: func() error {
				if len(w.session.Design().Backdrops) >= project.MaxBackdrops {
					return fmt.Errorf("a room has at most %d backdrops: remove one in the inspector", project.MaxBackdrops)
				}
				return nil
			},
			Do: w.chooseBackdrop},
		{ID: "file.save-picture", Name: "Save picture…", Menu: "File", Key: ctrl("E"),
			Says: "Saves what the picture shows as an image.",
			Can: func() error {
				if w.renderer == nil {
					return errNoPicture
				}
				return nil
			},
			Do: w.savePicture},
		{ID: "file.export", Name: "Export", Menu: "File",
			Says:  "Writes drawings, lists, papers or a model of the room.",
			Items: w.exportCommands},
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
			Editing: true,
			Do:      w.undo},
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
			Editing: true,
			Do:      w.redo},
		w.editing("cut", "Cut", "X", "Moves the selected text to the clipboard.",
			func(c fyne.Clipboard) fyne.Shortcut { return &fyne.ShortcutCut{Clipboard: c} }),
		w.editing("copy", "Copy", "C", "Copies the selected text, cell or line to the clipboard.",
			func(c fyne.Clipboard) fyne.Shortcut { return &fyne.ShortcutCopy{Clipboard: c} }),
		w.editing("paste", "Paste", "V", "Puts the text on the clipboard where the cursor is.",
			func(c fyne.Clipboard) fyne.Shortcut { return &fyne.ShortcutPaste{Clipboard: c} }),
		w.editing("select-all", "Select all", "A", "Selects the whole text of a field.",
			func(fyne.Clipboard) fyne.Shortcut { return &fyne.ShortcutSelectAll{} }),
	}
}

// editing returns a command for the text or table that has the keyboard.
func (w *Window) editing(id, name, key, says string, what func(fyne.Clipboard) fyne.Shortcut) command.Command {
	return command.Command{ID: "edit." + id, Name: name, Menu: "Edit", LineAbove: id == "cut", Key: ctrl(key), Says: says,
		Editing: true,
		Do: func() {
			if f, ok := w.win.Canvas().Focused().(fyne.Shortcutable); ok {
				f.TypedShortcut(what(w.fyne.Clipboard()))
				return
			}
			w.session.Say("Not done: no text or table has the keyboard.")
		}}
}

// pageCommands bring up the pages that are always there, in the order of their tabs.
func (w *Window) pageCommands() command.Table {
	var t command.Table
	keys := map[string]string{"Sight": "F2", "Rules": "F3", "Sound": "F4", "As built": "F7", "Set-out": "F9", "Compare": "F12"} // what other parts of the window leave
	for _, l := range w.drawer.tabs {
		if _, ok := l.Page.(page.Transient); ok {
			continue
		}
		var key command.Key
		if name, ok := keys[l.Title()]; ok {
			key = plain(name)
		}
		t = append(t, command.Command{ID: "view." + strings.ReplaceAll(strings.ToLower(l.Title()), " ", "-") + "-page", Name: l.Title() + " page", Menu: "Go", LineAbove: len(t) == 0,
			Key: key, Says: l.Says(),
			Do: func() { w.goToPage(l.Page) },
			On: func() bool { return w.drawer.top == l }})
	}
	return t
}

// partCommands move the keyboard about the window.
func (w *Window) partCommands() command.Table {
	return command.Table{
		{ID: "view.inspector", Name: "Inspector", Menu: "Go", LineAbove: true, Key: plain("F5"),
			Says: "Gives the keyboard to the inspector: Tab goes on, Enter opens a group.",
			Can:  w.inspectable,
			Do:   func() { w.win.Canvas().Focus(w.inspector.First()) }},
		{ID: "view.edit", Name: "Edit in the inspector", Menu: "Go",
			Says: "Opens a part of the inspector.",
			Can:  w.inspectable, Items: w.inspectorCommands},
		{ID: "view.next-part", Name: "Next part of the window", Menu: "Go", Key: plain("F6"),
			Says: "Gives the keyboard to the inspector, the picture, the page and the first steps in turn.",
			Do:   w.nextPart},
		{ID: "view.settle", Name: "What to settle first", Menu: "Go", Key: plain("F8"),
			Says: "Goes to what the status line names: a thing, a rule or a path.",
			Do:   w.leadToFirst},
	}
}

// inspectable says why the inspector is not there.
func (w *Window) inspectable() error {
	if !w.side.Visible() {
		return errors.New("the client view has no inspector: Esc goes back")
	}
	return nil
}

// inspectorCommands open the parts of the inspector.
func (w *Window) inspectorCommands() []command.Command {
	var all []command.Command
	for _, p := range w.inspector.Parts() {
		all = append(all, command.Command{ID: "view.edit." + strings.ReplaceAll(strings.ToLower(p.Name), " ", "-"), Name: p.Name,
			Says: "Opens this part of the inspector and gives it the keyboard.",
			Can:  w.inspectable, Do: p.Open})
	}
	return all
}

func (w *Window) unitCommands() command.Table {
	units := func(id, name, says string, u project.Units) command.Command {
		return command.Command{ID: "view." + id, Name: name, Says: says,
			Do: func() { w.setUnits(u) },
			On: func() bool { return (w.session.Doc.Design().Units == project.Imperial) == (u == project.Imperial) }}
	}
	return command.Table{{ID: "view.lengths", Name: "Lengths", Menu: "View", LineAbove: true, Says: "Chooses the units of lengths.",
		Items: func() []command.Command {
			return []command.Command{
				units("metric", "Metric lengths", "Shows lengths in metres and millimetres.", project.Metric),
				units("imperial", "Imperial lengths", "Shows lengths in feet and inches.", project.Imperial),
			}
		}}}
}

func (w *Window) helpCommands() command.Table {
	return command.Table{
		{ID: "help.find", Name: "Find a command…", Menu: "Help", Key: ctrl("K"),
			Says: "Finds any command by a few letters.",
			Do:   w.findCommand},
		{ID: "help.first-steps", Name: "First steps", Menu: "Help", LineAbove: true,
			Says: "Leads through the window in a demo room, in about five minutes.",
			Do:   w.firstSteps},
		{ID: "help.manual", Name: "Manual", Menu: "Help",
			Says:  "Opens a chapter of the manual.",
			Items: w.manualCommands},
		{ID: "help.keys", Name: "Keys and mouse", Menu: "Help", Key: plain("F1"),
			Says: "Shows the keys and what the mouse does.",
			Do:   w.showKeys},
		{ID: "view.menus", Name: "Menus", Menu: "Help", Key: plain("F10"),
			Says: "Opens the first menu: the arrows move, Enter chooses, Esc leaves.",
			Do:   w.openMenus},
		{ID: "help.about", Name: "About Earline", Menu: "Help",
			Says: "Shows the version, a caution and the licence.",
			Do:   w.showAbout},
	}
}
