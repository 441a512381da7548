// SPDX-License-Identifier: MIT

package layout

import (
	"math"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
)

// Every limit that rows, picture and loudspeakers are planned to moves with the rule
// that the audit judges by.
func TestLimitsFollowTheStandard(t *testing.T) {
	d := Shell(6, 4.5, 2.7, project.Metric)
	was := limitsOf(d, practice.Standard{})
	for _, tt := range []struct {
		rule  string
		least bool
		of    []func(l limits) float64
	}{
		{"seat-wall", true, []func(limits) float64{func(l limits) float64 { return l.headToWall }}},
		{"seat-loudspeaker", true, []func(limits) float64{func(l limits) float64 { return l.headToSpeaker }}},
		{"loudspeaker-wall", true, []func(limits) float64{func(l limits) float64 { return l.speakerToWall }}},
		{"separation", true, []func(limits) float64{func(l limits) float64 { return l.apartMain }}},
		{"aisle", true, []func(limits) float64{func(l limits) float64 { return l.aisle }}},
		{"door-space", true, []func(limits) float64{func(l limits) float64 { return l.doorSpace }}},
		{"look-up-top", false, []func(limits) float64{func(l limits) float64 { return l.lookTop }}},
		{"look-up-middle", false, []func(limits) float64{func(l limits) float64 { return l.lookMiddle }}},
		{"off-axis", false, []func(limits) float64{func(l limits) float64 { return l.offAxis }}},
		{"picture-angle-least", true, []func(limits) float64{func(l limits) float64 { return l.angleLeast }}},
		{"picture-angle-most", false, []func(limits) float64{func(l limits) float64 { return l.angleMost }}},
		{"picture-heights-main", true, []func(limits) float64{func(l limits) float64 { return l.nearest }}},
		{"picture-heights-main", false, []func(limits) float64{func(l limits) float64 { return l.farthest }}},
		{"picture-bottom", false, []func(limits) float64{func(l limits) float64 { return l.lowerEdge }}},
	} {
		base := practice.Standard{}
		r, ok := practice.Find(tt.rule)
		if !ok {
			t.Fatalf("no rule %s", tt.rule)
		}
		var now float64 // what the rule is judged by as shipped
		switch l := base.Limits(&r); {
		case tt.rule == "off-axis":
			now = base.OffAxis().Good.Most()
		case tt.least:
			now = l.Least()
		default:
			now = l.Most()
		}
		to, by := now*1.1, now*0.1
		c := practice.Change{Reason: "a test"}
		if tt.least {
			c.Min = &to
		} else {
			c.Max = &to
		}
		changed := limitsOf(d, practice.Standard{Changes: map[string]practice.Change{tt.rule: c}})
		for _, of := range tt.of {
			if got := of(changed) - of(was); math.Abs(got-by) > 2e-6 {
				t.Errorf("%s changed by %g: the plan's limit by %g", tt.rule, by, got)
			}
		}
	}
}

// A house that wants wider aisles and a lower picture gets a room that has them.
func TestAPlanFollowsTheHouseStandard(t *testing.T) {
	d := Shell(6, 4.5, 2.7, project.Metric)
	aisle, up := 0.9, 20.0
	house := practice.Standard{Changes: map[string]practice.Change{
		"aisle":       {Min: &aisle, Reason: "a wheelchair"},
		"look-up-top": {Max: &up, Reason: "stiff necks"},
	}}
	measure := func(std practice.Standard) (beside, look float64) {
		w := Wish{Seats: 3, Rows: 1, System: "5.1", Standard: std}
		if err := w.fill(d); err != nil {
			t.Fatal(err)
		}
		o, err := planOne(t.Context(), d, w)
		if err != nil {
			t.Fatal(err)
		}
		beside = math.Inf(1)
		for _, s := range place.Seats(o.Proposal.Design) {
			for _, q := range s.Outline(1) {
				beside = min(beside, q.Y, 4.5-q.Y)
			}
			eye := place.Listener(o.Proposal.Design, s).Eye()
			top := float64(o.Proposal.Design.Screen.Bottom) + o.Proposal.Design.Screen.Height()
			look = max(look, math.Atan2(top-eye.Z, eye.X-float64(o.Proposal.Design.Screen.Distance))/unit.Degree)
		}
		return beside, look
	}
	beside, look := measure(practice.Standard{})
	if beside >= aisle && look <= up {
		t.Fatalf("as shipped %g m and %g degrees: the house asks for nothing more", beside, look)
	}
	if beside, look = measure(house); beside < aisle || look > up {
		t.Errorf("%g m beside the row, %g degrees up; want %g and %g", beside, look, aisle, up)
	}
}
