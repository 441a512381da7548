// SPDX-License-Identifier: MIT

package mesh

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/project"
)

// objReader reads the text form of OBJ: v, f and l, under names by o and g.
// Colours behind the coordinates of a point, texture coordinates, normals, smoothing
// and materials are passed over; curves, surfaces and single points are counted.
type objReader struct {
	*File
	line      int
	name      string
	outline   geometry.Polygon
	corners   []int
	fields    []string
	intricate int // corners squared of the faces that are not convex
}

// readOBJ reads an OBJ file. It has y up, as such files mostly have.
func (f *File) readOBJ(data []byte) *project.Fault {
	const longest = 1 << 20 // bytes of a line: thousands of corners
	r := objReader{File: f}
	for len(data) > 0 {
		r.line++
		var text []byte
		text, data = nextLine(data)
		if bytes.HasSuffix(text, []byte(`\`)) {
			joined := append([]byte{}, text...)
			for bytes.HasSuffix(joined, []byte(`\`)) && len(data) > 0 && len(joined) <= longest {
				text, data = nextLine(data)
				joined = append(append(joined[:len(joined)-1], ' '), text...)
			}
			text = bytes.TrimRight(joined, `\`)
		}
		if len(text) > longest {
			return r.bad("a line of over 1 MiB", "shorter lines")
		}
		if fault := r.statement(text); fault != nil {
			return fault
		}
		if fault := f.full(); fault != nil {
			return fault
		}
	}
	return nil
}

// nextLine cuts the first line off data, without its end.
func nextLine(data []byte) (line, rest []byte) {
	line, rest, _ = bytes.Cut(data, []byte("\n"))
	return bytes.TrimRight(line, " \t\r"), rest
}

func (r *objReader) bad(found, allowed string) *project.Fault {
	return r.fault(fmt.Sprintf("line %d", r.line), found, allowed)
}

func (r *objReader) statement(text []byte) *project.Fault {
	if i := bytes.IndexByte(text, '#'); i >= 0 {
		text = text[:i]
	}
	word, rest := bytes.TrimLeft(text, " \t"), []byte(nil)
	if i := bytes.IndexAny(word, " \t"); i >= 0 {
		word, rest = word[:i], word[i:]
	}
	switch string(word) {
	case "v":
		return r.point(rest)
	case "f":
		return r.face(rest)
	case "l":
		return r.lines(rest)
	case "o", "g":
		r.name = strings.ToValidUTF8(string(bytes.TrimSpace(rest)), "�")
	case "p":
		r.left["single points"]++
	case "curv", "curv2":
		r.left["curves"]++
	case "surf":
		r.left["curved surfaces"]++
	case "", "vt", "vn", "vp", "s", "mg", "usemtl", "mtllib", "usemap", "maplib", "bevel", "c_interp", "d_interp", "lod",
		"shadow_obj", "trace_obj", "ctech", "stech", "cstype", "deg", "bmat", "step", "parm", "trim", "hole", "scrv", "sp", "end", "con":
	default:
		if r.line == 1 && len(r.Points) == 0 && bytes.ContainsRune(word, 0) {
			return r.bad("bytes that are no text", "an OBJ file")
		}
		r.left["lines that no OBJ file has"]++
	}
	return nil
}

func (r *objReader) split(text []byte) []string {
	r.fields = r.fields[:0]
	for f := range strings.FieldsSeq(string(text)) {
		r.fields = append(r.fields, f)
	}
	return r.fields
}

func (r *objReader) point(text []byte) *project.Fault {
	const allowed = "v with three numbers, x, y and z"
	fields := r.split(text)
	if len(fields) < 3 {
		return r.bad(fmt.Sprintf("v with %d numbers", len(fields)), allowed)
	}
	var at [3]float64
	for i := range at {
		v, err := strconv.ParseFloat(fields[i], 64)
		if err != nil || !sane(v) {
			return r.bad("v "+quote(fields[i]), allowed)
		}
		at[i] = v
	}
	r.Points = append(r.Points, yUp(at[0], at[1], at[2]))
	return nil
}

// yUp returns a point of a file that has y up in the frame of the room: its x runs to
// the right, its z back, as in the models that we write.
func yUp(x, y, z float64) geometry.Vec { return geometry.Vec{X: z, Y: x, Z: y} }

// sane reports whether v can be a coordinate: beyond this nothing can be reckoned with.
func sane(v float64) bool { return math.Abs(v) < 1e9 }

// indexes reads the corners of a face or line: counted from 1, or from the last point
// backwards, with the numbers of texture and normal behind strokes.
func (r *objReader) indexes(text []byte) *project.Fault {
	r.corners = r.corners[:0]
	for _, field := range r.split(text) {
		number, _, _ := strings.Cut(field, "/")
		n, err := strconv.Atoi(number)
		if err == nil && n < 0 {
			n += len(r.Points) + 1
		}
		if err != nil || n < 1 || n > len(r.Points) {
			return r.bad("point "+quote(field), fmt.Sprintf("one of the %d points before it, counted from 1 or, backwards, from -1", len(r.Points)))
		}
		r.corners = append(r.corners, n-1)
	}
	return nil
}

func (r *objReader) lines(text []byte) *project.Fault {
	if fault := r.indexes(text); fault != nil {
		return fault
	}
	for i := 1; i < len(r.corners); i++ {
		r.Lines = append(r.Lines, [2]int{r.corners[i-1], r.corners[i]})
		r.part(r.name)
	}
	return nil
}

func (r *objReader) face(text []byte) *project.Fault {
	if fault := r.indexes(text); fault != nil {
		return fault
	}
	c := r.corners
	if len(c) < 3 {
		r.left["faces of under three corners"]++
		return nil
	}
	if len(c) > 3 {
		return r.polygon()
	}
	r.Triangles = append(r.Triangles, [3]int{c[0], c[1], c[2]})
	r.part(r.name)
	return nil
}

// polygon cuts a face of more corners into triangles, seen square to it. The normal of
// a face that is not quite flat is that of Newell (Sutherland, Sproull and Schumacker
// 1974, "A Characterization of Ten Hidden-Surface Algorithms").
func (r *objReader) polygon() *project.Fault {
	c := r.corners
	var n geometry.Vec
	first := r.Points[c[0]]
	for i := range c {
		p, q := r.Points[c[i]].Sub(first), r.Points[c[(i+1)%len(c)]].Sub(first)
		n = n.Add(p.Cross(q))
	}
	n, ok := n.Unit()
	if !ok {
		r.left["faces without area"]++
		return nil
	}
	u, _ := n.Cross(geometry.Vec{X: 1}).Unit()
	if math.Abs(n.X) > 0.9 {
		u, _ = n.Cross(geometry.Vec{Y: 1}).Unit()
	}
	v := n.Cross(u)
	// Lengths in units of the face's own: what is flat is judged in metres.
	size := 0.0
	for _, k := range c {
		size = max(size, r.Points[k].Dist(first))
	}
	r.outline = r.outline[:0]
	for _, k := range c {
		p := r.Points[k].Sub(first).Mul(1 / size)
		r.outline = append(r.outline, geometry.Vec2{X: p.Dot(u), Y: p.Dot(v)})
	}
	if r.outline.Convex() {
		for i := 2; i < len(c); i++ {
			r.Triangles = append(r.Triangles, [3]int{c[0], c[i-1], c[i]})
		}
		r.part(r.name)
		return nil
	}
	const most = 4_000_000 // corners squared in all: more takes seconds to cut
	if r.intricate += len(c) * len(c); r.intricate > most {
		return r.bad(fmt.Sprintf("a face of %d corners that is not convex", len(c)), "simpler faces: have them cut into triangles by the program that made them")
	}
	cut := r.outline.Triangulate()
	if len(cut) == 0 {
		r.left["faces without area"]++
		return nil
	}
	for _, t := range cut {
		r.Triangles = append(r.Triangles, [3]int{c[t[0]], c[t[1]], c[t[2]]})
	}
	r.part(r.name)
	return nil
}
