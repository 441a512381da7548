// SPDX-License-Identifier: MIT

package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Table lists commands in the order of the menu.
type Table []Command

// Command returns the command with that ID, also from among Items.
func (t Table) Command(id string) (Command, bool) {
	for _, c := range t.All() {
		if c.ID == id {
			return c, true
		}
	}
	return Command{}, false
}

// ForKey returns the command that k runs. ok is false if there is none.
func (t Table) ForKey(k Key) (c Command, ok bool) {
	if k == (Key{}) {
		return Command{}, false
	}
	for _, c := range t {
		if c.Key == k || slices.Contains(c.Also, k) {
			return c, true
		}
	}
	return Command{}, false
}

// ForBar returns the commands of a toolbar.
func (t Table) ForBar(b Bar) []Command {
	return slices.DeleteFunc(slices.Clone(t), func(c Command) bool { return c.Bar != b })
}

// All returns the commands with every submenu replaced by its Items. A submenu
// that has none now stays, because its Can may say why.
func (t Table) All() []Command {
	var all []Command
	for _, c := range t {
		all = append(all, c.leaves()...)
	}
	return all
}

// leaves returns c, or the commands under it if it has any.
func (c Command) leaves() []Command {
	if c.Items == nil {
		return []Command{c}
	}
	var leaves []Command
	for _, i := range c.Items() {
		i.Menu = c.submenu()
		leaves = append(leaves, i.leaves()...)
	}
	if len(leaves) == 0 {
		return []Command{c}
	}
	return leaves
}

// submenu returns where the Items of c are in the menu.
func (c Command) submenu() string { return strings.TrimPrefix(c.Menu+"/"+c.Name, "/") }

// entryKeys are the keys that with Ctrl always belong to text entries.
var entryKeys = []string{"A", "C", "V", "X"}

// Check returns every fault of the table, joined: commands that share an ID, a
// place in the menu or a key; commands without a name, an explanation or anything
// to do; keys that could never arrive.
func (t Table) Check() error {
	var faults []error
	fault := func(c Command, format string, args ...any) {
		faults = append(faults, fmt.Errorf("command %q: %s", c.ID, fmt.Sprintf(format, args...)))
	}
	ids, places := map[string]bool{}, map[string]string{}
	for _, c := range t.All() {
		if c.ID == "" || ids[c.ID] {
			fault(c, "its ID is empty or taken")
		}
		ids[c.ID] = true
		place := c.Menu + "/" + c.Name
		if other, taken := places[place]; taken {
			fault(c, "shares its place in the menu with %q: %s", other, place)
		}
		places[place] = c.ID
		if c.Name == "" || c.Says == "" {
			fault(c, "lacks a name or an explanation")
		}
		if strings.ContainsAny(c.Name+c.Says, "\n\t") {
			fault(c, "name or explanation has more than one line")
		}
		if (c.Do == nil) == (c.Items == nil) {
			fault(c, "needs either Do or Items")
		}
	}
	keys := map[Key]string{}
	for _, c := range t {
		if strings.Contains(c.Menu, "/") {
			fault(c, "%q is not the name of a menu", c.Menu)
		}
		if !strings.Contains(strings.ToLower(c.Name), strings.ToLower(c.Short)) {
			fault(c, "the toolbar calls it %q, which is not in its name", c.Short)
		}
		if c.Items != nil && c.Key != (Key{}) {
			fault(c, "a submenu cannot have a key")
		}
		for _, k := range append([]Key{c.Key}, c.Also...) {
			if k == (Key{}) {
				continue
			}
			if other, taken := keys[k]; taken {
				fault(c, "shares %v with %q", k, other)
			}
			keys[k] = c.ID
			if k.Name == "" || k.Name != strings.ToUpper(k.Name) && len(k.Name) < 3 {
				fault(c, "%q is no key", k.Name)
			}
			if k.Shift && !k.Ctrl {
				fault(c, "%v: Shift needs Ctrl", k)
			}
			if k.Ctrl && !c.Editing && slices.Contains(entryKeys, k.Name) {
				fault(c, "%v belongs to text entries", k)
			}
		}
	}
	return errors.Join(faults...)
}
