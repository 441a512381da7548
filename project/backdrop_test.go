// SPDX-License-Identifier: MIT

package project_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project"
)

// A shape goes into the texts of a design and out again as it was, to the grain.
func TestAShapeGoesRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var m project.Mesh
		f := rapid.Float64Range(-100, 100)
		n := rapid.IntRange(1, 30).Draw(t, "points")
		for range n {
			m.Points = append(m.Points, geometry.V(f.Draw(t, "x"), f.Draw(t, "y"), f.Draw(t, "z")))
		}
		k := rapid.IntRange(0, n-1)
		for range rapid.IntRange(0, 9).Draw(t, "triangles") {
			m.Triangles = append(m.Triangles, [3]int{k.Draw(t, "a"), k.Draw(t, "b"), k.Draw(t, "c")})
		}
		for range rapid.IntRange(0, 9).Draw(t, "lines") {
			m.Lines = append(m.Lines, [2]int{k.Draw(t, "a"), k.Draw(t, "b")})
		}
		var b, again project.Backdrop
		b.SetMesh(m)
		got, err := b.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range m.Points {
			if p.Dist(got.Points[i]) > float64(project.Grain()) {
				t.Fatalf("%v became %v", p, got.Points[i])
			}
		}
		if again.SetMesh(got); again != b || len(got.Triangles) != len(m.Triangles) || len(got.Lines) != len(m.Lines) {
			t.Fatal("not the same the second time")
		}
	})
}

// Turned by 90 degrees what points back points to the right.
func TestABackdropStandsWhereItIsPut(t *testing.T) {
	b := project.Backdrop{At: project.Point{X: 1, Y: 2, Z: 3}, Turn: 90}
	b.SetMesh(project.Mesh{Points: []geometry.Vec{{X: 1}, {Y: 1}, {Z: 1}}})
	for i, want := range []geometry.Vec{{X: 1, Y: 3, Z: 3}, {X: 0, Y: 2, Z: 3}, {X: 1, Y: 2, Z: 4}} {
		if p := b.Placed().Points[i]; p.Dist(want) > 1e-9 {
			t.Errorf("%d at %v, want %v", i, p, want)
		}
	}
}

func TestBackdropsThatCannotBe(t *testing.T) {
	corner := func(n int) project.Backdrop { // n triangles over one corner
		var b project.Backdrop
		b.SetMesh(project.Mesh{Points: []geometry.Vec{{}, {X: 1}, {Y: 1}}, Triangles: make([][3]int, n)})
		return b
	}
	far := corner(1)
	far.SetMesh(project.Mesh{Points: []geometry.Vec{{X: 150}}})
	obstacle := corner(project.MaxObstacleTriangles + 1)
	obstacle.Obstacle = true
	for want, list := range map[string][]project.Backdrop{
		"backdrops: 21 entries, allowed: 0 to 20":                                                      make([]project.Backdrop, 21),
		`backdrops[0].unit: "yd", allowed: "", "mm", "cm", "in", "ft", "m"`:                            {{Unit: "yd"}},
		"backdrops[0].turn_deg: 400°, allowed: -360° to 360°":                                          {{Turn: 400}},
		"backdrops[0].points: no base64 from character 1 on, allowed: what Earline writes":             {{Points: "!"}},
		"backdrops[0].points: 3 bytes, allowed: a multiple of 12":                                      {{Points: "AAAA"}},
		"backdrops[0].triangles: point 0, allowed: one of the 0 points, counted from 0":                {{Triangles: "AAAAAAAA"}},
		"backdrops[0].lines: 3 bytes, allowed: a multiple of 4":                                        {{Lines: "AAAA"}},
		"backdrops[0].points: a point 150 m from its origin, allowed: -100 m to 100 m along each axis": {far},
		"backdrops[0].points: some 62500 points, allowed: at most 60000":                               {{Points: strings.Repeat("A", 1_000_000)}},
		"backdrops: 20001 triangles in all, allowed: at most 20000":                                    {corner(20_000), corner(1)},
		"backdrops: 2001 triangles of obstacles in all, allowed: at most 2000":                         {obstacle},
	} {
		var got []string
		for _, f := range project.Faults((&project.Design{Backdrops: list}).Validate()) {
			if strings.HasPrefix(f.Field, "backdrops") {
				got = append(got, f.Error())
			}
		}
		if len(got) != 1 || got[0] != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
