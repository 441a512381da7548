// SPDX-License-Identifier: MIT

package inspector

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/project/sight"
)

// picks adds a chip for each of names, of which the one at *shown is shown
// below them.
func (in *Inspector) picks(f *field.Form, shown *int, names func() []string) *field.Line {
	c := newChips(longChip, func(i int) {
		*shown = i
		in.show()
	})
	return f.AddObject(c.box, func() { c.show(names(), *shown, noVerdict) })
}

// noVerdict is for chips of what is not judged.
func noVerdict(int) sight.Verdict { return 0 }

// listButtons adds the buttons under a list: Add, Duplicate and Remove, the
// last two while there is something shown.
func listButtons(f *field.Form, add *field.Button, duplicate, remove func(), some func() bool) *field.Line {
	add.SetText("Add")
	add.SetIcon(base.ContentAddIcon())
	twin := field.NewButtonWithIcon("Duplicate", base.ContentCopyIcon(), duplicate)
	gone := field.NewButtonWithIcon("Remove", base.ContentRemoveIcon(), remove)
	return f.AddObject(container.NewGridWithColumns(3, add, twin, gone), func() {
		for _, b := range []*field.Button{twin, gone} {
			if on := some(); on == b.Disabled() {
				if on {
					b.Enable()
				} else {
					b.Disable()
				}
			}
		}
	})
}

// section adds a heading within a group, and returns whether what follows is
// open. It is shown while some holds.
func (in *Inspector) section(f *field.Form, title string, detail func() string, open *bool, some func() bool) func() bool {
	h := newHeading(title, func() {
		*open = !*open
		in.show()
	})
	in.sections[open] = h
	f.AddObject(h, func() { h.show(*open, detail()) }).When(some)
	return func() bool { return *open && some() }
}

// prose adds a faint text that wraps and follows the design; none while it is
// empty.
func (in *Inspector) prose(f *field.Form, text func() string) *field.Line {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	l.Importance = widget.LowImportance
	return f.AddObject(l, func() {
		if t := words.Of(text()); t != l.Text {
			l.SetText(t)
		}
	}).When(func() bool { return text() != "" })
}

// many is a list of forms, one an entry of a list in the design. It is made
// anew when their number changes.
type many struct {
	forms []*field.Form
	box   *fyne.Container
}

// many adds such a list. build makes the form of entry i and returns what is
// placed for it.
func (in *Inspector) many(f *field.Form, count func() int, build func(*field.Form, int) fyne.CanvasObject) *many {
	m := &many{box: container.New(layout.NewCustomPaddedVBoxLayout(2))}
	f.AddObject(m.box, func() {
		if n := count(); len(m.forms) != n {
			m.forms, m.box.Objects = nil, nil
			for i := range n {
				one := field.NewForm(f.Outer)
				m.forms = append(m.forms, one)
				m.box.Add(build(one, i))
			}
		}
		for _, one := range m.forms {
			one.Resized = in.relayout
			one.Update()
		}
	}).When(func() bool { return count() > 0 })
	return m
}

// entry returns a place within entry *i of a list in the design.
func entry[T, V any](list func() []T, i int, of func(*T) *V) *V {
	if l := list(); i >= 0 && i < len(l) {
		return of(&l[i])
	}
	return nil
}
