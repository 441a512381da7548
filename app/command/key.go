// SPDX-License-Identifier: MIT

package command

import (
	"runtime"
	"strings"
	"unicode"
)

// written are the names of keys that menus write otherwise.
var written = map[string]string{"Escape": "Esc", "Prior": "Page Up", "Next": "Page Down"}

// Key is a key on the keyboard with its modifiers. The zero Key is none.
type Key struct {
	// Name is a capital letter, a digit, or a word such as "F3" or "Escape".
	Name string
	// Ctrl means the Command key on macOS.
	Ctrl, Shift bool
}

// RuneKey returns the key that types the letter or digit r.
func RuneKey(r rune) Key { return Key{Name: string(unicode.ToUpper(r))} }

// IsCharacter reports whether k types a character, so that it must not run a
// command while a text entry has the keyboard.
func (k Key) IsCharacter() bool { return len([]rune(k.Name)) == 1 && !k.Ctrl }

// String returns k as menus write it, such as "Ctrl+Shift+S".
func (k Key) String() string {
	var parts []string
	if k.Ctrl && runtime.GOOS == "darwin" {
		parts = append(parts, "Cmd")
	} else if k.Ctrl {
		parts = append(parts, "Ctrl")
	}
	if k.Shift {
		parts = append(parts, "Shift")
	}
	name := k.Name
	if as, ok := written[name]; ok {
		name = as
	}
	return strings.Join(append(parts, name), "+")
}
