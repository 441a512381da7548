// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/sight"
)

// LiftOptions are the limits of Lift. The zero value is ready to use.
type LiftOptions struct {
	// Elevation is the greatest under which the main listening position may see
	// a lifted loudspeaker; 0 is 30 degrees, where the upper layer of Rec. ITU-R
	// BS.2051 begins (the least elevation of its loudspeakers U, systems C to J).
	Elevation unit.Degrees
	// Elevations overrides Elevation by label.
	Elevations map[string]unit.Degrees
	// Shift is how far a pair that no height clears may be moved along its wall.
	// Places are tried every 50 mm, the nearest first.
	Shift unit.Length
	// Unpaired lets the two of a mirror pair (M+090 and M-090) hang at different
	// heights.
	Unpaired bool
	// Plane keeps the front, wide and side loudspeakers on one plane that rises
	// evenly from the front ones backwards; wides and sides may come down to it,
	// the rears hang on or above it.
	Plane bool
	// Settle looks for the least height from the ears of the main position up,
	// so that loudspeakers may also come down; otherwise none does.
	Settle bool
	// People widens for whom it is to hold.
	People
	Progress
}

// Limits of what is lifted.
const (
	// leastAzimuth is that of the loudspeakers to lift, degrees: from the wides
	// (M+060, nearest other label M+045) on.
	leastAzimuth = 50
	// rearAzimuth is where the rears begin, degrees: the sides of Rec. ITU-R
	// BS.2051 reach to 120 (M+110, system B), its rears go from there.
	rearAzimuth = 120
	// shiftStep is the distance between places tried along a wall, metres.
	shiftStep = 0.05
	// rungs are the heights at which a compromise is looked for, metres apart.
	rungs = 0.005
	// wholeMM is what heights are rounded up to where that holds too, metres.
	wholeMM = 0.001
	// hurried and cursory are after how many parts of the range a pair is left
	// open on the way up, and where only an estimate is wanted.
	hurried, cursory = 200, 40
	// beyond is how far over a limit Lift looks for the height that would be
	// needed, metres.
	beyond = 1.0
)

// Lift raises the wide, side and rear loudspeakers (labels M with an azimuth of
// 50 degrees or more, save those behind the screen or on the ceiling) to the
// least height from which every judged seat has both ears clear of everything by
// the design's margin.
//
// Heights are the least to 0.1 mm, then rounded up to whole millimetres where
// that is clear too: going up, a height is passed over only when clearance
// falls short by more than the driver moves in between, or by a step of 0.1 mm.
// With Everyone nobody of the range is blocked either, by the certificate of
// sight.RangeFor. Going up, a height is then passed over where somebody is
// blocked by more than the driver moves in between or, where the certificate
// cannot tell, by a step of 2 mm.
//
// A loudspeaker that no height within the limits clears is put where the fewest
// pairs are blocked, then tight (to 5 mm), and Proof says what stands in the way.
func Lift(ctx context.Context, d *project.Design, o LiftOptions) (*Proposal, error) {
	if o.Elevation == 0 {
		o.Elevation = 30
	}
	if err := angle("lift elevation", o.Elevation, -89, 89); err != nil {
		return nil, err
	}
	for label, e := range o.Elevations {
		if err := angle("lift elevation of "+label, e, -90, 90); err != nil {
			return nil, err
		}
	}
	if err := length("lift shift", o.Shift, 0, 10); err != nil {
		return nil, err
	}
	if err := o.People.fill(); err != nil {
		return nil, err
	}
	p, was, err := begin(ctx, d)
	if err != nil {
		return nil, err
	}
	l := &lifter{ctx: ctx, o: o, p: p, was: was, probe: sight.NewProbe(d)}
	if l.all, err = o.People.probe(d); err != nil {
		return nil, err
	}
	if l.all != nil {
		l.all.Look(0, hurried)
	}
	l.o, l.main, l.look = o, l.probe.Room().Main, 0.002
	l.gather()
	if err := l.solve(); err != nil {
		return nil, err
	}
	l.finish(d)
	return p, ctx.Err()
}

// lifter is one run of Lift.
type lifter struct {
	ctx    context.Context
	o      LiftOptions
	p      *Proposal
	was    *sight.Result // the design as given
	probe  *sight.Probe
	all    *sight.RangeProbe // with Everyone
	main   geometry.Vec
	groups []*group
	plane  *group // the group that hangs on one plane, or nil
	notes  []string
	look   float64 // the step where nothing is known of the range, metres
	later  []int   // pairs to ask last; see short
	above  *lifter // in a room whose ceiling does not get in the way, when asked for
}

// group is loudspeakers that move together.
type group struct {
	members []member
	lo, hi  float64 // of u
	limit   string  // what hi is the limit of
	limits  string  // what lo is
	rear    bool
	u       float64
	ok      bool
	failed  bool // and the compromise is found
	shifted float64
	// The member and seat that fell short last: likely to do so again.
	lastMember, lastSeat int
	lastPair             int       // the same of the range: member by member
	openAt               float64   // from where on the certificate could not tell
	free                 []float64 // by member and seat: clear at least so far up
}

// member is a loudspeaker at height base + rate u.
type member struct {
	*hanging
	base, rate float64
}

func (m *member) height(u float64) float64 { return m.base + m.rate*u }

// azimuthOf returns the azimuth in the label of a middle-layer loudspeaker, in
// degrees; false for other labels.
func azimuthOf(label string) (float64, bool) {
	rest, ok := strings.CutPrefix(label, "M")
	if !ok {
		return 0, false
	}
	a, err := strconv.ParseFloat(rest, 64)
	return a, err == nil
}

// lifts reports whether Lift may move l.
func lifts(d *project.Design, l project.Loudspeaker) bool {
	a, ok := azimuthOf(l.Label)
	m, known := d.Model(l.Model)
	return ok && known && math.Abs(a) >= leastAzimuth && !m.Subwoofer() &&
		l.Mount != project.BehindScreen && l.Mount != project.OnCeiling
}

// gather makes the groups, in the order of the design.
func (l *lifter) gather() {
	d := l.p.Design
	taken := make([]bool, len(d.Speakers))
	if l.o.Plane {
		l.gatherPlane(taken)
	}
	for k, sp := range d.Speakers {
		if taken[k] || !lifts(d, sp) {
			continue
		}
		taken[k] = true
		g := &group{limits: "its height as given"}
		g.add(l, k, 0, 1)
		if j := mirrorOf(d, k); !l.o.Unpaired && j >= 0 && !taken[j] && lifts(d, d.Speakers[j]) {
			taken[j] = true
			g.add(l, j, 0, 1)
		}
		a, _ := azimuthOf(sp.Label)
		g.rear = math.Abs(a) >= rearAzimuth
		l.groups = append(l.groups, g)
	}
	for _, g := range l.groups {
		l.bound(g)
	}
}

// gatherPlane makes the group of wides and sides that hang on a plane through
// the front loudspeakers' mean place.
func (l *lifter) gatherPlane(taken []bool) {
	d := l.p.Design
	var x0, z0, n float64
	for _, sp := range d.Speakers {
		m, _ := d.Model(sp.Model)
		if strings.HasPrefix(sp.Label, "M") && !lifts(d, sp) && !m.Subwoofer() {
			x0, z0, n = x0+float64(sp.At.X), z0+float64(sp.At.Z), n+1
		}
	}
	if n == 0 {
		l.notes = append(l.notes, "No front loudspeakers: nothing for the plane to start from.")
		return
	}
	x0, z0 = x0/n, z0/n
	g := &group{limits: "its height as given"}
	for k, sp := range d.Speakers {
		a, _ := azimuthOf(sp.Label)
		if !lifts(d, sp) || math.Abs(a) >= rearAzimuth {
			continue
		}
		const least = 0.2 // m: nearer the fronts a height says nothing of a slope
		rate := float64(sp.At.X) - x0
		if rate < least {
			l.notes = append(l.notes, sp.Name()+" is too near the front loudspeakers to lie on their plane.")
			continue
		}
		taken[k] = true
		g.add(l, k, z0, rate)
	}
	if len(g.members) > 0 {
		l.plane = g
		l.groups = append(l.groups, g)
	}
}

// mirrorOf returns the loudspeaker on the other side of k: the same label with
// the other sign, the same copy; -1 for none.
func mirrorOf(d *project.Design, k int) int {
	label := d.Speakers[k].Label
	if len(label) < 3 {
		return -1
	}
	other := strings.Map(func(r rune) rune {
		switch r {
		case '+':
			return '-'
		case '-':
			return '+'
		}
		return r
	}, label)
	return slices.IndexFunc(d.Speakers, func(s project.Loudspeaker) bool {
		return s.Label == other && s.Copy == d.Speakers[k].Copy
	})
}

func (g *group) add(l *lifter, k int, base, rate float64) {
	h := &hanging{d: l.p.Design, k: k, start: l.p.Design.Speakers[k], poly: l.p.Design.Room.Polygon()}
	g.members = append(g.members, member{h, base, rate})
}

// names lists the loudspeakers of g.
func (g *group) names() string {
	var names []string
	for _, m := range g.members {
		names = append(names, m.start.Name())
	}
	return strings.Join(names, " and ")
}

// bound sets the limits between which g moves.
func (l *lifter) bound(g *group) {
	d := l.p.Design
	g.lo = math.Inf(-1)
	for i := range g.members {
		m := &g.members[i]
		at := d.Speakers[m.k].At.Vec()
		lo := at.Z
		if l.o.Settle || g == l.plane {
			lo, g.limits = l.main.Z, "the ears of the main position"
		}
		g.lo = max(g.lo, (lo-m.base)/m.rate)
	}
	if g.rear && l.plane != nil && l.plane.ok {
		on := &l.plane.members[0]
		x0 := float64(on.start.At.X) - on.rate
		for _, m := range g.members {
			if z := on.base + l.plane.u*(float64(d.Speakers[m.k].At.X)-x0); z > g.lo {
				g.lo, g.limits = z, "the plane of the sides"
			}
		}
	}
	g.shifted = 0
	for i := range g.members {
		g.members[i].start = d.Speakers[g.members[i].k]
	}
	l.under(g)
}

// under sets the upper limit of g where it is now in plan.
func (l *lifter) under(g *group) {
	g.hi = math.Inf(1)
	for i := range g.members {
		m := &g.members[i]
		lo := m.height(g.lo)
		top := max(lo, m.d.Room.CeilingAt(float64(m.start.At.X), float64(m.start.At.Y)))
		m.hanging = newHanging(m.d, m.k, m.start, l.main, lo, top+beyond)
		hi, limit := l.highest(m, lo, top)
		if u := (hi - m.base) / m.rate; u < g.hi {
			g.hi, g.limit = u, limit
		}
	}
}

// highest returns the greatest height of m, from lo to top, that elevation limit
// and ceiling allow, and which of them it is. Both grow steadily with the
// height: bisection. Where lo is over the elevation limit already it stays
// there; under a ceiling that is too low the answer is less than lo.
func (l *lifter) highest(m *member, lo, top float64) (float64, string) {
	limit := l.o.Elevation
	if e, ok := l.o.Elevations[m.start.Label]; ok {
		limit = e
	}
	const slack = 1e-9 // rad
	over := func(z float64) string {
		p := m.at(z)
		switch {
		case overCeiling(&m.d.Room, &p) > buildTol:
			return "the ceiling"
		case m.elevation(&p) > limit.Radians()+slack:
			return fmt.Sprintf("the elevation limit of %g°", float64(limit))
		}
		return ""
	}
	what := over(lo)
	switch {
	case what == "the ceiling":
		p := m.at(lo)
		return lo - overCeiling(&m.d.Room, &p), what
	case what != "":
		return lo, what
	}
	if what = over(top); what == "" {
		return top, "the ceiling"
	}
	hi := top
	for hi-lo > resolution/10 {
		mid := (lo + hi) / 2
		if w := over(mid); w == "" {
			lo = mid
		} else {
			hi, what = mid, w
		}
	}
	return lo, what
}

// move puts g at u.
func (l *lifter) move(g *group, u float64) {
	for i := range g.members {
		m := &g.members[i]
		at := m.at(m.height(u))
		l.probe.Move(m.k, at)
		if l.all != nil {
			l.all.Move(m.k, at)
		}
	}
}

// short moves g to u and returns how much more it must rise at the least, and
// whether anything of g falls short.
func (l *lifter) short(g *group, u float64) (step float64, fails bool) {
	l.move(g, u)
	room := l.probe.Room()
	seats := len(room.Seats)
	if len(g.free) != len(g.members)*seats {
		g.free = make([]float64, len(g.members)*seats)
	}
	far := resolution * 10 // a step worth taking at once
	ask := func(i, seat int) {
		m := &g.members[i]
		q, s := l.probe.Short(seat, m.k)
		if q.Verdict != sight.Tight && q.Verdict != sight.Blocked {
			sp := &room.Speakers[m.k]
			if q.Verdict == sight.Clear {
				s = min(q.Clearance-max(float64(m.d.Criteria.Margin), sp.Drivers[sp.Spec.Deciding()].Radius), lookAgain)
			}
			g.free[i*seats+seat] = u + max(s, 0)/m.speed/m.rate
			return
		}
		if q.Blocker == sight.ShellPart {
			s = max(s, m.outOfShell(q.To))
		}
		if !math.IsInf(s, 0) { // for what never comes clear, speed is no matter
			s = s / m.speed / m.rate
		}
		if s > step || !fails {
			step = max(step, s)
			g.lastMember, g.lastSeat = i, seat
		}
		fails = true
	}
	if l.all != nil { // whoever broke last is asked before all others
		m := &g.members[g.lastPair/seats]
		if _, s := l.all.Known(g.lastPair%seats, m.k); s/m.speed/m.rate > far {
			return s / m.speed / m.rate, true
		}
	}
	if g.lastMember < len(g.members) && g.lastSeat < len(room.Seats) {
		if ask(g.lastMember, g.lastSeat); step > far {
			return step, fails
		}
	}
	for i := range g.members {
		m := &g.members[i]
		if _, depth := inTheWay(&m.d.Room, &room.Speakers[m.k]); depth > 0 {
			step, fails = max(step, depth/m.speed/m.rate), true
		}
	}
	// Those who were clear by more than the move since then come last: that
	// bounds nothing that counts only where it is crossed.
	l.later = l.later[:0]
	for n, free := range g.free {
		if u < free {
			l.later = append(l.later, n)
		} else if ask(n/seats, n%seats); step > far {
			return step, fails
		}
	}
	if fails {
		return step, fails
	}
	if l.all != nil {
		if step, fails = l.shortRange(g, u); fails {
			return step, fails
		}
	}
	for _, n := range l.later {
		if ask(n/seats, n%seats); fails {
			break
		}
	}
	return step, fails
}

// shortRange is short for everyone of the range, with g at u.
func (l *lifter) shortRange(g *group, u float64) (step float64, fails bool) {
	seats := len(l.probe.Room().Seats)
	all := len(g.members) * seats
	for n := range all {
		n = (g.lastPair + n) % all // who broke last is likely to again
		m := &g.members[n/seats]
		q, s := l.all.Short(n%seats, m.k)
		if !q.Judged || q.Holds {
			continue
		}
		switch {
		case q.Certified && q.Worst.Blocker == sight.ShellPart:
			sp := &l.probe.Room().Speakers[m.k]
			s = m.outOfShell(sp.Drivers[sp.Spec.Deciding()].Center)
		case !q.Certified:
			s = l.look
			g.openAt = min(g.openAt, u)
		}
		if q.Certified {
			g.openAt = math.Inf(1)
		}
		g.lastPair = n
		if !math.IsInf(s, 0) {
			s = s / m.speed / m.rate
		}
		return s, true
	}
	return 0, false
}

// fastest returns by how much the fastest loudspeaker of g rises with u.
func (g *group) fastest() float64 {
	most := 0.0
	for _, m := range g.members {
		most = max(most, m.rate)
	}
	return most
}

// least is the least step of g: no loudspeaker of it moves by more than the
// resolution, or a millimetre where its speed has no bound.
func (g *group) least() float64 {
	fine := resolution
	for _, m := range g.members {
		if math.IsInf(m.speed, 0) {
			fine = wholeMM
		}
	}
	return fine / g.fastest()
}

// solve finds every group's place. A box may stand in another's path, so groups
// are gone through again until none moves.
func (l *lifter) solve() error {
	const rounds = 4
	for round := range rounds {
		moved := false
		for n, g := range l.groups {
			l.o.tell(float64(round*len(l.groups)+n)/float64(rounds*len(l.groups)), "lifting "+l.p.Design.Speakers[g.members[0].k].Name())
			if g.rear && l.plane != nil {
				l.bound(g)
			}
			before, was := g.u, round > 0
			if err := l.place(g); err != nil {
				return err
			}
			moved = moved || !was || math.Abs(g.u-before) > resolution
		}
		if !moved {
			break
		}
	}
	l.o.tell(1, "lifted")
	return nil
}

// place finds the place of g while all others stand still.
func (l *lifter) place(g *group) error {
	for _, s := range shifts(float64(l.o.Shift)) {
		if !l.shift(g, s) {
			continue
		}
		g.openAt = math.Inf(1)
		u, ok, err := climb(l.ctx, g.lo, g.hi, g.least(), func(u float64) (float64, bool) { return l.short(g, u) })
		if err != nil {
			return err
		}
		if ok {
			return l.settle(g, u)
		}
	}
	l.shift(g, 0)
	if g.failed { // the compromise of an earlier round stays
		l.move(g, g.u)
		return nil
	}
	g.ok, g.failed = false, true
	return l.compromise(g)
}

// settle puts g at u, where it is clear, or nearer and rounded up.
func (l *lifter) settle(g *group, u float64) error {
	if l.all != nil {
		l.all.Look(0, 0)
		defer l.all.Look(0, hurried)
	}
	u, err := l.nearer(g, u)
	if err != nil {
		return err
	}
	if up := upTo(u, wholeMM); l.plane != g && up <= g.hi {
		if _, fails := l.short(g, up); !fails {
			u = up
		}
	}
	g.u, g.ok, g.failed = u, true, false
	l.move(g, u)
	return nil
}

// nearer halves the stretch below u, where g is clear, in which a hurried look
// could not tell, and returns the least of what it finds clear.
func (l *lifter) nearer(g *group, u float64) (float64, error) {
	if l.all == nil {
		return u, nil
	}
	for lo := g.openAt; u-lo > wholeMM/2/g.fastest(); {
		if err := l.ctx.Err(); err != nil {
			return u, err
		}
		mid := (lo + u) / 2
		if _, fails := l.short(g, mid); fails {
			lo = mid
		} else {
			u = mid
		}
	}
	return u, nil
}

// shifts returns the places to try along a wall, the nearest first.
func shifts(most float64) []float64 {
	out := []float64{0}
	for n := 1; float64(n)*shiftStep <= most+resolution; n++ {
		out = append(out, float64(n)*shiftStep, -float64(n)*shiftStep)
	}
	return out
}

// compromise puts g on the rung where the fewest pairs are blocked, then tight,
// then, with Everyone, break for somebody of the range; of equals where the
// tightest path has most room.
func (l *lifter) compromise(g *group) error {
	if g.hi < g.lo { // at least it can be built
		g.u = g.hi
		l.move(g, g.u)
		return nil
	}
	t := newTally(l, g)
	if l.all != nil {
		l.all.Look(lookAgain, cursory)
		defer l.all.Look(0, hurried)
	}
	most := shortfall{math.MaxInt}
	var equal []float64
	step := rungs / g.fastest()
	for n := 0; ; n++ {
		// From the top, where a good one makes the others short work.
		u := g.hi - float64(n)*step
		if n > 0 && u < g.lo {
			break
		}
		if err := l.ctx.Err(); err != nil {
			return err
		}
		switch bad := t.at(u, most); slices.Compare(bad[:], most[:]) {
		case -1:
			most, equal = bad, append(equal[:0], u)
		case 0:
			equal = append(equal, u)
		}
	}
	g.u = l.roomiest(g, equal)
	l.move(g, g.u)
	return l.ctx.Err()
}

// shift moves the loudspeakers of g by s along their walls: side loudspeakers
// towards the back, those on front and back walls away from the middle. It
// reports whether they stay on their walls.
func (l *lifter) shift(g *group, s float64) bool {
	if s == g.shifted {
		return true
	}
	starts := make([]project.Loudspeaker, len(g.members))
	for i := range g.members {
		m := &g.members[i]
		l0 := l.p.Design.Speakers[m.k]
		at := geometry.Vec2{X: float64(l0.At.X), Y: float64(l0.At.Y)}
		edge, _ := m.poly.Nearest(at)
		off := m.poly.Distance(at)
		n := m.poly.InwardNormal(edge)
		along := geometry.Vec2{X: -n.Y, Y: n.X}
		if math.Abs(along.X) >= math.Abs(along.Y) {
			along = along.Mul(math.Copysign(1, along.X))
		} else {
			along = along.Mul(math.Copysign(1, along.Y*(at.Y-l.main.Y)))
		}
		to := at.Add(along.Mul(s))
		e, _ := m.poly.Nearest(to)
		const same = 1e-6 // m
		if s != 0 && (e != edge || math.Abs(m.poly.Distance(to)-off) > same) {
			return false
		}
		l0.At.X, l0.At.Y = unit.Length(to.X), unit.Length(to.Y)
		starts[i] = l0
	}
	for i, s := range starts {
		g.members[i].start = s
	}
	g.shifted = s
	l.under(g)
	return true
}

// finish writes what was found into the proposal.
func (l *lifter) finish(before *project.Design) {
	d := l.p.Design
	moved := make([]bool, len(d.Speakers))
	for _, g := range l.groups {
		for i := range g.members {
			m := &g.members[i]
			moved[m.k] = true
			d.Speakers[m.k].At = l.probe.Room().Speakers[m.k].At
		}
	}
	l.p.Changes = placeChanges(before, d)
	var after *sight.Result
	l.p.After, after = count(d)
	for _, g := range l.groups {
		if !g.ok {
			l.prove(g, after)
		}
	}
	// Boxes that now stand in the way of loudspeakers that were not moved.
	left := 0
	for i := range after.Seats {
		for k := range after.Speakers {
			if moved[k] {
				continue
			}
			now, then := after.Pair(i, k), l.was.Pair(i, k)
			if now.Verdict > then.Verdict && now.Verdict >= sight.Tight {
				l.p.Proof = append(l.p.Proof, pairObstacle(d, after, i, k))
			} else if now.Verdict >= sight.Tight {
				left++
			}
		}
	}
	if l.all != nil && len(l.groups) > 0 && !slices.ContainsFunc(l.groups, func(g *group) bool { return !g.ok }) {
		l.notes = append(l.notes, fmt.Sprintf("Nobody from %s finds a lifted loudspeaker blocked.", l.o.Range.Words()))
	}
	if left > 0 {
		l.notes = append(l.notes, fmt.Sprintf("%d pairs of seats with loudspeakers that Lift does not move stay short of clear.", left))
	}
	l.p.Note = strings.Join(l.notes, " ")
}

// placeChanges lists what differs in the loudspeakers' places.
func placeChanges(before, after *project.Design) []Change {
	var out []Change
	for k, l := range after.Speakers {
		was := before.Speakers[k].At
		add := func(axis, what string, from, to unit.Length) {
			const same = 5e-5 // m: shown as the same number
			if math.Abs(float64(to-from)) > same {
				out = append(out, Change{Field: fmt.Sprintf("loudspeakers[%d].at.%s", k, axis),
					What: l.Name() + " " + what, From: float64(from), To: float64(to)})
			}
		}
		add("x_m", "distance from the screen wall", was.X, l.At.X)
		add("y_m", "distance from the left wall", was.Y, l.At.Y)
		add("z_m", "height", was.Z, l.At.Z)
	}
	return out
}

// pairObstacle says what stands between seat i and loudspeaker k.
func pairObstacle(d *project.Design, r *sight.Result, i, k int) Obstacle {
	q := r.Pair(i, k).Deciding()
	return Obstacle{
		Constraint: r.WordsFrom(i, q.Blocker),
		Where:      fmt.Sprintf("row %d seat %d to %s", r.Seats[i].Row, r.Seats[i].Number, r.Speakers[k].Name()),
		Short:      max(float64(d.Criteria.Margin)-q.Clearance, 0),
		Text:       r.Sentence(i, k, d.Units),
	}
}

// needed looks for the place of g beyond its limit, in a room whose ceiling does
// not get in the way.
func (l *lifter) needed(g *group) (u float64, ok bool) {
	if g.hi < g.lo {
		return 0, false
	}
	if l.above == nil {
		d := l.p.Design.Clone()
		d.Room.Ceiling.Height += 2 * beyond
		d.Room.Ceiling.FarHeight += 2 * beyond
		above := *l
		above.probe = sight.NewProbe(d)
		if above.all, _ = l.o.People.probe(d); above.all != nil { // made once already
			above.all.Look(0, cursory)
			above.look = lookAgain
		}
		l.above = &above
	}
	rate := g.members[0].rate
	u, ok, _ = climb(l.ctx, g.hi, g.hi+beyond/rate, wholeMM/rate, func(u float64) (float64, bool) { return l.above.short(g, u) })
	l.above.move(g, g.u)
	return u, ok
}

// worst returns what stands most in the way with g at u, and of whom; empty for
// nothing.
func (l *lifter) worst(g *group, u float64) (what, where string) {
	l.move(g, u)
	room := l.probe.Room()
	least := math.Inf(1)
	for i := range g.members {
		for seat, s := range room.Seats {
			q := l.probe.Path(seat, g.members[i].k)
			if (q.Verdict == sight.Tight || q.Verdict == sight.Blocked) && q.Clearance < least {
				least, what = q.Clearance, room.WordsFrom(seat, q.Blocker)
				where = fmt.Sprintf("row %d seat %d", s.Row, s.Number)
			}
		}
	}
	return what, where
}

// prove says why g could not be cleared.
func (l *lifter) prove(g *group, after *sight.Result) {
	d := l.p.Design
	show := func(z float64) string { return Metres.show(z, d.Units) }
	m := &g.members[0]
	u, ok := l.needed(g)
	at := m.height(min(g.u, max(g.hi, g.lo)))
	ob := Obstacle{Constraint: g.limit, Where: g.names()}
	switch {
	case g.hi < g.lo:
		ob.Short = m.rate * (g.lo - g.hi)
		ob.Text = fmt.Sprintf("%s must hang at %s or more for %s, which is %s over what %s allows.",
			ob.Where, show(m.height(g.lo)), g.limits, show(ob.Short), g.limit)
	case ok:
		ob.Short = m.rate * (u - g.hi)
		ob.Text = fmt.Sprintf("%s would have to hang at %s%s to be clear for %s; %s allows %s, %s less. At %s the fewest pairs are blocked.",
			ob.Where, l.o.about(), show(m.height(u)), l.o.whom(), g.limit, show(m.height(g.hi)), show(ob.Short), show(at))
	default:
		ob.Text = fmt.Sprintf("%[1]s cannot be clear for %[6]s at any height (searched to %[2]s; %[3]s allows %[4]s). At %[5]s the fewest pairs are blocked.",
			ob.Where, show(m.height(g.hi)+beyond), g.limit, show(m.height(g.hi)), show(at), l.o.whom())
		if what, where := l.worst(g, g.hi); what != "" {
			ob.Text += fmt.Sprintf(" Highest up, %s is in the way of %s.", what, where)
		}
		l.move(g, g.u)
	}
	l.p.Proof = append(l.p.Proof, ob)
	for i := range g.members {
		m := &g.members[i]
		if f, depth := inTheWay(&d.Room, &after.Speakers[m.k]); depth > 0 {
			l.p.Proof = append(l.p.Proof, Obstacle{Constraint: d.Room.Features[f].Words(), Where: m.start.Name(), Short: depth,
				Text: fmt.Sprintf("The box of %s stands %s in the %s.", m.start.Name(), show(depth), d.Room.Features[f].Words())})
		}
		for seat := range after.Seats {
			if v := after.Pair(seat, m.k).Verdict; v == sight.Tight || v == sight.Blocked {
				l.p.Proof = append(l.p.Proof, pairObstacle(d, after, seat, m.k))
			}
		}
		l.proveRange(m)
	}
}

// proveRange names the pair of m that breaks worst for somebody of the range.
func (l *lifter) proveRange(m *member) {
	if l.all == nil {
		return
	}
	r := l.all.Result()
	n, worst := 0, 0
	var deep sight.RangePair
	for seat := range r.Seats {
		q := l.all.Worst(seat, m.k)
		if !q.Judged || q.Holds {
			continue
		}
		*r.Pair(seat, m.k) = q
		if n++; n == 1 || q.Certified && (!deep.Certified || q.Upper < deep.Upper) {
			deep, worst = q, seat
		}
	}
	if n == 0 {
		return
	}
	s := r.Seats[worst]
	ob := Obstacle{Constraint: "not certified", Where: fmt.Sprintf("row %d seat %d to %s", s.Row, s.Number, m.start.Name()),
		Text: r.Sentence(worst, m.k, l.p.Design.Units)}
	if deep.Certified {
		ob.Constraint, ob.Short = r.Case(worst, deep.Worst), -deep.Upper
	}
	if n > 1 {
		ob.Text += fmt.Sprintf("; %d more seats are short too", n-1)
	}
	l.p.Proof = append(l.p.Proof, ob)
}
