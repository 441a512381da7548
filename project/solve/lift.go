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
	"earline/project/practice"
	"earline/project/sight"
)

// LiftOptions are the limits of Lift. The zero value is ready to use.
type LiftOptions struct {
	// Elevation is the greatest elevation that a side or rear may have from the main
	// listening position; 0 is what the standard accepts. Others, such as wides, keep
	// to what it accepts for them, or, where Elevation is beyond what it accepts for
	// sides, to its limit for them. Nothing goes beyond the standard's limit.
	Elevation unit.Degrees
	// Elevations overrides Elevation by label.
	Elevations map[string]unit.Degrees
	// Allowance is how far what is lifted may hang off its place and stay clear; 0 is
	// the least that the standard accepts, less than 0 none. Where it cannot be had,
	// the margin alone is kept, and the proposal says so.
	Allowance unit.Length
	// KeepFronts leaves fronts where they are. Otherwise those behind a screen that
	// sound passes are raised, all together and as far as the standard accepts, if
	// heads are in their way: that costs no hole.
	KeepFronts bool
	// Shift is how far a pair may be moved along its wall if no height clears it.
	// Places are tried every 50 mm, the nearest first; the last step is then
	// bisected to 2 mm.
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
	// Standard has the limits; the zero value is the one that the design has chosen.
	Standard practice.Standard
	// People widens the range of people for whom the result holds.
	People
	Progress

	pastLimit bool // whatever the standard's limits; to show what is beyond them
}

// Limits of what is lifted.
const (
	// shiftStep is the distance between places tried along a wall, metres.
	shiftStep = 0.05
	// compromiseStep is the distance between the heights tried for a compromise,
	// metres.
	compromiseStep = 0.005
	// millimetre is the step to which results are rounded where that holds too,
	// metres.
	millimetre = 0.001
	// Budgets of cells after which a pair is left undecided: while searching
	// upwards, and when an estimate is enough.
	cellsWhileClimbing, cellsForEstimate = 200, 40
	// beyond is how far above a limit Lift looks for the height that is needed,
	// metres.
	beyond = 1.0
)

// Lift raises the wide, side and rear loudspeakers (labels M, by their
// azimuth, save those behind the screen or on the ceiling) to the
// least height from which every judged seat has both ears clear of everything by
// the design's margin and the build allowance. What is clear by the margin already
// stays as it is, and no raise is less than a millimetre. At no seat does the angle to
// the height loudspeakers fall below the standard's limit, or below what it was; where
// it falls below what is accepted, the proof says so.
//
// Heights are the least to 0.1 mm, then rounded up to whole millimetres where
// that is clear too: going up, the search skips a height only if the clearance
// there is short by more than the driver moves in between, or by a step of 0.1 mm.
// With Everyone, the certificate of sight.RangeFor proves that nobody of the range
// is blocked either. Going up, the search then skips a height where somebody is
// blocked by more than the driver moves in between; where the certificate, with a
// small budget, leaves a pair open, it takes a step of 2 mm. It then bisects the
// open stretch to 0.5 mm with the full budget.
//
// A loudspeaker that no height within the limits clears is put where the fewest
// pairs are blocked, then tight; Proof says what stands in the way. Such heights
// are tried every 5 mm and then, without Everyone, refined to 0.3 mm about the
// best. It stays where it was if none is better.
func Lift(ctx context.Context, d *project.Design, o LiftOptions) (*Proposal, error) {
	if err := angle("lift elevation", o.Elevation, -89, 89); err != nil {
		return nil, err
	}
	if err := length("lift allowance", o.Allowance, -1, 0.1); err != nil {
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
	p, was, err := begin(ctx, d, o.Standard)
	if err != nil {
		return nil, err
	}
	l := &lifter{ctx: ctx, o: o, p: p, was: was, limits: limitsOf(d, p.std), exact: sight.NewProbe(d)}
	l.allowance = max(float64(o.Allowance), 0)
	if o.Allowance == 0 {
		l.allowance = p.std.BuildAllowance().Accepted.Least()
	}
	l.roomy = l.exact
	if l.allowance > 0 {
		roomy := d.Clone()
		const short = 0.0005 // m, more than sight.Tolerance may be short by
		roomy.Criteria.Margin += unit.Length(l.allowance + short)
		l.roomy = sight.NewProbe(roomy)
	}
	l.probe = l.exact
	if l.all, err = o.People.probe(d); err != nil {
		return nil, err
	}
	if l.all != nil {
		l.all.Look(0, cellsWhileClimbing)
	}
	l.main, l.look = l.probe.Room().Main, 0.002
	l.apart = apartIn(d, p.std)
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
	limits limits
	apart  *apart
	// exact asks for the design's margin, roomy for the build allowance too; probe is
	// the one in use.
	exact, roomy, probe *sight.Probe
	allowance           float64           // metres
	all                 *sight.RangeProbe // with Everyone
	main                geometry.Vec
	groups              []*group
	plane               *group // the group that hangs on one plane, or nil
	notes               []string
	look                float64 // the step where the certificate leaves a pair open, metres
	later               []int   // pairs to check last; see shortfall
	above               *lifter // the same in a higher room; made by needed
	higher              bool    // this is such a one: frames may reach into what hangs over them
}

// group is loudspeakers that move together.
type group struct {
	members []member
	lo, hi  float64 // of u
	limit   string  // what sets hi, in words
	limits  string  // what sets lo
	rear    bool
	u       float64
	ok      bool
	failed  bool // no height clears it: u is the compromise
	kept    bool // it stands as given
	stays   bool // as given is the compromise
	roomy   bool // it has the build allowance
	fronts  bool // behind the screen
	shifted float64
	// The member and seat of the last pair that failed: likely to fail again.
	lastMember, lastSeat int
	lastPair             int       // the same for the range: member by member
	openAt               float64   // u from which on the certificate left a pair open
	free                 []float64 // by member and seat: clear at least up to this u
}

// member is a loudspeaker at height base + rate u.
type member struct {
	*hanging
	base, rate float64
	given      project.Loudspeaker // as it was
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
	m, known := d.Model(l.Model)
	switch practice.LayerOf(l.Label) {
	case practice.Wide, practice.Side, practice.Rear:
	default:
		return false
	}
	return known && !m.Subwoofer() && l.Mount != project.BehindScreen && l.Mount != project.OnCeiling
}

// gather makes the groups, in the order of the design.
func (l *lifter) gather() {
	d := l.p.Design
	taken := make([]bool, len(d.Speakers))
	if l.o.Plane {
		l.gatherPlane(taken)
	} else {
		l.gatherFronts(taken)
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
		g.rear = practice.LayerOf(sp.Label) == practice.Rear
		l.groups = append(l.groups, g)
	}
	for _, g := range l.groups {
		l.bound(g)
	}
}

// gatherPlane makes the group of wides and sides, which hang on a plane through
// the mean place of the front loudspeakers.
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
		if !lifts(d, sp) || practice.LayerOf(sp.Label) == practice.Rear {
			continue
		}
		const least = 0.2 // m: nearer to the fronts a height gives no slope
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
	g.members = append(g.members, member{h, base, rate, h.start})
}

// names lists the loudspeakers of g.
func (g *group) names() string {
	var names []string
	for _, m := range g.members {
		names = append(names, m.start.Name())
	}
	return strings.Join(names, " and ")
}

// bound sets the limits of g's height.
func (l *lifter) bound(g *group) {
	d := l.p.Design
	g.lo = math.Inf(-1)
	for i := range g.members {
		m := &g.members[i]
		at := d.Speakers[m.k].At.Vec()
		lo := at.Z
		switch {
		case g.fronts:
			lo = max(lo, l.limits.frontHeights(d).Least())
		case l.o.Settle || g == l.plane:
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

// under sets the upper limit of g at its present place in plan.
func (l *lifter) under(g *group) {
	g.hi = math.Inf(1)
	for i := range g.members {
		m := &g.members[i]
		lo := m.height(g.lo)
		top := max(lo, m.d.Room.CeilingAt(float64(m.start.At.X), float64(m.start.At.Y)))
		m.hanging = newHanging(m.d, m.k, m.start, l.main, lo, top+beyond)
		hi, limit := l.highest(m, lo, top)
		if g.fronts {
			if most := l.limits.frontHeights(m.d).Most(); most < hi {
				hi, limit = most, "the picture's height"
			}
		}
		if u := (hi - m.base) / m.rate; u < g.hi {
			g.hi, g.limit = u, limit
		}
	}
}

// highest returns the greatest height of m, from lo to top, that the elevation
// limit, the angle to the heights, the ceiling and what hangs over a frame allow, and
// which of them sets it. All grow with the height, so it bisects. If lo is beyond one of
// the angles already, it returns lo; under a ceiling or a soffit that is too low it
// returns less than lo.
func (l *lifter) highest(m *member, lo, top float64) (float64, string) {
	limit, whose := l.mostElevation(m.start)
	const slack = 1e-9 // rad
	over := func(z float64) string {
		p := m.at(z)
		if overCeiling(&m.d.Room, &p) > buildTol {
			return "the ceiling"
		}
		if what, _ := overFrame(&m.d.Room, p); what != "" {
			return what
		}
		if m.elevation(&p) > limit.Radians()+slack {
			return whose
		}
		if l.o.pastLimit {
			return ""
		}
		return l.apart.tooNear(&p)
	}
	what, first := over(lo), m.at(lo)
	hung, by := overFrame(&m.d.Room, first)
	switch {
	case what == "the ceiling":
		return lo - overCeiling(&m.d.Room, &first), what
	case what != "" && what == hung && lo > by:
		return lo - by, what
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

// mostElevation returns how high s may be heard, and what says so.
func (l *lifter) mostElevation(s project.Loudspeaker) (unit.Degrees, string) {
	b := l.limits.elevation(s)
	asked := l.o.Elevation
	if e, ok := l.o.Elevations[s.Label]; ok {
		asked = e
	} else if asked == 0 {
		return unit.Degrees(b.Accepted.Most()), fmt.Sprintf("the elevation limit of %g°", b.Accepted.Most())
	} else if !l.o.pastLimit && float64(asked) <= l.limits.std.Elevation(practice.Side).Accepted.Most() {
		asked = min(asked, unit.Degrees(b.Accepted.Most()))
	}
	if !l.o.pastLimit {
		asked = min(asked, unit.Degrees(b.Limit.Most()))
	}
	return asked, fmt.Sprintf("the elevation limit of %g°", float64(asked))
}
