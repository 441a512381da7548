// SPDX-License-Identifier: MIT

package place

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
)

// PartKind says what a Part belongs to.
type PartKind uint8

// The kinds of Part.
const (
	HeadPart PartKind = iota
	NeckPart
	ShoulderPart
	BackPart
	HeadrestPart
	ArmPart
	PanPart
	RiserPart // a platform or one of the steps up to it
	FeaturePart
	ScreenPart
	SpeakerPart
	BackdropPart  // a triangle of a backdrop that is an obstacle
	ProjectorPart // the cabinet of the projector
	// ShellPart is the room's own walls, floor and ceiling. They are not among
	// Parts: they are where the room ends.
	ShellPart
)

// Part is a solid that can stand in the way of sight.
type Part struct {
	Kind PartKind
	// Row and Seat count from 1 and are 0 where they mean nothing.
	Row, Seat int
	// Index is the index of the feature, loudspeaker or backdrop; else 0.
	Index int
	Name  string // of the feature, loudspeaker or backdrop
	// Box, Ellipsoid, Cylinder or Triangle is its shape.
	Box       *geometry.Box
	Ellipsoid *geometry.Ellipsoid
	Cylinder  *geometry.Cylinder // of a round column
	Triangle  *geometry.Triangle // of a backdrop
}

// String names p in words a person would use: "head in row 2 seat 3".
func (p Part) String() string {
	word := map[PartKind]string{
		HeadPart: "head", NeckPart: "neck", ShoulderPart: "shoulders",
		BackPart: "chair back", HeadrestPart: "headrest", ArmPart: "chair arm", PanPart: "seat pan",
	}[p.Kind]
	switch p.Kind {
	case RiserPart:
		return fmt.Sprintf("riser of row %d", p.Row)
	case FeaturePart:
		return p.Name
	case ScreenPart:
		return "the screen"
	case SpeakerPart:
		return "the box of " + p.Name
	case BackdropPart:
		return p.Name
	case ProjectorPart:
		return "the projector"
	case ShellPart:
		return "the room's wall"
	}
	return fmt.Sprintf("%s in row %d seat %d", word, p.Row, p.Seat)
}

// Solid returns the shape of p made ready for the kernel.
func (p *Part) Solid() geometry.Solid {
	switch {
	case p.Ellipsoid != nil:
		return p.Ellipsoid.Solid()
	case p.Box != nil:
		return p.Box.Solid()
	case p.Cylinder != nil:
		return p.Cylinder.Solid()
	case p.Triangle != nil:
		return p.Triangle.Solid()
	}
	return geometry.Solid{}
}

// Inner returns the largest ball about p's middle that fits inside p: a point of a
// triangle.
func (p *Part) Inner() geometry.Sphere {
	switch {
	case p.Ellipsoid != nil:
		r := p.Ellipsoid.Radii
		return geometry.Sphere{Center: p.Ellipsoid.Center, Radius: min(r.X, r.Y, r.Z)}
	case p.Box != nil:
		h := p.Box.Half
		return geometry.Sphere{Center: p.Box.Center, Radius: min(h.X, h.Y, h.Z)}
	case p.Cylinder != nil:
		return geometry.Sphere{Center: p.Cylinder.Center, Radius: min(p.Cylinder.Radius, p.Cylinder.Half)}
	case p.Triangle != nil:
		t := p.Triangle
		return geometry.Sphere{Center: t[0].Add(t[1]).Add(t[2]).Mul(1.0 / 3)}
	}
	return geometry.Sphere{}
}

// Faces returns the outward normals of the planes that p lies behind and touches with a
// face: all six of a box; of a round column those of its foot and its top, and the two
// that touch its side towards the middle of the disc and with the disc's normal; both
// of a triangle. None of an ellipsoid.
func (p *Part) Faces(d *geometry.Disc) (normals [6]geometry.Vec, n int) {
	switch {
	case p.Box != nil:
		b := &p.Box.Basis
		return [6]geometry.Vec{b.U, b.V, b.W, b.U.Neg(), b.V.Neg(), b.W.Neg()}, 6
	case p.Cylinder != nil:
		w := p.Cylinder.Basis.W
		normals[0], normals[1], n = w, w.Neg(), 2
		for _, v := range [2]geometry.Vec{d.Center.Sub(p.Cylinder.Center), d.Normal} {
			if side, ok := v.Sub(w.Mul(w.Dot(v))).Unit(); ok {
				normals[n] = side
				n++
			}
		}
		return normals, n
	case p.Triangle != nil:
		if u, ok := p.Triangle.Normal(); ok {
			normals[0], normals[1], n = u, u.Neg(), 2
		}
	}
	return normals, n
}

// Person reports whether p is part of a sitter.
func (p *Part) Person() bool { return p.Kind <= ShoulderPart }

// ChairPart reports whether p is part of a chair.
func (p *Part) ChairPart() bool { return p.Kind >= BackPart && p.Kind <= PanPart }

func ellipsoidPart(kind PartKind, s Seat, e geometry.Ellipsoid) Part {
	return Part{Kind: kind, Row: s.Row, Seat: s.Number, Ellipsoid: &e}
}

func boxPart(kind PartKind, b geometry.Box) Part {
	return Part{Kind: kind, Box: &b}
}

// Parts returns everything that can stand in the way of sight: first each
// seat's own (sitter, then chair), seat by seat, then what is built in.
// The room's shell is not among them.
func Parts(d *project.Design) []Part {
	return parts(d, Seats(d), Speakers(d))
}

func parts(d *project.Design, seats []Seat, speakers []Speaker) []Part {
	all := make([]Part, 0, 9*len(seats)+len(d.Seating.Rows)+len(d.Room.Features)+len(d.Speakers)+1)
	other := PersonAt(d, d.Seating.Sitters.Others)
	for _, s := range seats {
		b := other.In(s)
		all = append(all,
			ellipsoidPart(HeadPart, s, b.Head),
			ellipsoidPart(NeckPart, s, b.NeckSolid),
			ellipsoidPart(ShoulderPart, s, b.Shoulders))
		all = s.appendChair(all)
	}
	for i := range d.Seating.Rows {
		if box, ok := Platform(d, i); ok {
			p := boxPart(RiserPart, box)
			p.Row = i + 1
			all = append(all, p)
		}
		for _, fl := range Flights(d, i) {
			for _, b := range fl.Boxes {
				p := boxPart(RiserPart, b)
				p.Row = i + 1
				all = append(all, p)
			}
		}
	}
	for i, f := range d.Room.Features {
		if f.Kind == project.Window {
			continue
		}
		p := boxPart(FeaturePart, f.Box())
		if c, ok := f.Cylinder(); ok {
			p.Box, p.Cylinder = nil, &c
		}
		p.Index, p.Name = i, f.Words()
		all = append(all, p)
	}
	all = appendBackdrops(all, d.Backdrops)
	if !d.Screen.Transparent {
		all = append(all, boxPart(ScreenPart, d.Screen.Sheet()))
	}
	if b, ok := Cabinet(d); ok {
		all = append(all, boxPart(ProjectorPart, b))
	}
	for i, l := range speakers {
		if len(l.Drivers) == 0 {
			continue
		}
		p := boxPart(SpeakerPart, l.Box)
		p.Index, p.Name = i, l.Name()
		all = append(all, p)
	}
	return all
}

// ChairParts returns the solids of the chair: pan, back, headrest, arms.
func (s Seat) ChairParts() []Part { return s.appendChair(nil) }

func (s Seat) appendChair(parts []Part) []Part {
	c := s.Chair
	pan, depth := float64(c.PanHeight), float64(c.PanDepth)
	width, arm := float64(c.PanWidth), float64(c.ArmWidth)
	box := func(kind PartKind, center geometry.Vec, basis geometry.Basis, l, w, h float64) Part {
		p := boxPart(kind, geometry.Box{Center: center, Basis: basis, Half: geometry.Vec{X: l / 2, Y: w / 2, Z: h / 2}})
		p.Row, p.Seat = s.Row, s.Number
		return p
	}
	parts = append(parts, box(PanPart, s.Local(-depth/2, 0, pan/2), s.Basis, depth, width, pan))
	own := func(kind PartKind, b geometry.Box) Part {
		p := boxPart(kind, b)
		p.Row, p.Seat = s.Row, s.Number
		return p
	}
	parts = append(parts, own(BackPart, s.BackBox()))
	if b, ok := s.HeadrestBox(); ok {
		parts = append(parts, own(HeadrestPart, b))
	}
	if arm > 0 {
		h := pan + float64(c.ArmHeight)
		for _, side := range []float64{-1, 1} {
			parts = append(parts, box(ArmPart,
				s.Local(-depth/2, side*(width+arm)/2, h/2), s.Basis, depth, arm, h))
		}
	}
	return parts
}

// Outline returns the floor the chair takes seen from above, from the front of
// its pan to its back, upright: left front, left back, right back, right front.
// arms is the share of each arm that it takes: 1, or 0.5 where neighbours may
// share one.
func (s Seat) Outline(arms float64) geometry.Polygon {
	front, back := -float64(s.Chair.PanDepth), float64(s.Chair.BackThickness)
	half := float64(s.Chair.PanWidth)/2 + arms*float64(s.Chair.ArmWidth)
	p := make(geometry.Polygon, 0, 4)
	for _, q := range [4][2]float64{{front, -half}, {back, -half}, {back, half}, {front, half}} {
		v := s.Local(q[0], q[1], 0)
		p = append(p, geometry.Vec2{X: v.X, Y: v.Y})
	}
	return p
}

// Up returns the unit vector up along the chair's back, as it reclines: the way of
// the headrest as it is raised.
func (s *Seat) Up() geometry.Vec {
	sin, cos := math.Sincos(s.Recline)
	return s.Basis.W.Mul(cos).Add(s.Basis.U.Mul(sin))
}

// BackBox returns the solid of the chair's back. It hinges at its foot; its face
// passes through the hinge.
func (s Seat) BackBox() geometry.Box {
	thick, high := float64(s.Chair.BackThickness), float64(s.Chair.BackHeight)
	lean := reclined(s.Basis, s.Recline)
	return geometry.Box{
		Center: s.Local(0, 0, float64(s.Chair.PanHeight)).Add(lean.U.Mul(thick / 2)).Add(lean.W.Mul(high / 2)),
		Basis:  lean, Half: geometry.Vec{X: thick / 2, Y: float64(s.Chair.PanWidth) / 2, Z: high / 2}}
}

// HeadrestBox returns the solid of the headrest, raised. It tips half as far as
// the back, to hold the head up. ok is false for a chair that has none.
func (s Seat) HeadrestBox() (geometry.Box, bool) {
	h := float64(s.Chair.Headrest)
	if !(h > 0) {
		return geometry.Box{}, false
	}
	tip := reclined(s.Basis, s.Recline/2)
	foot := s.Local(0, 0, float64(s.Chair.PanHeight)).Add(s.Up().Mul(float64(s.Chair.BackHeight)))
	t := float64(s.Chair.BackThickness) * 0.7
	return geometry.Box{
		Center: foot.Add(tip.U.Mul(t / 2)).Add(tip.W.Mul(h / 2)),
		Basis:  tip, Half: geometry.Vec{X: t / 2, Y: float64(s.Chair.HeadrestWidth) / 2, Z: h / 2}}, true
}
