// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
)

// The room's own shell, over the range. See auditor.shell for what counts.

// lookShell bounds the shell for the whole range. Where it cannot block, it
// leaves t as it is.
func (g *ranger) lookShell(t *task) {
	if t.speaker >= 0 {
		if out := g.deciding(t.speaker); max(out.above, out.under) > flushTol {
			// Whoever listens.
			deep := max(out.above, out.under)
			t.best.Lower, t.best.Upper = -deep, -deep
			t.best.Worst = RangeCase{Listener: g.places[t.seat].set[0].percentile, Recline: g.r.Seats[t.seat].Recline, Blocker: ShellPart}
		}
	}
	o := obstacle{part: ShellPart, least: Far}
	pl := &g.places[t.seat]
	root := cell{who: g.all, lean: pl.lean}
	o.bracket = g.boundShell(t, &root)
	if o.bracket.Lower < t.proof() {
		g.keep(t, &o)
	}
}

// deciding returns how the deciding driver of loudspeaker k lies to the shell.
func (g *ranger) deciding(k int) *setting {
	return &g.settings[k][g.r.Speakers[k].Spec.Deciding()]
}

// boundShell proves that no path of c leaves the room, but through a wall in
// which the driver is set flush, or gives a bound that says nothing.
//
// The paths lie in a convex set. If every wall either stays clear of that set,
// or has all its starts before it and its ends not behind it, or is one in which
// the driver is set, then no path leaves, but for the way through such a wall to
// the driver.
func (g *ranger) boundShell(t *task, c *cell) geometry.Bracket {
	const apart = 1e-6 // m
	unknown := geometry.Bracket{Lower: g.beyond}
	if t.speaker >= 0 && g.deciding(t.speaker).plan {
		return unknown
	}
	pl := &g.places[t.seat]
	from, before := &pl.ears, pl.before
	if t.speaker < 0 {
		from, before = &pl.eyes, pl.eyesBefore
	}
	if !pl.inside {
		return unknown
	}
	whole := c.who == g.all && c.lean == pl.lean && c.side == 0
	if !whole {
		if t.speaker < 0 {
			g.pair2.from = c.who.Eyes(g.r.Seats[t.seat], c.lean)
		} else {
			g.pair2.from = c.who.Ears(g.r.Seats[t.seat], c.lean, c.side)
		}
		from = &g.pair2.from
	}
	g.flat = flat{geometry.Cone{Base: from, Tips: t.tips}}
	for i := range g.shell.walls {
		w := &g.shell.walls[i]
		if (whole && before[i] || beforeAll(w, from)) && g.endsBefore(t, i) {
			continue
		}
		if w.Endless() {
			return unknown
		}
		g.wall = [2]geometry.Vec{{X: w.From.X, Y: w.From.Y}, {X: w.To.X, Y: w.To.Y}}
		g.side = geometry.Cone{Base: g.wall[0], Tips: g.wall[1:]}
		if geometry.Distance(&g.flat, &g.side, w.In, apart, 1e-9).Lower < apart {
			return unknown
		}
	}
	return geometry.Bracket{Lower: Far, Upper: Far}
}

// endsBefore reports whether no path of t ends behind wall i, a driver that is
// set in it apart.
func (g *ranger) endsBefore(t *task, i int) bool {
	w := &g.shell.walls[i]
	for _, tip := range t.tips {
		if w.Behind(tip) > touch {
			sp := t.speaker
			return sp >= 0 && g.flush(i, &g.r.Speakers[sp].Drivers[g.r.Speakers[sp].Spec.Deciding()])
		}
	}
	return true
}

// beforeAll reports whether all of s lies before w or in it.
func beforeAll(w *geometry.Wall, s *geometry.Sweep) bool {
	_, nearest := s.Support(w.In.Neg())
	return w.Behind(nearest) <= 0
}

// lookWalls looks which walls all ears and all eyes of seat i are before.
func (g *ranger) lookWalls(i int) {
	pl := &g.places[i]
	pl.inside = g.earOut[i] == [2]float64{} && g.eyeOut[i] == 0
	pl.before = make([]bool, len(g.shell.walls))
	pl.eyesBefore = make([]bool, len(g.shell.walls))
	for n := range g.shell.walls {
		w := &g.shell.walls[n]
		pl.before[n], pl.eyesBefore[n] = beforeAll(w, &pl.ears), beforeAll(w, &pl.eyes)
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
	clearance := float64(Far)
	if t.speaker >= 0 {
		ear := st.ears[side]
		if deep, _, ok := g.depth(geometry.Segment{A: ear, B: t.tips[0]}, g.deciding(t.speaker), g.shell.outside(ear)); ok {
			clearance = -deep
		}
	} else if out := g.shell.outside(st.eye); out > touch {
		clearance = -out
	} else if g.scratch.VisibleWithin(g.pictureWalls, st.eye, g.target, nil, nil) < whole {
		clearance = -2 * touch // the picture has no depth for what only hides
	}
	if clearance < t.best.Upper {
		t.best.Upper = clearance
		t.best.Worst = RangeCase{Ear: side, Listener: st.percentile, Recline: st.recline, Blocker: ShellPart}
	}
	return clearance
}
