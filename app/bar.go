// SPDX-License-Identifier: MIT

package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/view"
	"earline/project/sight"
	"earline/scene"
)

// bar is the two strips of buttons: files over the inspector, views over the
// picture.
type bar struct {
	files, views fyne.CanvasObject

	save, undo, redo *widget.Button
	kinds            [len(view.Kinds)]*widget.Button
	seat, rays       *widget.Select
	people           *widget.Check
	labels, cones    *widget.Check
	quiet            bool // while update sets what is shown
}

// rayWords are the choices of rays, in the order of scene.Show.
var rayWords = []string{"problems", "all rays", "no rays"}

func (w *Window) newBar() *bar {
	b := &bar{}
	icon := func(r fyne.Resource, do func()) *widget.Button {
		button := widget.NewButtonWithIcon("", r, do)
		button.Importance = widget.LowImportance
		return button
	}
	b.save = icon(base.DocumentSaveIcon(), func() { w.save(nil) })
	b.undo = icon(base.ContentUndoIcon(), w.undo)
	b.redo = icon(base.ContentRedoIcon(), w.redo)
	b.files = container.New(layout.NewCustomPaddedHBoxLayout(1),
		icon(base.FileIcon(), w.newRoom), icon(base.FolderOpenIcon(), w.chooseFile), b.save,
		layout.NewSpacer(), b.undo, b.redo)

	strip := container.New(layout.NewCustomPaddedHBoxLayout(2))
	short := [...]string{"Overview", "Plan", "Long", "Cross", "Seat", "Walk"}
	for i, k := range view.Kinds {
		b.kinds[i] = widget.NewButton(short[i], func() { w.setView(k) })
		strip.Add(b.kinds[i])
	}
	b.seat = widget.NewSelect(nil, func(string) {
		if !b.quiet {
			w.sitIn(b.seat.SelectedIndex())
		}
	})
	b.seat.PlaceHolder = "seat"
	strip.Add(b.seat)
	strip.Add(widget.NewButton("Fit", w.view.Fit))
	strip.Add(layout.NewSpacer())
	b.rays = widget.NewSelect(rayWords, func(string) {
		if !b.quiet {
			w.setRays(scene.Show(b.rays.SelectedIndex()))
		}
	})
	strip.Add(b.rays)
	check := func(name string, option *bool) *widget.Check {
		c := widget.NewCheck(name, func(on bool) {
			if !b.quiet && *option != on {
				w.toggle(option)
			}
		})
		strip.Add(c)
		return c
	}
	b.people = check("people", &w.options.People)
	b.labels = check("labels", &w.options.Labels)
	b.cones = check("cones", &w.options.Cones)
	strip.Add(widget.NewButton("Client view", func() { w.setClient(true) }))
	b.views = strip
	return b
}

// update shows what is on and what can be done.
func (b *bar) update(w *Window) {
	b.quiet = true
	defer func() { b.quiet = false }()
	enable(b.undo, w.session.Doc.UndoLabel() != "")
	enable(b.redo, w.session.Doc.RedoLabel() != "")
	for i, k := range view.Kinds {
		importance := widget.MediumImportance
		if w.view.Rig.Kind == k {
			importance = widget.HighImportance
		}
		if b.kinds[i].Importance != importance {
			b.kinds[i].Importance = importance
			b.kinds[i].Refresh()
		}
	}
	if i := int(w.options.Rays); b.rays.SelectedIndex() != i {
		b.rays.SetSelectedIndex(i)
	}
	for c, on := range map[*widget.Check]bool{b.people: w.options.People, b.labels: w.options.Labels, b.cones: w.options.Cones} {
		if c.Checked != on {
			c.SetChecked(on)
		}
	}
	if w.session.Result() == nil {
		return
	}
	var names []string
	for _, s := range w.session.Result().Seats {
		names = append(names, sight.SeatName(s))
	}
	if !slices.Equal(names, b.seat.Options) {
		b.seat.SetOptions(names)
	}
	switch {
	case w.view.Rig.Kind != view.Seat:
		if b.seat.Selected != "" {
			b.seat.ClearSelected()
		}
	case b.seat.SelectedIndex() != w.look.seat:
		b.seat.SetSelectedIndex(w.look.seat)
	}
}

func enable(b *widget.Button, on bool) {
	if on == b.Disabled() {
		if on {
			b.Enable()
		} else {
			b.Disable()
		}
	}
}
