// SPDX-License-Identifier: MIT

package diff

import (
	"reflect"
	"slices"

	"earline/project"
)

// OnlySpeakers returns the indexes of the loudspeakers that are the only thing,
// and in nothing but place, aim, mount and tuning, that differs between two
// designs; ok is false when anything else does, or when was is nil. Equal designs
// have none, and ok. What was measured on site alters nothing of a design.
func OnlySpeakers(was, is *project.Design) (moved []int, ok bool) {
	if was == nil || len(was.Speakers) != len(is.Speakers) {
		return nil, false
	}
	if was == is {
		return nil, true
	}
	for k := range is.Speakers {
		a, b := was.Speakers[k], is.Speakers[k]
		if a == b {
			continue
		}
		a.At, a.Aim, a.Mount, a.Tuning = b.At, b.Aim, b.Mount, b.Tuning
		if a != b {
			return nil, false
		}
		moved = append(moved, k)
	}
	a, b := *was, *is
	a.Speakers, b.Speakers = nil, nil
	a.AsBuilt, b.AsBuilt = project.AsBuilt{}, project.AsBuilt{}
	return moved, reflect.DeepEqual(a, b)
}

// Pair is the same thing in two designs, by its indexes; -1 where one has it not.
type Pair struct{ Was, Is int }

// Speakers returns which loudspeaker of is was which of was, by their names: in
// the order of is, then those that are gone in the order of was.
func Speakers(was, is *project.Design) []Pair {
	return byKey(was.Speakers, is.Speakers, func(l *project.Loudspeaker) string { return l.Name() })
}

// byKey pairs what has the same key, the first with the first.
func byKey[T any](was, is []T, key func(*T) string) []Pair {
	left := make(map[string][]int, len(was))
	for i := range was {
		k := key(&was[i])
		left[k] = append(left[k], i)
	}
	out := make([]Pair, 0, len(is))
	for i := range is {
		k, p := key(&is[i]), Pair{-1, i}
		if l := left[k]; len(l) > 0 {
			p.Was, left[k] = l[0], l[1:]
		}
		out = append(out, p)
	}
	for i := range was {
		if slices.Contains(left[key(&was[i])], i) {
			out = append(out, Pair{i, -1})
		}
	}
	return out
}

// renamed pairs what has no partner by its key with what lost its own at the same
// place of the list.
func renamed(pairs []Pair) []Pair {
	gone := map[int]bool{}
	for _, p := range pairs {
		if p.Is < 0 {
			gone[p.Was] = true
		}
	}
	out := pairs[:0]
	for _, p := range pairs {
		if p.Was < 0 && gone[p.Is] {
			p.Was = p.Is
			gone[p.Is] = false
		}
		if p.Is >= 0 || gone[p.Was] {
			out = append(out, p)
		}
	}
	return out
}

// byPlace pairs what stands at the same place, counted from the front as far as
// the lists are alike, then from the end, and in between from the front again: so
// that one thing put in or taken out is just that.
func byPlace[T any](was, is []T, same func(a, b *T) bool) []Pair {
	n := min(len(was), len(is))
	front := 0
	for front < n && same(&was[front], &is[front]) {
		front++
	}
	back := 0
	for back < n-front && same(&was[len(was)-1-back], &is[len(is)-1-back]) {
		back++
	}
	var out []Pair
	for i := range is {
		switch {
		case i >= len(is)-back:
			out = append(out, Pair{i - len(is) + len(was), i})
		case i < len(was)-back:
			out = append(out, Pair{i, i})
		default:
			out = append(out, Pair{-1, i})
		}
	}
	for i := len(is) - back; i < len(was)-back; i++ {
		out = append(out, Pair{i, -1})
	}
	return out
}
