// SPDX-License-Identifier: MIT

package mesh

import (
	"bytes"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"earline/geometry"
	"earline/project"
)

// dxfReader reads the lines, arcs and faces of a DXF file in text form, blocks that
// are inserted included. z is up and x runs back: whoever drew the plan the other way
// turns the backdrop.
type dxfReader struct {
	tagReader
	page     string
	blocks   map[string]*block
	inserted int // blocks
	drawn    int // things, those of blocks as often as they are inserted
}

// block is a group of things that is drawn wherever it is inserted.
type block struct {
	base mgl64.Vec3
	list []thing
}

// thing is an entity of a DXF file with its groups.
type thing struct {
	kind string
	tags []tag
	// vertices are those of a POLYLINE, which are things of their own.
	vertices []thing
}

// units are the units of length that $INSUNITS may say.
var units = map[string]project.BackdropUnit{"1": project.Inches, "2": project.Feet, "4": project.Millimetres, "5": project.Centimetres, "6": project.Metres}

func (f *File) readDXF(data []byte) *project.Fault {
	const form = "a DXF file in text form"
	if bytes.HasPrefix(data, []byte("AC10")) {
		return f.fault("", "a DWG file", form)
	}
	if bytes.IndexByte(data[:min(len(data), 64)], 0) >= 0 {
		return f.fault("", "a binary file", form)
	}
	r := dxfReader{tagReader: tagReader{File: f, data: bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))}, blocks: map[string]*block{}}
	things, fault := r.sections()
	if fault != nil {
		return fault
	}
	for i := range things {
		if fault := r.draw(&things[i], mgl64.Ident4(), 0); fault != nil {
			return fault
		}
	}
	return nil
}

// sections reads the whole file and returns the things that are drawn.
func (r *dxfReader) sections() ([]thing, *project.Fault) {
	var drawn []thing
	var to *block   // the block that is being read
	var open *thing // the thing that takes groups
	section, variable, name := "", "", ""
	begun := false
	const most = 2_000_000 // groups of two lines: a plan has some ten a line
	for n := 0; ; n++ {
		t, ok, fault := r.next()
		if fault != nil {
			return nil, fault
		}
		if !ok {
			if !begun {
				return nil, r.fault("", "no section", "a DXF file")
			}
			return drawn, nil
		}
		if n > most {
			return nil, r.fault("", fmt.Sprintf("over %d groups", most), "at most so many: leave layers out in the program that drew it")
		}
		if t.code != 0 {
			switch {
			case section == "" && t.code == 2:
				section, begun = t.value, true
			case section == "HEADER" && t.code == 9:
				variable = t.value
			case section == "HEADER" && variable == "$INSUNITS" && t.code == 70:
				r.Unit = units[t.value]
			case section == "HEADER" && variable == "$DWGCODEPAGE" && t.code == 3:
				r.page = t.value
			case open != nil:
				open.tags = append(open.tags, t)
			case to != nil && name == "" && t.code == 2:
				name = t.value
				r.blocks[name] = to
			case to != nil && t.code >= 10 && t.code <= 30 && t.code%10 == 0:
				if v, ok := t.number(); ok {
					to.base[t.code/10-1] = v
				}
			}
			continue
		}
		open = nil
		switch {
		case t.value == "SECTION":
			section = ""
		case t.value == "ENDSEC":
			section, to = "done", nil
		case t.value == "EOF":
			return drawn, nil
		case section == "BLOCKS" && t.value == "BLOCK":
			to, name = &block{}, ""
		case section == "BLOCKS" && t.value == "ENDBLK":
			to = nil
		case section == "BLOCKS" && to != nil:
			to.list, open = take(to.list, t.value)
		case section == "ENTITIES":
			drawn, open = take(drawn, t.value)
		}
	}
}

// take appends a thing of that kind to a list, or a vertex to the polyline that is its
// last, and returns the one that takes the groups that follow.
func take(list []thing, kind string) ([]thing, *thing) {
	if n := len(list); kind == "VERTEX" && n > 0 && list[n-1].kind == "POLYLINE" {
		l := &list[n-1]
		l.vertices = append(l.vertices, thing{kind: kind})
		return list, &l.vertices[len(l.vertices)-1]
	}
	list = append(list, thing{kind: kind})
	return list, &list[len(list)-1]
}

// number returns the first number of that code, or other.
func (t *thing) number(code int, other float64) float64 {
	for _, g := range t.tags {
		if g.code == code {
			if v, ok := g.number(); ok {
				return v
			}
			return math.NaN()
		}
	}
	return other
}

// text returns the first value of that code.
func (t *thing) text(code int) string {
	for _, g := range t.tags {
		if g.code == code {
			return g.value
		}
	}
	return ""
}

// flag reports whether the group 70 has that bit.
func (t *thing) flag(bit int) bool {
	v := t.number(70, 0)
	return v >= 0 && v < 1<<16 && int(v)&bit != 0
}

// point returns the point whose x has that code.
func (t *thing) point(code int) mgl64.Vec3 {
	return mgl64.Vec3{t.number(code, 0), t.number(code+10, 0), t.number(code+20, 0)}
}

// plane returns the transform from the plane of a flat thing to the drawing: its x and
// y follow from the normal in the groups 210 to 230 alone.
func (t *thing) plane() mgl64.Mat4 {
	n := mgl64.Vec3{t.number(210, 0), t.number(220, 0), t.number(230, 1)}
	if n.X() == 0 && n.Y() == 0 && n.Z() > 0 || !(n.Len() > 1e-9) {
		return mgl64.Ident4()
	}
	n = n.Normalize()
	const nearZ = 1.0 / 64 // as the format says
	x := mgl64.Vec3{0, 0, 1}.Cross(n)
	if math.Abs(n.X()) < nearZ && math.Abs(n.Y()) < nearZ {
		x = mgl64.Vec3{0, 1, 0}.Cross(n)
	}
	x = x.Normalize()
	return mgl64.Mat4FromCols(x.Vec4(0), n.Cross(x).Vec4(0), n.Vec4(0), mgl64.Vec4{0, 0, 0, 1})
}

// words is what a kind of thing that is not drawn is counted as.
func words(kind string) string {
	switch kind {
	case "TEXT", "MTEXT", "ATTRIB", "ATTDEF":
		return "texts"
	case "HATCH", "SOLID", "TRACE":
		return "filled areas"
	case "DIMENSION", "LEADER", "MLEADER", "MULTILEADER", "TOLERANCE":
		return "dimensions"
	case "SPLINE", "ELLIPSE", "HELIX":
		return "free curves"
	case "3DSOLID", "REGION", "BODY", "SURFACE", "MESH":
		return "solids and surfaces"
	case "POINT":
		return "single points"
	case "IMAGE", "WIPEOUT", "UNDERLAY":
		return "pictures"
	}
	return "other things"
}

// draw adds what t draws, placed by m.
func (r *dxfReader) draw(t *thing, m mgl64.Mat4, depth int) *project.Fault {
	const most = 3_000_000
	if r.drawn++; r.drawn > most {
		return r.fault("", fmt.Sprintf("over %d things", most), "fewer: leave layers out in the program that drew it")
	}
	if t.kind == "SEQEND" || t.kind == "VERTEX" {
		return nil
	}
	if t.number(67, 0) == 1 {
		r.left["things on the paper"]++
		return nil
	}
	if t.number(60, 0) == 1 {
		r.left["hidden things"]++
		return nil
	}
	before := len(r.Lines) + len(r.Triangles)
	var fault *project.Fault
	switch t.kind {
	case "LINE":
		fault = r.run(m, false, t.point(10), t.point(11))
	case "CIRCLE":
		fault = r.arc(m.Mul4(t.plane()), t.point(10), t.number(40, 0), 0, 2*math.Pi)
	case "ARC":
		from, to := mgl64.DegToRad(t.number(50, 0)), mgl64.DegToRad(t.number(51, 0))
		for n := 0; to <= from && n < 4; n++ {
			to += 2 * math.Pi
		}
		fault = r.arc(m.Mul4(t.plane()), t.point(10), t.number(40, 0), from, to)
	case "LWPOLYLINE":
		fault = r.flatRun(t, m.Mul4(t.plane()))
	case "POLYLINE":
		fault = r.polyline(t, m)
	case "3DFACE":
		fault = r.face(t, m)
	case "INSERT":
		return r.insert(t, m, depth)
	default:
		r.left[words(t.kind)]++
		return nil
	}
	if len(r.Lines)+len(r.Triangles) > before {
		r.part(decoded(t.text(8), r.page))
	}
	if fault == nil {
		fault = r.full()
	}
	return fault
}

// at adds a point.
func (r *dxfReader) at(m mgl64.Mat4, p mgl64.Vec3) (int, *project.Fault) {
	q := mgl64.TransformCoordinate(p, m)
	for _, v := range q {
		if math.IsNaN(v) || !sane(v) {
			return 0, r.fault("", "a coordinate that is no number", "coordinates of a plan")
		}
	}
	r.Points = append(r.Points, geometry.Vec{X: q[0], Y: q[1], Z: q[2]})
	return len(r.Points) - 1, nil
}

// run adds straight lines from point to point.
func (r *dxfReader) run(m mgl64.Mat4, closed bool, points ...mgl64.Vec3) *project.Fault {
	first, last := -1, -1
	for _, p := range points {
		k, fault := r.at(m, p)
		if fault != nil {
			return fault
		}
		if last >= 0 {
			r.Lines = append(r.Lines, [2]int{last, k})
		} else {
			first = k
		}
		last = k
	}
	if closed && len(points) > 2 {
		r.Lines = append(r.Lines, [2]int{last, first})
	}
	return nil
}

// step is the most of an arc that one straight line stands for: it strays from the arc
// by a thousandth of its radius.
const step = 5 * math.Pi / 180

// curve returns the points of an arc from one angle to another, both ends included.
func curve(center mgl64.Vec3, radius, from, to float64) []mgl64.Vec3 {
	const most = 4 * 72 // of four rounds: more is no arc
	n := 1
	if wide := math.Ceil(math.Abs(to-from)/step - 1e-9); wide > 1 { // not of what is no number
		n = int(min(wide, most))
	}
	points := make([]mgl64.Vec3, 0, n+1)
	for i := range n + 1 {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		points = append(points, center.Add(mgl64.Vec3{radius * cos, radius * sin, 0}))
	}
	return points
}

func (r *dxfReader) arc(m mgl64.Mat4, center mgl64.Vec3, radius, from, to float64) *project.Fault {
	return r.run(m, false, curve(center, radius, from, to)...)
}

// bulged appends to points the way from the last of them to q: straight, or the arc
// whose bulge is the tangent of a quarter of its angle, positive to the left.
func bulged(points []mgl64.Vec3, q mgl64.Vec3, bulge float64) []mgl64.Vec3 {
	p := points[len(points)-1]
	chord := q.Sub(p)
	l := math.Hypot(chord[0], chord[1])
	if bulge == 0 || !(l > 0) || math.IsNaN(bulge) {
		return append(points, q)
	}
	angle := 4 * math.Atan(bulge)
	radius := l / (2 * math.Sin(angle/2)) // negative to the right
	h := radius * math.Cos(angle/2)
	center := mgl64.Vec3{(p[0]+q[0])/2 - chord[1]/l*h, (p[1]+q[1])/2 + chord[0]/l*h, p[2]}
	from := math.Atan2(p[1]-center[1], p[0]-center[0])
	way := curve(center, math.Abs(radius), from, from+angle)
	return append(append(points, way[1:len(way)-1]...), q)
}

// flatRun adds a polyline whose corners are groups of its own.
func (r *dxfReader) flatRun(t *thing, m mgl64.Mat4) *project.Fault {
	z := t.number(38, 0)
	var corners []mgl64.Vec3
	var bulges []float64
	for _, g := range t.tags {
		v, ok := g.number()
		switch {
		case g.code != 10 && g.code != 20 && g.code != 42:
			continue
		case !ok:
			v = math.NaN()
		}
		switch n := len(corners) - 1; {
		case g.code == 10:
			corners, bulges = append(corners, mgl64.Vec3{v, 0, z}), append(bulges, 0)
		case g.code == 20 && n >= 0:
			corners[n][1] = v
		case g.code == 42 && n >= 0:
			bulges[n] = v
		}
	}
	return r.corners(m, corners, bulges, t.flag(1))
}

// corners adds a run with arcs in it.
func (r *dxfReader) corners(m mgl64.Mat4, corners []mgl64.Vec3, bulges []float64, closed bool) *project.Fault {
	if len(corners) < 2 {
		return nil
	}
	if len(corners) > maxPieces {
		r.Lines = make([][2]int, maxPieces+1)
		return r.full()
	}
	points := []mgl64.Vec3{corners[0]}
	for i := range corners[1:] {
		points = bulged(points, corners[i+1], bulges[i])
	}
	if closed {
		points = bulged(points, corners[0], bulges[len(bulges)-1])
	}
	return r.run(m, false, points...)
}

// polyline adds one whose corners are things of their own: in its plane, in space, or
// the net of a surface.
func (r *dxfReader) polyline(t *thing, m mgl64.Mat4) *project.Fault {
	const closed, inSpace, net, faces = 1, 8, 16, 64
	if t.flag(net) || t.flag(faces) {
		r.left["solids and surfaces"]++
		return nil
	}
	if !t.flag(inSpace) {
		m = m.Mul4(t.plane())
	}
	var corners []mgl64.Vec3
	var bulges []float64
	for i := range t.vertices {
		v := &t.vertices[i]
		if v.flag(16) {
			continue // what a curve through the corners is steered by
		}
		corners, bulges = append(corners, v.point(10)), append(bulges, v.number(42, 0))
	}
	if z := t.number(30, 0); !t.flag(inSpace) {
		for i := range corners {
			corners[i][2] = z
		}
	}
	return r.corners(m, corners, bulges, t.flag(closed))
}

// face adds a flat face of three or four corners as triangles.
func (r *dxfReader) face(t *thing, m mgl64.Mat4) *project.Fault {
	var k [4]int
	for i := range k {
		code := 10 + i
		if i == 3 && t.text(13) == "" {
			code = 12
		}
		var fault *project.Fault
		if k[i], fault = r.at(m, t.point(code)); fault != nil {
			return fault
		}
	}
	r.Triangles = append(r.Triangles, [3]int{k[0], k[1], k[2]})
	if r.Points[k[3]] != r.Points[k[2]] {
		r.Triangles = append(r.Triangles, [3]int{k[0], k[2], k[3]})
	}
	return nil
}

// insert draws a block where it is inserted, once or in rows and columns.
func (r *dxfReader) insert(t *thing, m mgl64.Mat4, depth int) *project.Fault {
	const deepest, most = 16, 100_000
	b := r.blocks[t.text(2)]
	if b == nil {
		r.left["blocks that the file does not hold"]++
		return nil
	}
	if depth >= deepest {
		return r.fault("", "blocks without end", "blocks that are not inserted in themselves")
	}
	columns, rows := t.number(70, 1), t.number(71, 1)
	if !(columns*rows <= most) {
		return r.fault("", fmt.Sprintf("a block inserted %g times", columns*rows), fmt.Sprintf("at most %d", most))
	}
	at := t.point(10)
	place := m.Mul4(t.plane()).Mul4(mgl64.Translate3D(at[0], at[1], at[2])).Mul4(mgl64.HomogRotate3DZ(mgl64.DegToRad(t.number(50, 0))))
	scale := mgl64.Scale3D(t.number(41, 1), t.number(42, 1), t.number(43, 1)).Mul4(mgl64.Translate3D(-b.base[0], -b.base[1], -b.base[2]))
	for i := range max(int(columns), 1) {
		for k := range max(int(rows), 1) {
			if r.inserted++; r.inserted > most {
				return r.fault("", fmt.Sprintf("blocks inserted over %d times", most), "fewer: blocks may be inserted in themselves")
			}
			here := place.Mul4(mgl64.Translate3D(float64(i)*t.number(44, 0), float64(k)*t.number(45, 0), 0)).Mul4(scale)
			for n := range b.list {
				if fault := r.draw(&b.list[n], here, depth+1); fault != nil {
					return fault
				}
			}
		}
	}
	return nil
}
