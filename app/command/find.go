// SPDX-License-Identifier: MIT

package command

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"earline/app/words"
)

// Find returns the commands that contain every word of the query, in any case, in the
// language of the window or in English: in the name, the menu or the explanation. The best come first: a match in the
// name before one in the menu before one in the explanation; at the start of a
// word before inside one; early before late. Ties keep the table's order. An
// empty query finds all.
func (t Table) Find(query string) []Command {
	type hit struct {
		c    Command
		cost int
	}
	sought := strings.Fields(strings.ToLower(query))
	var hits []hit
	for _, c := range t.All() {
		if cost, ok := costOf(c, sought); ok {
			hits = append(hits, hit{c, cost})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(a.cost, b.cost) })
	found := make([]Command, len(hits))
	for i, h := range hits {
		found[i] = h.c
	}
	return found
}

// costOf returns how badly c matches the words, 0 being best; ok is false if one
// of them does not occur.
func costOf(c Command, sought []string) (sum int, ok bool) {
	fields := [...]string{c.Label(), c.Menu, c.Says}
	for _, w := range sought {
		best := -1
		for i, f := range fields {
			cost, ok := costIn(strings.ToLower(words.Of(f)), w)
			if !ok {
				cost, ok = costIn(strings.ToLower(f), w)
			}
			if ok {
				best = cost + i*perField
				break
			}
		}
		if best < 0 {
			return 0, false
		}
		sum += best
	}
	return sum, true
}

// A match costs its position in the text, at most maxPlace; inside a word
// insideWord more; and perField more for each field before its own.
const (
	maxPlace   = 999
	insideWord = 1000
	perField   = 2 * insideWord
)

// costIn returns the cost of the cheapest occurrence of word in text; both are
// in lower case.
func costIn(text, word string) (cost int, ok bool) {
	for at := 0; ; {
		i := strings.Index(text[at:], word)
		if i < 0 {
			return cost, ok
		}
		at += i
		here := min(at, maxPlace)
		if before, _ := utf8.DecodeLastRuneInString(text[:at]); unicode.IsLetter(before) || unicode.IsDigit(before) {
			here += insideWord
		}
		if !ok || here < cost {
			cost, ok = here, true
		}
		_, n := utf8.DecodeRuneInString(text[at:])
		at += max(n, 1)
	}
}
