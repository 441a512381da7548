// SPDX-License-Identifier: MIT

package scene_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
	"earline/scene"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// What the renderer relies on holds for every mesh of every design.
func TestMeshesAreSound(t *testing.T) {
	for name, d := range designs(t) {
		l := scene.Build(d, audited(d), everything())
		for _, m := range l.Meshes {
			where := name + ": " + m.Name
			n := len(m.Pos) / 3
			if len(m.Pos)%3 != 0 || len(m.Nor) != len(m.Pos) || len(m.Col) != len(m.Pos) || len(m.Index)%3 != 0 || len(m.Index) == 0 {
				t.Fatalf("%s: %d positions, %d normals, %d colours, %d indices", where, len(m.Pos), len(m.Nor), len(m.Col), len(m.Index))
			}
			if !finite(m.Pos) || !finite(m.Nor) || !finite(m.Col) {
				t.Errorf("%s: not finite", where)
			}
			if !(m.Alpha > 0 && m.Alpha <= 1) {
				t.Errorf("%s: alpha %v", where, m.Alpha)
			}
			for _, c := range m.Col {
				if c < 0 || c > 1 {
					t.Errorf("%s: colour %v", where, c)
					break
				}
			}
			for i := range n {
				if l := at(m.Nor, i).Len(); l < 1-1e-4 || l > 1+1e-4 { // float32
					t.Errorf("%s: normal %d is %v long", where, i, l)
					break
				}
			}
			for _, i := range m.Index {
				if int(i) >= n {
					t.Fatalf("%s: index %d of %d vertices", where, i, n)
				}
			}
		}
		for _, n := range l.Lines {
			if len(n.Pos)%6 != 0 || len(n.Col) != len(n.Pos) || len(n.Dash)%4 != 0 || len(n.Dash) != 0 && len(n.Dash) != len(n.Pos)/3*2 || len(n.Pos) == 0 || !finite(n.Pos) || !finite(n.Dash) {
				t.Errorf("%s: lines %s: %d numbers", name, n.Name, len(n.Pos))
			}
		}
	}
}

// Triangles wind counter-clockwise about the side that their normals name: a
// mesh drawn from inside only would otherwise have holes.
func TestTrianglesFaceTheirNormals(t *testing.T) {
	for name, d := range designs(t) {
		fine := scene.Default()
		fine.Client = true
		for _, m := range slices.Concat(scene.Build(d, audited(d), everything()).Meshes, scene.Build(d, nil, fine).Meshes) {
			wrong, area := 0, 0
			for i := 0; i < len(m.Index); i += 3 {
				a, b, c := int(m.Index[i]), int(m.Index[i+1]), int(m.Index[i+2])
				n, ok := at(m.Pos, b).Sub(at(m.Pos, a)).Cross(at(m.Pos, c).Sub(at(m.Pos, a))).Unit()
				if !ok {
					continue
				}
				area++
				if n.Dot(at(m.Nor, a).Add(at(m.Nor, b)).Add(at(m.Nor, c))) < -0.1 {
					wrong++
				}
			}
			if wrong > 0 {
				t.Errorf("%s: %s: %d of %d triangles face away from their normals", name, m.Name, wrong, area)
			}
		}
	}
}

// Budgets of triangles: software rendering must stay fluent.
func TestTrianglesWithinBudget(t *testing.T) {
	for name, d := range designs(t) {
		seats := len(place.Seats(d))
		l := scene.Build(d, nil, scene.Default())
		if n := len(mesh(l, "chairs").Index) / 3 / seats; n > 700 {
			t.Errorf("%s: %d triangles a chair, want at most 700", name, n)
		}
		if n := len(mesh(l, "people").Index) / 3 / seats; n > 900 {
			t.Errorf("%s: %d triangles a person, want at most 900", name, n)
		}
		if n := triangles(l); n > 60_000 {
			t.Errorf("%s: %d triangles, want at most 60000", name, n)
		}
		o := scene.Default()
		o.Client = true
		l = scene.Build(d, nil, o)
		if n := len(mesh(l, "chairs").Index) / 3 / seats; n > 1600 {
			t.Errorf("%s: %d triangles a fine chair, want at most 1600", name, n)
		}
		if n := len(mesh(l, "people").Index) / 3 / seats; n > 2450 {
			t.Errorf("%s: %d triangles a fine person, want at most 2450", name, n)
		}
	}
}

// fineness is both ways to draw people and chairs: of a drawing and of a client's view.
var fineness = map[string]bool{"plain": false, "fine": true}

// What is drawn of a sitter above the shoulders is never larger than what is
// judged: one would see a blocked path where the audit finds it free.
func TestSittersAreNoLargerThanTheirSolids(t *testing.T) {
	for name, d := range designs(t) {
		who := place.PersonAt(d, d.Seating.Sitters.Others)
		seats := place.Seats(d)
		for how, fine := range fineness {
			o := scene.Default()
			o.Client, o.Bare = fine, true // bare, each sitter is a mesh
			drawn := 0
			for _, m := range scene.Build(d, nil, o).Meshes {
				if m.Name != "people" {
					continue
				}
				drawn++
				s := seats[m.Seat-1]
				b := who.In(s)
				solids := []geometry.Ellipsoid{b.Head, b.NeckSolid, b.Shoulders}
				reached := 0.0
				for v := range len(m.Pos) / 3 {
					p := at(m.Pos, v)
					if p.Sub(b.Shoulders.Center).Dot(b.Shoulders.Basis.W) <= 0 {
						continue
					}
					depth := 2.0
					for _, e := range solids {
						q := e.Basis.Local(p.Sub(e.Center))
						depth = min(depth, geometry.V(q.X/e.Radii.X, q.Y/e.Radii.Y, q.Z/e.Radii.Z).Len())
					}
					if depth > 1.0001 { // float32
						// Arms rest before the body, where no solid is.
						if p.Sub(b.Shoulders.Center).Dot(b.Shoulders.Basis.U) < -b.Shoulders.Radii.X {
							continue
						}
						t.Fatalf("%s, %s, row %d seat %d: %v stands %.3f out of head, neck and shoulders", name, how, s.Row, s.Number, p, depth)
					}
					reached = max(reached, depth)
				}
				if reached < 0.9 {
					t.Errorf("%s, %s: a sitter is drawn %.2f of the solids, want near 1", name, how, reached)
				}
			}
			if drawn != len(seats) {
				t.Errorf("%s, %s: %d sitters in %d seats", name, how, drawn, len(seats))
			}
		}
	}
}

// The same for chairs: all but a raised footrest lies within the solids.
func TestChairsAreNoLargerThanTheirSolids(t *testing.T) {
	d := demo(t, "large")
	for i := range d.Chairs {
		d.Chairs[i].Footrest = 0
	}
	seats := place.Seats(d)
	for how, fine := range fineness {
		o := scene.Default()
		o.Client = fine
		m := mesh(scene.Build(d, nil, o), "chairs")
		each := len(m.Pos) / 3 / len(seats)
		for i, s := range seats {
			parts := s.ChairParts()
			for v := i * each; v < (i+1)*each; v++ {
				p := at(m.Pos, v)
				in := false
				for _, part := range parts {
					q, h := part.Box.Basis.Local(p.Sub(part.Box.Center)), part.Box.Half
					const tol = 1e-5 // m, float32
					in = in || max(q.X, -q.X) <= h.X+tol && max(q.Y, -q.Y) <= h.Y+tol && max(q.Z, -q.Z) <= h.Z+tol
				}
				if !in {
					t.Fatalf("%s, row %d seat %d: %v is outside the chair's solids", how, s.Row, s.Number, p)
				}
			}
		}
	}
}

// A client sees the room and nothing of the engineering, whatever is asked for.
func TestClientViewHasNoEngineering(t *testing.T) {
	room := map[string]bool{"shell": true, "floor": true, "step lights": true, "features": true, "soffits and fittings": true, "lamps": true, "light groups": true, "rims of lamps": true, "panel lights": true, "treatments": true,
		"window panes": true, "screen": true, "picture": true, "chairs": true, "people": true, "loudspeakers": true, "grilles": true, "projector": true, "lens and mount": true, "masks": true}
	for name, d := range designs(t) {
		o := everything()
		o.Client = true
		l := scene.Build(d, audited(d), o)
		if len(l.Labels) > 0 {
			t.Errorf("%s: label %q", name, l.Labels[0].Text)
		}
		for _, n := range l.Lines {
			t.Errorf("%s: lines %q", name, n.Name)
		}
		for _, m := range l.Meshes {
			if !room[m.Name] || m.OnTop {
				t.Errorf("%s: mesh %q", name, m.Name)
			}
		}
	}
}

// A blocked rod ends on what blocks: its last vertices lie within its radius of
// the blocker's surface.
func TestBlockedRodEndsAtTheBlocker(t *testing.T) {
	d := demo(t, "large")
	r := audited(d)
	checked := 0
	for i := range r.Seats {
		for k := range r.Speakers {
			pair := r.Pair(i, k)
			path := pair.Deciding()
			if pair.Verdict != sight.Blocked || path.Blocker < 0 {
				continue
			}
			o := scene.Default()
			o.Seat, o.Speaker, o.Only = i, k, true
			m := mesh(scene.Build(d, r, o), "blocked rays")
			if m == nil {
				t.Fatalf("seat %d, loudspeaker %d is blocked and has no rod", i, k)
			}
			// The rod's far end is the vertex farthest from the ear.
			var end geometry.Vec
			for v := range len(m.Pos) / 3 {
				if p := at(m.Pos, v); p.Dist(path.From) > end.Dist(path.From) || v == 0 {
					end = p
				}
			}
			solid := r.Parts[path.Blocker].Solid()
			_, _, hit := solid.Hit(geometry.Segment{A: path.From, B: path.To})
			if gap := end.Dist(path.Enter); gap > 0.012 || !hit {
				t.Errorf("seat %d, loudspeaker %d: rod ends %.3f m from %s", i, k, gap, r.Parts[path.Blocker])
			}
			if mesh(scene.Build(d, r, o), "blockers selected") == nil {
				t.Errorf("seat %d, loudspeaker %d: the blocker is not highlighted", i, k)
			}
			checked++
		}
	}
	if checked == 0 {
		t.Fatal("the demo has no blocked pair to check")
	}
}

// By default only problems are drawn; a selected pair alone draws one path.
func TestRaysFollowWhatIsAsked(t *testing.T) {
	d := demo(t, "small")
	r := audited(d)
	clear := slices.IndexFunc(r.Pairs, func(p sight.Pair) bool { return p.Verdict == sight.Clear })
	if clear < 0 {
		t.Fatal("no clear pair")
	}
	segments := func(l *scene.List, name string) int {
		for _, n := range l.Lines {
			if n.Name == name {
				return len(n.Pos) / 6
			}
		}
		return 0
	}
	o := scene.Default()
	o.Rays = scene.All
	judged := r.Count[sight.Clear]
	if got := segments(scene.Build(d, r, o), "rays"); got < judged {
		t.Errorf("all rays: %d segments, want one for each of %d clear pairs", got, judged)
	}
	o = scene.Default()
	o.Seat, o.Speaker, o.Only = clear/len(r.Speakers), clear%len(r.Speakers), true
	l := scene.Build(d, r, o)
	if got := segments(l, "rays selected"); got != 1 {
		t.Errorf("one clear pair selected: %d segments, want 1", got)
	}
	o.Rays = scene.NoRays
	if got := segments(scene.Build(d, r, o), "rays selected"); got != 0 {
		t.Errorf("no rays asked for: %d segments", got)
	}
	if len(scene.Build(d, nil, everything()).Meshes) == 0 {
		t.Error("no picture without an audit")
	}
}

// A view from a seat leaves out the sitter and the headrest there, no others.
func TestFromSeatLeavesOutItsSitter(t *testing.T) {
	d := demo(t, "large")
	o := scene.Default()
	all := scene.Build(d, nil, o)
	o.FromSeat = 3
	l := scene.Build(d, nil, o)
	seats := len(place.Seats(d))
	o.Bare, o.FromSeat = true, scene.None
	there := 0
	for _, m := range scene.Build(d, nil, o).Meshes {
		if m.Name == "people" && m.Seat == 4 {
			there = len(m.Index)
		}
	}
	if a, b := len(mesh(all, "people").Index), len(mesh(l, "people").Index); a-b != there || there == 0 {
		t.Errorf("people: %d indices of %d, want the %d of one sitter fewer", b, a, there)
	}
	if a, b := len(mesh(all, "chairs").Index), len(mesh(l, "chairs").Index); b >= a || a-b > a/seats {
		t.Errorf("chairs: %d indices of %d, want a headrest fewer", b, a)
	}
}

// Nobody sees whether pictures differ: the same design gives the same list.
func TestBuildIsDeterministic(t *testing.T) {
	for name, d := range designs(t) {
		r := audited(d)
		if !reflect.DeepEqual(scene.Build(d, r, everything()), scene.Build(d, r, everything())) {
			t.Errorf("%s: two builds differ", name)
		}
	}
}

// Designs that cannot be computed with, and results that belong to another
// design, still give a picture and no panic.
func TestBuildOfNonsense(t *testing.T) {
	bad := demo(t, "small")
	bad.Room.Footprint = nil
	scene.Build(bad, nil, everything())
	bad.Screen = project.Screen{}
	bad.Speakers[0].Model = "unknown"
	bad.Seating.Rows[0].Chair = "unknown"
	scene.Build(bad, audited(demo(t, "large")), everything())
	scene.Build(&project.Design{}, &sight.Result{}, everything())
	flat := demo(t, "large")
	flat.Room.Footprint = []project.Corner{{X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 3}}
	scene.Build(flat, nil, everything())
	tiny := demo(t, "small")
	tiny.Chairs[0].PanHeight, tiny.Chairs[0].BackThickness, tiny.Chairs[0].ArmWidth = 0.1, 0.01, 0
	tiny.Room.Ceiling.Height = 0.5
	scene.Build(tiny, nil, everything())
	far := scene.Default()
	far.Seat, far.Speaker, far.FromSeat = 999, 999, 999
	scene.Build(demo(t, "small"), audited(demo(t, "small")), far)
	for _, v := range []unit.Length{0, -1, 1e-6} {
		d := demo(t, "small")
		d.Models[0].Width, d.Models[0].Drivers[0].Diameter = v, v
		scene.Build(d, nil, everything())
	}
}

// The list of each demo, in text: a change of what is drawn shows here.
func TestListGolden(t *testing.T) {
	var b strings.Builder
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		l := scene.Build(d, audited(d), scene.Default())
		fmt.Fprintf(&b, "%s\n", name)
		for _, m := range l.Meshes {
			fmt.Fprintf(&b, "  mesh %-22s %6d vertices %6d triangles alpha %.2f", m.Name, len(m.Pos)/3, len(m.Index)/3, m.Alpha)
			for _, f := range []struct {
				on   bool
				word string
			}{{m.Unlit, "unlit"}, {m.OneSided, "one-sided"}, {m.OnTop, "on top"}} {
				if f.on {
					b.WriteString(" " + f.word)
				}
			}
			b.WriteString("\n")
		}
		for _, n := range l.Lines {
			dashed := 0
			for i := 1; i < len(n.Dash); i += 4 {
				if n.Dash[i] < 1 {
					dashed++
				}
			}
			fmt.Fprintf(&b, "  lines %-22s %5d segments, %d dashed\n", n.Name, len(n.Pos)/6, dashed)
		}
		for _, n := range l.Labels {
			fmt.Fprintf(&b, "  label %q\n", n.Text)
		}
	}
	path := filepath.Join("testdata", "lists.txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("lists differ from %s (go test ./scene -run Golden -update):\n%s", path, b.String())
	}
}

// Lights and vents look like what they are, where they are: what glows of a
// recessed light faces down at the ceiling, a hanging one has a cord up to it, a
// wall vent's slots face the room, and nothing of them reaches above the ceiling.
func TestLightsAndVents(t *testing.T) {
	d := demo(t, "small")
	d.Room.Ceiling.Height = 2.5
	with := func(f project.Feature) *scene.List {
		c := d.Clone()
		c.Room.Features = []project.Feature{f}
		return scene.Build(c, nil, scene.Default())
	}
	top := func(m *scene.Mesh) (z float64) {
		for v := range len(m.Pos) / 3 {
			z = max(z, at(m.Pos, v).Z)
		}
		return z
	}
	l := with(project.Feature{Kind: project.Light, At: project.Point{X: 2, Y: 2, Z: 2.49}, Length: 0.1, Width: 0.1, Height: 0.1})
	lamps, shell := mesh(l, "lamps"), mesh(l, "soffits and fittings")
	if lamps == nil || shell == nil || mesh(l, "features") != nil {
		t.Fatal("a recessed light is a lamp and its trim in the shell")
	}
	for v := range len(lamps.Pos) / 3 {
		if p := at(lamps.Pos, v); at(lamps.Nor, v).Z > -0.99 || p.Z > 2.49 || p.Z < 2.48 {
			t.Fatalf("what glows is at %v and faces %v", p, at(lamps.Nor, v))
		}
	}
	if z := top(shell); z > 2.5001 { // float32
		t.Errorf("a recessed light shows %v m up, above the ceiling", z)
	}
	l = with(project.Feature{Kind: project.Light, At: project.Point{X: 2, Y: 2, Z: 1.9}, Length: 0.3, Width: 0.3, Height: 0.2})
	if z := top(mesh(l, "features")); z < 2.499 || z > 2.501 {
		t.Errorf("the cord of a hanging light ends %v m up, want the ceiling at 2.5", z)
	}
	if z := top(mesh(l, "lamps")); z < 2.05 || z > 2.1 {
		t.Errorf("the lamp of a hanging light reaches %v m up, want its box, 1.9 to 2.1", z)
	}
	for _, c := range []struct {
		at   project.Point
		turn unit.Degrees
		in   geometry.Vec
	}{
		{project.Point{X: 2, Y: 0.01, Z: 2}, 0, geometry.V(0, 1, 0)},
		{project.Point{X: 0.01, Y: 2, Z: 2}, 90, geometry.V(1, 0, 0)},
		{project.Point{X: 2, Y: 2, Z: 2.49}, 0, geometry.V(0, 0, -1)},
	} {
		l := with(project.Feature{Kind: project.Vent, At: c.at, Length: 0.4, Width: 0.02, Height: 0.12, Turn: c.turn})
		m := mesh(l, "soffits and fittings")
		if m == nil {
			t.Fatalf("a vent at %v is not in the shell", c.at)
		}
		slots, dark := 0, 0
		for v := range len(m.Pos) / 3 {
			if at(m.Nor, v).Dot(c.in) > 0.9 {
				slots++
				if m.Col[3*v] < 0.1 {
					dark++
				}
			}
		}
		if slots < 24 || dark != 4 {
			t.Errorf("a vent at %v shows %d vertices to the room, %d of them dark; want blades over one dark field", c.at, slots, dark)
		}
	}
}
