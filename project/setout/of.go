// SPDX-License-Identifier: MIT

package setout

import (
	"context"

	"earline/geometry"
	"earline/project"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/sight"
)

// Of sets out a design that Validate accepts, of which r is the audit, by the directions
// of std. The error is that of ctx. It is safe from any goroutine and changes nothing.
func Of(ctx context.Context, r *sight.Result, std practice.Standard) (*List, error) {
	d := r.Design.Clone()
	d.Identify()
	b := &builder{tape: newTape(d), r: r}
	l := &List{Name: d.Name, Job: d.Job, Units: d.Units, Datum: Datum{
		Height: d.Datum.Line(), Given: float64(d.Datum.Height), From: d.Datum.From, FloorBuildup: b.floor,
		Across: d.Datum.AcrossFrom(), Centre: b.centre, Assumed: !d.Datum.Given(),
	}}
	if l.Datum.Given == 0 {
		l.Datum.Given = l.Datum.Height
	}
	if l.Datum.From == "" {
		l.Datum.From = project.FinishedFloor
	}
	for i := range b.walls {
		l.Datum.WallBuildup = append(l.Datum.WallBuildup, b.walls[i].buildup)
	}
	if len(b.walls) < 3 {
		return l, ctx.Err()
	}
	b.picture()
	b.borders()
	b.speakers()
	b.treatments()
	b.features()
	b.outlets()
	b.projector()
	b.rows()
	if err := b.tolerances(ctx, std); err != nil {
		return nil, err
	}
	b.walk()
	l.Items, l.Warning = b.items, fit.Warning(d)
	return l, nil
}

// builder gathers the items.
type builder struct {
	*tape
	r     *sight.Result
	items []Item
	index []int // by item: of its loudspeaker, or -1
}

// add adds an item at p, on wall n or on something else, and returns it until the next
// is added.
func (b *builder) add(it Item, speaker int) *Item {
	p := it.At
	it.Height, it.FinishedHeight, it.StructuralHeight = p.Z-b.line, p.Z, p.Z+b.floor
	switch it.On {
	case OnWall, BehindScreen:
		it.Offsets = []Offset{b.offset(b.onWall(it.Wall, p), p), b.offset(it.Wall, p)}
		if it.Place == "" {
			it.Place = b.walls[it.Wall-1].name
		}
	default:
		it.Place = string(it.On)
		if n := b.lengthways(p, 0); n > 0 {
			it.Offsets = append(it.Offsets, b.offset(n, p))
		}
		it.Offsets = append(it.Offsets, b.offset(b.crossways(p, 0), p))
	}
	b.items, b.index = append(b.items, it), append(b.index, speaker)
	return &b.items[len(b.items)-1]
}

// onWallEdges returns the edges of what reaches half along the wall of it and from low to
// high, z.
func (b *builder) onWallEdges(it *Item, half, low, high float64) *Cutout {
	along, ref := level(b.walls[it.Wall-1].along).Mul(half), it.Offsets[0].Wall
	return &Cutout{
		Left: b.from(ref, it.At.Sub(along)), Right: b.from(ref, it.At.Add(along)),
		Lower: low - b.line, Upper: high - b.line,
		LeftRightFrom: b.name(ref), LowerUpperFrom: Line, Width: 2 * half, Height: high - low,
	}
}

// overheadEdges returns the edges of what reaches x along and y across the room on both
// sides of it.
func (b *builder) overheadEdges(it *Item, x, y float64) *Cutout {
	l, c := it.Offsets[0].Wall, it.Offsets[len(it.Offsets)-1].Wall
	return &Cutout{
		Left: b.from(c, it.At.Sub(geometry.Vec{Y: y})), Right: b.from(c, it.At.Add(geometry.Vec{Y: y})),
		Lower: b.from(l, it.At.Add(geometry.Vec{X: x})), Upper: b.from(l, it.At.Sub(geometry.Vec{X: x})),
		LeftRightFrom: b.name(c), LowerUpperFrom: b.name(l), Width: 2 * y, Height: 2 * x,
	}
}
