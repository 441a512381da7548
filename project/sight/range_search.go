// SPDX-License-Identifier: MIT

package sight

import (
	"cmp"
	"context"
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
)

// How RangeFor proves. The unknowns of one listener and one obstacle are a box:
// the listener's percentile, recline and ear, and the percentile and recline of
// the other. A cell is a part of that box. One bound for the whole box settles
// most obstacles; the others are split, the widest unknown first (branch and
// bound; Moore 1966, "Interval Analysis", for the idea).

// sizeTol is by how much the sets of a project.Crowd may fall short, since body
// sizes are found by halving, metres.
const sizeTol = 1e-8

// cell is a range of listeners in one seat, and of people in another.
type cell struct {
	who       *project.Crowd
	lean      project.Lean
	side      int // which ear: -1 left, 1 right, 0 both
	other     *project.Crowd
	otherLean project.Lean
	lower     float64      // known of what holds this cell
	normal    geometry.Vec // with which it was found
}

// mostCells is after how many cells a part is left open: about 1 ms.
const mostCells = 1000

// leans is how many reclines of the smallest and the largest are tried first.
const leans = 5

// place is a seat over the whole range.
type place struct {
	lean   project.Lean
	ears   geometry.Sweep
	eyes   geometry.Sweep
	bound  extent          // of ears
	sight  extent          // of eyes
	stands [2][leans]stand // smallest and largest, at even steps of recline
	set    [2]stand        // the design's listener and other, as the row reclines
	of     [project.HeadrestPart + 1]geometry.Sweep
	own    [project.HeadrestPart + 1]geometry.Sweep // ears less shoulders, back, headrest
	ownEye [project.HeadrestPart + 1]geometry.Sweep
	inside bool   // the room
	before []bool // all ears are on the inner side of that wall
}

// scope is a design made ready for all its people. It is not changed after.
type scope struct {
	sample *project.Design
	out    *RangeResult
	crowd  *project.Crowd
	people []someone // from the smallest to the largest, evenly
	places []place
	bounds []extent          // of the parts over the range
	around []geometry.Sphere // of the groups over the range
	seatOf []int             // index of the seat whose a part is, or -1
	target geometry.Target
	beyond float64 // a bound that says nothing, metres
}

// ranger proves for one scope. Of several each has its own seats.
type ranger struct {
	*scope
	*auditor
	all      *project.Crowd
	task     task
	brief    bool       // ask only whether pairs hold
	stop     float64    // then the bound at which looking stops
	most     int        // cells to look at for one part
	found    witness    // of the last case that was the worst so far
	open     []obstacle // of the current pair
	cells    []cell     // still to look at
	tips     [4]geometry.Vec
	along    [2]slab        // that hold the current paths
	warm     []geometry.Vec // what parted each part from the last paths of the seat
	one, two stand          // room for a listener and an other
	four     [4]stand       // for search
	cone     geometry.Cone
	pair2    coupled
	flat     flat
	side     geometry.Cone // a wall
	wall     [2]geometry.Vec
}

// obstacle is a part that the first look does not settle.
type obstacle struct {
	part     int
	crossing bool
	bracket  geometry.Bracket
	at       [5]int  // the worst of the stands; see extremes
	least    float64 // its clearance
}

// task is what the current pair asks.
type task struct {
	seat    int
	tips    []geometry.Vec // the driver, or the picture's corners
	speaker int            // -1: the picture
	best    *RangePair
}

func newRanger(d *project.Design, o RangeOptions) *ranger {
	// The loudspeakers stay where the design's own listener has them aimed.
	sample := d.Clone()
	who := &sample.Seating.Sitters
	inside := func(p float64) float64 { return min(max(p, o.Low), o.High) }
	sample.Seating.Main = project.MainPosition{At: project.PointOf(d.MainPoint())}
	who.Listener, who.Others = inside(who.Listener), inside(who.Others)
	a := roomAuditor(sample)
	r := a.r
	sc := &scope{
		sample: sample,
		out: &RangeResult{Options: o, Seats: r.Seats, Speakers: r.Speakers, Parts: r.Parts, sample: r,
			Pairs: make([]RangePair, len(r.Seats)*len(r.Speakers)), Views: make([]RangePair, len(r.Seats))},
		crowd:  sample.Crowd(o.Low, o.High),
		places: make([]place, len(r.Seats)),
		bounds: make([]extent, len(r.Parts)),
		around: make([]geometry.Sphere, len(a.groups)),
		seatOf: make([]int, len(r.Parts)),
	}
	sc.people = everyone(sc.crowd, 4)
	g := rangerOf(sc, a)
	lo, hi := a.poly.Bounds()
	sc.beyond = -hi.Sub(lo).Len() - Far
	listener, other := sample.Person(who.Listener), sample.Person(who.Others)
	for i, s := range r.Seats {
		pl := &g.places[i]
		pl.lean = project.Lean{From: s.Recline, To: s.Recline}
		if o.AnyRecline {
			pl.lean = s.Leans()
		}
		pl.ears, pl.eyes = g.all.Ears(s, pl.lean, 0), g.all.Eyes(s, pl.lean)
		g.walls(i)
		pl.bound, pl.sight = extentOf(&pl.ears), extentOf(&pl.eyes)
		for n, p := range [2]project.Person{g.all.Small(), g.all.Large()} {
			for m := range pl.stands[n] {
				at := pl.lean.From + (pl.lean.To-pl.lean.From)*float64(m)/(leans-1)
				pl.stands[n][m].sit(p, [2]float64{o.Low, o.High}[n], s, at, project.HeadPart, project.HeadrestPart)
			}
		}
		pl.set[0].sit(listener, who.Listener, s, s.Recline, project.HeadPart, project.HeadrestPart)
		pl.set[1].sit(other, who.Others, s, s.Recline, project.HeadPart, project.HeadrestPart)
		for kind := project.HeadPart; kind <= project.HeadrestPart; kind++ {
			pl.of[kind], _ = g.all.Part(s, pl.lean, kind, o.AnyRecline)
			pl.own[kind], _ = g.all.Own(s, pl.lean, &pl.ears, kind, o.AnyRecline)
			pl.ownEye[kind], _ = g.all.Own(s, pl.lean, &pl.eyes, kind, o.AnyRecline)
		}
	}
	for gi := range g.groups {
		gr := &g.groups[gi]
		ball := &g.around[gi]
		for n := gr.from; n < gr.to; n++ {
			g.seatOf[n] = gr.seat
			if kind := r.Parts[n].Kind; gr.seat >= 0 && moves(kind) {
				g.bounds[n] = extentOf(&g.places[gr.seat].of[kind])
			} else {
				g.bounds[n] = extentOfSolid(&g.solids[n])
			}
			ball.Center = ball.Center.Add(g.bounds[n].center.Mul(1 / float64(gr.to-gr.from)))
		}
		for n := gr.from; n < gr.to; n++ {
			b := &g.bounds[n]
			ball.Radius = max(ball.Radius, ball.Center.Dist(b.center)+b.half.Len())
		}
	}
	center, right, up := d.Screen.Picture()
	g.target = geometry.Rect{Center: center, U: right, V: up}.Target()
	return g
}

// rangerOf returns a ranger of sc that answers by a.
func rangerOf(sc *scope, a *auditor) *ranger {
	return &ranger{scope: sc, auditor: a, all: sc.crowd, most: mostCells, warm: make([]geometry.Vec, len(a.r.Parts))}
}

// another returns a ranger to work beside g.
func (g *ranger) another() *ranger {
	h := rangerOf(g.scope, auditorOf(g.sample, g.r))
	h.all = g.crowd.Clone() // it splits it
	return h
}

// seats answers every step-th seat, beginning with the first-th.
func (g *ranger) seats(ctx context.Context, first, step int) {
	for i := first; i < len(g.r.Seats); i += step {
		clear(g.warm)
		for k := range g.r.Speakers {
			if ctx.Err() != nil {
				return
			}
			g.pair(i, k, g.out.Pair(i, k))
		}
		g.view(i, &g.out.Views[i])
	}
}

// moves reports whether a part of that kind is not the same for everyone.
func moves(kind project.PartKind) bool { return kind <= project.HeadrestPart }

// pair answers seat i and loudspeaker k into out.
func (g *ranger) pair(i, k int, out *RangePair) {
	sp := &g.r.Speakers[k]
	decides := sp.Spec.Deciding()
	if decides < 0 || sp.Spec.Subwoofer() {
		*out = RangePair{}
		return
	}
	*out = RangePair{Judged: true, Lower: Far, Upper: Far, Worst: RangeCase{Blocker: NoPart}}
	g.tips[0] = sp.Drivers[decides].Center
	g.task = task{seat: i, tips: g.tips[:1], speaker: k, best: out}
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
		// Some eye is behind the picture's plane. Proven only of the design's own.
		v := g.auditor.view(i)
		*out = g.begin(i, v.Clearance, v.Blocker)
		if v.Verdict == Blocked {
			out.Upper = min(out.Upper, -2*touch)
		}
		out.Lower, out.Certified = -Far, v.Verdict == Blocked
		return
	}
	g.tips = [4]geometry.Vec{center.Sub(right).Sub(up), center.Add(right).Sub(up), center.Add(right).Add(up), center.Sub(right).Add(up)}
	g.task = task{seat: i, tips: g.tips[:], speaker: -1, best: out}
	g.look(&g.task)
	g.settle(&g.task)
}

// begin returns an answer that knows the sample only.
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

// enough is the bound at which looking stops: nobody asks for more.
func (g *ranger) enough(t *task) float64 {
	switch {
	case g.brief:
		return g.stop
	case t.speaker < 0:
		return max(float64(g.d.Criteria.PictureMargin), touch)
	}
	return max(float64(g.d.Criteria.Margin), touch)
}

// settle answers t, which was looked at, into t.best.
func (g *ranger) settle(t *task) {
	out := t.best
	// The likeliest to block somebody first: then the others need no proof.
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
		g.asRowsAre(t) // nobody was asked
	}
	out.Lower = min(out.Lower, g.enough(t)) - sizeTol
	switch {
	case out.Upper < -touch:
		out.Certified = true
	case out.Lower >= t.proof()-sizeTol:
		out.Holds, out.Certified = true, true
	}
}

// asRowsAre lets the audit of the design's own sitters answer t.
func (g *ranger) asRowsAre(t *task) {
	lower := t.best.Lower
	if t.speaker < 0 {
		v := g.auditor.view(t.seat)
		*t.best = g.begin(t.seat, v.Clearance, v.Blocker)
	} else {
		g.auditor.sit(t.seat)
		p := g.decide(t.seat, t.speaker)
		*t.best = g.begin(t.seat, p.Clearance, p.Blocker)
		t.best.Worst.Ear = p.Ear
	}
	t.best.Lower = lower
}

// look bounds every part for the whole range and keeps those that are open.
func (g *ranger) look(t *task) {
	margin := g.enough(t)
	pl := &g.places[t.seat]
	g.open = g.open[:0]
	from := &pl.bound
	aim := t.tips[0]
	wide := 0.0 // of what is aimed at
	if t.speaker < 0 {
		from = &pl.sight
		aim = t.tips[0].Lerp(t.tips[2], 0.5)
		wide = t.tips[0].Dist(aim)
	} else {
		g.lookShell(t)
	}
	ln := newLine(from.center, aim)
	if t.speaker < 0 {
		// Under the lower edge, and level beside the picture.
		to := from.center.Sub(t.tips[0])
		g.along[0].set(t, from, t.tips[1].Sub(t.tips[0]).Cross(to))
		g.along[1].set(t, from, t.tips[2].Sub(t.tips[1]).Cross(to))
	} else {
		side := ln.d.Cross(geometry.Vec{Z: 1})
		g.along[0].set(t, from, side)
		g.along[1].set(t, from, ln.d.Cross(side))
	}
	wide += from.half.Len() + margin
	for gi := range g.groups {
		ball := &g.around[gi]
		if r := wide + ball.Radius; ln.dist2(ball.Center) > r*r {
			continue
		}
		for n := g.groups[gi].from; n < g.groups[gi].to; n++ {
			g.lookAt(t, n, from, &ln, margin)
		}
	}
}

// lookAt bounds part n; the paths of t run from from, about ln.
func (g *ranger) lookAt(t *task, n int, from *extent, ln *line, margin float64) {
	p := &g.r.Parts[n]
	seat := g.seatOf[n]
	if seat == t.seat && p.Person() && (t.speaker < 0 || p.Kind != project.ShoulderPart) ||
		t.speaker < 0 && p.Kind == project.ScreenPart {
		return
	}
	crossing := seat == t.seat || p.Kind == project.SpeakerPart
	enough := margin
	if crossing || t.best.Upper < -touch { // no more is asked of what breaks
		enough = 0
	}
	b := &g.bounds[n]
	// The plane square to the way between the middles, or one along the paths,
	// parts most: it costs less than a look at the sets themselves.
	apart, ok := ln.towards(b.center).Unit()
	best := math.Inf(-1)
	if ok {
		if best = g.gap(t, from, b, apart); best >= enough {
			return
		}
	}
	for i := range g.along {
		p := &g.along[i]
		at, r := p.normal.Dot(b.center), b.reach(p.normal)
		over, under := p.least-at-r, at-r-p.most
		if over >= enough || under >= enough {
			return
		}
		if over > best {
			best, apart = over, p.normal
		}
		if under > best {
			best, apart = under, p.normal.Neg()
		}
	}
	if w := g.warm[n]; w != (geometry.Vec{}) {
		switch gap := g.gap(t, from, b, w); {
		case gap >= enough:
			return
		case gap > best:
			apart = w
		}
	}
	if p.Kind == project.FeaturePart && t.speaker >= 0 && g.carriesPart(n, t.speaker) {
		crossing, enough = true, 0
	}
	root := cell{who: g.all, lean: g.places[t.seat].lean, other: g.all, normal: apart}
	if seat >= 0 {
		root.otherLean = g.places[seat].lean
	}
	if p.Kind == project.SpeakerPart && t.speaker >= 0 && p.Index == t.speaker {
		root.normal = g.r.Speakers[t.speaker].Front.W
	}
	o := obstacle{part: n, crossing: crossing, least: Far}
	o.bracket = g.bound(t, &o, &root, enough)
	g.warm[n] = o.bracket.Normal
	if o.bracket.Lower < t.proof() {
		g.keep(t, &o)
	} else if !crossing {
		t.best.Lower = min(t.best.Lower, o.bracket.Lower)
	}
}

// gap bounds how far the paths of t from from are from b: along n, a unit vector.
func (g *ranger) gap(t *task, from, b *extent, n geometry.Vec) float64 {
	least := from.least(n)
	for _, tip := range t.tips {
		least = min(least, n.Dot(tip))
	}
	return least - b.most(n)
}

// keep leaves o open, and asks the likely sitters: one who is blocked settles
// the pair.
func (g *ranger) keep(t *task, o *obstacle) {
	if o.bracket.Lower < t.best.Upper {
		g.asSet(t, o)
		g.extremes(t, o)
	}
	g.open = append(g.open, *o)
}

// extent is a box along the room's axes.
type extent struct{ center, half geometry.Vec }

func extentOf(s *geometry.Sweep) extent {
	lo, hi := s.Extent()
	return extent{lo.Lerp(hi, 0.5), hi.Sub(lo).Mul(0.5)}
}

func extentOfSolid(s *geometry.Solid) extent {
	return extent{s.Bound().Center, geometry.Vec{X: s.Reach(geometry.Vec{X: 1}), Y: s.Reach(geometry.Vec{Y: 1}), Z: s.Reach(geometry.Vec{Z: 1})}}
}

// least and most are the ends of n.x over the points x of e.
func (e *extent) least(n geometry.Vec) float64 { return n.Dot(e.center) - e.reach(n) }
func (e *extent) most(n geometry.Vec) float64  { return n.Dot(e.center) + e.reach(n) }

func (e *extent) reach(n geometry.Vec) float64 {
	return math.Abs(n.X)*e.half.X + math.Abs(n.Y)*e.half.Y + math.Abs(n.Z)*e.half.Z
}

// slab lies between two planes: n.x from least to most, n a unit vector.
type slab struct {
	normal      geometry.Vec
	least, most float64
}

// set makes s hold the paths of t from from.
func (s *slab) set(t *task, from *extent, normal geometry.Vec) {
	n, ok := normal.Unit()
	if !ok {
		*s = slab{least: math.Inf(-1), most: math.Inf(1)}
		return
	}
	s.normal, s.least, s.most = n, from.least(n), from.most(n)
	for _, tip := range t.tips {
		at := n.Dot(tip)
		s.least, s.most = min(s.least, at), max(s.most, at)
	}
}

// someone is a person and the percentile.
type someone struct {
	project.Person
	percentile float64
}

// everyone returns 1 + 2^depth people of c, from the smallest to the largest.
func everyone(c *project.Crowd, depth int) []someone {
	var list []someone
	var add func(c *project.Crowd, depth int)
	add = func(c *project.Crowd, depth int) {
		if depth == 0 || c.Low() == c.High() {
			list = append(list, someone{c.Small(), c.Low()})
			return
		}
		small, large := c.Halves()
		add(small, depth-1)
		add(large, depth-1)
	}
	add(c, depth)
	return append(list, someone{c.Large(), c.High()})
}

// towards returns the vector to the segment from p.
func (l *line) towards(p geometry.Vec) geometry.Vec {
	w := p.Sub(l.a)
	t := min(max(w.Dot(l.d)*l.inv, 0), 1)
	return l.d.Mul(t).Sub(w)
}

// carriesPart reports whether the feature that is part n carries loudspeaker k.
func (g *ranger) carriesPart(n, k int) bool {
	return g.carries(&group{from: n}, &g.r.Speakers[k])
}

// bound brackets how far o is from all paths of c; whole ranges have their sets
// at hand. It looks no further than enough.
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
		// A driver in the face of a box touches it: that face parts them.
		box := &g.r.Parts[o.part].Box.Basis
		for _, n := range [6]geometry.Vec{box.U, box.V, box.W, box.U.Neg(), box.V.Neg(), box.W.Neg()} {
			_, p := a.Support(n.Neg())
			_, q := b.Support(n)
			if l := n.Dot(p) - n.Dot(q); l > got.Lower {
				got.Lower, got.Normal = l, n
			}
		}
	}
	return got
}

// sets returns two sets that are as far apart as the paths of c and o.
func (g *ranger) sets(t *task, o *obstacle, c *cell) (a, b geometry.Convex) {
	n := o.part
	kind, seat := g.r.Parts[n].Kind, g.seatOf[n]
	pl := &g.places[t.seat]
	whole := c.who == g.all && c.lean == pl.lean && c.side == 0
	from := &pl.ears
	if t.speaker < 0 {
		from = &pl.eyes
	}
	if !whole {
		if t.speaker < 0 {
			g.pair2.from = c.who.Eyes(g.r.Seats[t.seat], c.lean)
		} else {
			g.pair2.from = c.who.Ears(g.r.Seats[t.seat], c.lean, c.side)
		}
		from = &g.pair2.from
	}
	any := g.out.Options.AnyRecline
	if seat == t.seat && moves(kind) {
		// The sitter's own: one recline and one person move both.
		g.pair2.tips = t.tips
		switch {
		case !whole:
			g.pair2.part, _ = c.who.Part(g.r.Seats[seat], c.lean, kind, any)
			g.pair2.diff, _ = c.who.Own(g.r.Seats[seat], c.lean, from, kind, any)
			g.pair2.d, g.pair2.p = &g.pair2.diff, &g.pair2.part
		case t.speaker < 0:
			g.pair2.d, g.pair2.p = &pl.ownEye[kind], &pl.of[kind]
		default:
			g.pair2.d, g.pair2.p = &pl.own[kind], &pl.of[kind]
		}
		return &g.pair2, geometry.Vec{}
	}
	g.cone.Base, g.cone.Tips = from, t.tips
	switch {
	case seat < 0 || !moves(kind):
		return &g.cone, &g.solids[n]
	case c.other == g.all && c.otherLean == g.places[seat].lean:
		return &g.cone, &g.places[seat].of[kind]
	}
	g.pair2.part, _ = c.other.Part(g.r.Seats[seat], c.otherLean, kind, any)
	return &g.cone, &g.pair2.part
}

// coupled is the differences of paths and a part that moves with their start:
// of the starts, which are known with it, and of the tips.
type coupled struct {
	d, p             *geometry.Sweep
	tips             []geometry.Vec
	from, part, diff geometry.Sweep // room for them
}

// Support makes coupled a geometry.Convex.
func (c *coupled) Support(n geometry.Vec) (reach float64, at geometry.Vec) {
	reach, at = c.d.Support(n)
	_, part := c.p.Support(n.Neg())
	for _, tip := range c.tips {
		w := tip.Sub(part)
		if r := n.Dot(w); r > reach {
			reach, at = r, w
		}
	}
	return reach, at
}

// split proves o for t by splitting the range and returns the lower bound that
// it reached; it stops when somebody is found to be blocked, or after so many
// cells.
func (g *ranger) split(t *task, o *obstacle) float64 {
	const (
		few  = 4   // cells: what is not settled by then asks for a search for somebody
		many = 100 // cells: and then for a harder one
	)
	pl := &g.places[t.seat]
	proof := t.proof()
	root := cell{who: g.all, lean: pl.lean, other: g.all, lower: o.bracket.Lower, normal: o.bracket.Normal}
	both := o.part >= 0 && g.seatOf[o.part] >= 0 && g.seatOf[o.part] != t.seat && moves(g.r.Parts[o.part].Kind)
	if both {
		root.otherLean = g.places[g.seatOf[o.part]].lean
	}
	g.cells = append(g.cells[:0], root)
	lower := math.Inf(1)
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
		halves, ok := g.halve(t, &c, both)
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
				continue
			}
			g.try(t, o, h, both)
			g.cells = append(g.cells, *h)
		}
	}
	return lower
}

// halve splits c along its widest unknown; ok is false when nothing is wide.
func (g *ranger) halve(t *task, c *cell, both bool) (out [2]cell, ok bool) {
	const (
		head   = 0.6  // m, about how far the head is from the hip
		ears   = 0.15 // m, about how far they are apart
		finest = 1e-4 // m
	)
	out = [2]cell{*c, *c}
	turn := head * (c.lean.To - c.lean.From)
	size := c.who.Spread()
	var turn2, size2, sides float64
	if both {
		turn2, size2 = head*(c.otherLean.To-c.otherLean.From), c.other.Spread()
	}
	if c.side == 0 && t.speaker >= 0 {
		sides = ears
	}
	switch max(turn, size, turn2, size2, sides, finest) {
	case finest:
		return out, false
	case turn:
		out[0].lean.To, out[1].lean.From = c.lean.Mid(), c.lean.Mid()
	case turn2:
		out[0].otherLean.To, out[1].otherLean.From = c.otherLean.Mid(), c.otherLean.Mid()
	case sides:
		out[0].side, out[1].side = -1, 1
	case size:
		out[0].who, out[1].who = c.who.Halves()
	default:
		out[0].other, out[1].other = c.other.Halves()
	}
	return out, true
}
