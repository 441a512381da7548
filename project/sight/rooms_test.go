// SPDX-License-Identifier: MIT

package sight_test

import (
	"maps"
	"slices"
	"testing"
)

// tally gathers what many rooms break, so that a test says how often and shows
// one case of each, instead of stopping at the first.
type tally struct {
	times map[string]int
	rooms map[string]map[uint64]bool
	first map[string]string
}

func (c *tally) add(seed uint64, law, what string) {
	if c.times == nil {
		c.times, c.rooms, c.first = map[string]int{}, map[string]map[uint64]bool{}, map[string]string{}
	}
	if c.times[law]++; c.rooms[law] == nil {
		c.rooms[law], c.first[law] = map[uint64]bool{}, what
	}
	c.rooms[law][seed] = true
}

func (c *tally) report(t *testing.T, rooms int) {
	t.Helper()
	for _, law := range slices.Sorted(maps.Keys(c.times)) {
		seeds := slices.Sorted(maps.Keys(c.rooms[law]))
		t.Errorf("%s: broken %d times in %d of %d rooms, first in room %d: %s",
			law, c.times[law], len(seeds), rooms, seeds[0], c.first[law])
	}
}
