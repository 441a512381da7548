// SPDX-License-Identifier: MIT

package place

import (
	"testing"

	"earline/project"
)

// Children sit higher from age to age, lower than the smallest of a hundred women, and are
// made as people are: crown over eyes over ears, legs that grow.
func TestChildrenSitLowerThanAdults(t *testing.T) {
	d := &project.Design{}
	d.Seating.Sitters.Women = 1
	least := PersonAt(d, 1)
	var before Person
	for _, age := range ChildAges() {
		p, ok := Child(d, age)
		if !ok {
			t.Fatal(age)
		}
		if p.sitting <= before.sitting || p.ear <= before.ear || p.eye <= before.eye || p.thigh <= before.thigh || p.stature <= before.stature {
			t.Errorf("%d years: %+v after %+v", age, p, before)
		}
		if p.sitting >= least.sitting {
			t.Errorf("%d years: sits %v m high, the smallest woman %v m", age, p.sitting, least.sitting)
		}
		if !(p.sitting > p.eye && p.eye > p.ear && p.ear > 0.4*p.stature) {
			t.Errorf("%d years: %+v", age, p)
		}
		before = p
	}
	if _, ok := Child(d, 7); ok {
		t.Error("a child of an age that is not listed")
	}
}

// A child in a seat brings ears and eyes down, and leaves everybody else as they were.
func TestAChildIsSeated(t *testing.T) {
	d := &project.Design{Chairs: []project.Chair{{ID: "c", PanHeight: 0.45, PanDepth: 0.5, PanWidth: 0.55, BackHeight: 0.7, BackThickness: 0.1}},
		Seating: project.Seating{Rows: []project.Row{{Chair: "c", Distance: 3, Seats: 2, Pitch: 0.7, Centre: 2}}, Sitters: project.Sitters{Listener: 50, Others: 75, Women: 0.5}}}
	r := Of(d)
	got := r.Seated(0, Sitter{Age: 8, Percentile: 50})
	if by := r.Bodies[0].Eye().Z - got.Bodies[0].Eye().Z; by < 0.08 || by > 0.2 {
		t.Errorf("the eyes are %.3f m lower", by)
	}
	if got.Bodies[1] != r.Bodies[1] {
		t.Error("the neighbour is another")
	}
}
