// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
)

func TestAStripLiesInOnePlaceOnly(t *testing.T) {
	lit := project.Panels{ID: "p1", Wall: 1, High: 2, Module: 0.6, Gap: 0.01, LightGap: 0.03, Depth: 0.05, Pattern: []project.PanelKind{project.BarePanel}}
	dark := lit
	dark.ID, dark.LightGap, dark.Wall = "p2", 0, 2
	path := []project.Point{{X: 1, Y: 1, Z: 1}, {X: 2, Y: 1, Z: 1}}
	for _, c := range []struct {
		group project.LightGroup
		fault string // none is valid
	}{
		{project.LightGroup{Kind: project.Strip, Nosings: true}, ""},
		{project.LightGroup{Kind: project.Strip, Panels: "p1"}, ""},
		{project.LightGroup{Kind: project.Strip}, "path: 0 entries, allowed: 2"},
		{project.LightGroup{Kind: project.Strip, Nosings: true, Path: path}, "nosings: true beside a path"},
		{project.LightGroup{Kind: project.Strip, Nosings: true, Panels: "p1"}, `panels: "p1" beside nosings`},
		{project.LightGroup{Kind: project.Strip, Panels: "p2"}, "light_gap_m above 0"},
		{project.LightGroup{Kind: project.Strip, Panels: "p9"}, `with light_gap_m: "p1"`},
		{project.LightGroup{Kind: project.Downlight, Beam: 40, At: path[:1], Nosings: true}, "for a strip only"},
	} {
		d, _ := file.Demo("small")
		d.Panels = []project.Panels{lit, dark}
		c.group.Flux = 100
		d.LightGroups = []project.LightGroup{c.group}
		err := d.Validate()
		if (err == nil) != (c.fault == "") || err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%+v: %v, want %q", c.group, err, c.fault)
		}
	}
}
