// SPDX-License-Identifier: MIT

package inspector

import (
	"strings"

	"earline/app/field"
	"earline/project/practice"
)

// why has the tip of l say why its value matters, in the words of the rules that judge
// what it sets.
func why(l *field.Line, rules ...string) *field.Line {
	var text []string
	for _, id := range rules {
		if r, ok := practice.Find(id); ok {
			text = append(text, r.Title, r.Why)
		}
	}
	return l.Why(strings.Join(text, "\n"))
}
