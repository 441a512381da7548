// SPDX-License-Identifier: MIT

package project_test

import (
	"slices"
	"strings"
	"testing"

	"earline/project"
	"earline/project/projecttest"
)

// ids returns the ids of d, of rows, features, treatments, loudspeakers and zones.
func ids(d *project.Design) (all []string) {
	for _, r := range d.Seating.Rows {
		all = append(all, r.ID)
	}
	for _, f := range d.Room.Features {
		all = append(all, f.ID)
	}
	for _, t := range d.Room.Treatments {
		all = append(all, t.ID)
	}
	for _, l := range d.Speakers {
		all = append(all, l.ID)
	}
	for _, z := range d.SubZones {
		all = append(all, z.ID)
	}
	return all
}

func unique(t *testing.T, d *project.Design) {
	t.Helper()
	all := ids(d)
	slices.Sort(all)
	if slices.Contains(all, "") || len(slices.Compact(slices.Clone(all))) != len(all) {
		t.Fatalf("ids %q", all)
	}
}

// TestEverythingHasAnIDThatStaysWithIt holds the law over drawn rooms: in every state
// of a history everything has an id, nothing two things share; undo gives the same
// ones back, and what was removed leaves its id to nothing else.
func TestEverythingHasAnIDThatStaysWithIt(t *testing.T) {
	for seed := range uint64(40) {
		h := project.NewHistory(projecttest.Room(seed))
		unique(t, h.Design())
		first := ids(h.Design())
		do := func(edit func(*project.Design)) {
			t.Helper()
			if err := h.Do("edit", "", edit); err != nil {
				t.Fatalf("room %d: %v", seed, err)
			}
			unique(t, h.Design())
		}
		if len(h.Design().Speakers) == 0 {
			continue
		}
		last := h.Design().Speakers[len(h.Design().Speakers)-1].ID
		do(func(d *project.Design) { d.Speakers = d.Speakers[:len(d.Speakers)-1] })
		do(func(d *project.Design) {
			c := project.Loudspeaker{Label: "M+000", Copy: "one more", Model: d.Models[0].ID, Mount: project.OnWall}
			d.Speakers = append(d.Speakers, c)
		})
		if slices.Contains(ids(h.Design()), last) {
			t.Fatalf("room %d: %s names another loudspeaker after its own was removed", seed, last)
		}
		h.Undo()
		h.Undo()
		if got := ids(h.Design()); !slices.Equal(got, first) {
			t.Fatalf("room %d: %q after undo, %q before", seed, got, first)
		}
	}
}

func TestDuplicateGetsAnIDOfItsOwn(t *testing.T) {
	h := project.NewHistory(projecttest.Room(3))
	row := h.Design().Seating.Rows[0]
	if err := h.Do("duplicate", "", func(d *project.Design) {
		c := d.Seating.Rows[0]
		c.Distance += 1
		d.Seating.Rows = slices.Insert(d.Seating.Rows, 1, c)
	}); err != nil {
		t.Fatal(err)
	}
	rows := h.Design().Seating.Rows
	if rows[0].ID != row.ID || rows[1].ID == row.ID || rows[1].ID == "" {
		t.Errorf("row %q, its copy %q; before %q", rows[0].ID, rows[1].ID, row.ID)
	}
}

func TestTwoThingsWithOneIDAreRefusedByName(t *testing.T) {
	d := projecttest.Room(3).Clone()
	d.Identify()
	d.Speakers[0].ID = d.Seating.Rows[0].ID
	faults := d.SharedIDs()
	if len(faults) != 1 || faults[0].Field != "loudspeakers[0].id" || !strings.Contains(faults[0].Allowed, "seating.rows[0].id") {
		t.Errorf("%v", faults)
	}
	d.Speakers[0].ID = "a b"
	if err := d.Validate(); err == nil || !strings.Contains(err.Error(), "letters, digits") {
		t.Errorf("%v", err)
	}
}

// FuzzIdentify holds that whatever ids a file gives, Identify leaves every thing with
// one of its own, and those that were alone with theirs keep them.
func FuzzIdentify(f *testing.F) {
	f.Add("r1", "r1", "f1")
	f.Add("r2", "s1", "r1")
	f.Add("", "r99999999999", "z")
	f.Fuzz(func(t *testing.T, a, b, c string) {
		d := projecttest.Room(3).Clone()
		d.Seating.Rows[0].ID, d.Speakers[0].ID, d.Speakers[1].ID = a, b, c
		d.Identify()
		unique(t, d)
		if a != "" && d.Seating.Rows[0].ID != a {
			t.Fatalf("%q became %q", a, d.Seating.Rows[0].ID)
		}
	})
}
