// SPDX-License-Identifier: MIT

// Package command is the one table of what a user can do, and the menu, keys,
// toolbars, sheet of keys and searchable list made from it.
//
//	table := command.Table{{ID: "view.plan", Name: "Plan", Menu: "View", Key: command.Key{Name: "2"}, ...}}
//	table.Check()                  nil, or what is wrong with the table
//	table.Menus()                  the menu as plain data, compared to see whether it changed
//	table.ForKey(Key{Name: "2"})   the command of a key
//	table.Sheet()                  the keys, for people
//	table.Find("pl")               the commands that match, best first
//
// These are pure and know no toolkit. mainmenu.go, toolbar.go, shortcuts.go,
// finder.go, query.go and keysheet.go turn them into Fyne's widgets, for use on the UI
// goroutine only.
package command

// Command is one thing a user can do. Its functions run on the UI goroutine.
// All but Do are called whenever the menu is brought up to date, so they must be
// quick.
type Command struct {
	// ID is stable and unique: "view.plan".
	ID string
	// Name is what the command is called everywhere. It ends in an ellipsis if
	// the command asks for something before it acts.
	Name string
	// Short is the part of Name that a toolbar shows; empty for all of it.
	Short string
	// Says is what the command does, in one line.
	Says string
	// Detail returns what the command would act on now, to be shown after the
	// name, such as the change that would be undone. It may be nil.
	Detail func() string

	// Menu is the menu that has the command: "View". It is empty for a command
	// that only has a key and a place in the list. Commands returned by All have
	// their submenu here too: "View/Sit in".
	Menu string
	// LineAbove draws a line above the command in its menu.
	LineAbove bool
	// Key runs the command, and so do the keys in Also; the zero Key is none.
	Key  Key
	Also []Key
	// Bar is the toolbar that shows the command; empty for none.
	Bar Bar
	// Icon names the theme's icon that a toolbar shows in place of the name.
	Icon string

	// Do runs the command. It is nil if and only if Items is set.
	Do func()
	// Can returns nil if the command can be done now, else the reason as a short
	// clause: "there is nothing to undo". A nil Can means always.
	Can func() error
	// Editing is whether the command acts on the text or table that has the keyboard,
	// in a dialog too.
	Editing bool
	// On reports whether what the command switches is on. It is nil for commands
	// that switch nothing.
	On func() bool
	// Items returns the commands of a submenu, which a toolbar shows as a
	// drop-down. They have no Menu, Key or Bar of their own.
	Items func() []Command
}

// Bar is a toolbar. It shows a command as a button, or as a drop-down if the
// command has Items.
type Bar string

// The toolbars.
const (
	Files   Bar = "files"
	Edits   Bar = "edits"
	Views   Bar = "views"   // buttons: the one that is on is lit
	Options Bar = "options" // ticks: each is on or off by itself
)

// Quit is the ID of the command that ends the program, which some systems move to
// a menu of their own.
const Quit = "file.quit"

// Refusal returns why c cannot be done now, nil when it can.
func (c Command) Refusal() error {
	if c.Can == nil {
		return nil
	}
	return c.Can()
}

// IsOn reports whether c is a switch that is on.
func (c Command) IsOn() bool { return c.On != nil && c.On() }

// Label returns the name of c, followed by what it would act on now.
func (c Command) Label() string {
	if c.Detail != nil {
		if d := c.Detail(); d != "" {
			return c.Name + ": " + d
		}
	}
	return c.Name
}

// BarLabel returns the text of c in a toolbar.
func (c Command) BarLabel() string {
	if c.Short != "" {
		return c.Short
	}
	return c.Name
}
