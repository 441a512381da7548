// SPDX-License-Identifier: MIT

package setout

import (
	"fmt"
	"math"
	"strings"

	"earline/geometry"
	"earline/project"
	"earline/project/picture"
	"earline/project/place"
)

// ScreenID is the ID of the picture, of which a design has one.
const ScreenID = "screen"

func (b *builder) picture() {
	c, right, up := b.d.Screen.Picture()
	n := b.screenWall(c)
	for _, k := range []struct {
		part string
		r, u float64
	}{{"upper left", -1, 1}, {"upper right", 1, 1}, {"lower left", -1, -1}, {"lower right", 1, -1}} {
		b.add(Item{ID: ScreenID, Part: k.part, Kind: Picture, Name: "picture, " + k.part + " corner", On: OnWall, Wall: n,
			At: c.Add(right.Mul(k.r)).Add(up.Mul(k.u))}, -1)
	}
}

// borders adds the edges of the shapes of picture that are not the screen's own, and those
// of the boxes that masks move out of.
func (b *builder) borders() {
	c, right, up := b.d.Screen.Picture()
	n := b.screenWall(c)
	add := func(part, name string, at geometry.Vec, half, high float64) {
		it := b.add(Item{ID: ScreenID, Part: part, Kind: Border, Name: name, On: OnWall, Wall: n, At: at}, -1)
		it.Edges = b.onWallEdges(it, half, at.Z-high, at.Z+high)
	}
	frames, names := picture.Frames(b.d)
	for i, f := range frames {
		const same = 0.0005 // m, half of what a tape tells
		if math.Abs(f.Width-2*right.Y) < same && math.Abs(f.Height-2*up.Z) < same {
			continue
		}
		add(fmt.Sprintf("borders %.4g", f.Aspect()), "borders of "+names[i], geometry.Vec{X: c.X, Y: f.Across, Z: f.Middle}, f.Width/2, f.Height/2)
	}
	for _, m := range b.d.MaskingBoxes() {
		add("masking box, "+m.Side, "masking box, "+m.Side, m.Center, m.Half.Y, m.Half.Z)
	}
}

func (b *builder) treatments() {
	for i := range b.d.Room.Treatments {
		t := &b.d.Room.Treatments[i]
		it := Item{ID: t.ID, Kind: Treatment, Name: orPanel(t.Name)}
		from, to, low, high := float64(t.From), float64(t.To), float64(t.Low), float64(t.High)
		if t.Wall < 1 || t.Wall > len(b.walls) {
			x, y := (from+to)/2, (low+high)/2
			it.On, it.At, it.Caution = OnCeiling, geometry.Vec{X: x, Y: y, Z: b.d.Room.CeilingAt(x, y)}, Overhead
			out := b.add(it, -1)
			out.Edges = b.overheadEdges(out, (to-from)/2, (high-low)/2)
			continue
		}
		a, end := b.poly.Edge(t.Wall - 1)
		at := a
		if way, length := end.Sub(a), a.Dist(end); length > 0 {
			at = a.Add(way.Mul((from + to) / 2 / length))
		}
		it.On, it.Wall, it.At = OnWall, t.Wall, geometry.Vec{X: at.X, Y: at.Y, Z: (low + high) / 2}
		out := b.add(it, -1)
		out.Edges = b.onWallEdges(out, (to-from)/2, low, high)
	}
}

func (b *builder) features() {
	for i := range b.d.Room.Features {
		f := &b.d.Room.Features[i]
		base, high := f.At.Vec(), float64(f.Height)
		it := Item{ID: f.ID, Kind: Feature, Name: f.Words(), At: base, Frame: &Frame{float64(f.Across()), high, float64(f.Length)}}
		x, y := place.Extent(*f)
		switch {
		case f.Kind == project.Door, f.Kind == project.Window, (f.Kind == project.Light || f.Kind == project.Vent) && !b.underCeiling(f):
			it.On, it.Wall = OnWall, b.wallAt(base)
			w := &b.walls[it.Wall-1]
			out := base.Sub(level(w.in).Mul(b.from(it.Wall, base))) // on the finished face
			it.At = out
			half := float64(f.Length)/2*math.Abs(f.Box().Basis.U.Dot(level(w.along))) + float64(f.Width)/2*math.Abs(f.Box().Basis.V.Dot(level(w.along)))
			e := b.add(it, -1)
			e.Edges = b.onWallEdges(e, half, base.Z, base.Z+high)
			thick := float64(f.Length)/2*math.Abs(f.Box().Basis.U.Dot(level(w.in))) + float64(f.Width)/2*math.Abs(f.Box().Basis.V.Dot(level(w.in)))
			e.Frame = &Frame{2 * half, high, 2 * thick} // as one faces it
			continue
		case f.Kind.Overhead():
			it.On, it.Caution = OnCeiling, Overhead
		default:
			it.On = OnFloor
		}
		e := b.add(it, -1)
		e.Edges = b.overheadEdges(e, x, y)
	}
}

// projector adds the middle of the front lens: what light and throw are worked out from.
func (b *builder) projector() {
	if !b.d.Projector.Given() {
		return
	}
	model, _ := b.d.ProjectorModel(b.d.Projector.Model)
	it := Item{ID: project.ProjectorID, Part: "lens", Kind: Projector, Name: "projector, middle of the lens", At: b.d.Projector.At.Vec(), Mass: model.Mass,
		Frame: &Frame{float64(model.Width), float64(model.Height), float64(model.Depth)}}
	switch b.d.Projector.Mount {
	case project.CeilingMount:
		it.On, it.Caution = OnCeiling, Overhead+" "+Beam
	case project.PortMount:
		it.On, it.Wall, it.Caution = OnWall, b.wallAt(it.At), Beam
	default:
		it.On, it.Wall, it.Caution = OnWall, b.wallAt(it.At), Overhead+" "+Beam
	}
	b.add(it, -1)
}

// outlets adds what is plugged in where.
func (b *builder) outlets() {
	for i := range b.d.Services.Outlets {
		o := &b.d.Services.Outlets[i]
		const near = 0.05 // m, of a wall
		it := Item{ID: o.ID, Kind: Outlet, Name: strings.TrimSpace(string(o.Kind) + " outlet " + o.Serves), On: OnFloor, At: o.At.Vec()}
		if o.Kind == project.Mains {
			it.Caution = Electric
		}
		switch at := it.At; {
		case b.poly.Distance(flat(at)) < near:
			it.On, it.Wall = OnWall, b.wallAt(at)
		case at.Z > b.d.Room.CeilingAt(at.X, at.Y)/2:
			it.On = OnCeiling
		}
		b.add(it, -1)
	}
}

// underCeiling reports whether f, a light or a vent, is at the ceiling and not in a wall.
func (b *builder) underCeiling(f *project.Feature) bool {
	const near = 0.1 // m
	at := f.At.Vec()
	x, y := place.Extent(*f)
	return at.Z+float64(f.Height) >= b.d.Room.CeilingAt(at.X, at.Y)-near || b.poly.Distance(flat(at)) > near+max(x, y)
}

func orPanel(name string) string {
	if name == "" {
		return "panel"
	}
	return name
}
