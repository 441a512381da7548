// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
)

// The room's own shell, over the range. See shell.depth for what counts.

// lookShell bounds the shell for the whole range. It leaves t as it is when the
// shell cannot block.
func (g *ranger) lookShell(t *task) {
	if t.speaker >= 0 {
		if out := g.deciding(t.speaker); out.beyond > flushTol {
			// The driver is outside the room: blocked for every listener.
			t.best.Lower, t.best.Upper = -out.beyond, -out.beyond
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

// deciding returns the setting of the deciding driver of loudspeaker k.
func (g *ranger) deciding(k int) *setting {
	return &g.settings[k][g.r.Speakers[k].Spec.Deciding()]
}

// boundShell proves that no path of c leaves the room, except through a wall in
// which the driver is set flush; otherwise it returns a bound that proves
// nothing.
//
// The paths lie in a convex set. No path leaves the room if for every wall one of
// three things is true: the wall is clear of that set; all paths start in front
// of it and none ends behind it; or the driver is set flush in it. In the last
// case only the stretch through that wall to the driver lies outside.
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
			g.coupled.from = c.who.Eyes(g.r.Seats[t.seat], c.lean)
		} else {
			g.coupled.from = c.who.Ears(g.r.Seats[t.seat], c.lean, c.side)
		}
		from = &g.coupled.from
	}
	g.planCone = planCone{geometry.Cone{Base: from, Tips: t.targets}}
	for i := range g.shell.walls {
		w := &g.shell.walls[i]
		if (whole && before[i] || beforeAll(w, from)) && g.endsBefore(t, i) {
			continue
		}
		if w.Endless() {
			return unknown
		}
		g.wallEnds = [2]geometry.Vec{{X: w.From.X, Y: w.From.Y}, {X: w.To.X, Y: w.To.Y}}
		g.wallCone = geometry.Cone{Base: g.wallEnds[0], Tips: g.wallEnds[1:]}
		if geometry.Distance(&g.planCone, &g.wallCone, w.In, apart, 1e-9).Lower < apart {
			return unknown
		}
	}
	return geometry.Bracket{Lower: Far, Upper: Far}
}

// endsBefore reports whether no path of t ends behind wall i; a driver that is
// set flush in the wall may.
func (g *ranger) endsBefore(t *task, i int) bool {
	w := &g.shell.walls[i]
	for _, target := range t.targets {
		if w.Behind(target) > touch {
			sp := t.speaker
			return sp >= 0 && g.flush(i, &g.r.Speakers[sp].Drivers[g.r.Speakers[sp].Spec.Deciding()])
		}
	}
	return true
}

// beforeAll reports whether all of s lies in front of w or in it.
func beforeAll(w *geometry.Wall, s *geometry.Sweep) bool {
	_, nearest := s.Support(w.In.Neg())
	return w.Behind(nearest) <= 0
}

// lookWalls notes which walls have all ears, and which all eyes, of seat i in
// front of them.
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

// planCone is the plan of a cone.
type planCone struct{ geometry.Cone }

// Support makes flat a geometry.Convex.
func (f *planCone) Support(n geometry.Vec) (reach float64, at geometry.Vec) {
	n.Z = 0
	if n == (geometry.Vec{}) {
		n.X = 1
	}
	_, at = f.Cone.Support(n)
	at.Z = 0
	return n.Dot(at), at
}

// exactShell is what exact does for the shell.
func (g *ranger) exactShell(t *task, st *stand, side Side) float64 {
	clearance := float64(Far)
	if t.speaker >= 0 {
		ear := st.ears[side]
		if deep, _, ok := g.depth(geometry.Segment{A: ear, B: t.targets[0]}, g.deciding(t.speaker), g.shell.outside(ear)); ok {
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
