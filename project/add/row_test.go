// SPDX-License-Identifier: MIT

package add_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/add"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/projecttest"
	"earline/project/sight"
)

// broken counts, by rule, what must hold and does not.
func broken(d *project.Design) map[string]int {
	out := map[string]int{}
	for _, m := range practice.Check(d, nil, practice.Standard{}).Failing() {
		if m.Severity == practice.Must && len(m.Speakers) == 0 { // those hang for the rows there were
			out[m.Rule]++
		}
	}
	return out
}

// sound fails the test for what the last row of after breaks or overlaps.
func sound(t rapid.TB, before, after *project.Design) {
	if err := after.Validate(); err != nil {
		t.Fatal(err)
	}
	was := findings(before)
	for f := range findings(after) {
		if !was[f] {
			t.Errorf("the added row: %s", f)
		}
	}
	known := broken(before)
	for rule, n := range broken(after) {
		if n > known[rule] {
			t.Errorf("the added row breaks the rule %s", rule)
		}
	}
}

// Seen: Add row took a riser of 0.200 m, two steps of 0.100 m where a step has 0.102
// at least, and its footrests reached 0.419 m into row 1.
func TestAnAddedRowKeepsTheRulesOfSteps(t *testing.T) {
	d := file.New() // 5.0 m long: room for one more row
	r, _, err := add.Row(d, practice.Standard{})
	if err != nil {
		t.Fatal(err)
	}
	after := d.Clone()
	after.Seating.Rows = append(after.Seating.Rows, r)
	sound(t, d, after)
	t.Logf("row 2: %+v", r)

	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 7, Y: 0}, {X: 7, Y: 4}, {X: 0, Y: 4}}
	d.Room.Ceiling.Height = 2.9
	r, _, err = add.Row(d, practice.Standard{})
	if err != nil {
		t.Fatal(err)
	}
	after = d.Clone()
	after.Seating.Rows = append(after.Seating.Rows, r)
	sound(t, d, after)
	a := sight.Audit(after)
	for i, s := range a.Seats {
		if s.Row == 2 && a.Views[i].Verdict == sight.Blocked {
			t.Errorf("seat %s does not see the whole picture", s.Name())
		}
	}
	for _, m := range practice.Check(after, a, practice.Standard{}).Failing() {
		if m.Rule == "row-footrest" || m.Rule == "row-knees" {
			t.Errorf("where there is room: %s", m.Text)
		}
	}
	t.Logf("row 2 of a longer room: %+v", r)
}

func TestARoomThatIsFullTakesNoRow(t *testing.T) {
	d, _ := file.Demo("small") // 4.2 m, its row at 2.7 m
	d.Seating.Rows[0].Distance = 3.4
	if r, _, err := add.Row(d, practice.Standard{}); err == nil || strings.Contains(err.Error(), "\n") {
		t.Errorf("row at %v, %v; want a reason in one line", r.Distance, err)
	}
}

// In any room: it breaks no rule that must hold and overlaps nothing, or is refused.
func TestAnAddedRowBreaksNothing(t *testing.T) {
	added := 0
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Seats: 10, Speakers: 4}.Draw(t)
		r, _, err := add.Row(d, practice.Standard{})
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Fatalf("refused in %q", err)
			}
			return
		}
		added++
		after := d.Clone()
		after.Seating.Rows = append(after.Seating.Rows, r)
		sound(t, d, after)
	})
	t.Logf("added in %d rooms", added)
	if added == 0 {
		t.Error("none was added in any room")
	}
}
