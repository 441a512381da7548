// SPDX-License-Identifier: MIT

package panel

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/projecttest"
)

// bareRoom returns a room of 6.1 m by 4.2 m and 2.6 m with nothing on its walls.
func bareRoom() *project.Design {
	d := file.New()
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 6.1, Y: 0}, {X: 6.1, Y: 4.2}, {X: 0, Y: 4.2}}
	d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 2.6}
	d.Room.Features, d.Room.Treatments, d.Speakers, d.SubZones = nil, nil, nil, nil
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser = 0
	}
	d.Room.Materials = append(d.Room.Materials, project.Material{ID: "cloth", Absorption: make([]float64, project.OctaveCount)},
		project.Material{ID: "wells", Absorption: make([]float64, project.OctaveCount), Scatters: true})
	d.Panels = []project.Panels{{Wall: 1, Module: 0.6, Gap: 0.03, Depth: 0.06, Absorb: "cloth", Diffuse: "wells",
		Pattern: []project.PanelKind{project.AbsorbPanel, project.DiffusePanel, project.BarePanel}}}
	return d
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// Nine panels of 0.60 m on 6.1 m with joints of 0.03 m: derived, see
// project.TestPanelsOnAWall.
func TestNinePanelsAndTheirRests(t *testing.T) {
	r := Of(bareRoom())[0]
	if len(r.Modules) != 9 || !near(r.Rest, 0.20) {
		t.Fatalf("%d panels, rest %.3f m, want 9 and 0.200", len(r.Modules), r.Rest)
	}
	first, last := r.Modules[0], r.Modules[8]
	if !near(first.From, 0.23) || !near(6.1-last.To, 0.23) || !near(first.High, 2.6) || first.Low != 0 {
		t.Errorf("the first is %v, the last %v", first.Rect, last.Rect)
	}
	if len(Treatments(bareRoom())) != 6 {
		t.Errorf("%d treatments, want 3 absorbing and 3 diffusing", len(Treatments(bareRoom())))
	}
}

// The panel list said 0.205 m at either end where the first panel stood at 0.215 m: the
// joint before it was left out.
func TestTheMarginIsUpToTheFirstPanel(t *testing.T) {
	d := bareRoom()
	for _, light := range []unit.Length{0, 0.05} {
		d.Panels[0].LightGap = light
		r := Of(d)[0]
		if got := r.Margin(); !near(got, r.Modules[0].From) {
			t.Errorf("%.3f m, and the first panel is at %.3f m", got, r.Modules[0].From)
		}
	}
}

func TestPanelsGiveWay(t *testing.T) {
	d := bareRoom()
	d.Room.Features = []project.Feature{
		{Kind: project.Door, Name: "the door", At: project.Point{X: 1.0, Y: 0}, Length: 0.9, Width: 0.06, Height: 2.1, Swing: project.OutLeft},
		{Kind: project.Soffit, Name: "soffit", At: project.Point{X: 5, Y: 0.2, Z: 2.3}, Length: 2.2, Width: 0.4, Height: 0.3},
	}
	d.Seating.Rows[0].Riser, d.Seating.Rows[0].Front, d.Seating.Rows[0].Back = 0.3, 0.5, 0.5
	r := Of(d)[0]
	cut := map[string]int{}
	for _, m := range r.Modules {
		for _, c := range m.Cuts {
			cut[c.Name]++
		}
		for _, q := range m.Pieces {
			if q.From < 1.45 && q.To > 0.55 && q.Low < 2.1 {
				t.Errorf("panel %d has a piece %v before the door", m.Number, q)
			}
			if q.To > 3.9 && q.High > 2.3 {
				t.Errorf("panel %d has a piece %v in the soffit", m.Number, q)
			}
		}
	}
	if cut["the door"] == 0 || cut["soffit"] == 0 || cut["platform or step"] == 0 {
		t.Errorf("cut out are %v", cut)
	}
}

// A loudspeaker in the middle of the wall stands where an even number of panels has a
// joint: with one fewer it stands in a panel.
func TestNoLightThroughALoudspeaker(t *testing.T) {
	d := bareRoom()
	d.Models = []project.Model{{ID: "flush", Width: 0.2, Height: 0.3, Depth: 0.1, Flush: true}}
	d.Speakers = []project.Loudspeaker{{Label: "M+090", Model: "flush", Mount: project.OnWall, At: project.Point{X: 3.05, Y: 0, Z: 1.2}}}
	d.Panels[0].Module, d.Panels[0].LightGap = 0.70, 0.05
	if n := d.Panels[0].Count(6.1); n != 8 {
		t.Fatalf("%d panels fit, the test wants 8", n)
	}
	r := Of(d)[0]
	if len(r.Modules) != 7 {
		t.Errorf("%d panels, want 7", len(r.Modules))
	}
	for _, j := range r.Joints {
		if !j.Lit || j.Dark != "" {
			t.Errorf("joint %v is dark", j.Rect)
		}
	}
	if m := r.Modules[3]; len(m.Pieces) != 4 || len(m.Cuts) != 1 || m.Cuts[0].Name != d.Speakers[0].Name() {
		t.Errorf("the panel in the middle is %+v", m)
	}
	d.Panels[0].Module = 5 // one panel only: its joints are far off
	if r := Of(d)[0]; len(r.Modules) != 1 || !near(r.Modules[0].Area()+0.21*0.31, 5*2.6) {
		t.Errorf("%+v", r)
	}
}

// Laws of every layout, in rooms drawn by number; where solids are is asked of package
// place point by point, not of the rectangles that panels are cut by.
func TestPanelsKeepClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Draw(t)
		d.Room.Materials = append(d.Room.Materials, project.Material{ID: "cloth-of-test", Absorption: make([]float64, project.OctaveCount)})
		for range rapid.IntRange(1, 3).Draw(t, "runs") {
			wall := rapid.IntRange(0, len(d.Room.Footprint)).Draw(t, "wall")
			d.Panels = append(d.Panels, project.Panels{Wall: wall, Low: unit.Length(rapid.Float64Range(0, 0.5).Draw(t, "low")),
				Module: unit.Length(rapid.Float64Range(0.3, 1.2).Draw(t, "module")), Gap: unit.Length(rapid.Float64Range(0, 0.05).Draw(t, "gap")),
				LightGap: unit.Length(rapid.SampledFrom([]float64{0, 0.06}).Draw(t, "light")), LightEvery: rapid.IntRange(0, 3).Draw(t, "every"),
				Depth: 0.06, Absorb: "cloth-of-test", Pattern: []project.PanelKind{project.AbsorbPanel}})
		}
		checkLaws(t, d)
	})
}

func checkLaws(t *rapid.T, d *project.Design) {
	const hair = 1e-3 // m: rounding, and half of what a cut-out may lie beside its box
	poly := d.Room.Polygon()
	solids := map[string]geometry.Box{}
	flush := map[string]bool{}
	for _, s := range place.Speakers(d) {
		solids[s.Name()], flush[s.Name()] = s.Box, s.Spec.Flush
	}
	for _, f := range d.Room.Features {
		if f.Kind == project.Door || f.Kind == project.Window {
			solids[f.Words()], flush[f.Words()] = f.Box(), true
		}
	}
	runs := Of(d)
	for i, r := range runs {
		for _, m := range r.Modules {
			for k, q := range m.Pieces {
				if q.From < m.From-hair || q.To > m.To+hair || q.Low < m.Low-hair || q.High > m.High+hair {
					t.Fatalf("piece %v outside its panel %v", q, m.Rect)
				}
				if r.Wall > 0 && (q.From < -hair || q.To > r.Length+hair || q.Low < -hair) {
					t.Fatalf("piece %v outside its wall of %.3f m", q, r.Length)
				}
				for _, o := range m.Pieces[:k] {
					if q.meet(o) {
						t.Fatalf("pieces %v and %v overlap", q, o)
					}
				}
				for _, before := range runs[:i] {
					for _, n := range before.Modules {
						for _, o := range n.Pieces {
							if before.Wall == r.Wall && q.meet(o) {
								t.Fatalf("%v and %v of another run overlap", q, o)
							}
						}
					}
				}
			}
		}
		for name, b := range solids {
			for n := range 7 * 7 * 7 {
				in := func(k int) float64 { return 0.999 * (float64(k%7)/3 - 1) }
				at := b.Center.Add(b.Basis.U.Mul(b.Half.X * in(n))).Add(b.Basis.V.Mul(b.Half.Y * in(n/7))).Add(b.Basis.W.Mul(b.Half.Z * in(n/49)))
				u, v, off := at.X, at.Y, d.Room.CeilingAt(at.X, at.Y)-at.Z
				if r.Wall > 0 {
					a, e := poly.Edge(r.Wall - 1)
					q := geometry.Vec2{X: at.X, Y: at.Y}.Sub(a)
					u, v, off = q.Dot(e.Sub(a).Mul(1/a.Dist(e))), at.Z, q.Dot(poly.InwardNormal(r.Wall-1))
				}
				behind := 0.0
				if flush[name] {
					behind = -0.02
				}
				if off < behind || off > float64(d.Panels[r.Index].Depth) {
					continue
				}
				for _, m := range r.Modules {
					for _, q := range m.Pieces {
						if u > q.From+hair && u < q.To-hair && v > q.Low+hair && v < q.High-hair {
							t.Fatalf("panel %d of wall %d is in the way of %s", m.Number, r.Wall, name)
						}
					}
				}
				for _, j := range r.Joints {
					if j.Lit && u > j.From+hair && u < j.To-hair && v > j.Low && v < j.High && isSpeaker(d, name) {
						t.Fatalf("light runs through %s", name)
					}
				}
			}
		}
	}
	// On a wall with nothing on it the run is the same from either end.
	d.Room.Features, d.Room.Treatments, d.Speakers = nil, nil, nil
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser = 0
	}
	for _, r := range Of(d) {
		if r.Wall == 0 {
			continue
		}
		n := len(r.Modules)
		for k := range n {
			a, b := r.Modules[k], r.Modules[n-1-k]
			if math.Abs(a.From-(r.Length-b.To)) > 1e-6 || math.Abs(a.To-(r.Length-b.From)) > 1e-6 {
				t.Fatalf("panels %d and %d of %d are not alike: %v, %v", k+1, n-k, n, a.Rect, b.Rect)
			}
		}
	}
}

func isSpeaker(d *project.Design, name string) bool {
	for i := range d.Speakers {
		if d.Speakers[i].Name() == name {
			return true
		}
	}
	return false
}

// A panel with a hole in it has the outline of the panel and that of the hole, and no
// line from one to the other.
func TestEdgesOfAPanelWithAHole(t *testing.T) {
	whole, hole := Rect{0, 0.6, 0, 2}, Rect{0.2, 0.4, 1, 1.3}
	m := Module{Rect: whole, Pieces: whole.without(hole)}
	sum := 0.0
	for _, e := range m.Edges() {
		sum += e.To - e.From + e.High - e.Low
	}
	if want := 2*(0.6+2) + 2*(0.2+0.3); !near(sum, want) {
		t.Errorf("edges %.3f m long, want %.3f: %v", sum, want, m.Edges())
	}
}
