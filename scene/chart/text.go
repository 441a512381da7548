// SPDX-License-Identifier: MIT

package chart

import "strings"

// shorten cuts text so that it is no wider than room, and ends it with "…" then;
// "" when not even one letter has room.
func shorten(text string, room float64, width func(string) float64) string {
	if width(text) <= room {
		return text
	}
	r := []rune(text)
	lo, hi := 0, len(r)
	for lo < hi { // width grows with length
		m := (lo + hi + 1) / 2
		if width(string(r[:m])+"…") <= room {
			lo = m
		} else {
			hi = m - 1
		}
	}
	if lo == 0 {
		return ""
	}
	return string(r[:lo]) + "…"
}

// wrap breaks text between words into at most n lines no wider than room. What is
// too long for them is cut from the last one.
func wrap(text string, room float64, n int, width func(string) float64) (lines []string) {
	words := strings.Fields(text)
	for len(words) > 0 {
		if len(lines) == n-1 {
			return append(lines, shorten(strings.Join(words, " "), room, width))
		}
		i := 1
		for i < len(words) && width(strings.Join(words[:i+1], " ")) <= room {
			i++
		}
		lines = append(lines, shorten(strings.Join(words[:i], " "), room, width))
		words = words[i:]
	}
	return lines
}
