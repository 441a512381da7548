// SPDX-License-Identifier: MIT

package command

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// EventKey returns the key of an event. A key that types a character also arrives
// as a rune, so ignore one for which IsCharacter is true.
func EventKey(ev *fyne.KeyEvent) Key { return Key{Name: string(ev.Name)} }

// AddShortcuts registers the keys with Ctrl that Fyne's menu does not handle: those
// in Also, and those of commands without a menu.
func AddShortcuts(c fyne.Canvas, t Table, run func(Command)) {
	for _, command := range t {
		keys := command.Also
		if command.Menu == "" {
			keys = append([]Key{command.Key}, keys...)
		}
		for _, k := range keys {
			if k.Ctrl {
				c.AddShortcut(shortcutOf(k), func(fyne.Shortcut) { run(command) })
			}
		}
	}
}

// shortcutOf returns Fyne's shortcut for k. The driver sends Ctrl+Z and others as
// types of their own.
func shortcutOf(k Key) fyne.Shortcut {
	switch k {
	case Key{Name: "Z", Ctrl: true}:
		return &fyne.ShortcutUndo{}
	case Key{Name: "Y", Ctrl: true}:
		return &fyne.ShortcutRedo{}
	case Key{Name: "X", Ctrl: true}:
		return &fyne.ShortcutCut{}
	case Key{Name: "C", Ctrl: true}:
		return &fyne.ShortcutCopy{}
	case Key{Name: "V", Ctrl: true}:
		return &fyne.ShortcutPaste{}
	case Key{Name: "A", Ctrl: true}:
		return &fyne.ShortcutSelectAll{}
	}
	s := &desktop.CustomShortcut{KeyName: fyne.KeyName(k.Name)}
	if k.Ctrl {
		s.Modifier |= fyne.KeyModifierShortcutDefault
	}
	if k.Shift {
		s.Modifier |= fyne.KeyModifierShift
	}
	return s
}
