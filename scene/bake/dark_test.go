// SPDX-License-Identifier: MIT

package bake_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/light"
	"earline/scene"
	"earline/scene/bake"
)

// bakeOf lights a design as a client first sees it.
func bakeOf(t *testing.T, d *project.Design) (*light.Model, *bake.Light) {
	t.Helper()
	o := scene.Default()
	o.Client, o.Bare = true, true
	list := scene.Build(d, nil, o)
	m := light.Of(d)
	l, err := bake.Of(list, bake.LampsOf(m, list), 1).Light(context.Background(), bake.Quality{Shadows: 2, Gather: 4, Bounces: 2, Smooth: 2})
	if err != nil {
		t.Fatal(err)
	}
	return m, l
}

// sane fails for light that cannot be, and returns the brightest.
func sane(t *testing.T, list *scene.List) (brightest float64) {
	t.Helper()
	for _, m := range list.Meshes {
		for _, v := range m.Lit {
			if !(v >= 0) || math.IsInf(float64(v), 0) {
				t.Fatalf("%s: light of %g", m.Name, v)
			}
			brightest = max(brightest, float64(v))
		}
	}
	return brightest
}

// A scene with nothing on was a black picture and not a word.
func TestADarkRoomSaysWhy(t *testing.T) {
	for name, c := range map[string]struct {
		change func(d *project.Design)
		why    string
	}{
		"as it is": {func(*project.Design) {}, ""},
		"all off": {func(d *project.Design) {
			for i := range d.LightGroups {
				d.LightGroups[i].Scenes = project.SceneLevels{}
			}
		}, "level 0"},
		"outside": {func(d *project.Design) {
			for i := range d.LightGroups {
				for k := range d.LightGroups[i].At {
					d.LightGroups[i].At[k].X += 30
				}
				for k := range d.LightGroups[i].Path {
					d.LightGroups[i].Path[k].X += 30
				}
			}
		}, "in the room"},
	} {
		d, _ := file.Demo("small")
		c.change(d)
		m, l := bakeOf(t, d)
		show := bake.In(m, project.House)
		if got := bake.Dark(m, show); (got == "") != (c.why == "") || !strings.Contains(got, c.why) {
			t.Errorf("%s: %q, want %q", name, got, c.why)
		}
		if lit := sane(t, l.Show(show)) > 0.5; lit != (c.why == "") {
			t.Errorf("%s: lit is %v", name, lit)
		}
	}
}

// A lamp may be set in a wall, in the ceiling or in a step, and there may be many.
func TestLampsInWallsAndAThousandLampsLight(t *testing.T) {
	d, _ := file.Demo("two-row")
	d.LightGroups = nil
	sunk := []project.Point{{X: 3, Y: -0.02, Z: 1.5}, {X: 3, Y: 2, Z: 2.72}, {X: 4.2, Y: 1, Z: 0.1}, {X: -0.01, Y: 1, Z: 1}}
	for i, at := range sunk {
		d.LightGroups = append(d.LightGroups, project.LightGroup{Name: fmt.Sprint(i), Kind: project.Downlight, At: []project.Point{at}, Flux: 500, Scenes: project.SceneLevels{House: 1}})
	}
	var many []project.Point
	for i := range 1000 {
		many = append(many, project.Point{X: 0.2 + unit.Length(i%40)*0.14, Y: 0.1 + unit.Length(i/40)*0.16, Z: 2.4})
	}
	d.LightGroups = append(d.LightGroups, project.LightGroup{Kind: project.StepLight, At: many, Flux: 3000, Scenes: project.SceneLevels{Cleaning: 1}})
	m, l := bakeOf(t, d)
	for _, s := range []project.Scene{project.House, project.Cleaning} {
		if sane(t, l.Show(bake.In(m, s))) < 0.5 {
			t.Errorf("%s is dark", s)
		}
	}
}
