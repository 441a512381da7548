// SPDX-License-Identifier: MIT

package lesson_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/lesson"
)

func made(t *testing.T, seed, level int) *lesson.Lesson {
	t.Helper()
	l, err := lesson.Make(seed, level)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A trainer's own room, by way of its file: nothing mended, then all of it.
func TestATrainersRoomIsMarkedLikeAnyOther(t *testing.T) {
	from := made(t, 2, 2)
	sound, faulty := from.Best.Clone(), from.Start.Clone()
	sound.Lesson, faulty.Lesson = project.Lesson{}, project.Lesson{}
	out, err := lesson.From(sound, faulty)
	if err != nil {
		t.Fatal(err)
	}
	data, err := file.Encode(out)
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, "")
	if err != nil {
		t.Fatal(err)
	}
	l, err := lesson.Of(d)
	if err != nil {
		t.Fatal(err)
	}
	if m := l.Mark(d); m.Mended() != 0 || len(m.Faults) != len(from.Faults) || len(m.Made) > 0 {
		t.Error(m.Sentence())
	}
	for i := range l.Faults {
		if l.Faults[i].Text != from.Faults[i].Text || l.Faults[i].Rule.ID != from.Faults[i].Rule.ID {
			t.Errorf("%+v, want %+v", l.Faults[i], from.Faults[i])
		}
	}
	sound.Lesson = d.Lesson
	if m := l.Mark(sound); !m.Solved() {
		t.Error(m.Sentence())
	}
	fewer := sound.Clone()
	fewer.Speakers = fewer.Speakers[1:]
	if m := l.Mark(fewer); m.Solved() || len(m.Lost) != 1 {
		t.Error(m.Sentence(), m.Lost)
	}
}

func TestWhatIsNoLessonIsRefusedInOneLine(t *testing.T) {
	sound := made(t, 1, 1).Best
	bare := sound.Clone()
	bare.Speakers = nil
	empty := sound.Clone()
	empty.Seating.Rows = nil
	other := sound.Clone()
	other.Room.Footprint[0].X -= 0.1
	for want, try := range map[string]func() error{
		"lesson.seed: 0, allowed: 1 to 999999999":       func() error { _, err := lesson.Make(0, 1); return err },
		"lesson.level: 4, allowed: 1 to 3":              func() error { _, err := lesson.Make(1, 4); return err },
		"lesson: none, allowed: a room":                 func() error { _, err := lesson.Of(&project.Design{}); return err },
		"loudspeakers: none, allowed: 1 or more":        func() error { _, err := lesson.From(sound, bare); return err },
		"seating.rows: no seats, allowed: 1 or more":    func() error { _, err := lesson.From(empty, sound); return err },
		"room.footprint: other walls than those of the": func() error { _, err := lesson.From(sound, other); return err },
		"lesson.faults: nothing to settle that the sou": func() error { _, err := lesson.From(sound, sound); return err },
	} {
		if err := try(); err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("said %q, want %q", err, want)
		}
	}
}
