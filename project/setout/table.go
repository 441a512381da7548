// SPDX-License-Identifier: MIT

package setout

import (
	"math"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/table"
)

// Table returns l for a spreadsheet: every item a row, lengths in millimetres to the
// tenth or in inches to the sixteenth, tolerances rounded down.
func (l *List) Table() *table.Table {
	u := " (mm)"
	if l.Units == project.Imperial {
		u = " (in)"
	}
	t := &table.Table{Header: []string{
		"id", "part", "kind", "name", "on",
		"above line" + u, "above finished floor" + u, "above structural floor" + u,
		"first from", "first offset" + u, "first from rough" + u,
		"second from", "second offset" + u, "second from rough" + u,
		"turn (deg, right positive)", "tilt (deg, up positive; off plumb on the ceiling)",
		"hole left" + u, "hole right" + u, "hole lower or back" + u, "hole upper or front" + u, "hole left and right from", "hole lower and upper from",
		"edges left" + u, "edges right" + u, "edges lower or back" + u, "edges upper or front" + u, "edges left and right from", "edges lower and upper from",
		"frame width" + u, "frame height" + u, "frame depth" + u, "mass (kg)",
	}}
	for _, way := range ways {
		t.Header = append(t.Header, "may be off "+way+u, "limit "+way)
	}
	t.Header = append(t.Header, "caution")
	for i := range l.Items {
		t.Add(l.row(&l.Items[i])...)
	}
	return t
}

// ways are the directions of a Tolerance, in its order.
var ways = [6]string{"up or forward", "down or back", "left", "right", "into the room", "out of the room"}

// reaches returns those of t in the order of ways; nil for what does not matter.
func (t *Tolerance) reaches() [6]*Reach {
	if t == nil {
		return [6]*Reach{}
	}
	return [6]*Reach{&t.Up, &t.Down, &t.Left, &t.Right, t.In, t.Out}
}

func (l *List) row(it *Item) []table.Cell {
	cells := []table.Cell{
		table.Text(it.ID), table.Text(it.Part), table.Text(string(it.Kind)), table.Text(it.Name), table.Text(it.Place),
		l.length(it.Height), l.length(it.FinishedHeight), l.length(it.StructuralHeight),
	}
	for n := range 2 {
		if n < len(it.Offsets) {
			o := it.Offsets[n]
			cells = append(cells, table.Text(o.From), l.length(o.Distance), l.length(o.Rough))
		} else {
			cells = append(cells, blank(3)...)
		}
	}
	if it.Aim != nil {
		cells = append(cells, table.Number(it.Aim.Turn, 1), table.Number(it.Aim.Tilt, 1))
	} else {
		cells = append(cells, blank(2)...)
	}
	for _, c := range []*Cutout{it.Cutout, it.Edges} {
		if c == nil {
			cells = append(cells, blank(6)...)
			continue
		}
		cells = append(cells, l.length(c.Left), l.length(c.Right), l.length(c.Lower), l.length(c.Upper), table.Text(c.LeftRightFrom), table.Text(c.LowerUpperFrom))
	}
	if f := it.Frame; f != nil {
		cells = append(cells, l.length(f.Width), l.length(f.Height), l.length(f.Depth))
	} else {
		cells = append(cells, blank(3)...)
	}
	if it.Mass > 0 {
		cells = append(cells, table.Number(it.Mass, 1))
	} else {
		cells = append(cells, blank(1)...)
	}
	for _, r := range it.Tolerance.reaches() {
		if r == nil {
			cells = append(cells, blank(2)...)
			continue
		}
		cells = append(cells, l.lengthDown(r.Distance), table.Text(r.Limit))
	}
	return append(cells, table.Text(it.Caution))
}

// sixteenth is what inches are read to, metres.
const sixteenth = float64(unit.Inch) / 16

func (l *List) length(v float64) table.Cell {
	if l.Units == project.Imperial {
		return table.Number(math.Round(v/sixteenth)/16, 4)
	}
	return table.Number(v*1000, 1)
}

func (l *List) lengthDown(v float64) table.Cell {
	const hair = 1e-9 // m
	if l.Units == project.Imperial {
		return table.Number(math.Floor((v+hair)/sixteenth)/16, 4)
	}
	return table.Number(math.Floor((v+hair)*1000), 0)
}

func blank(n int) []table.Cell { return make([]table.Cell, n) }
