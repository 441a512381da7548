// SPDX-License-Identifier: MIT

package lesson_test

import (
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/lesson"
	"earline/project/practice"
)

// about returns a lesson of a single fault, of that rule.
func about(t *testing.T, rule string) *lesson.Lesson {
	t.Helper()
	for seed := 1; seed < 100; seed++ {
		if l := made(t, seed, 1); len(l.Faults) == 1 && l.Faults[0].Rule.ID == rule {
			return l
		}
	}
	t.Fatal("no lesson about " + rule)
	return nil
}

// halfway returns a design whose loudspeakers stand part of the way from the start to
// the best answer.
func halfway(l *lesson.Lesson, share float64) *project.Design {
	d := l.Start.Clone()
	for k := range d.Speakers {
		at, to := &d.Speakers[k].At, l.Best.Speakers[k].At
		at.X += unit.Length(share * float64(to.X-at.X))
		at.Y += unit.Length(share * float64(to.Y-at.Y))
		at.Z += unit.Length(share * float64(to.Z-at.Z))
	}
	return d
}

func TestAFaultThatIsHalfMendedIsFound(t *testing.T) {
	l := about(t, "azimuth")
	for _, c := range []struct {
		share  float64
		state  lesson.State
		points int
	}{{0, lesson.Missed, 0}, {0.3, lesson.Found, 1}, {1, lesson.Mended, 2}} {
		m := l.Mark(halfway(l, c.share))
		if points, of := m.Score(); m.Faults[0].State != c.state || points != c.points || of != 2 || (m.Faults[0].Now == "") != (c.state == lesson.Mended) {
			t.Errorf("%.0f %% of the way: %s, %s", 100*c.share, m.Faults[0].State, m.Sentence())
		}
	}
}

// Whoever takes the loudspeakers or the people away breaks no rule, and mends nothing.
func TestTakingThingsAwayIsNoCure(t *testing.T) {
	l := about(t, "azimuth")
	for what, change := range map[string]func(*project.Design){
		"loudspeakers": func(d *project.Design) { d.Speakers = d.Speakers[3:] },
		"a seat":       func(d *project.Design) { d.Seating.Rows[0].Seats-- },
		"tall people":  func(d *project.Design) { d.Seating.Sitters.Others = 5 },
		"the margin":   func(d *project.Design) { d.Criteria.Margin = 0 },
		"the ceiling":  func(d *project.Design) { d.Room.Ceiling.Height += 0.1 },
		"the standard": func(d *project.Design) { d.Criteria.Standard = project.PublishedDirections },
		"a label":      func(d *project.Design) { d.Speakers[len(d.Speakers)-1].Label = "M+070" },
	} {
		d := l.Best.Clone()
		change(d)
		if m := l.Mark(d); m.Solved() || len(m.Lost) != 1 {
			t.Errorf("%s: %s %q", what, m.Sentence(), m.Lost)
		}
	}
}

func TestAFaultMadeWhileMendingCostsAPoint(t *testing.T) {
	l := about(t, "azimuth")
	d := l.Best.Clone()
	d.Screen.Bottom -= 0.3 // heads in front hide the picture
	if len(d.Seating.Rows) < 2 {
		d.Screen.Bottom += 0.9
	}
	m := l.Mark(d)
	if points, _ := m.Score(); m.Solved() || len(m.Made) == 0 || points != max(0, 2-len(m.Made)) {
		t.Error(m.Sentence())
	}
}

// A lesson in which 15° up is wrong, and the best answer leaves something standing.
func TestADilemmaSaysWhyItsBestAnswerLeavesARemark(t *testing.T) {
	seen := map[string]bool{}
	for seed := 1; seed < 60 && len(seen) < 2; seed++ {
		l := made(t, seed, 3)
		if l.Question == "" {
			continue
		}
		seen[l.Question] = true
		m := l.Mark(l.Best)
		if !m.Solved() || len(m.Left) != 1 || m.Left[0].Severity != practice.Should || l.Why == "" || len(m.Answers) != 3 {
			t.Errorf("seed %d: %s left %v, %d answers", seed, m.Sentence(), m.Left, len(m.Answers))
		}
		for _, a := range m.Answers {
			if len(a.Leaves) == 0 {
				t.Errorf("seed %d: %q leaves nothing, and so there is nothing to decide", seed, a.Answer)
			}
		}
	}
	if len(seen) != 2 {
		t.Errorf("%d questions of 2", len(seen))
	}
}

// Hints tell first where, then which rule, then the cure, and only of what is not mended.
func TestHintsComeOneByOne(t *testing.T) {
	l := made(t, 3, 2)
	m := l.Mark(l.Start)
	hints := m.Hints()
	if len(hints) != 3*len(l.Faults) || !strings.HasPrefix(hints[0], "Look at: ") || hints[2] != l.Faults[0].Cure {
		t.Errorf("%q", hints)
	}
	if left := l.Mark(l.Best).Hints(); len(left) != 0 {
		t.Errorf("all is mended, but: %q", left)
	}
}
