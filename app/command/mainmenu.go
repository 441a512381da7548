// SPDX-License-Identifier: MIT

package command

import (
	"fyne.io/fyne/v2"

	"earline/app/words"
)

// MainMenu is a table as Fyne's menu. UI goroutine only.
type MainMenu struct {
	Fyne *fyne.MainMenu // empty until the first Update

	table Table
	run   func(Command)
	shown []Menu
}

// NewMainMenu returns a menu that calls run with the command that was chosen.
func NewMainMenu(t Table, run func(Command)) *MainMenu {
	return &MainMenu{Fyne: fyne.NewMainMenu(), table: t, run: run}
}

// Update shows what is on and what can be done now. Fyne rebuilds its whole menu
// bar for any change, which takes a millisecond or more, so Update does nothing
// while the menu would look the same.
func (m *MainMenu) Update() {
	now := m.table.Menus()
	if SameMenus(now, m.shown) {
		return
	}
	m.shown = now
	m.Fyne.Items = nil
	for _, menu := range now {
		m.Fyne.Items = append(m.Fyne.Items, fyne.NewMenu(words.Of(menu.Name), m.items(menu.Items)...))
	}
	m.Fyne.Refresh()
}

func (m *MainMenu) items(of []Item) []*fyne.MenuItem {
	var items []*fyne.MenuItem
	for _, i := range of {
		if i.LineAbove {
			items = append(items, fyne.NewMenuItemSeparator())
		}
		item := fyne.NewMenuItem(words.Of(i.Label), nil)
		item.Disabled, item.Checked, item.IsQuit = i.Dimmed, i.On, i.ID == Quit
		if i.Key != (Key{}) {
			// Keys without Ctrl are only displayed: Fyne never triggers those.
			item.Shortcut = shortcutOf(i.Key)
		}
		if i.Submenu != nil {
			item.ChildMenu = fyne.NewMenu("", m.items(i.Submenu)...)
		} else {
			item.Action = func() {
				if c, ok := m.table.Command(i.ID); ok {
					m.run(c)
				}
			}
		}
		items = append(items, item)
	}
	return items
}
