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
	o.bracket = g.boundShell(t, &cell{who: g.all, lean: pl.lean})
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
	lo, hi := g.poly.Bounds()
	unknown := geometry.Bracket{Lower: -hi.Sub(lo).Len() - Far}
	driver := t.tips[0]
	if g.outside[t.speaker][g.r.Speakers[t.speaker].Spec.Deciding()].plan {
		return unknown
	}
	ears := c.who.Ears(g.r.Seats[t.seat], c.lean, c.side)
	g.flat = flat{geometry.Cone{Base: &ears, Tips: t.tips}}
	if b := g.r.Bodies[t.seat].EarLeft; !g.poly.Contains(geometry.Vec2{X: b.X, Y: b.Y}) {
		return unknown
	}
	for i := range g.poly {
		p, q := g.poly.Edge(i)
		n := g.poly.InwardNormal(i)
		in := geometry.Vec{X: n.X, Y: n.Y}
		a := geometry.Vec{X: p.X, Y: p.Y}
		_, nearest := ears.Support(in.Neg())
		if in.Dot(nearest.Sub(a)) >= 0 && in.Dot(driver.Sub(a)) >= -flushTol {
			continue
		}
		wall := geometry.Cone{Base: a, Tips: []geometry.Vec{{X: q.X, Y: q.Y}}}
		if geometry.Distance(&g.flat, &wall, in, apart, 1e-9).Lower < apart {
			return unknown
		}
	}
	return geometry.Bracket{Lower: Far, Upper: Far}
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
