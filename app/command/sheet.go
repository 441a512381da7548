// SPDX-License-Identifier: MIT

package command

import (
	"slices"
	"strings"
)

// Section is the part of the sheet of keys that belongs to one menu.
type Section struct {
	Name  string // of the menu; empty for commands outside the menus
	Lines []SheetLine
}

// SheetLine is a command with its keys.
type SheetLine struct {
	ID, Keys, Name, Says string
}

// Sheet returns the commands that have a key, grouped by menu.
func (t Table) Sheet() []Section {
	var sheet []Section
	for _, c := range t {
		var keys []string
		for _, k := range append([]Key{c.Key}, c.Also...) {
			if k != (Key{}) {
				keys = append(keys, k.String())
			}
		}
		if len(keys) == 0 {
			continue
		}
		i := slices.IndexFunc(sheet, func(s Section) bool { return s.Name == c.Menu })
		if i < 0 {
			i = len(sheet)
			sheet = append(sheet, Section{Name: c.Menu})
		}
		sheet[i].Lines = append(sheet[i].Lines, SheetLine{c.ID, strings.Join(keys, " or "), c.Name, c.Says})
	}
	return sheet
}
