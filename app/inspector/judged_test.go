// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"testing"

	"earline/app/field"
	"earline/project"
)

// By what a room is judged is chosen with its criteria, in one step each that is undone.
func TestByWhatARoomIsJudgedIsChosenAndUndone(t *testing.T) {
	b := newBench(t, "two-row")
	at := slices.IndexFunc(b.in.groups, func(g *group) bool { return g.title == "Criteria" })
	line := func(name string) *field.Line { return b.line(t, at, name) }
	if got := line("System judged by").Choice.Selected; got != "by labels: 4+7+0" {
		t.Errorf("open: %q", got)
	}
	for _, c := range []struct {
		line, choose, step string
		chosen             func(*project.Design) bool
	}{
		{"System judged by", "7.1.4", "change the system judged by", func(d *project.Design) bool { return d.System.Name == "7.1.4" }},
		{"System judged by", "J (4+7+0)", "change the system judged by", func(d *project.Design) bool { return d.System.Name == "4+7+0" }},
		{"Standard", "Published directions", "change the standard", func(d *project.Design) bool { return d.Criteria.Standard == project.PublishedDirections }},
		{"Dwelling code", "Approved Document K", "change the dwelling code", func(d *project.Design) bool { return d.Criteria.Code == project.EnglandK }},
	} {
		before := b.Design()
		line(c.line).Choice.SetSelected(c.choose)
		if !c.chosen(b.Design()) {
			t.Errorf("%s, %s: %+v %+v", c.line, c.choose, b.Design().System, b.Design().Criteria)
		}
		oneStep(t, b, before, c.step)
		if got := line(c.line).Choice.Selected; got != c.choose {
			t.Errorf("%s shows %q, want %q", c.line, got, c.choose)
		}
	}
}
