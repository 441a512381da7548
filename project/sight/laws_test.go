// SPDX-License-Identifier: MIT

package sight_test

import (
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/project/sight/sighttest"
)

func init() {
	sight.CheckLaws = func(t sight.Failer, d *project.Design, r *sight.Result) {
		t.Helper()
		sighttest.Check(t, d, r)
	}
}

// Every audit of rooms that have what rooms have obeys the laws.
func TestLawsOfAResult(t *testing.T) {
	const rooms = 300
	var found tally
	for seed := range uint64(rooms) {
		d := projecttest.Room(seed)
		for _, b := range sighttest.Breaches(d, sight.Audit(d)) {
			found.add(seed, b.Law, b.What)
		}
	}
	found.report(t, rooms)
}

func TestLawsInTheDemos(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d, _ := file.Demo(name)
		sighttest.Check(t, d, sight.Audit(d))
	}
}
