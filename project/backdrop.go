// SPDX-License-Identifier: MIT

package project

import (
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
)

// Limits of the backdrops of a design, all together. They keep a file with as many
// designs as it may have within what is read.
const (
	MaxBackdrops         = 20
	MaxBackdropPoints    = 60_000
	MaxBackdropTriangles = 20_000
	MaxBackdropLines     = 20_000
	// MaxObstacleTriangles is how many of them may stand in the way of sight.
	MaxObstacleTriangles = 2_000
)

// Backdrop is a mesh or the lines of a plan that another program made: drawn in the
// room and, if it is an obstacle, in the way of sight.
type Backdrop struct {
	ID   string `json:"id,omitempty"` // see Design.Identify
	Name string `json:"name"`
	// File is the name of the file that it was read from and Unit the unit that the
	// numbers in it were taken for: for people only, nothing follows from them.
	File string       `json:"file,omitempty"`
	Unit BackdropUnit `json:"unit,omitempty"`
	// At is where its origin lies in the room; it is turned about the upright line
	// through it, from x (back) towards y (right).
	At   Point        `json:"at"`
	Turn unit.Degrees `json:"turn_deg,omitempty"`
	// Obstacle is whether its triangles stand in the way of sight. Lines never do.
	Obstacle bool `json:"obstacle,omitempty"`
	Hidden   bool `json:"hidden,omitempty"` // not drawn
	// Points, Triangles and Lines are its shape in base64, as SetMesh makes it: a
	// list of numbers would be several times as long, and each would count against
	// what a file may have. Points are three little-endian int32 each, in tenths of
	// a millimetre along x, y and z from its origin; triangles are three and lines
	// two little-endian uint16 each, which count points from 0.
	Points    string `json:"points"`
	Triangles string `json:"triangles,omitempty"`
	Lines     string `json:"lines,omitempty"`
}

// BackdropUnit is a unit of length of a file that does not say which it has.
type BackdropUnit string

// The units of BackdropUnit.
const (
	Millimetres BackdropUnit = "mm"
	Centimetres BackdropUnit = "cm"
	Metres      BackdropUnit = "m"
	Inches      BackdropUnit = "in"
	Feet        BackdropUnit = "ft"
)

// BackdropUnits are all units, the smallest first.
func BackdropUnits() []BackdropUnit {
	return []BackdropUnit{Millimetres, Centimetres, Inches, Feet, Metres}
}

// Length returns one of the unit; a metre for one that there is not.
func (u BackdropUnit) Length() unit.Length {
	switch u {
	case Millimetres:
		return unit.Millimetre
	case Centimetres:
		return unit.Centimetre
	case Inches:
		return unit.Inch
	case Feet:
		return unit.Foot
	}
	return unit.Metre
}

// Words names b in a report: "backdrop sofa".
func (b *Backdrop) Words() string {
	if b.Name == "" {
		return "backdrop"
	}
	return "backdrop " + b.Name
}

// Mesh is points joined by triangles and lines, metres.
type Mesh struct {
	Points    []geometry.Vec
	Triangles [][3]int // indexes of Points
	Lines     [][2]int
}

// Bounds returns the least and greatest coordinates of the points; zero without any.
func (m *Mesh) Bounds() (lo, hi geometry.Vec) {
	for i, p := range m.Points {
		if i == 0 {
			lo, hi = p, p
		}
		lo = geometry.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
		hi = geometry.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
	}
	return lo, hi
}

// Triangle returns the corners of triangle i.
func (m *Mesh) Triangle(i int) geometry.Triangle {
	t := m.Triangles[i]
	return geometry.Triangle{m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]}
}

// grain is what the coordinates of a backdrop are rounded to, metres.
const grain = 1e-4

// Grain returns the length that the coordinates of backdrops are rounded to: far
// below any tape.
func Grain() unit.Length { return grain }

// SetMesh makes m, about the origin of b, its shape, rounded to Grain. m has no more
// points than an index reaches, and all its indexes are of points.
func (b *Backdrop) SetMesh(m Mesh) {
	points := make([]byte, 0, 12*len(m.Points))
	for _, p := range m.Points {
		for _, v := range [3]float64{p.X, p.Y, p.Z} {
			points = binary.LittleEndian.AppendUint32(points, uint32(int32(math.Round(v/grain))))
		}
	}
	triangles := make([]byte, 0, 6*len(m.Triangles))
	for _, t := range m.Triangles {
		for _, k := range t {
			triangles = binary.LittleEndian.AppendUint16(triangles, uint16(k))
		}
	}
	lines := make([]byte, 0, 4*len(m.Lines))
	for _, l := range m.Lines {
		for _, k := range l {
			lines = binary.LittleEndian.AppendUint16(lines, uint16(k))
		}
	}
	text := base64.StdEncoding.EncodeToString
	b.Points, b.Triangles, b.Lines = text(points), text(triangles), text(lines)
}

// Mesh returns the shape of b about its origin. The error is a *Fault whose Field is
// the name of the one that cannot be read.
func (b *Backdrop) Mesh() (Mesh, error) {
	var m Mesh
	points, fault := unpacked("points", b.Points, 12)
	if fault != nil {
		return Mesh{}, fault
	}
	m.Points = make([]geometry.Vec, len(points)/12)
	for i := range m.Points {
		at := func(k int) float64 { // rounded once more: a tenth of a millimetre is no binary number
			return float64(int32(binary.LittleEndian.Uint32(points[12*i+4*k:]))) / (1 / grain)
		}
		m.Points[i] = geometry.Vec{X: at(0), Y: at(1), Z: at(2)}
	}
	index := func(field string, data []byte, at int) (int, *Fault) {
		k := int(binary.LittleEndian.Uint16(data[at:]))
		if k >= len(m.Points) {
			return 0, &Fault{Field: field, Found: fmt.Sprintf("point %d", k), Allowed: fmt.Sprintf("one of the %d points, counted from 0", len(m.Points))}
		}
		return k, nil
	}
	triangles, fault := unpacked("triangles", b.Triangles, 6)
	if fault != nil {
		return Mesh{}, fault
	}
	m.Triangles = make([][3]int, len(triangles)/6)
	for i := range m.Triangles {
		for k := range 3 {
			if m.Triangles[i][k], fault = index("triangles", triangles, 6*i+2*k); fault != nil {
				return Mesh{}, fault
			}
		}
	}
	lines, fault := unpacked("lines", b.Lines, 4)
	if fault != nil {
		return Mesh{}, fault
	}
	m.Lines = make([][2]int, len(lines)/4)
	for i := range m.Lines {
		for k := range 2 {
			if m.Lines[i][k], fault = index("lines", lines, 4*i+2*k); fault != nil {
				return Mesh{}, fault
			}
		}
	}
	return m, nil
}

// unpacked returns the bytes of a list in base64 whose entries have so many.
func unpacked(field, text string, each int) ([]byte, *Fault) {
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		found := "no base64"
		var at base64.CorruptInputError
		if errors.As(err, &at) {
			found = fmt.Sprintf("no base64 from character %d on", int64(at)+1)
		}
		return nil, &Fault{Field: field, Found: found, Allowed: "what Earline writes"}
	}
	if len(data)%each != 0 {
		return nil, &Fault{Field: field, Found: fmt.Sprintf("%d bytes", len(data)), Allowed: fmt.Sprintf("a multiple of %d", each)}
	}
	return data, nil
}

// Placed returns the shape of b where it is in the room; nothing where it cannot be
// read, which Validate refuses.
func (b *Backdrop) Placed() Mesh {
	m, err := b.Mesh()
	if err != nil {
		return Mesh{}
	}
	turned, at := geometry.YawBasis(b.Turn.Radians()), b.At.Vec()
	for i, p := range m.Points {
		if b.Turn != 0 {
			p = turned.World(p)
		}
		m.Points[i] = at.Add(p)
	}
	return m
}
