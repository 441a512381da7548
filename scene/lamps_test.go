// SPDX-License-Identifier: MIT

package scene

import (
	"slices"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
)

// Every light group of a room is drawn, also by itself; a new level changes nothing, a lamp
// elsewhere does.
func TestLightGroupsAreDrawn(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	count := 0
	for _, o := range Objects(d, false) {
		if o.Group == "Light" && len(o.Meshes) > 0 && strings.HasSuffix(o.Name, d.LightGroups[count].Name) {
			count++
		}
	}
	if count != len(d.LightGroups) {
		t.Errorf("%d of %d groups are drawn", count, len(d.LightGroups))
	}
	var b Builder
	lit := func(d *project.Design) *Mesh {
		for _, m := range b.Build(d, nil, Default()).Meshes {
			if m.Name == "light groups" {
				return &m
			}
		}
		t.Fatal("no light groups")
		return nil
	}
	first := lit(d)
	moved := d.Clone()
	moved.LightGroups[1].Path[0].Z -= 0.5
	if got := lit(moved); len(got.Pos) != len(first.Pos) || slices.Equal(got.Pos, first.Pos) {
		t.Error("a strip that was moved is drawn where it was")
	}
}

// The plan of the client view showed the signs by which an electrician finds the lamps.
func TestTheClientsPlanHasNoSignsOfLamps(t *testing.T) {
	d, _ := file.Demo("two-row")
	o := Default()
	o.Drawing = Axes{X: true, Y: true}
	signs := func() bool {
		for _, l := range Build(d, nil, o).Lines {
			if l.Name == "light groups" && len(l.Pos) > 0 {
				return true
			}
		}
		return false
	}
	if !signs() {
		t.Error("the plan has none either")
	}
	if o.Client = true; signs() {
		t.Error("they are there")
	}
}
