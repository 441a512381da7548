// SPDX-License-Identifier: MIT

package command

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
)

// Toolbar is the controls of one Bar, from left to right. UI goroutine only.
type Toolbar struct {
	Controls []fyne.CanvasObject

	updates []func() // one for each control
}

// NewToolbar returns the controls of b. They call run with the command that was
// chosen.
func NewToolbar(t Table, b Bar, run func(Command)) *Toolbar {
	bar := &Toolbar{}
	for _, c := range t.ForBar(b) {
		switch {
		case c.Items != nil:
			bar.addChoice(c, run)
		case b == Options && c.On != nil:
			bar.addTick(c, run)
		default:
			bar.addButton(c, run)
		}
	}
	return bar
}

// Update shows what is on and what can be done now.
func (b *Toolbar) Update() {
	for _, update := range b.updates {
		update()
	}
}

func (b *Toolbar) add(control fyne.CanvasObject, update func()) {
	b.Controls = append(b.Controls, control)
	b.updates = append(b.updates, update)
}

func (b *Toolbar) addButton(c Command, run func(Command)) {
	button := field.NewButton(c.BarLabel(), func() { run(c) })
	off := widget.MediumImportance
	if c.Icon != "" {
		button = field.NewButtonWithIcon("", theme.DefaultTheme().Icon(fyne.ThemeIconName(c.Icon)), func() { run(c) })
		off = widget.LowImportance
		button.Importance = off
	}
	button.Tip = tip(c)
	b.add(button, func() {
		enable(button, c)
		importance := off
		if c.IsOn() {
			importance = widget.HighImportance
		}
		if button.Importance != importance {
			button.Importance = importance
			button.Refresh()
		}
	})
}

func (b *Toolbar) addTick(c Command, run func(Command)) {
	tick := field.NewTick(c.BarLabel(), nil)
	tick.Tip = tip(c)
	update := func() {
		enable(tick, c)
		if tick.Checked != c.IsOn() {
			tick.Checked = c.IsOn() // not SetChecked, which would call OnChanged
			tick.Refresh()
		}
	}
	tick.OnChanged = func(bool) {
		run(c)
		update() // unticks it if run refused
	}
	b.add(tick, update)
}

// addChoice adds a drop-down of the commands under c. It shows the one that is on,
// or else the name of c.
func (b *Toolbar) addChoice(c Command, run func(Command)) {
	var leaves []Command
	choice := field.NewSelect(nil, nil)
	choice.PlaceHolder, choice.Tip = words.Of(c.BarLabel()), tip(c)
	list := func() {
		leaves = nil
		if len(c.Items()) > 0 {
			leaves = c.leaves()
		}
		var names []string
		for _, l := range leaves {
			names = append(names, l.BarLabel())
		}
		if !slices.Equal(names, choice.Offered()) {
			choice.SetOptions(names)
		}
	}
	list()
	for _, name := range choice.Options {
		if len(name) > len(choice.PlaceHolder) {
			choice.PlaceHolder = name // Fyne takes the width from it
		}
	}
	update := func() {
		list()
		choice.ShowIndex(slices.IndexFunc(leaves, Command.IsOn))
	}
	choice.OnChanged = func(string) {
		if i := choice.SelectedIndex(); i >= 0 && i < len(leaves) {
			run(leaves[i])
		}
		update()
	}
	b.add(choice, update)
}

// tip returns what a control in a toolbar says of c: its name, its key and what it does.
func tip(c Command) string {
	name := c.Name
	if c.Key != (Key{}) {
		name += " (" + c.Key.String() + ")"
	}
	return name + "\n" + c.Says
}

// enable enables the control of c if c can be done now, and else disables it.
func enable(w fyne.Disableable, c Command) {
	can := c.Refusal() == nil
	switch {
	case can && w.Disabled():
		w.Enable()
	case !can && !w.Disabled():
		w.Disable()
	}
}
