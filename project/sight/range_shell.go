// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/geometry"
)

// The room's own shell, over the range. See auditor.shell for what counts.

// lookShell bounds the shell for the whole range. Where it cannot block, it
// leaves t as it is.
func (g *ranger) lookShell(t *task) {
	out := &g.outside[t.speaker][g.r.Speakers[t.speaker].Spec.Deciding()]
	if deep := max(out.above, out.under); deep > flushTol {
		// Whoever listens.
		t.best.Lower, t.best.Upper = -deep, -deep
		t.best.Worst = RangeCase{Listener: g.places[t.seat].set[0].percentile, Recline: g.r.Seats[t.seat].Recline, Blocker: ShellPart}
	}
	if g.convex && !out.plan {
		return
	}
	o := obstacle{part: ShellPart, least: Far}
	pl := &g.places[t.seat]
	root := cell{who: g.all, lean: pl.lean}
	o.bracket = g.boundShell(t, &root)
	if o.bracket.Lower < t.proof() {
		g.keep(t, &o)
	}
}

// boundShell proves that no path of c leaves the footprint, but for the last
// flushTol before a flush driver, or gives a bound that says nothing.
//
// The paths lie in a convex set. If every wall either stays clear of that set,
// or has all ears on its inner side and the driver no farther than flushTol
// beyond it, then a path leaves at most once, through such a wall, to a driver
// that is as near to it.
func (g *ranger) boundShell(t *task, c *cell) geometry.Bracket {
	const apart = 1e-6 // m
	unknown := geometry.Bracket{Lower: g.beyond}
	driver := t.tips[0]
	if g.outside[t.speaker][g.r.Speakers[t.speaker].Spec.Deciding()].plan {
		return unknown
	}
	pl := &g.places[t.seat]
	if !pl.inside {
		return unknown
	}
	ears := &pl.ears
	whole := c.who == g.all && c.lean == pl.lean && c.side == 0
	if !whole {
		g.pair2.from = c.who.Ears(g.r.Seats[t.seat], c.lean, c.side)
		ears = &g.pair2.from
	}
	g.flat = flat{geometry.Cone{Base: ears, Tips: t.tips}}
	for i := range g.edges {
		a, b, in := g.edges[i].a, g.edges[i].b, g.edges[i].in
		within := whole && pl.before[i]
		if !within {
			_, nearest := ears.Support(in.Neg())
			within = in.Dot(nearest.Sub(a)) >= 0
		}
		if within && in.Dot(driver.Sub(a)) >= -flushTol {
			continue
		}
		g.wall = [2]geometry.Vec{a, b}
		g.side = geometry.Cone{Base: g.wall[0], Tips: g.wall[1:]}
		if geometry.Distance(&g.flat, &g.side, in, apart, 1e-9).Lower < apart {
			return unknown
		}
	}
	return geometry.Bracket{Lower: Far, Upper: Far}
}

// edge is a wall in plan, from a to b, and the unit vector into the room.
type edge struct{ a, b, in geometry.Vec }

func edgesOf(poly geometry.Polygon) []edge {
	out := make([]edge, len(poly))
	for i := range out {
		p, q := poly.Edge(i)
		n := poly.InwardNormal(i)
		out[i] = edge{geometry.Vec{X: p.X, Y: p.Y}, geometry.Vec{X: q.X, Y: q.Y}, geometry.Vec{X: n.X, Y: n.Y}}
	}
	return out
}

// walls looks which walls all ears of seat i are before.
func (g *ranger) walls(i int) {
	pl := &g.places[i]
	b := g.r.Bodies[i].EarLeft
	pl.inside = g.poly.Contains(geometry.Vec2{X: b.X, Y: b.Y})
	pl.before = make([]bool, len(g.edges))
	for n, e := range g.edges {
		_, nearest := pl.ears.Support(e.in.Neg())
		pl.before[n] = e.in.Dot(nearest.Sub(e.a)) >= 0
	}
}

// flat is the plan of a cone.
type flat struct{ geometry.Cone }

// Support makes flat a geometry.Convex.
func (f *flat) Support(n geometry.Vec) (reach float64, at geometry.Vec) {
	n.Z = 0
	if n == (geometry.Vec{}) {
		n.X = 1
	}
	_, at = f.Cone.Support(n)
	at.Z = 0
	return n.Dot(at), at
}

// exactShell is exact for the shell.
func (g *ranger) exactShell(t *task, st *stand, side Side) float64 {
	ear := st.ears[side]
	var p Path
	p.Clearance = Far
	at, enter := 0.0, math.Inf(1)
	driver := g.r.Speakers[t.speaker].Spec.Deciding()
	g.shell(geometry.Segment{A: ear, B: t.tips[0]}, &g.outside[t.speaker][driver], &p, &at, &enter)
	if p.Clearance < t.best.Upper {
		t.best.Upper = p.Clearance
		t.best.Worst = RangeCase{Ear: side, Listener: st.percentile, Recline: st.recline, Blocker: ShellPart}
	}
	return p.Clearance
}
