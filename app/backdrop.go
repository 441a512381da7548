// SPDX-License-Identifier: MIT

package app

import (
	"path/filepath"
	"strings"

	"earline/app/ask"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/disk"
	"earline/project/mesh"
)

// chooseBackdrop asks for a mesh or a plan, and puts it into the room.
func (w *Window) chooseBackdrop() {
	if w.ask.Busy() {
		return
	}
	w.commit()
	w.ask.OpenAny(mesh.Endings(), w.importBackdrop)
}

// importBackdrop reads the file at path beside the window and asks how it lies in the
// room.
func (w *Window) importBackdrop(path string) {
	name := filepath.Base(path)
	w.session.Say("Reading " + name + "…")
	doc := w.session.Doc
	go func() {
		data, err := disk.Read(path, mesh.MaxSize)
		var f *mesh.File
		if err == nil {
			f, err = mesh.Read(data, name)
		}
		w.cfg.Post(func() {
			if w.closed || w.session.Doc != doc {
				return
			}
			w.session.Say("")
			if err != nil {
				w.ask.Report(name+" cannot be imported", err)
				return
			}
			if !w.ask.Busy() {
				w.askBackdrop(f, mesh.Called(name))
			}
		})
	}()
}

// askBackdrop asks in which unit a mesh is and where it lies, and puts it into the
// room: one step of undo.
func (w *Window) askBackdrop(m *mesh.File, name string) {
	units := project.BackdropUnits()
	var names []string
	chosen := uint8(0)
	for i, u := range units {
		names = append(names, string(u))
		if u == m.Guess() {
			chosen = uint8(i)
		}
	}
	said := "The file says that it is in " + string(m.Unit) + "."
	if m.Unit == "" {
		said = "The file does not say its unit; in " + string(m.Guess()) + " it is most like a room."
	}
	if s, err := m.Scale(m.Guess()); err == nil {
		for _, line := range m.Words(s, w.session.Design().Units) {
			said += "\n" + strings.ToUpper(line[:1]) + line[1:] + "."
		}
	}
	var at project.Point
	var turn unit.Degrees
	obstacle := false
	f := &ask.Options{Units: w.session.Design().Units}
	f.Text("Name", &name)
	f.Choice("Unit", names, &chosen)
	f.Length("From screen wall", &at.X)
	f.Length("From left wall", &at.Y)
	f.Length("Above floor", &at.Z)
	f.Degrees("Turn", &turn)
	f.Tick("In the way of sight", &obstacle)
	w.ask.Form("Import backdrop", said, "Import", f.Items(), f.First(), func() error {
		if err := f.Read(); err != nil {
			return err
		}
		b, _, err := m.Backdrop(name, units[chosen])
		if err != nil {
			return err
		}
		b.At, b.Turn, b.Obstacle = at, turn, obstacle
		return w.session.Do("import "+b.Words(), "", func(d *project.Design) { d.Backdrops = append(d.Backdrops, b) })
	})
}
