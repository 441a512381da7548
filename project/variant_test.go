// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/project"
	"earline/project/projecttest"
)

// kept returns a design with the room as found and an option beside it.
func kept(t *testing.T) *project.Design {
	t.Helper()
	d := projecttest.Room(1)
	d.Identify()
	d.Keep(project.Variant{Name: "As found", Role: project.Existing})
	d.Speakers[0].At.Z += 0.1
	d.Keep(project.Variant{Name: "Higher fronts", Role: project.Option})
	d.Speakers[0].At.Z += 0.1
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	return d
}

// Taking an option as the plan and then what was the plan again brings everything back.
func TestTakingAnOptionAndBackLosesNothing(t *testing.T) {
	d := kept(t)
	d.Variant = project.Variant{Name: "Plan", Role: project.Proposed}
	before := d.Clone()
	d.Take(1)
	if d.Variant.Name != "Higher fronts" || d.Variants[1].Variant.Name != "Plan" || len(d.Variants) != 2 {
		t.Fatalf("plan %+v, %d beside it", d.Variant, len(d.Variants))
	}
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	d.Take(d.VariantNamed("Plan"))
	if diff := cmp.Diff(before, d); diff != "" {
		t.Error(diff)
	}
}

// It is one edit: one undo takes it back.
func TestTakingAVariantIsOneUndoStep(t *testing.T) {
	h := project.NewHistory(kept(t))
	before := h.Design()
	if err := h.Do("take", "", func(d *project.Design) { d.Take(0) }); err != nil {
		t.Fatal(err)
	}
	if h.Design().Variants[0].Variant.Name != "Plan" {
		t.Errorf("the plan is kept as %+v", h.Design().Variants[0].Variant)
	}
	if !h.Undo() || h.Design() != before || h.Undo() {
		t.Error("not one step")
	}
}

// An edit of the plan leaves what is kept beside it as it is.
func TestAnEditOfThePlanLeavesTheRoomAsFound(t *testing.T) {
	h := project.NewHistory(kept(t))
	was := h.Design().Variants[0].Speakers[0].At
	if err := h.Do("move", "", func(d *project.Design) { d.Speakers[0].At.Z += 0.3 }); err != nil {
		t.Fatal(err)
	}
	if got := h.Design().Variants[0].Speakers[0].At; got != was {
		t.Errorf("as found %v, was %v", got, was)
	}
}

func TestBadVariantsAreNamed(t *testing.T) {
	tests := []struct {
		name string
		bad  func(d *project.Design)
		want string
	}{
		{"two of one name", func(d *project.Design) { d.Variants[1].Variant.Name = "As found" }, `variants[1].variant.name: "As found" a second time`},
		{"the plan's name", func(d *project.Design) { d.Variant.Name = "As found" }, `variants[0].variant.name: "As found" a second time`},
		{"no name", func(d *project.Design) { d.Variants[0].Variant.Name = " " }, "variants[0].variant.name: empty"},
		{"no role", func(d *project.Design) { d.Variants[0].Variant.Role = "" }, "variants[0].variant.role: empty"},
		{"unknown role", func(d *project.Design) { d.Variants[0].Variant.Role = "old" }, `variants[0].variant.role: "old"`},
		{"a fault inside", func(d *project.Design) { d.Variants[1].Seating.Rows = nil; d.Variants[1].Screen.Gain = -1 }, "variants[1].screen.gain"},
		{"variants of a variant", func(d *project.Design) { d.Variants[0].Variants = []project.Design{{}} }, "variants[0].variants: 1 designs"},
		{"nine of them", func(d *project.Design) {
			for i := 0; i < 7; i++ {
				d.Keep(project.Variant{Name: strings.Repeat("x", i+1), Role: project.Option})
			}
		}, "variants: 9"},
	}
	for _, test := range tests {
		d := kept(t)
		test.bad(d)
		err := d.Validate()
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", test.name, err, test.want)
		}
	}
}
