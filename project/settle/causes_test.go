// SPDX-License-Identifier: MIT

package settle_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

// rooms are those that the tests look at: the demos, and rooms of practitioners.
var rooms = []string{"small", "two-row", "large", "room-a", "room-b", "room-d"}

func room(t interface {
	Helper()
	Fatal(...any)
}, name string) *project.Design {
	t.Helper()
	if d, ok := file.Demo(name); ok {
		return d
	}
	data, err := os.ReadFile("../../testdata/rooms/" + name + ".earline")
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func causes(d *project.Design, std practice.Standard, last *settle.List) (*settle.List, *practice.Result) {
	r := sight.Audit(d)
	kept := practice.Check(d, r, std)
	return settle.Causes(r, kept, last), kept
}

func ids(all []*settle.Cause) (of []string) {
	for _, c := range all {
		of = append(of, c.ID)
	}
	return of
}

// Seen: 66 remarks of the large room, and the sides that people do not hear among them.
// What a practitioner settles first in each room; common practice, no source. Those of
// room A, and of B after the first, are a set: their harm is much alike.
func TestTheMostHarmfulCausesLead(t *testing.T) {
	for _, c := range []struct {
		room  string
		first string // alone; empty for any of want
		want  []string
	}{
		{"large", "line of sight side", []string{"line of sight side"}},
		{"room-a", "whole picture", []string{"whole picture", "coverage", "line of sight side"}},
		{"room-b", "whole picture", []string{"whole picture", "line of sight front", "line of sight side"}},
		{"room-d", "line of sight side", []string{"line of sight side", "line of sight rear", "whole picture"}},
		{"small", "line of sight side", []string{"line of sight side"}},
		{"two-row", "whole picture", []string{"whole picture"}},
	} {
		l, _ := causes(room(t, c.room), practice.Standard{}, nil)
		top, _ := l.Lead()
		got := ids(top)
		for _, want := range c.want {
			if !slices.Contains(got, want) {
				t.Errorf("%s: %q is not among the first, %q", c.room, want, got)
			}
		}
		if c.first != "" && got[0] != c.first {
			t.Errorf("%s: %q is first, want %q", c.room, got[0], c.first)
		}
		if n := len(l.Apart) + len(top); n > 9 {
			t.Errorf("%s: %d lines before the rest", c.room, n)
		}
	}
}

func TestLeftAndRightAreOneLine(t *testing.T) {
	l, _ := causes(room(t, "large"), practice.Standard{}, nil)
	c := l.Settle[0]
	if c.Subject != "Sides M±090" || !strings.Contains(c.Text, "5 of 14 seats") || !strings.Contains(c.Text, "83 mm") {
		t.Error(c.Text)
	}
}

// Every remark that falls short stands under one cause, and nothing else does.
func TestEveryRemarkStandsUnderOneCause(t *testing.T) {
	for _, name := range rooms {
		l, kept := causes(room(t, name), practice.Standard{}, nil)
		times := map[*practice.Remark]int{}
		for _, c := range l.All() {
			for _, m := range c.Everything() {
				times[m]++
			}
		}
		for i := range kept.Remarks {
			m := &kept.Remarks[i]
			if want := map[bool]int{false: 1, true: 0}[m.OK]; times[m] != want {
				t.Errorf("%s: %q stands under %d causes, want %d", name, m.Text, times[m], want)
			}
			if !m.OK && l.Of(m) == nil {
				t.Errorf("%s: the cause of %q is not found", name, m.Text)
			}
		}
	}
}

// A line is no longer than what it says, names nobody twice and has no empty subject.
func TestEveryCauseSaysWhatItIsAbout(t *testing.T) {
	for _, name := range rooms {
		l, _ := causes(room(t, name), practice.Standard{}, nil)
		seen := map[string]bool{}
		for _, c := range l.All() {
			if c.Subject == "" || c.Text == "" || seen[c.ID] || c.Cure().Says == "" || c.Lines() == 0 {
				t.Errorf("%s: %+v", name, c)
			}
			seen[c.ID] = true
		}
	}
}

// Seen: a door that strikes a platform was one line of fifty.
func TestStepsAndWaysStandApartAndAreNotHidden(t *testing.T) {
	l, _ := causes(room(t, "room-b"), practice.Standard{}, nil)
	if !slices.Contains(ids(l.Apart), "steps and ways door-swing") {
		t.Error(ids(l.Apart))
	}
	for _, c := range append(slices.Clone(l.Settle), l.Notes...) {
		if c.Family == settle.Build || c.Family == settle.Safety {
			t.Errorf("%s can be hidden", c.Text)
		}
	}
}

// A rule that is switched off does not make a blocked path a clear one.
func TestAllIsNotCalledWellWhileARuleIsOff(t *testing.T) {
	std := practice.Standard{Changes: map[string]practice.Change{}}
	for _, r := range practice.Rules() {
		std.Changes[r.ID] = practice.Change{Off: true, Reason: "a test"}
	}
	l, kept := causes(room(t, "large"), std, nil)
	if got := l.Sentence(); len(kept.Remarks) != 0 || !strings.HasPrefix(got, "1 to settle: Sides M±090: blocked for 5 of 14 seats") {
		t.Errorf("%d remarks, %q", len(kept.Remarks), got)
	}
}

// What hangs high because of heads, and is still not clear, is told with them.
func TestWhatFollowsFromACauseStandsUnderIt(t *testing.T) {
	l, _ := causes(room(t, "room-d"), practice.Standard{}, nil)
	c := l.Find("line of sight rear")
	if c == nil || len(c.Folded) != 1 || c.Folded[0].Family != settle.Height || l.Find("height rear") != nil {
		t.Error(c)
	}
}

// Seen: lines changed places while a loudspeaker was dragged. Whatever is moved by a
// millimetre, the causes that both rooms have stand in the same order.
func TestTheOrderStaysUnderAnEditOfAMillimetre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := room(t, rapid.SampledFrom(rooms).Draw(t, "room"))
		was, _ := causes(d, practice.Standard{}, nil)
		d = d.Clone()
		by := unit.Length(rapid.SampledFrom([]float64{-0.001, 0.001}).Draw(t, "by"))
		k := rapid.IntRange(0, len(d.Speakers)-1).Draw(t, "loudspeaker")
		switch rapid.IntRange(0, 3).Draw(t, "what") {
		case 0:
			d.Speakers[k].At.X += by
		case 1:
			d.Speakers[k].At.Y += by
		case 2:
			d.Speakers[k].At.Z += by
		case 3:
			d.Screen.Bottom += by
		}
		is, _ := causes(d, practice.Standard{}, was)
		kind := func(l *settle.List) map[string]practice.Severity {
			of := map[string]practice.Severity{}
			for _, c := range l.Settle {
				of[c.ID] = c.Severity
			}
			return of
		}
		a, b := kind(was), kind(is)
		common := func(of []string) []string {
			return slices.DeleteFunc(of, func(id string) bool {
				x, ok1 := a[id]
				y, ok2 := b[id]
				return !ok1 || !ok2 || x != y
			})
		}
		if x, y := common(ids(was.Settle)), common(ids(is.Settle)); !slices.Equal(x, y) {
			t.Errorf("%q, and a millimetre on %q", x, y)
		}
	})
}

// Seen: the shipped small room hangs its surrounds far above what sight needs, and
// nothing said how to mend it.
func TestACureSaysWhatItCosts(t *testing.T) {
	d := room(t, "small")
	l, _ := causes(d, practice.Standard{}, nil)
	c := l.Find("line of sight side")
	r, err := c.Remedy(t.Context(), d, practice.Standard{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Cured || len(r.Changes) == 0 || r.After.Blocked > 0 || !strings.Contains(strings.Join(r.Cost, " "), "M±110: ") {
		t.Errorf("%s %q", r.Verdict, r.Cost)
	}
	for k := range d.Speakers {
		if !slices.Contains(c.Speakers, k) && r.Design.Speakers[k] != d.Speakers[k] {
			t.Errorf("%s is moved too", d.Speakers[k].Name())
		}
	}
}

// Risers that would see over everyone do not fit under the ceiling of room B.
func TestNoPlaceInTheRoomCuresIt(t *testing.T) {
	d := room(t, "room-b")
	l, _ := causes(d, practice.Standard{}, nil)
	r, err := l.Find("whole picture").Remedy(t.Context(), d, practice.Standard{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Cured || !strings.Contains(r.Verdict, "No place in this room cures it") || len(r.Why) == 0 {
		t.Errorf("%s %q", r.Verdict, r.Why)
	}
}

func TestWhatNoSolverCuresSaysSo(t *testing.T) {
	d := room(t, "large")
	l, _ := causes(d, practice.Standard{}, nil)
	if _, err := l.Find("coverage").Remedy(t.Context(), d, practice.Standard{}, nil); err == nil || !strings.HasPrefix(err.Error(), "no solver works this out") {
		t.Error(err)
	}
}

// A door that struck a loudspeaker was to be cured by changing rows, platforms or ways,
// and was said to strike a chair.
func TestADoorThatStrikesALoudspeakerHasACureOfItsOwn(t *testing.T) {
	c := settle.Cause{Family: settle.Safety, Remarks: []*practice.Remark{{Rule: "door-swing"}}}
	if got := c.Cure().Says; !strings.Contains(got, "hang the door") {
		t.Errorf("cure %q", got)
	}
	if rule, _ := practice.Find("door-swing"); strings.Contains(rule.Why, "chair") {
		t.Errorf("why %q", rule.Why)
	}
}
