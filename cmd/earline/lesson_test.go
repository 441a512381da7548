// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/lesson"
)

func TestALessonIsMadeHintedAndMarked(t *testing.T) {
	t.Chdir(t.TempDir())
	if status, out, errs := earline("lesson", "--seed", "7", "--level", "2"); status != statusFine || out != "lesson-7.earline\n" {
		t.Fatal(status, out, errs)
	}
	status, out, errs := earline("lesson", "--mark", "lesson-7.earline")
	if status != statusShort || errs != "" || !strings.HasPrefix(out, "Lesson 7, level 2: 0 of 4 points: 0 of 2 faults mended.\n") ||
		strings.Count(out, "Why: ") != 2 || strings.Count(out, "Limit from: ") != 2 || strings.Count(out, "Cure: ") != 2 {
		t.Error(status, out, errs)
	}
	for n, want := range map[string]string{"1": "Look at: ", "99": "There are no more hints.\n"} {
		if status, out, _ := earline("lesson", "--mark", "lesson-7.earline", "--hint", n); status != statusFine || !strings.HasPrefix(out, want) {
			t.Error(n, status, out)
		}
	}
	_, out, _ = earline("lesson", "--mark", "lesson-7.earline", "--json")
	var r lesson.Report
	if err := json.Unmarshal([]byte(out), &r); err != nil || r.Of != 4 || r.Solved || len(r.Faults) != 2 || r.Faults[0].State != "missed" {
		t.Error(err, out)
	}
	if _, out, _ := earline("lesson", "--mark", "lesson-7.earline", "--sheet", "-"); !strings.HasPrefix(out, "\ufeffstate,severity,what,rule,why,source,points\r\n") {
		t.Error(out)
	}
}

// The trainer's sound room solves the trainer's lesson.
func TestATrainersLessonIsSolvedByTheSoundRoom(t *testing.T) {
	t.Chdir(t.TempDir())
	l, err := lesson.Make(7, 2)
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]*project.Design{"sound.earline": l.Best, "faulty.earline": l.Start} {
		d = d.Clone()
		d.Lesson = project.Lesson{}
		data, err := file.Encode(d)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if status, out, errs := earline("lesson", "--from", "sound.earline", "--fault", "faulty.earline", "-o", "mine.earline"); status != statusFine || !strings.HasPrefix(out, "mine.earline\n") || strings.Count(out, "\n") < 3 {
		t.Fatal(status, out, errs)
	}
	data, err := os.ReadFile("mine.earline")
	if err != nil {
		t.Fatal(err)
	}
	if status, out, errs := earline("lesson", "--mark", "mine.earline"); status != statusShort || !strings.Contains(out, "0 of 4 points") {
		t.Error(status, out, errs)
	}
	_, said, _ := strings.Cut(string(data), `"lesson": {`)
	sound, err := os.ReadFile("sound.earline")
	if err != nil {
		t.Fatal(err)
	}
	solved := strings.TrimSuffix(strings.TrimSpace(string(sound)), "}") + `, "lesson": {` + said
	if err := os.WriteFile("solved.earline", []byte(solved), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, out, errs := earline("lesson", "--mark", "solved.earline"); status != statusFine || !strings.Contains(out, "4 of 4 points") {
		t.Error(status, out, errs)
	}
}

func TestWhatIsNoLessonIsRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	refusals(t, map[string]string{
		"lesson":                                                   "lesson: found nothing to do, allowed: one of --seed, --mark and --from",
		"lesson --seed nonsense":                                   `--seed: found "nonsense", allowed: a whole number from 1 to 999999999`,
		"lesson --seed 99999999999999999999":                       `--seed: found "99999999999999999999", allowed: a whole number from 1 to 999999999`,
		"lesson --seed 3 --level 4":                                `--level: found "4", allowed: a whole number from 1 to 3`,
		"lesson --level 2":                                         "--level: found no --seed, allowed: together with --seed",
		"lesson --mark demo:small":                                 "demo:small: lesson: none, allowed: a room that is a lesson, as earline lesson --seed writes it",
		"lesson --mark demo:small --hint 1 --json":                 "--hint: found --json or --sheet as well, allowed: by itself: a hint is a line of words",
		"lesson --mark demo:small --hint 0":                        `--hint: found "0", allowed: a whole number from 1`,
		"lesson --seed 3 --mark x":                                 "lesson: found several things to do, allowed: one of --seed, --mark and --from",
		"lesson --from demo:small --fault demo:small -o x.earline": "demo:small: lesson.faults: nothing to settle that the sound room has not, allowed: a room with at least one fault",
		"lesson --from demo:small --fault demo:large -o x.earline": "demo:large: room.footprint: other walls than those of the sound room, allowed: the same room",
	})
}
