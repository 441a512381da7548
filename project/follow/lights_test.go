// SPDX-License-Identifier: MIT

package follow_test

import (
	"strings"
	"testing"

	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/file"
)

// Lamps go with what carries them: a pair in the ceiling stays about the middle and under
// it, a strip along the right wall and the one in its soffit go with that, a lamp low on
// the left wall stays.
func TestLampsGoWithWallsAndCeiling(t *testing.T) {
	d, ok := file.Demo("small")
	if !ok {
		t.Fatal("no demo")
	}
	d = d.Clone()
	d.LightGroups = []project.LightGroup{
		{Kind: project.Downlight, At: []project.Point{{X: 2, Y: 0.9, Z: 2.4}, {X: 2, Y: 2.9, Z: 2.4}}, Flux: 100, Beam: 40},
		{Kind: project.Strip, Path: []project.Point{{X: 1, Y: 3.75, Z: 1}, {X: 4, Y: 3.75, Z: 1}}, Flux: 100},
		{Kind: project.StepLight, At: []project.Point{{X: 2, Y: 0.01, Z: 0.3}}, Flux: 10},
		{Kind: project.Stars, Area: []project.Corner{{X: 1, Y: 0.05}, {X: 3, Y: 0.05}, {X: 3, Y: 3.75}, {X: 1, Y: 3.75}}, Flux: 10},
	}
	after, m := changed(d, func(r *project.Room) {
		wide(0.4)(r)
		r.Ceiling.Height += 0.3
	})
	g := after.LightGroups
	for i, want := range []project.Point{{X: 2, Y: 1.1, Z: 2.7}, {X: 2, Y: 3.1, Z: 2.7}} {
		geomtest.WithinVec(t, "downlight", g[0].At[i].Vec(), want.Vec(), 1e-6)
	}
	geomtest.WithinVec(t, "strip", g[1].Path[1].Vec(), project.Point{X: 4, Y: 4.15, Z: 1}.Vec(), 1e-6)
	geomtest.WithinVec(t, "step", g[2].At[0].Vec(), d.LightGroups[2].At[0].Vec(), 0)
	geomtest.Within(t, "stars", float64(g[3].Area[2].Y), 4.15, 1e-6)
	geomtest.Within(t, "stars", float64(g[3].Area[0].Y), 0.05, 1e-9)
	if m.Lights != 3 || !strings.Contains(m.Words(), "3 light groups") {
		t.Errorf("%+v: %s", m, m.Words())
	}
	if d.LightGroups[0].At[0].Z != 2.4 {
		t.Error("the design before is changed")
	}
}
