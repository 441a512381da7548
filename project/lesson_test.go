// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"earline/project"
)

func TestALessonThatMakesNoSenseIsRefused(t *testing.T) {
	fault := []project.LessonCause{{Cause: "coverage", Severity: "should"}}
	for want, l := range map[string]project.Lesson{
		"":                              {Seed: 12, Level: 3},
		"lesson.seed: -1, allowed: 1":   {Seed: -1, Level: 3},
		"lesson.level: 0, allowed: 1":   {Seed: 12},
		"lesson: a seed and a trainer":  {Seed: 12, Level: 3, Faults: fault},
		"lesson.faults: 0 entries":      {Seats: 3, Loudspeakers: 3},
		"lesson.seats: 0, allowed: 1":   {Faults: fault, Loudspeakers: 3},
		"lesson.faults[0].severity: \"": {Faults: []project.LessonCause{{Cause: "coverage", Severity: "note"}}, Seats: 1, Loudspeakers: 1},
		"lesson.faults[0].cause: noth":  {Faults: []project.LessonCause{{Severity: "must"}}, Seats: 1, Loudspeakers: 1},
	} {
		d := demo(t, "small")
		d.Lesson = l
		err := d.Validate()
		if want == "" && err != nil || want != "" && (err == nil || !strings.HasPrefix(err.Error(), want)) {
			t.Errorf("%+v: %v, want %s", l, err, want)
		}
	}
}
