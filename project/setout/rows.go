// SPDX-License-Identifier: MIT

package setout

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project/place"
)

// rows sets out every row: its front, the line of its seats, its seats where those do not
// follow from two of them, the edges of its platform and its steps.
func (b *builder) rows() {
	for i := range b.d.Seating.Rows {
		r := &b.d.Seating.Rows[i]
		name := fmt.Sprintf("row %d", i+1)
		row := func(part string, at geometry.Vec) {
			b.add(Item{ID: r.ID, Part: part, Kind: Row, Name: name + ", " + part, On: OnFloor, At: at}, -1)
		}
		middle := geometry.Vec{X: float64(r.Distance), Y: float64(r.Centre + r.Stagger), Z: float64(r.Riser)}
		if chair, ok := b.d.Chair(r.Chair); ok {
			row("front of the seats", middle.Sub(geometry.Vec{X: float64(chair.PanDepth)}))
		}
		row("line of the seats", middle)
		for _, s := range b.r.Seats {
			if s.Row == i+1 && (r.Curve > 0 || s.Number == 1 || s.Number == r.Seats) {
				row(fmt.Sprintf("middle of seat %d", s.Number), s.Ref)
			}
		}
		if box, ok := place.Platform(b.d, i); ok {
			b.platform(r.ID, name, &box)
		}
		for k, f := range place.Flights(b.d, i) {
			b.flight(r.ID, name, k, &f)
		}
	}
}

// platform sets out the edges of a platform that stand free of the walls, each at the
// middle of its longest stretch.
func (b *builder) platform(id, name string, box *geometry.Box) {
	lo := geometry.Vec2{X: box.Center.X - box.Half.X, Y: box.Center.Y - box.Half.Y}
	hi := geometry.Vec2{X: box.Center.X + box.Half.X, Y: box.Center.Y + box.Half.Y}
	part := b.poly.Clip(lo, hi)
	for _, side := range []struct {
		part  string
		on    func(p geometry.Vec2) float64 // how far off the side
		along bool                          // it runs along x
	}{
		{"front edge", func(p geometry.Vec2) float64 { return p.X - lo.X }, false},
		{"back edge", func(p geometry.Vec2) float64 { return hi.X - p.X }, false},
		{"left edge", func(p geometry.Vec2) float64 { return p.Y - lo.Y }, true},
		{"right edge", func(p geometry.Vec2) float64 { return hi.Y - p.Y }, true},
	} {
		const hair = 1e-6 // m
		longest, at := hair, geometry.Vec2{}
		for e := range part {
			p, q := part.Edge(e)
			middle := p.Add(q).Mul(0.5)
			if math.Abs(side.on(p)) < hair && math.Abs(side.on(q)) < hair && p.Dist(q) > longest && b.poly.Distance(middle) > hair {
				longest, at = p.Dist(q), middle
			}
		}
		if longest > hair {
			b.add(Item{ID: id, Part: "platform, " + side.part, Kind: Platform, Name: name + ", platform, " + side.part, On: OnFloor,
				At: geometry.Vec{X: at.X, Y: at.Y, Z: box.Center.Z + box.Half.Z}}, -1)
		}
	}
}

// flight sets out the steps of a flight: the middle of each and its edges.
func (b *builder) flight(id, name string, k int, f *place.Flight) {
	for n := range f.Boxes {
		box := &f.Boxes[n]
		part := fmt.Sprintf("steps %d, step %d", k+1, n+1)
		at := box.Center
		at.Z += box.Half.Z
		out := b.add(Item{ID: id, Part: part, Kind: Step, Name: name + ", " + part, On: OnFloor, At: at}, -1)
		out.Edges = b.overheadEdges(out, box.Half.X, box.Half.Y)
	}
}
