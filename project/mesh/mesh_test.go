// SPDX-License-Identifier: MIT

package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"earline/geometry"
	"earline/project"
)

func read(t testing.TB, text, name string) *File {
	t.Helper()
	f, err := Read([]byte(text), name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func area(m *project.Mesh) (sum float64) {
	for i := range m.Triangles {
		t := m.Triangle(i)
		sum += t[1].Sub(t[0]).Cross(t[2].Sub(t[0])).Len() / 2
	}
	return sum
}

func bounds(t *testing.T, m *project.Mesh, lo, hi geometry.Vec) {
	t.Helper()
	const tol = 1e-9
	if a, b := m.Bounds(); a.Dist(lo) > tol || b.Dist(hi) > tol {
		t.Errorf("from %v to %v, want %v to %v", a, b, lo, hi)
	}
}

// Faces of five corners, points with colours, lines that go on, indexes backwards and
// with normals: all that was lost of other people's files before.
func TestFacesOfOBJFilesAreNotLost(t *testing.T) {
	f := read(t, "# a house front, concave\r\no house\nv 0 0 0 0.5 0.5 0.5\nv 4 0 0\nv\t4 3 0\nv 2 1 0\nv 0 3 0\n"+
		"f 1 2 3 \\\n 4 5\n"+
		"g roof\nv 0 0 2\nv 1 0 2\nv 1 1 2\nv 0 1 2\nf -4//1 -3//1 -2//1 -1//1\nf -4/1/1 -3/1/1 -2/1/1\nl 1 2 3\np 1\nf 1 2\ncurv 0 1 1 2\n", "h.obj")
	if len(f.Lines) != 2 || !slices.Equal(f.Parts, []string{"house", "roof"}) {
		t.Errorf("%d lines, parts %q", len(f.Lines), f.Parts)
	}
	// The front by the shoelace formula, and one and a half unit squares.
	if a := area(&f.Mesh); math.Abs(a-(8+1.5)) > 1e-9 {
		t.Errorf("area %v", a)
	}
	bounds(t, &f.Mesh, geometry.V(0, 0, 0), geometry.V(2, 4, 3))
	if w := f.LeftOutWords(); w != "1 curves, 1 faces of under three corners, 1 single points" {
		t.Errorf("left out %q", w)
	}
}

func dxf(head, blocks, entities string) string {
	groups := func(s string) string { return strings.Join(strings.Fields(s), "\n") }
	return groups("0 SECTION 2 HEADER "+head+" 0 ENDSEC 0 SECTION 2 BLOCKS "+blocks+" 0 ENDSEC 0 SECTION 2 ENTITIES "+entities+" 0 ENDSEC 0 EOF") + "\n"
}

// A door drawn once in a block that lies in another, turned and scaled.
func TestBlocksAreDrawnWhereTheyAreInserted(t *testing.T) {
	f := read(t, dxf("9 $INSUNITS 70 4",
		"0 BLOCK 2 LEAF 10 100 20 0 0 LINE 8 doors 10 100 20 0 11 1000 21 0 0 ENDBLK "+
			"0 BLOCK 2 DOOR 10 0 20 0 0 INSERT 2 LEAF 10 0 20 0 50 90 0 TEXT 1 D1 0 ENDBLK",
		"0 INSERT 2 DOOR 10 5000 20 1000 41 2 42 2 43 2 50 90 0 INSERT 2 GONE 10 0 20 0"), "plan.dxf")
	if f.Unit != project.Millimetres || f.Guess() != project.Millimetres {
		t.Errorf("unit %q", f.Unit)
	}
	// 900 long, twice as large 1800, turned by 90 twice: it runs to the left.
	bounds(t, &f.Mesh, geometry.V(3200, 1000, 0), geometry.V(5000, 1000, 0))
	if w := f.LeftOutWords(); w != "1 blocks that the file does not hold, 1 texts" {
		t.Errorf("left out %q", w)
	}
	if !slices.Equal(f.Parts, []string{"doors"}) {
		t.Errorf("parts %q", f.Parts)
	}
}

func TestCurvesOfPlans(t *testing.T) {
	for _, c := range []struct {
		entities string
		length   float64
		lo, hi   geometry.Vec
	}{
		{"0 CIRCLE 10 1 20 2 40 3", 2 * math.Pi * 3, geometry.V(-2, -1, 0), geometry.V(4, 5, 0)},
		{"0 ARC 10 0 20 0 40 2 50 270 51 90", math.Pi * 2, geometry.V(0, -2, 0), geometry.V(2, 2, 0)},
		// Seen from below: angles run the other way.
		{"0 ARC 10 0 20 0 40 2 50 270 51 90 230 -1", math.Pi * 2, geometry.V(-2, -2, 0), geometry.V(0, 2, 0)},
		// A half round, to the left of the way from 0 to 2: below it.
		{"0 LWPOLYLINE 90 2 70 0 10 0 20 0 42 1 10 2 20 0", math.Pi, geometry.V(0, -1, 0), geometry.V(2, 0, 0)},
		{"0 LWPOLYLINE 90 2 70 0 10 0 20 0 42 -1 10 2 20 0", math.Pi, geometry.V(0, 0, 0), geometry.V(2, 1, 0)},
		{"0 LWPOLYLINE 90 3 70 1 38 1 10 0 20 0 10 3 20 0 10 3 20 4", 12, geometry.V(0, 0, 1), geometry.V(3, 4, 1)},
		{"0 POLYLINE 70 1 0 VERTEX 10 0 20 0 0 VERTEX 10 3 20 0 0 VERTEX 10 3 20 4 0 SEQEND", 12, geometry.V(0, 0, 0), geometry.V(3, 4, 0)},
		{"0 POLYLINE 70 8 0 VERTEX 10 0 20 0 30 1 0 VERTEX 10 0 20 0 30 3 0 SEQEND", 2, geometry.V(0, 0, 1), geometry.V(0, 0, 3)},
	} {
		f := read(t, dxf("", "", c.entities), "a.dxf")
		got := 0.0
		for _, l := range f.Lines {
			got += f.Points[l[0]].Dist(f.Points[l[1]])
		}
		if math.Abs(got-c.length) > 4e-4*c.length { // chords of 5 degrees
			t.Errorf("%s: %v long, want %v", c.entities, got, c.length)
		}
		lo, hi := f.Bounds()
		if lo.Dist(c.lo) > 1e-9 || hi.Dist(c.hi) > 1e-9 {
			t.Errorf("%s: from %v to %v", c.entities, lo, hi)
		}
	}
	faces := read(t, dxf("", "", "0 3DFACE 10 0 20 0 11 2 21 0 12 2 22 3 13 0 23 3 0 3DFACE 10 0 20 0 11 1 21 0 12 1 22 1 13 1 23 1"), "a.dxf")
	if a := area(&faces.Mesh); len(faces.Triangles) != 3 || math.Abs(a-6.5) > 1e-12 {
		t.Errorf("%d triangles of %v", len(faces.Triangles), a)
	}
}

// Names of layers in the code page that the file says, in UTF-8, and by numbers.
func TestLayersInTheirCodePage(t *testing.T) {
	for head, layer := range map[string]string{
		"9 $DWGCODEPAGE 3 ANSI_1251": "\xd1\xf2\xe5\xed\xe0", "9 $DWGCODEPAGE 3 ANSI_1252": "Стена", "": `\U+0421\U+0442\U+0435\U+043D\U+0430`,
	} {
		f := read(t, dxf(head, "", "0 LINE 8 "+layer+" 10 0 20 0 11 1 21 1"), "a.dxf")
		if !slices.Equal(f.Parts, []string{"Стена"}) {
			t.Errorf("%q: %q", layer, f.Parts)
		}
	}
}

// A table: one unit square, moved, turned and doubled, under a node that is raised.
func glb(t testing.TB, change func(*gltf.Document)) []byte {
	t.Helper()
	d := gltf.NewDocument()
	at := modeler.WritePosition(d, [][3]float32{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}})
	faces := modeler.WriteIndices(d, []uint16{0, 1, 2, 0, 2, 3})
	d.Meshes = []*gltf.Mesh{{Name: "top", Primitives: []*gltf.Primitive{{Attributes: gltf.PrimitiveAttributes{gltf.POSITION: at}, Indices: gltf.Index(faces)}}}}
	half := math.Sqrt(0.5)
	d.Nodes = []*gltf.Node{
		{Name: "table", Children: []int{1}, Matrix: [16]float64{1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0.7, 0, 1}},
		{Mesh: gltf.Index(0), Translation: [3]float64{1, 0, 3}, Rotation: [4]float64{-half, 0, 0, half}, Scale: [3]float64{2, 2, 2}},
	}
	d.Scenes[0].Nodes = []int{0}
	if change != nil {
		change(d)
	}
	var b bytes.Buffer
	if err := gltf.NewEncoder(&b).Encode(d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestNodesOfModelsArePlaced(t *testing.T) {
	f := read(t, string(glb(t, nil)), "t.glb")
	// The square lies flat, y to -z: 1 to 3 across, 0.7 high, 3 to 1 deep; deep is x here.
	lo, hi := f.Bounds()
	if want := geometry.V(1, 1, 0.7); lo.Dist(want) > 1e-9 {
		t.Errorf("from %v", lo)
	}
	if want := geometry.V(3, 3, 0.7); hi.Dist(want) > 1e-9 {
		t.Errorf("to %v", hi)
	}
	if a := area(&f.Mesh); math.Abs(a-4) > 1e-9 || f.Unit != project.Metres || !slices.Equal(f.Parts, []string{"top"}) {
		t.Errorf("area %v, unit %v, parts %q", a, f.Unit, f.Parts)
	}
}

// Every bad file is one line: the file, what was found, what is allowed.
func TestBadFilesAreOneLine(t *testing.T) {
	many := func(n int, head, each string) string { return head + strings.Repeat(each, n) }
	for _, c := range []struct{ name, data, want string }{
		{"a.txt", "", `a.txt: a name that ends in ".txt", allowed: one that ends in .obj, .gltf, .glb, .dxf`},
		{"a.dwg", "AC1032", "a.dwg: a DWG file, allowed: the same drawing saved as DXF"},
		{"a.obj", "", "a.obj: no triangle and no line, allowed: a mesh or the lines of a plan"},
		{"a.obj", "v 1 2\n", "a.obj: line 1: v with 2 numbers, allowed: v with three numbers, x, y and z"},
		{"a.obj", "v 1 2 nan\n", `a.obj: line 1: v "nan", allowed: v with three numbers, x, y and z`},
		{"a.obj", "v 1 2 1e300\n", `a.obj: line 1: v "1e300", allowed: v with three numbers, x, y and z`},
		{"a.obj", "v 1 2 3\nf 1 2 3\n", `a.obj: line 2: point "2", allowed: one of the 1 points before it, counted from 1 or, backwards, from -1`},
		{"a.obj", "v 1 2 3\nf 0 1 1\n", `a.obj: line 2: point "0", allowed: one of the 1 points before it, counted from 1 or, backwards, from -1`},
		{"a.obj", many(600_001, "", "v 1 2 3\n"), "a.obj: over 600000 points, allowed: at most 60000: thin it out in the program that made it"},
		{"a.obj", many(200_001, "v 0 0 0\nv 1 0 0\nv 0 1 0\n", "f 1 2 3\n"), "a.obj: over 200000 triangles, allowed: at most 20000: thin it out in the program that made it"},
		{"a.obj", "f" + strings.Repeat(" 1", 600_000), "a.obj: line 1: a line of over 1 MiB, allowed: shorter lines"},
		{"a.dxf", "", "a.dxf: no section, allowed: a DXF file"},
		{"a.dxf", "<html>\n", `a.dxf: line 1: "<html>", allowed: the number of a group of a DXF file`},
		{"a.dxf", "AC1032\x00", "a.dxf: a DWG file, allowed: a DXF file in text form"},
		{"a.dxf", "A binary\r\n\x1a\x00", "a.dxf: a binary file, allowed: a DXF file in text form"},
		{"a.dxf", dxf("", "", "0 TEXT 1 hello 0 TEXT 1 you 0 HATCH 2 x"), "a.dxf: no triangle and no line, but 2 texts, 1 filled areas, allowed: a mesh or the lines of a plan"},
		{"a.dxf", dxf("", "", "0 LINE 10 x 20 0 11 1 21 1"), "a.dxf: a coordinate that is no number, allowed: coordinates of a plan"},
		{"a.dxf", dxf("", "0 BLOCK 2 A 0 INSERT 2 A 0 ENDBLK", "0 INSERT 2 A"), "a.dxf: blocks without end, allowed: blocks that are not inserted in themselves"},
		{"a.dxf", dxf("", "0 BLOCK 2 A 0 ENDBLK", "0 INSERT 2 A 70 1000 71 1000"), "a.dxf: a block inserted 1e+06 times, allowed: at most 100000"},
		{"a.glb", "glTF", "a.glb: a binary file that is cut short, allowed: a whole glTF 2.0 file"},
		{"a.glb", string(glb(t, nil)[:200]), "a.glb: a binary file that is cut short, allowed: a whole glTF 2.0 file"},
		{"a.gltf", "{", "a.gltf: no JSON of a glTF document, allowed: a glTF 2.0 file"},
		{"a.gltf", `{"asset":{"version":"1.0"}}`, `a.gltf: asset.version: "1.0", allowed: 2.0`},
		{"a.gltf", `{"asset":{"version":"2.0"},"extensionsRequired":["KHR_draco_mesh_compression"]}`,
			"a.gltf: a mesh packed with Draco (KHR_draco_mesh_compression), allowed: the same model saved without compression"},
		{"a.gltf", `{"asset":{"version":"2.0"},"extensionsRequired":["EXT_meshopt_compression"]}`,
			"a.gltf: a mesh packed with meshopt (EXT_meshopt_compression), allowed: the same model saved without compression"},
		{"a.gltf", `{"asset":{"version":"2.0"},"buffers":[{"uri":"a.bin","byteLength":9}]}`,
			`a.gltf: buffers[0].uri: bytes in another file, "a.bin", allowed: all in one file: save it as .glb`},
		{"a.gltf", `{"asset":{"version":"2.0"},"buffers":[null]}`, "a.gltf: buffers[0]: null, allowed: a buffer"},
		{"a.glb", string(glb(t, func(d *gltf.Document) { d.Nodes[1].Scale = [3]float64{1, 1, 1}; d.Nodes[1].Children = []int{0} })),
			"a.glb: nodes[1]: nodes without end, allowed: nodes that are not their own children"},
		{"a.glb", string(glb(t, func(d *gltf.Document) { d.Nodes[1].Translation[0] = 1e12 })),
			"a.glb: nodes[1]: 1e+12 in its place, allowed: numbers of a model"},
		{"a.glb", string(glb(t, func(d *gltf.Document) { d.Accessors[0].Count = 1 << 20 })), "a.glb: accessors[0]: numbers beyond the end of their buffer, allowed: a whole glTF 2.0 file"},
		{"a.glb", string(glb(t, func(d *gltf.Document) { d.Accessors[0].Count = 2 })), "a.glb: meshes[0].primitives[0].indices: point 3, allowed: one of its 2 points"},
	} {
		f, err := Read([]byte(c.data), c.name)
		if err == nil || f != nil || err.Error() != c.want {
			t.Errorf("%s %.60q:\n got %v\nwant %s", c.name, c.data, err, c.want)
		}
	}
}

// A room of 4.2 m in other units than its file was made in.
func TestAWrongUnitIsNamed(t *testing.T) {
	room := func(size float64) *File {
		return read(t, fmt.Sprintf("v 0 0 0\nv %g 0 0\nv 0 0 %g\nf 1 2 3\n", size, size), "r.obj")
	}
	for _, c := range []struct {
		size float64
		unit project.BackdropUnit
		want string
	}{
		{4200, project.Metres, "r.obj: 4200 m across, taken in m, allowed: 0.1 m to 100 m; it seems to be in mm: 4.2 m across"},
		{4.2, project.Millimetres, "r.obj: 4.2 mm across, taken in mm, allowed: 0.1 m to 100 m; it seems to be in m: 4.2 m across"},
		{420, project.Metres, "r.obj: 420 m across, taken in m, allowed: 0.1 m to 100 m; it seems to be in cm: 4.2 m across"},
		{1e8, project.Metres, "r.obj: 100000000 m across, taken in m, allowed: 0.1 m to 100 m"},
		{4.2, "", ""}, {420, "", ""}, {4200, "", ""}, {14, project.Feet, ""},
	} {
		s, err := room(c.size).Scale(c.unit)
		got := ""
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%g %s:\n got %s\nwant %s", c.size, c.unit, got, c.want)
		}
		if err == nil && c.unit == "" {
			if lo, hi := s.Bounds(); math.Abs(hi.Sub(lo).X-4.2) > 1e-9 {
				t.Errorf("%g: %v across", c.size, hi.Sub(lo))
			}
		}
	}
}

// Points that lie together become one; what is there twice or has no extent goes; far
// from its origin it is brought back; and it goes into a design and out again.
func TestScaleCleansUp(t *testing.T) {
	f := read(t, "v 500000 0 0\nv 500001 0 0\nv 500000 0 1\nv 500000.00001 0 0\nf 1 2 3\nf 4 2 3\nf 3 2 1\nf 1 2 2\nl 1 2\nl 2 4\n", "a.obj")
	b, s, err := f.Backdrop("chairs", project.Metres)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Points) != 3 || len(s.Triangles) != 1 || len(s.Lines) != 1 || s.Merged != 4 || s.Moved.Y != -500000 {
		t.Errorf("%+v", s)
	}
	back, err := b.Mesh()
	if err != nil || !slices.Equal(back.Triangles, s.Triangles) || !slices.Equal(back.Lines, s.Lines) || len(back.Points) != 3 {
		t.Fatalf("%v %v", back, err)
	}
	for i := range back.Points {
		if back.Points[i].Dist(s.Points[i]) > 1e-9 {
			t.Errorf("%v became %v", s.Points[i], back.Points[i])
		}
	}
	many := read(t, grid(150, 1), "a.obj")
	if _, err := many.Scale(project.Metres); err == nil || err.Error() != "a.obj: 45000 triangles, allowed: at most 20000: thin it out in the program that made it" {
		t.Errorf("%v", err)
	}
}

// grid is a net of n x n squares over 10 m, copies times over each other.
func grid(n, copies int) string {
	var b strings.Builder
	for c := range copies {
		for i := range n + 1 {
			for k := range n + 1 {
				fmt.Fprintf(&b, "v %g %g %g\n", float64(i)/float64(n)*10, float64(c), float64(k)/float64(n)*10)
			}
		}
	}
	for c := range copies {
		at := c*(n+1)*(n+1) + 1
		for i := range n {
			for k := range n {
				a := at + i*(n+1) + k
				fmt.Fprintf(&b, "f %d %d %d %d\n", a, a+1, a+n+2, a+n+1)
			}
		}
	}
	return b.String()
}

// Triangles that follow each other lie together: of a square net of 32 x 32 x 2 each
// run of eight spans a small part of it.
func TestTrianglesThatFollowLieTogether(t *testing.T) {
	s, err := read(t, grid(32, 1), "a.obj").Scale(project.Metres)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(s.Triangles); i += Together {
		var m project.Mesh
		for _, tri := range s.Triangles[i : i+Together] {
			for _, k := range tri {
				m.Points = append(m.Points, s.Points[k])
			}
		}
		if lo, hi := m.Bounds(); hi.Dist(lo) > 1.5 {
			t.Fatalf("run %d is %v across", i, hi.Dist(lo))
		}
	}
}

func fuzz(f *testing.F, name string) {
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := Read(data, name)
		if err != nil {
			var fault *project.Fault
			if !errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\n\r") || file != nil {
				t.Fatalf("not one line: %q", err)
			}
			return
		}
		for _, u := range append(project.BackdropUnits(), "") {
			b, _, err := file.Backdrop("x", u)
			if err != nil {
				if strings.ContainsAny(err.Error(), "\n\r") {
					t.Fatalf("not one line: %q", err)
				}
				continue
			}
			d := &project.Design{Backdrops: []project.Backdrop{b}}
			for _, fault := range project.Faults(d.Validate()) {
				if strings.HasPrefix(fault.Field, "backdrops") {
					t.Fatalf("no design takes it: %v", fault)
				}
			}
		}
	})
}

func FuzzOBJ(f *testing.F) {
	f.Add([]byte("o a\nv 0 0 0 1 1 1\nv 1 0 0\nv 1 1 0\nv 0.1 0.1 0\nv 0 1 0\nf 1 2 3 \\\n4 5\nl -1 -2\nf 1//1 2//2 3//3\n"))
	f.Add([]byte("v 1e9 -1e8 3\nv 0 0 0\nv 1 1 1\nf 1 2 3\ncurv 1\n"))
	fuzz(f, "f.obj")
}

func FuzzGLTF(f *testing.F) {
	f.Add(glb(f, nil))
	f.Add([]byte(`{"asset":{"version":"2.0"},"buffers":[{"uri":"data:application/octet-stream;base64,AAAA","byteLength":3}],"nodes":[{"mesh":0}],"meshes":[{"primitives":[null]}]}`))
	fuzz(f, "f.glb")
}

func FuzzDXF(f *testing.F) {
	f.Add([]byte(dxf("9 $INSUNITS 70 4", "0 BLOCK 2 A 10 1 20 2 0 ARC 10 1 20 1 40 3 50 10 51 200 0 ENDBLK", "0 INSERT 2 A 41 2 50 30 70 2 71 2 44 5 45 5 0 LWPOLYLINE 70 1 10 0 20 0 42 0.5 10 3 20 0 10 3 20 9 210 0 220 0 230 -1")))
	f.Add([]byte(dxf("", "", "0 POLYLINE 70 1 0 VERTEX 10 0 20 0 42 -3 0 VERTEX 10 3 20 0 0 SEQEND 0 3DFACE 10 1 20 1 11 2 21 2 12 3 22 1")))
	fuzz(f, "f.dxf")
}

// A file of a million triangles is refused as soon as that many are read.
func BenchmarkAMillionTrianglesRefused(b *testing.B) {
	data := []byte(grid(708, 1)) // 1,002,528 triangles
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read(data, "a.obj"); err == nil {
			b.Fatal("taken")
		}
	}
}
