// SPDX-License-Identifier: MIT

package mesh

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/qmuntal/gltf"

	"earline/geometry"
	"earline/project"
)

// gltfReader reads a document of glTF 2.0 (Khronos Group 2021). The library gives the
// types of the document; the container and the numbers are read here, since its own
// reading trusts the lengths that a file states.
type gltfReader struct {
	*File
	doc     gltf.Document
	buffers [][]byte
	visited int // nodes
}

// readGLTF reads a glTF file, binary or not. Such files have metres and y up (section
// 3.4 of the specification).
func (f *File) readGLTF(data []byte) *project.Fault {
	r := gltfReader{File: f}
	r.Unit = project.Metres
	text, bin, fault := r.chunks(data)
	if fault != nil {
		return fault
	}
	if err := json.Unmarshal(text, &r.doc); err != nil {
		return r.fault("", "no JSON of a glTF document", "a glTF 2.0 file")
	}
	if v := r.doc.Asset.Version; !strings.HasPrefix(v, "2.") {
		return r.fault("asset.version", quote(v), "2.0")
	}
	if fault := r.extensions(); fault != nil {
		return fault
	}
	if fault := r.readBuffers(bin); fault != nil {
		return fault
	}
	roots := r.roots()
	for _, n := range roots {
		if fault := r.node(n, mgl64.Ident4(), 0); fault != nil {
			return fault
		}
	}
	return nil
}

// chunks takes a binary file apart: a header of 12 bytes, then chunks of length, kind
// and bytes (section 4.4). Of another file all is text.
func (r *gltfReader) chunks(data []byte) (text, bin []byte, fault *project.Fault) {
	if !bytes.HasPrefix(data, []byte("glTF")) {
		return data, nil, nil
	}
	short := r.fault("", "a binary file that is cut short", "a whole glTF 2.0 file")
	if len(data) < 12 {
		return nil, nil, short
	}
	if v := binary.LittleEndian.Uint32(data[4:]); v != 2 {
		return nil, nil, r.fault("", fmt.Sprintf("binary glTF of version %d", v), "version 2")
	}
	const isText, isBinary = 0x4E4F534A, 0x004E4942
	for data = data[12:]; len(data) >= 8; {
		n, kind := binary.LittleEndian.Uint32(data), binary.LittleEndian.Uint32(data[4:])
		if data = data[8:]; uint64(n) > uint64(len(data)) {
			return nil, nil, short
		}
		switch {
		case kind == isText && text == nil:
			text = data[:n]
		case kind == isBinary && bin == nil:
			bin = data[:n]
		}
		data = data[n:]
	}
	if text == nil {
		return nil, nil, short
	}
	return text, bin, nil
}

// extensions refuses a document whose shapes are packed in a way that is not read.
func (r *gltfReader) extensions() *project.Fault {
	packed := map[string]string{
		"KHR_draco_mesh_compression": "Draco",
		"EXT_meshopt_compression":    "meshopt",
		"KHR_meshopt_compression":    "meshopt",
		"KHR_mesh_quantization":      "quantised coordinates",
	}
	for _, name := range r.doc.ExtensionsRequired {
		if by, ok := packed[name]; ok {
			return r.fault("", fmt.Sprintf("a mesh packed with %s (%s)", by, name), "the same model saved without compression")
		}
	}
	return nil
}

// readBuffers gives every buffer its bytes: those of the binary chunk or of its own
// text.
func (r *gltfReader) readBuffers(bin []byte) *project.Fault {
	r.buffers = make([][]byte, len(r.doc.Buffers))
	for i, b := range r.doc.Buffers {
		at := fmt.Sprintf("buffers[%d]", i)
		switch {
		case b == nil:
			return r.fault(at, "null", "a buffer")
		case b.URI == "" && i == 0 && bin != nil:
			r.buffers[i] = bin
		case strings.HasPrefix(b.URI, "data:"):
			_, text, ok := strings.Cut(b.URI, ";base64,")
			data, err := base64.StdEncoding.DecodeString(text)
			if !ok || err != nil {
				return r.fault(at+".uri", "no base64", "the bytes in base64")
			}
			r.buffers[i] = data
		case b.URI != "":
			return r.fault(at+".uri", "bytes in another file, "+quote(b.URI), "all in one file: save it as .glb")
		}
	}
	return nil
}

// roots returns the nodes to begin with: those of the scene that is to be shown, of
// the first where none is said, and without scenes all that are nobody's child.
func (r *gltfReader) roots() []int {
	n := 0
	if r.doc.Scene != nil {
		n = *r.doc.Scene
	}
	if n >= 0 && n < len(r.doc.Scenes) && r.doc.Scenes[n] != nil {
		return r.doc.Scenes[n].Nodes
	}
	child := map[int]bool{}
	for _, n := range r.doc.Nodes {
		if n != nil {
			for _, c := range n.Children {
				child[c] = true
			}
		}
	}
	var roots []int
	for i := range r.doc.Nodes {
		if !child[i] {
			roots = append(roots, i)
		}
	}
	return roots
}

// node reads a node and its children, placed by m.
func (r *gltfReader) node(i int, m mgl64.Mat4, depth int) *project.Fault {
	const deepest, most = 64, 100_000 // generations and nodes: more than that goes in circles
	at := fmt.Sprintf("nodes[%d]", i)
	if i < 0 || i >= len(r.doc.Nodes) || r.doc.Nodes[i] == nil {
		return r.fault(at, "no such node", fmt.Sprintf("one of the %d nodes", len(r.doc.Nodes)))
	}
	if r.visited++; depth > deepest || r.visited > most {
		return r.fault(at, "nodes without end", "nodes that are not their own children")
	}
	n := r.doc.Nodes[i]
	m = m.Mul4(placed(n))
	for k, v := range m {
		if math.IsNaN(v) || !sane(v) {
			return r.fault(at, fmt.Sprintf("%v in its place", m[k]), "numbers of a model")
		}
	}
	if n.Skin != nil {
		r.left["skins"]++
	}
	if n.Mesh != nil {
		if fault := r.mesh(*n.Mesh, m, n.Name); fault != nil {
			return fault
		}
	}
	for _, c := range n.Children {
		if fault := r.node(c, m, depth+1); fault != nil {
			return fault
		}
	}
	return nil
}

// placed returns the transform of a node: its matrix, or its translation, rotation and
// scale (section 3.5.3).
func placed(n *gltf.Node) mgl64.Mat4 {
	if m := n.MatrixOrDefault(); m != gltf.DefaultMatrix {
		return m
	}
	t, q, s := n.TranslationOrDefault(), n.RotationOrDefault(), n.ScaleOrDefault()
	turn := mgl64.Quat{W: q[3], V: mgl64.Vec3{q[0], q[1], q[2]}}.Normalize()
	return mgl64.Translate3D(t[0], t[1], t[2]).Mul4(turn.Mat4()).Mul4(mgl64.Scale3D(s[0], s[1], s[2]))
}

func (r *gltfReader) mesh(i int, m mgl64.Mat4, name string) *project.Fault {
	at := fmt.Sprintf("meshes[%d]", i)
	if i < 0 || i >= len(r.doc.Meshes) || r.doc.Meshes[i] == nil {
		return r.fault(at, "no such mesh", fmt.Sprintf("one of the %d meshes", len(r.doc.Meshes)))
	}
	if name == "" {
		name = r.doc.Meshes[i].Name
	}
	for k, p := range r.doc.Meshes[i].Primitives {
		at := fmt.Sprintf("%s.primitives[%d]", at, k)
		if p == nil {
			return r.fault(at, "null", "a primitive")
		}
		if fault := r.primitive(at, p, m); fault != nil {
			return fault
		}
		if fault := r.full(); fault != nil {
			return fault
		}
		r.part(name)
	}
	return nil
}

// primitive reads triangles or lines, one by one, in a strip or in a fan (section
// 3.7.2.1).
func (r *gltfReader) primitive(at string, p *gltf.Primitive, m mgl64.Mat4) *project.Fault {
	if len(p.Targets) > 0 {
		r.left["morphs"]++
	}
	if p.Mode == gltf.PrimitivePoints {
		r.left["clouds of points"]++
		return nil
	}
	position, ok := p.Attributes[gltf.POSITION]
	if !ok {
		r.left["meshes without points"]++
		return nil
	}
	first := len(r.Points)
	n, fault := r.positions(position, m)
	if fault != nil {
		return fault
	}
	count, index := n, func(i int) int { return i }
	if p.Indices != nil {
		a, fault := r.accessor(*p.Indices, gltf.AccessorScalar)
		if fault != nil {
			return fault
		}
		if a.kind != gltf.ComponentUbyte && a.kind != gltf.ComponentUshort && a.kind != gltf.ComponentUint {
			return r.fault(at+".indices", "indices that are no whole numbers", "bytes, shorts or ints without sign")
		}
		count, index = a.count, a.index
	}
	if r.tooMany(p.Mode, count) {
		return r.full()
	}
	bad := -1
	vertex := func(i int) int {
		k := index(i)
		if k >= n {
			bad = k
			return first
		}
		return first + k
	}
	switch p.Mode {
	case gltf.PrimitiveTriangles:
		for i := 0; i+2 < count; i += 3 {
			r.Triangles = append(r.Triangles, [3]int{vertex(i), vertex(i + 1), vertex(i + 2)})
		}
	case gltf.PrimitiveTriangleStrip:
		for i := 0; i+2 < count; i++ {
			r.Triangles = append(r.Triangles, [3]int{vertex(i), vertex(i + 1), vertex(i + 2)})
		}
	case gltf.PrimitiveTriangleFan:
		for i := 1; i+1 < count; i++ {
			r.Triangles = append(r.Triangles, [3]int{vertex(0), vertex(i), vertex(i + 1)})
		}
	case gltf.PrimitiveLines:
		for i := 0; i+1 < count; i += 2 {
			r.Lines = append(r.Lines, [2]int{vertex(i), vertex(i + 1)})
		}
	case gltf.PrimitiveLineStrip, gltf.PrimitiveLineLoop:
		for i := 0; i+1 < count; i++ {
			r.Lines = append(r.Lines, [2]int{vertex(i), vertex(i + 1)})
		}
		if p.Mode == gltf.PrimitiveLineLoop && count > 2 {
			r.Lines = append(r.Lines, [2]int{vertex(count - 1), vertex(0)})
		}
	}
	if bad >= 0 {
		return r.fault(at+".indices", fmt.Sprintf("point %d", bad), fmt.Sprintf("one of its %d points", n))
	}
	return nil
}

// tooMany makes the file over full, without reading on, where a primitive of so many
// corners would make it so.
func (r *gltfReader) tooMany(mode gltf.PrimitiveMode, corners int) bool {
	pieces := corners
	if mode == gltf.PrimitiveTriangles {
		pieces /= 3
	}
	if mode == gltf.PrimitiveLines {
		pieces /= 2
	}
	switch mode {
	case gltf.PrimitiveTriangles, gltf.PrimitiveTriangleStrip, gltf.PrimitiveTriangleFan:
		if len(r.Triangles)+pieces > maxPieces {
			r.Triangles = make([][3]int, maxPieces+1)
			return true
		}
	default:
		if len(r.Lines)+pieces > maxPieces {
			r.Lines = make([][2]int, maxPieces+1)
			return true
		}
	}
	return false
}

// positions reads the points of a mesh, placed by m, and returns how many there are.
func (r *gltfReader) positions(i int, m mgl64.Mat4) (int, *project.Fault) {
	a, fault := r.accessor(i, gltf.AccessorVec3)
	if fault != nil {
		return 0, fault
	}
	at := fmt.Sprintf("accessors[%d]", i)
	if a.kind != gltf.ComponentFloat {
		return 0, r.fault(at, "coordinates that are no floating-point numbers", "32-bit floating-point numbers")
	}
	if len(r.Points)+a.count > maxPoints {
		r.Points = make([]geometry.Vec, maxPoints+1)
		return 0, r.full()
	}
	for k := range a.count {
		p := a.point(k)
		for _, v := range p {
			if math.IsNaN(v) || !sane(v) {
				return 0, r.fault(at, fmt.Sprintf("point %d at %v", k, v), "coordinates of a model")
			}
		}
		q := mgl64.TransformCoordinate(p, m)
		for _, v := range q {
			if math.IsNaN(v) || !sane(v) {
				return 0, r.fault(at, fmt.Sprintf("point %d placed at %v", k, v), "coordinates of a model")
			}
		}
		r.Points = append(r.Points, yUp(q[0], q[1], q[2]))
	}
	return a.count, nil
}

// accessor is a list of numbers in a buffer, whole and within it.
type accessor struct {
	data          []byte // nil: all zero
	count, stride int
	kind          gltf.ComponentType
}

// accessor returns accessor i, which must have elements of that form.
func (r *gltfReader) accessor(i int, form gltf.AccessorType) (accessor, *project.Fault) {
	at := fmt.Sprintf("accessors[%d]", i)
	none := accessor{}
	if i < 0 || i >= len(r.doc.Accessors) || r.doc.Accessors[i] == nil {
		return none, r.fault(at, "no such accessor", fmt.Sprintf("one of the %d accessors", len(r.doc.Accessors)))
	}
	a := r.doc.Accessors[i]
	if a.Type != form {
		return none, r.fault(at, "elements of another form", "points of three numbers, indices of one")
	}
	if a.Sparse != nil {
		return none, r.fault(at, "sparse numbers", "the same model saved without sparse accessors")
	}
	size := map[gltf.ComponentType]int{gltf.ComponentByte: 1, gltf.ComponentUbyte: 1, gltf.ComponentShort: 2, gltf.ComponentUshort: 2,
		gltf.ComponentUint: 4, gltf.ComponentFloat: 4}[a.ComponentType]
	if form == gltf.AccessorVec3 {
		size *= 3
	}
	const most = 1 << 28 // more than any file of the size that is read holds
	outside := r.fault(at, "numbers beyond the end of their buffer", "a whole glTF 2.0 file")
	if a.BufferView == nil || size == 0 || a.Count < 0 || a.Count > most {
		return none, outside
	}
	if *a.BufferView < 0 || *a.BufferView >= len(r.doc.BufferViews) || r.doc.BufferViews[*a.BufferView] == nil {
		return none, outside
	}
	v := r.doc.BufferViews[*a.BufferView]
	if len(v.Extensions) > 0 {
		r.left["buffers with extensions"]++
	}
	if v.Buffer < 0 || v.Buffer >= len(r.buffers) || v.ByteOffset < 0 || v.ByteLength < 0 || v.ByteStride < 0 || a.ByteOffset < 0 {
		return none, outside
	}
	data := r.buffers[v.Buffer]
	if v.ByteOffset > len(data) || v.ByteLength > len(data)-v.ByteOffset {
		return none, outside
	}
	data = data[v.ByteOffset : v.ByteOffset+v.ByteLength]
	stride := max(v.ByteStride, size)
	if stride > 1<<16 || a.ByteOffset > len(data) {
		return none, outside
	}
	data = data[a.ByteOffset:]
	if a.Count > 0 && (a.Count-1)*stride+size > len(data) {
		return none, outside
	}
	return accessor{data, a.Count, stride, a.ComponentType}, nil
}

// index returns number i of a list of whole numbers.
func (a *accessor) index(i int) int {
	data := a.data[i*a.stride:]
	switch a.kind {
	case gltf.ComponentUbyte:
		return int(data[0])
	case gltf.ComponentUshort:
		return int(binary.LittleEndian.Uint16(data))
	}
	return int(binary.LittleEndian.Uint32(data))
}

// point returns point i of a list of points.
func (a *accessor) point(i int) mgl64.Vec3 {
	data := a.data[i*a.stride:]
	at := func(k int) float64 { return float64(math.Float32frombits(binary.LittleEndian.Uint32(data[4*k:]))) }
	return mgl64.Vec3{at(0), at(1), at(2)}
}
