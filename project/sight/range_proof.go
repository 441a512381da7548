// SPDX-License-Identifier: MIT

package sight

import (
	"cmp"
	"context"
	"math"
	"slices"

	"earline/geometry"
	"earline/project/place"
)

// How RangeFor proves. One listener and one obstacle have five unknowns: the
// listener's percentile, recline and ear, and the percentile and recline of the
// other sitter. Their ranges span a box, and a cell is a part of that box. One
// bound for the whole box settles most obstacles; otherwise the box is split, the
// widest unknown first (branch and bound; Moore 1966, "Interval Analysis", for
// the idea).

// sizeTol is the amount by which the sets of a place.Crowd may be too small,
// metres: body sizes are found by bisection.
const sizeTol = 1e-8

// cell is a range of listeners in one seat, and of people in another.
type cell struct {
	who       *place.Crowd
	lean      place.Lean
	side      int // which ear: -1 left, 1 right, 0 both
	other     *place.Crowd
	otherLean place.Lean
	lower     float64      // best bound so far, of this cell or one that contains it
	normal    geometry.Vec // of the separating plane that gave it
}

// mostCells is the number of cells after which a part is left undecided: about
// 1 ms.
const mostCells = 1000

// A ranger proves pairs of one scope. Several may run at once, each on its own
// seats.
type ranger struct {
	*scope
	*auditor
	all     *place.Crowd
	task    task
	brief   bool                     // decide only whether pairs hold
	stop    float64                  // with brief: the bound that is enough, metres
	most    int                      // cells for one part
	found   counterexample           // with brief: the worst case so far
	open    []obstacle               // of the current pair
	cells   []cell                   // still to bound
	targets [4]geometry.Vec          // of the current task
	along   [2]slab                  // around the current paths
	memory  *memory                  // of the current seat
	proofs  map[proofKey][]proofPart // of a RangeProbe: the last of each; else nil
	proven  []proofPart              // of split: so far

	// Scratch space, kept to save allocations.
	midListener, midOther stand             // of try
	searchStands          [4]stand          // of search
	down                  [2]geometry.Solid // of exact: a lowered headrest, and the worst one
	cone                  geometry.Cone     // the paths
	coupled               coupled
	planCone              planCone
	wallCone              geometry.Cone
	wallEnds              [2]geometry.Vec
}

// obstacle is a part that one bound for the whole range leaves open.
type obstacle struct {
	part     int
	crossing bool
	bracket  geometry.Bracket
	at       [5]int  // the worst case of extremes, which names the five
	least    float64 // its clearance, metres
}

// task is the current pair or view.
type task struct {
	seat    int
	targets []geometry.Vec // the driver, or the picture's corners
	speaker int            // -1: the picture
	best    *RangePair
}

// rangerOf returns a ranger of sc that uses a for exact answers.
func rangerOf(sc *scope, a *auditor) *ranger {
	return &ranger{scope: sc, auditor: a, all: sc.crowd, most: mostCells, memory: newMemory(len(a.r.Parts))}
}

// another returns a ranger to work beside g.
func (g *ranger) another() *ranger {
	h := rangerOf(g.scope, auditorOf(g.sample, g.r))
	h.all = g.crowd.Clone() // it is split in place
	return h
}

// seats answers every step-th seat, beginning with the first-th.
func (g *ranger) seats(ctx context.Context, first, step int) {
	for i := first; i < len(g.r.Seats); i += step {
		g.memory.forget()
		for k := range g.r.Speakers {
			if ctx.Err() != nil {
				return
			}
			g.pair(i, k, g.out.Pair(i, k))
		}
		g.view(i, &g.out.Views[i])
	}
}

// pair answers seat i and loudspeaker k into out.
func (g *ranger) pair(i, k int, out *RangePair) {
	sp := &g.r.Speakers[k]
	decides := sp.Spec.Deciding()
	if decides < 0 || sp.Spec.Subwoofer() {
		*out = RangePair{}
		return
	}
	*out = RangePair{Judged: true, Lower: Far, Upper: Far, Worst: RangeCase{Blocker: NoPart}}
	g.targets[0] = sp.Drivers[decides].Center
	g.task = task{seat: i, targets: g.targets[:1], speaker: k, best: out}
	g.look(&g.task)
	g.settle(&g.task)
}

// view answers the picture for seat i into out.
func (g *ranger) view(i int, out *RangePair) {
	center, right, up := g.d.Screen.Picture()
	if right.Y <= 0 || up.Z <= 0 {
		*out = RangePair{}
		return
	}
	*out = RangePair{Judged: true, Lower: Far, Upper: Far, Worst: RangeCase{Blocker: NoPart}}
	if x, _ := g.places[i].eyes.Support(geometry.Vec{X: -1}); -x <= center.X {
		// Some eye is behind the picture's plane: only the design's own is judged.
		v := g.auditor.view(i)
		*out = g.begin(i, v.Clearance, v.Blocker)
		if v.Verdict == Blocked {
			out.Upper = min(out.Upper, -2*touch)
		}
		out.Lower, out.Certified = -Far, v.Verdict == Blocked
		return
	}
	g.targets = [4]geometry.Vec{center.Sub(right).Sub(up), center.Add(right).Sub(up), center.Add(right).Add(up), center.Sub(right).Add(up)}
	g.task = task{seat: i, targets: g.targets[:], speaker: -1, best: out}
	g.look(&g.task)
	g.settle(&g.task)
}

// begin returns an answer from the design's own sitters only.
func (g *ranger) begin(i int, clearance float64, blocker int) RangePair {
	who := &g.d.Seating.Sitters
	c := RangeCase{Listener: who.Listener, Recline: g.r.Seats[i].Recline, Blocker: blocker}
	if blocker >= 0 && g.seatOf[blocker] >= 0 && g.seatOf[blocker] != i {
		c.OtherRecline = g.r.Seats[g.seatOf[blocker]].Recline
		if g.r.Parts[blocker].Person() {
			c.Other = who.Others
		}
	}
	return RangePair{Judged: true, Lower: Far, Upper: clearance, Worst: c}
}

// proof is the lower bound from which nobody is blocked.
func (t *task) proof() float64 {
	if t.speaker < 0 {
		return sizeTol
	}
	return -touch + sizeTol
}

// enough returns the lower bound that no caller needs improved, metres.
func (g *ranger) enough(t *task) float64 {
	switch {
	case g.brief:
		return g.stop
	case t.speaker < 0:
		return max(float64(g.d.Criteria.PictureMargin), touch)
	}
	return max(float64(g.d.Criteria.Margin), touch)
}

// settle decides what look left open, and completes t.best.
func (g *ranger) settle(t *task) {
	out := t.best
	// The likeliest to block somebody comes first: if it does, the others need no
	// proof.
	slices.SortStableFunc(g.open, func(a, b obstacle) int { return cmp.Compare(a.least, b.least) })
	for n := range g.open {
		o := &g.open[n]
		lower := o.bracket.Lower
		if out.Upper >= -touch {
			lower = g.split(t, o)
		}
		out.Lower = min(out.Lower, lower)
	}
	if out.Lower < t.proof() && out.Upper >= Far {
		g.asRowsAre(t) // no case was computed yet
	}
	out.Lower = min(out.Lower, g.enough(t)) - sizeTol
	switch {
	case out.Upper < -touch:
		out.Certified = true
	case out.Lower >= t.proof()-sizeTol:
		out.Holds, out.Certified = true, true
	}
}

// asRowsAre answers t by the audit of the design's own sitters.
func (g *ranger) asRowsAre(t *task) {
	lower := t.best.Lower
	if t.speaker < 0 {
		v := g.auditor.view(t.seat)
		*t.best = g.begin(t.seat, v.Clearance, v.Blocker)
	} else {
		g.auditor.sit(t.seat)
		p := g.worstEar(t.seat, t.speaker)
		*t.best = g.begin(t.seat, p.Clearance, p.Blocker)
		t.best.Worst.Ear = p.Ear
	}
	t.best.Lower = lower
}

// bound brackets the distance between o and all paths of c. It does not improve
// a lower bound beyond enough.
func (g *ranger) bound(t *task, o *obstacle, c *cell, enough float64) geometry.Bracket {
	if o.part == ShellPart {
		return g.boundShell(t, c)
	}
	const coarse, fine = 1e-3, 1e-7 // m
	a, b := g.sets(t, o, c)
	got := geometry.Distance(a, b, c.normal, enough, coarse)
	proof := t.proof()
	if got.Lower < proof && got.Upper > 0 { // nearly touching
		got = geometry.Distance(a, b, got.Normal, proof, fine)
	}
	if got.Lower < proof && o.crossing && !moves(g.r.Parts[o.part].Kind) {
		// A driver in a face touches it: that face separates them.
		disc := geometry.Disc{Center: t.targets[0]}
		if t.speaker >= 0 {
			sp := &g.r.Speakers[t.speaker]
			disc = sp.Drivers[sp.Spec.Deciding()]
		}
		faces, count := g.r.Parts[o.part].Faces(&disc)
		for _, n := range faces[:count] {
			_, p := a.Support(n.Neg())
			_, q := b.Support(n)
			if l := n.Dot(p) - n.Dot(q); l > got.Lower {
				got.Lower, got.Normal, got.Most = l, n, n.Dot(q)
			}
		}
	}
	return got
}

// boundOwn is bound for a part of the sitter's own over the whole range: of what the
// head is near to, stage by stage.
func (g *ranger) boundOwn(t *task, o *obstacle, root *cell, enough float64) geometry.Bracket {
	out := geometry.Bracket{Lower: Far, Upper: Far}
	kind := g.r.Parts[o.part].Kind
	c, own, stages := *root, &g.memory.own[kind], g.places[t.seat].stages
	if kind == place.ShoulderPart {
		stages = nil
	}
	for i := range max(len(stages), 1) {
		p := &own[i]
		if t.speaker >= 0 && p.parts(t.targets[0], enough) {
			out.Lower = min(out.Lower, enough)
			continue
		}
		if len(stages) > 0 {
			c.lean = stages[i].lean
		}
		if p.normal != (geometry.Vec{}) {
			c.normal = p.normal
		}
		b := g.bound(t, o, &c, enough)
		p.normal = b.Normal
		if b.Lower >= enough && t.speaker >= 0 {
			p.keep(g.planeOf(t, o, &b))
		}
		if b.Lower < out.Lower {
			out = b
		}
	}
	return out
}

// sets returns two convex sets whose distance is that of the paths of c from o.
func (g *ranger) sets(t *task, o *obstacle, c *cell) (a, b geometry.Convex) {
	n := o.part
	kind, seat := g.r.Parts[n].Kind, g.seatOf[n]
	own := seat == t.seat && moves(kind)
	var ready *stretch
	if c.who == g.all && c.side == 0 {
		ready = g.places[t.seat].over(c.lean)
	}
	var from *geometry.Sweep
	switch {
	case ready == nil && t.speaker < 0:
		g.coupled.from = c.who.Eyes(g.r.Seats[t.seat], c.lean)
		from = &g.coupled.from
	case ready == nil:
		g.coupled.from = c.who.Ears(g.r.Seats[t.seat], c.lean, c.side)
		from = &g.coupled.from
	case t.speaker < 0:
		from = &ready.eyes
	default:
		from = &ready.ears
	}
	any := g.out.Options.AnyRecline
	if own {
		// The sitter's own: one recline and one person move both.
		g.coupled.targets = t.targets
		switch {
		case ready == nil:
			g.coupled.part, _ = c.who.Part(g.r.Seats[seat], c.lean, kind, any && !g.r.Seats[seat].HoldsHeadrest(c.lean))
			g.coupled.diff, _ = c.who.Own(g.r.Seats[seat], c.lean, from, kind, any)
			g.coupled.d, g.coupled.p = &g.coupled.diff, &g.coupled.part
		case t.speaker < 0:
			g.coupled.d, g.coupled.p = &ready.ownEye[kind], &ready.of[kind]
		default:
			g.coupled.d, g.coupled.p = &ready.own[kind], &ready.of[kind]
		}
		if ready != nil && kind == place.HeadrestPart {
			g.coupled.p = &ready.headrest
		}
		return &g.coupled, geometry.Vec{}
	}
	g.cone.Base, g.cone.Tips = from, t.targets
	if seat < 0 || !moves(kind) {
		return &g.cone, &g.solids[n]
	}
	if c.other == g.all {
		if its := g.places[seat].over(c.otherLean); its != nil {
			return &g.cone, &its.of[kind]
		}
	}
	g.coupled.part, _ = c.other.Part(g.r.Seats[seat], c.otherLean, kind, any)
	return &g.cone, &g.coupled.part
}

// coupled is the set of differences between paths and a part that moves with
// their start: d holds the differences of the starts, and those of the targets
// follow from p.
type coupled struct {
	d, p             *geometry.Sweep
	targets          []geometry.Vec
	from, part, diff geometry.Sweep // room for them
}

// Support makes coupled a geometry.Convex.
func (c *coupled) Support(n geometry.Vec) (reach float64, at geometry.Vec) {
	reach, at = c.d.Support(n)
	_, part := c.p.Support(n.Neg())
	for _, target := range c.targets {
		w := target.Sub(part)
		if r := n.Dot(w); r > reach {
			reach, at = r, w
		}
	}
	return reach, at
}

// split splits the range until o is proven for t, somebody is found who is
// blocked, or the cells run out. It returns the lower bound that it reached.
func (g *ranger) split(t *task, o *obstacle) float64 {
	const many = 100 // cells after which a harder search is worth it
	// After so many cells a search for somebody who is blocked is worth it: the
	// sooner, the nearer the extremes have come to it.
	few := 40
	switch {
	case o.least < 0.02: // m
		few = 4
	case o.least < 0.08:
		few = 12
	}
	pl := &g.places[t.seat]
	proof := t.proof()
	root := cell{who: g.all, lean: pl.lean, other: g.all, lower: o.bracket.Lower, normal: o.bracket.Normal}
	both := o.part >= 0 && g.seatOf[o.part] >= 0 && g.seatOf[o.part] != t.seat && moves(g.r.Parts[o.part].Kind)
	if both {
		root.otherLean = g.places[g.seatOf[o.part]].lean
	}
	g.cells = append(g.cells[:0], root)
	lower := math.Inf(1)
	keeps := g.proofs != nil && t.speaker >= 0 && o.part >= 0 && g.lasts(o.part)
	g.proven = g.proven[:0]
	searches := 0
	for looked := 0; len(g.cells) > 0; {
		switch {
		case looked >= few && searches == 0:
			searches++
			g.search(t, o, nil)
		case looked >= many && searches == 1:
			searches++
			g.searchAll(t, o)
		}
		c := g.cells[len(g.cells)-1]
		g.cells = g.cells[:len(g.cells)-1]
		halves, ok := g.halve(t, o.part, &c, both)
		if !ok || looked >= g.most || t.best.Upper < -touch {
			lower = min(lower, c.lower)
			continue
		}
		for n := range halves {
			h := &halves[n]
			looked++
			b := g.bound(t, o, h, proof)
			h.lower, h.normal = max(h.lower, b.Lower), b.Normal
			if h.lower >= proof {
				if !o.crossing {
					lower = min(lower, h.lower)
				}
				if keeps {
					g.proven = append(g.proven, proofPart{g.planeOf(t, o, &b), *h})
				}
				continue
			}
			g.try(t, o, h, both)
			g.cells = append(g.cells, *h)
		}
	}
	if keeps && lower >= proof && t.best.Upper >= -touch {
		key := proofKey{t.seat, t.speaker, o.part}
		g.proofs[key] = append(g.proofs[key][:0], g.proven...)
	}
	return lower
}

// halve splits c along its widest unknown; both is whether part belongs to another
// sitter, who varies too. ok is false when no unknown is wide enough.
func (g *ranger) halve(t *task, part int, c *cell, both bool) (out [2]cell, ok bool) {
	const (
		ears   = 0.15 // m, about how far they are apart
		finest = 1e-4 // m
	)
	out = [2]cell{*c, *c}
	seat, other := &g.r.Seats[t.seat], &g.r.Seats[t.seat]
	if both {
		other = &g.r.Seats[g.seatOf[part]]
	}
	turn := seat.Travel(c.lean)
	size := c.who.Spread()
	var turn2, size2, sides float64
	if both {
		turn2, size2 = other.Travel(c.otherLean), c.other.Spread()
	}
	if c.side == 0 && t.speaker >= 0 {
		sides = ears
	}
	switch max(turn, size, turn2, size2, sides, finest) {
	case finest:
		return out, false
	case turn:
		out[0].lean, out[1].lean = seat.Halves(c.lean)
	case turn2:
		out[0].otherLean, out[1].otherLean = other.Halves(c.otherLean)
	case sides:
		out[0].side, out[1].side = -1, 1
	case size:
		out[0].who, out[1].who = c.who.Halves()
	default:
		out[0].other, out[1].other = c.other.Halves()
	}
	return out, true
}
