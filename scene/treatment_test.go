// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/scene"
)

// A treatment stands where the document says, on the room's side of its wall or
// under its ceiling, whichever way round the footprint runs, and is seen from
// the room alone.
func TestTreatmentsStandWhereTheyAre(t *testing.T) {
	for name, d := range designs(t) {
		for wall := 0; wall <= len(d.Room.Footprint); wall++ {
			for _, scatters := range []bool{false, true} {
				c := d.Clone()
				c.Room.Materials = []project.Material{{ID: "m", Scatters: scatters, Absorption: []float64{1, 1, 1, 1, 1, 1, 1, 1}}}
				one := project.Treatment{Material: "m", Wall: wall, From: 0.2, To: 0.6, Low: 0.7, High: 1.9}
				if wall == 0 {
					one.From, one.To, one.Low, one.High = 2, 3, 1, 2.5
				}
				c.Room.Treatments = []project.Treatment{one}
				m := mesh(scene.Build(c, nil, scene.Default()), "treatments")
				if m == nil {
					t.Fatalf("%s: nothing is drawn on wall %d", name, wall)
				}
				poly := c.Room.Polygon()
				var along, in geometry.Vec
				var at0 geometry.Vec
				if wall > 0 {
					a, b := poly.Edge(wall - 1)
					dir := b.Sub(a).Mul(1 / a.Dist(b))
					n := poly.InwardNormal(wall - 1)
					along, in, at0 = geometry.V(dir.X, dir.Y, 0), geometry.V(n.X, n.Y, 0), geometry.V(a.X, a.Y, 0)
				}
				front, deepest := 0, 0.0
				for v := range len(m.Pos) / 3 {
					p, nor := at(m.Pos, v), at(m.Nor, v)
					var u, w, deep float64
					if wall == 0 {
						u, w, deep = p.X, p.Y, c.Room.CeilingAt(p.X, p.Y)-p.Z
						in = geometry.V(0, 0, -1)
					} else {
						u, w, deep = p.Sub(at0).Dot(along), p.Z, p.Sub(at0).Dot(in)
					}
					const tol = 2e-5 // m, float32
					if u < float64(one.From)-tol || u > float64(one.To)+tol || w < float64(one.Low)-tol || w > float64(one.High)+tol || deep < -tol || deep > 0.12 {
						t.Fatalf("%s: wall %d: a corner at %.4f along, %.4f up, %.4f off it", name, wall, u, w, deep)
					}
					deepest = max(deepest, deep)
					if nor.Dot(in) > 0.9 {
						front++
					}
					if nor.Dot(in) < -0.2 {
						t.Fatalf("%s: wall %d: a face is turned to the wall", name, wall)
					}
				}
				if front == 0 || deepest < 0.03 {
					t.Errorf("%s: wall %d: %d vertices face the room, %.3f m off it", name, wall, front, deepest)
				}
			}
		}
	}
}

// Fabric, wells and boards tell what is drawn apart: wells have several depths
// and the colour of wood, fabric is bluer than the wall, a board is thin.
func TestTreatmentsLookLikeTheirMaterial(t *testing.T) {
	d := demo(t, "small")
	d.Room.Finishes = project.Finishes{} // they would be in that
	look := func(m project.Material) (depths map[int]bool, warm float64) {
		c := d.Clone()
		m.ID = "m"
		c.Room.Finishes = project.Finishes{} // what is usual
		c.Room.Materials = append(c.Room.Materials, m)
		c.Room.Treatments = []project.Treatment{{Material: "m", Wall: 1, From: 0.5, To: 1.5, Low: 0.8, High: 1.8}}
		l := mesh(scene.Build(c, nil, scene.Default()), "treatments")
		n := c.Room.Polygon().InwardNormal(0)
		a, _ := c.Room.Polygon().Edge(0)
		depths = map[int]bool{}
		for v := range len(l.Pos) / 3 {
			if nor := at(l.Nor, v); nor.X*n.X+nor.Y*n.Y > 0.99 {
				p := at(l.Pos, v)
				depths[int(math.Round(1000*((p.X-a.X)*n.X+(p.Y-a.Y)*n.Y)))] = true
				warm += float64(l.Col[3*v] - l.Col[3*v+2])
			}
		}
		return depths, warm
	}
	flat := func(a float64) []float64 { return []float64{a, a, a, a, a, a, a, a} }
	fabric, cold := look(project.Material{Absorption: flat(0.9)})
	wells, warm := look(project.Material{Absorption: flat(0.2), Scatters: true})
	board, _ := look(project.Material{Absorption: flat(0.1)})
	if len(fabric) != 1 || len(board) != 1 || len(wells) < 3 {
		t.Errorf("depths in mm: fabric %v, board %v, wells %v", fabric, board, wells)
	}
	for mm := range board {
		if fabric[mm] || mm > 25 {
			t.Errorf("a board stands %d mm off the wall", mm)
		}
	}
	if cold >= 0 || warm <= 0 {
		t.Errorf("fabric is %.2f redder than blue, wells %.2f; want less and more than 0", cold, warm)
	}
}

// What lies beyond the end of its wall, or above its ceiling, is not drawn out
// there.
func TestTreatmentsEndWithTheirWall(t *testing.T) {
	d := demo(t, "small")
	d.Room.Ceiling = project.Ceiling{Slope: project.FrontToBack, Height: 2.6, FarHeight: 1.9}
	for wall := 1; wall <= len(d.Room.Footprint); wall++ {
		d.Room.Treatments = []project.Treatment{{Material: d.Room.Materials[0].ID, Wall: wall, From: 0.5, To: unit.Length(40), Low: 0.5, High: 9}}
		m := mesh(scene.Build(d, nil, scene.Default()), "treatments")
		lo, hi := d.Room.Polygon().Bounds()
		for v := range len(m.Pos) / 3 {
			p := at(m.Pos, v)
			if p.X < lo.X-1e-4 || p.X > hi.X+1e-4 || p.Y < lo.Y-1e-4 || p.Y > hi.Y+1e-4 || p.Z > d.Room.CeilingAt(p.X, p.Y)+0.02 {
				t.Fatalf("wall %d: drawn at %v", wall, p)
			}
		}
	}
}

// A panel across the ridge follows both slopes: it hung level between them.
func TestAPanelAcrossTheRidgeFollowsBothSlopes(t *testing.T) {
	d := demo(t, "small")
	lo, hi := d.Room.Polygon().Bounds()
	mid := unit.Length(lo.Y+hi.Y) / 2
	d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: 1.6, FarHeight: 4.6,
		Planes: []project.CeilingPlane{{From: project.Corner{Y: mid}, FromHeight: 3.1, To: project.Corner{Y: unit.Length(hi.Y)}, ToHeight: 1.6}}}
	d.Room.Treatments = []project.Treatment{{Material: d.Room.Materials[0].ID, From: 1, To: 2, Low: mid - 0.4, High: mid + 0.3}}
	m := mesh(scene.Build(d, nil, scene.Default()), "treatments")
	if len(m.Index) == 0 {
		t.Fatal("no panel")
	}
	for i := 0; i < len(m.Index); i += 3 {
		a, b, c := at(m.Pos, int(m.Index[i])), at(m.Pos, int(m.Index[i+1])), at(m.Pos, int(m.Index[i+2]))
		p := a.Add(b).Add(c).Mul(1.0 / 3)
		if below := d.Room.CeilingAt(p.X, p.Y) - p.Z; below < -0.01 || below > 0.12 {
			t.Fatalf("at %v it hangs %.3f m below the ceiling", p, below)
		}
	}
}

// Panels are drawn where they are laid out, with light in their joints.
func TestPanelsAreDrawn(t *testing.T) {
	d := demo(t, "small")
	d.Panels = []project.Panels{{Wall: 1, Module: 0.6, Gap: 0.01, LightGap: 0.04, Depth: 0.06,
		Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: d.Room.Materials[0].ID}}
	drawn := func(b *scene.Builder, name string) (n int) {
		for _, m := range b.Build(d, nil, scene.Default()).Meshes {
			if m.Name == name {
				n += len(m.Index)
			}
		}
		return n
	}
	var b scene.Builder
	with, light := drawn(&b, "treatments"), drawn(&b, "panel lights")
	if light == 0 {
		t.Error("no light in the joints")
	}
	d.Panels = nil
	if without := drawn(&b, "treatments"); without >= with {
		t.Errorf("%d corners with panels, %d without", with, without)
	}
}

// What a proposal hangs is drawn with it; what hangs already is not drawn again.
func TestProposedPanelsAreDrawn(t *testing.T) {
	d := demo(t, "small")
	to := d.Clone()
	to.Panels = []project.Panels{{Wall: 1, Module: 0.6, Gap: 0.01, Depth: 0.06, Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: d.Room.Materials[0].ID}}
	drawn := func(d *project.Design) (n int) {
		o := scene.Default()
		o.Ghost = to
		for _, m := range scene.Build(d, nil, o).Meshes {
			if m.Name == "proposed" {
				n += len(m.Index)
			}
		}
		return n
	}
	if drawn(d) == 0 || drawn(to) != 0 {
		t.Errorf("%d corners of what is proposed, %d of what is there", drawn(d), drawn(to))
	}
}
