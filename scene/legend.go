// SPDX-License-Identifier: MIT

package scene

import "earline/project/sight"

// Key says what one kind of path in the picture means. It is drawn in a corner.
type Key struct {
	Look
	Text        string
	Line        Stroke
	Over, Under RGB // ink of the text, and what the legend stands on
}

// Stroke is how a path is drawn.
type Stroke uint8

// The kinds of Stroke.
const (
	Thin   Stroke = iota // a line
	Broken               // dashes in two colours
	Cased                // a thick line with a core
)

// legend returns the keys of the verdicts that have a look in seen, the worst first.
func (p Palette) legend(seen Looks) []Key {
	var out []Key
	for v := sight.Blocked; v > sight.NotJudged; v-- {
		if seen[v].Letter != "" {
			stroke := [...]Stroke{sight.Clear: Thin, sight.Tight: Broken, sight.Blocked: Cased}[v]
			out = append(out, Key{Look: seen[v], Text: v.String(), Line: stroke, Over: p.Name, Under: p.NamePlate})
		}
	}
	return out
}
