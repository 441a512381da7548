// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// The closed form n = floor((L - g)/(w + g)) and its example, a wall of 6.1 m with panels
// of 0.60 m and joints of 0.03 m, are derived here: 9 panels take 9 x 0.63 + 0.03 =
// 5.70 m and leave 0.40 m, 0.20 m at either end.
func TestPanelsOnAWall(t *testing.T) {
	p := project.Panels{Module: 0.6, Gap: 0.03}
	if n := p.Count(6.1); n != 9 {
		t.Errorf("%d panels, want 9", n)
	}
	if run := float64(p.Run(9)); math.Abs(run-5.70) > 1e-9 {
		t.Errorf("a run of %.3f m, want 5.700", run)
	}
	// Joints with light narrower than those without, at both ends: 3 x 0.125 + 4 x 0.015625
	// m = 0.4375 m; 2 were said to be all that a wall of 0.5 m holds.
	if n := (&project.Panels{Module: 0.125, Gap: 0.2, LightGap: 0.015625}).Count(0.5); n != 3 {
		t.Errorf("%d panels with narrow joints, want 3", n)
	}
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(0.1, 2).Draw(t, "module")
		g := rapid.Float64Range(0, 0.2).Draw(t, "gap")
		long := rapid.Float64Range(0.2, 20).Draw(t, "wall")
		p := project.Panels{Module: unit.Length(w), Gap: unit.Length(g)}
		if n, want := p.Count(long), math.Max(math.Floor((long-g)/(w+g)+1e-7), 0); math.Abs(float64(n)-want) > 0 &&
			math.Abs((long-g)/(w+g)-math.Round((long-g)/(w+g))) > 1e-6 {
			t.Fatalf("%d panels, want %g", n, want)
		}
		p.LightGap, p.LightEvery = unit.Length(rapid.Float64Range(0.01, 0.3).Draw(t, "light")), rapid.IntRange(0, 5).Draw(t, "every")
		n := p.Count(long)
		if n > 0 && float64(p.Run(n)) > long+1e-6 {
			t.Fatalf("%d panels run over a wall of %g m", n, long)
		}
		if float64(p.Run(n+1)) <= long-1e-6 {
			t.Fatalf("one more than %d panels fits", n)
		}
		for k := range n + 1 {
			if p.Lit(k, n) != p.Lit(n-k, n) {
				t.Fatalf("joint %d of %d and its mirror image are not alike", k, n)
			}
		}
	})
}

func TestPanelsWiderThanTheWall(t *testing.T) {
	d := file.New()
	d.Room.Materials = append(d.Room.Materials, project.Material{ID: "cloth", Absorption: make([]float64, project.OctaveCount)})
	good := project.Panels{Wall: 1, Module: 0.6, Gap: 0.03, Depth: 0.06, Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: "cloth"}
	long := d.Room.PanelLength(1)
	for _, c := range []struct {
		name  string
		spoil func(p *project.Panels)
		want  string
	}{
		{"as it is", func(*project.Panels) {}, ""},
		{"too wide", func(p *project.Panels) { p.Module, p.Gap = unit.Length(long), 0.05 }, "at most " + unit.Length(long-0.1).String()},
		{"too many", func(p *project.Panels) { p.Module, p.Gap = 0.1, 0 }, ""},
		{"no wall", func(p *project.Panels) { p.Wall = 65 }, "panels[0].wall: 65"},
		{"upside down", func(p *project.Panels) { p.Low, p.High = 2, 1 }, "panels[0].high_m"},
		{"unknown kind", func(p *project.Panels) { p.Pattern = []project.PanelKind{"wool"} }, `"absorb", "diffuse", "bare"`},
		{"no material", func(p *project.Panels) { p.Absorb = "" }, "panels[0].material_absorb"},
		{"no pattern", func(p *project.Panels) { p.Pattern = nil }, "panels[0].pattern"},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := d.Clone()
			p := good
			c.spoil(&p)
			x.Panels = []project.Panels{p}
			err := x.Validate()
			if c.want == "" && err == nil {
				return
			}
			if err == nil {
				t.Fatal("not refused")
			}
			if len(project.Faults(err)) != 1 || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want one line with %q", err, c.want)
			}
		})
	}
}
