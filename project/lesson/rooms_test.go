// SPDX-License-Identifier: MIT

package lesson

import (
	"testing"

	"earline/project"
	"earline/project/practice"
)

// The rooms are planned by earline new; a rule that grows stricter is seen here first.
func TestTheRoomsAreSound(t *testing.T) {
	for _, name := range sound {
		d, err := roomOf(name)
		if err != nil {
			t.Fatal(err)
		}
		if bad := severities(causesOf(d)); len(bad) > 0 {
			t.Errorf("%s: %v", name, bad)
		}
	}
	for _, q := range dilemmas {
		d, err := roomOf(q.room)
		if err != nil {
			t.Fatal(err)
		}
		if bad := severities(causesOf(d)); len(bad) != 1 || bad[0].Severity != practice.Should.String() {
			t.Errorf("%s is to leave one remark: %v", q.room, bad)
		}
		l, err := q.lesson(project.Lesson{Seed: 1, Level: 3}, &draw{newRand(1, 3)})
		if err != nil || l == nil {
			t.Errorf("%s: no lesson, %v", q.room, err)
		}
	}
}
