// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/mesh"
	"earline/scene/drawing"
	"earline/scene/drawing/dxf"
)

// imported puts a mesh into the small demo by the command line and reads the design
// that it wrote.
func imported(t *testing.T, name string, data []byte, flags ...string) (*project.Design, string) {
	t.Helper()
	dir := t.TempDir()
	from, to := filepath.Join(dir, name), filepath.Join(dir, "new.earline")
	if err := os.WriteFile(from, data, 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, errs := earline(append([]string{"import", "demo:small", from, "-o", to}, flags...)...)
	if status != statusFine {
		t.Fatal(errs)
	}
	saved, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(saved, to)
	if err != nil {
		t.Fatal(err)
	}
	return d, out
}

// The room that we write as a model comes back as a backdrop that fills the same place:
// the bounds are those of the points as the library of the format reads them.
func TestAModelThatWeWroteComesBack(t *testing.T) {
	name := filepath.Join(t.TempDir(), "room.glb")
	if status, _, errs := earline("export", "demo:small", "-o", name); status != statusFine {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := gltf.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	var all project.Mesh // no node of ours is placed but lights
	for _, m := range doc.Meshes {
		for _, p := range m.Primitives {
			points, err := modeler.ReadPosition(doc, doc.Accessors[p.Attributes[gltf.POSITION]], nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range points {
				all.Points = append(all.Points, geometry.V(float64(p[2]), float64(p[0]), float64(p[1])))
			}
		}
	}
	f, err := mesh.Read(data, name)
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := f.Bounds()
	wantLo, wantHi := all.Bounds()
	if lo.Dist(wantLo) > 1e-6 || hi.Dist(wantHi) > 1e-6 || f.Unit != project.Metres {
		t.Errorf("from %v to %v, want %v to %v", lo, hi, wantLo, wantHi)
	}
	// And it lies where the room lies: wall to wall, from the floor up.
	small, _ := file.Demo("small")
	a, b := small.Room.Polygon().Bounds()
	const wall = 0.5 // m: what lies behind walls is drawn too
	if lo.X < a.X-wall || lo.X > a.X+0.01 || hi.X < b.X-0.01 || hi.X > b.X+wall || lo.Y > a.Y+0.01 || hi.Y < b.Y-0.01 || hi.Z < float64(small.Room.Ceiling.Height)-0.01 {
		t.Errorf("from %v to %v, the room from %v to %v", lo, hi, a, b)
	}
}

// A drawing that we write as DXF comes back in the same place and size.
func TestADrawingThatWeWroteComesBack(t *testing.T) {
	ink, pt := color.NRGBA{A: 255}, drawing.Pt
	chair := &drawing.Block{Name: "CHAIR"}
	drawing.OnPaper(&chair.Marks).Lines(ink, 0.25, drawing.Solid, []drawing.Point{pt(-300, -300), pt(300, -300), pt(300, 300), pt(-300, 300), pt(-300, -300)})
	v := drawing.View{Name: "", Scale: 1.0 / 25, Origin: pt(30, 40), Window: drawing.Rect(15, 15, 400, 280)}
	b := drawing.OnPaper(&v.Marks)
	b.Layer = "walls"
	b.Lines(ink, 0.5, drawing.Solid, []drawing.Point{pt(0, 500), pt(4000, 500), pt(4000, 3500)})
	b.Arc(ink, 0.35, drawing.Solid, drawing.Circle(pt(2000, 3300), 800))
	v.Marks.Add(drawing.Insert{Layer: "seats", Block: chair, At: pt(-400, 2700), Turn: 90})
	var out bytes.Buffer
	face := drawing.NewTypeface(nil)
	want, _ := v.Marks.Bounds(v.Scale, face)
	if err := dxf.Write(&out, []drawing.Sheet{{Paper: drawing.Papers()[0], Views: []drawing.View{v}}}, face); err != nil {
		t.Fatal(err)
	}
	d, said := imported(t, "plan.dxf", out.Bytes(), "--at", "1,20cm,0")
	backdrop := d.Backdrops[0]
	m := backdrop.Placed()
	lo, hi := m.Bounds()
	// Paper has y down, a DXF file y up.
	wantLo, wantHi := geometry.V(want.X0/1000+1, 0.2-want.Y1/1000, 0), geometry.V(want.X1/1000+1, 0.2-want.Y0/1000, 0)
	const chord = 1e-3 // m: circles are made of straight lines on both sides
	if lo.Dist(wantLo) > chord || hi.Dist(wantHi) > chord {
		t.Errorf("from %v to %v, want %v to %v", lo, hi, wantLo, wantHi)
	}
	if backdrop.Name != "plan" || backdrop.File != "plan.dxf" || backdrop.Unit != project.Millimetres || backdrop.ID != "b1" || !strings.Contains(said, "in mm") {
		t.Errorf("%+v\n%s", backdrop, said)
	}
}

func TestImportedObstaclesAreInTheWay(t *testing.T) {
	wall := []byte("o wall\nv -4 -1 1.5\nv 4 -1 1.5\nv 4 5 1.5\nv -4 5 1.5\nf 1 2 3 4\n")
	if d, _ := imported(t, "wall.obj", wall); d.Backdrops[0].Obstacle {
		t.Error("an obstacle that nobody asked for")
	}
	dir := t.TempDir()
	from, to := filepath.Join(dir, "wall.obj"), filepath.Join(dir, "new.earline")
	if err := os.WriteFile(from, wall, 0o600); err != nil {
		t.Fatal(err)
	}
	if status, _, errs := earline("import", "demo:small", from, "-o", to, "--obstacle", "--name", "curtain", "--unit", "m"); status != statusFine {
		t.Fatal(errs)
	}
	status, out, _ := earline("audit", to)
	if status != statusShort || !strings.Contains(out, "backdrop curtain") {
		t.Errorf("status %d\n%s", status, out)
	}
	for args, want := range map[string]string{
		"import demo:small":                              `earline: import: found 1 word, allowed: a FILE and a MESH`,
		"import demo:small " + from:                      `earline: --output: found none, allowed: the name of the .earline file to write, or -`,
		"import demo:small " + from + " -o x --unit yd":  `earline: --unit: found "yd", allowed: mm, cm, in, ft or m`,
		"import demo:small " + from + " -o x --at 1,2":   `earline: --at: found "1,2", allowed: X,Y,Z, such as 1.2,0,45cm, with decimal points`,
		"import demo:small " + from + " -o x --turn 400": `earline: --turn: found "400", allowed: -360 to 360 degrees`,
		"import demo:small " + from + " -o x --unit mm":  `earline: wall.obj: 8 mm across, taken in mm, allowed: 0.1 m to 100 m; it seems to be in m: 8 m across`,
		"import demo:small " + to + " -o x":              `earline: new.earline: a name that ends in ".earline", allowed: one that ends in .obj, .gltf, .glb, .dxf`,
	} {
		status, _, errs := earline(strings.Fields(args)...)
		if got := strings.TrimSpace(errs); status != statusUnusable || got != want {
			t.Errorf("%s: status %d\n got %s\nwant %s", args, status, got, want)
		}
	}
}

// The plan that we draw has the screen at its top: turned by 90 degrees it lies on the
// room, wall on wall.
func TestAPlanThatWeDrewLiesOnTheRoom(t *testing.T) {
	name := filepath.Join(t.TempDir(), "plan.dxf")
	if status, _, errs := earline("setout", "demo:small", "-o", name); status != statusFine && status != statusShort {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	d, _ := imported(t, "plan.dxf", data, "--turn", "90")
	m := d.Backdrops[0].Placed()
	lo, hi := d.Room.Polygon().Bounds()
	for _, corner := range []geometry.Vec2{lo, {X: lo.X, Y: hi.Y}, hi, {X: hi.X, Y: lo.Y}} {
		found := false
		for _, p := range m.Points {
			found = found || corner.Dist(geometry.Vec2{X: p.X, Y: p.Y}) < 1e-3
		}
		if !found {
			t.Errorf("no point of the plan at the corner %v", corner)
		}
	}
}
