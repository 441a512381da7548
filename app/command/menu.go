// SPDX-License-Identifier: MIT

package command

import "slices"

// Menu is a menu as it should look now.
type Menu struct {
	Name  string
	Items []Item
}

// Item is one line of a menu.
type Item struct {
	ID        string
	Label     string
	LineAbove bool
	Key       Key
	Dimmed    bool // cannot be done now
	On        bool
	Submenu   []Item
}

// Menus returns the menus, in the order in which the table first names them.
func (t Table) Menus() []Menu {
	var menus []Menu
	for _, c := range t {
		if c.Menu == "" {
			continue
		}
		i := slices.IndexFunc(menus, func(m Menu) bool { return m.Name == c.Menu })
		if i < 0 {
			i = len(menus)
			menus = append(menus, Menu{Name: c.Menu})
		}
		menus[i].Items = append(menus[i].Items, c.item())
	}
	return menus
}

func (c Command) item() Item {
	i := Item{ID: c.ID, Label: c.Label(), LineAbove: c.LineAbove, Key: c.Key, Dimmed: c.Refusal() != nil, On: c.IsOn()}
	if c.Items != nil {
		for _, under := range c.Items() {
			i.Submenu = append(i.Submenu, under.item())
		}
		i.Dimmed = i.Dimmed || len(i.Submenu) == 0
	}
	return i
}

// SameMenus reports whether two menus look the same.
func SameMenus(a, b []Menu) bool {
	return slices.EqualFunc(a, b, func(a, b Menu) bool { return a.Name == b.Name && sameItems(a.Items, b.Items) })
}

func sameItems(a, b []Item) bool {
	return slices.EqualFunc(a, b, func(a, b Item) bool {
		return a.ID == b.ID && a.Label == b.Label && a.LineAbove == b.LineAbove && a.Key == b.Key &&
			a.Dimmed == b.Dimmed && a.On == b.On && sameItems(a.Submenu, b.Submenu)
	})
}
