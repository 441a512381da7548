// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"runtime"
	"sync"

	"earline/geometry"
	"earline/project"
)

// Far is the clearance reported when nothing that counts is nearer, metres.
const Far = 10

const (
	// touch is how deep a path must enter a solid to count as blocked, metres:
	// far below any tape, far above rounding.
	touch = 1e-6
	// carried is how near a loudspeaker a feature must be to count as carrying
	// it, metres. Such a feature blocks only where a path truly crosses it.
	carried = 0.02
	// flushTol is how far a driver may lie outside the room's shell before the
	// shell counts as being in the way, metres: a flush front is never dead flat.
	flushTol = 0.03
	// whole is the visible share from which a target counts as seen whole; the
	// share itself is exact to about 1e-9.
	whole = 1 - 1e-6
)

// Audit answers every pair of seat and loudspeaker, and every seat's view of
// the picture, of a valid design. It is a pure function of d, safe from any
// goroutine. A design with no seats or no loudspeakers gives an empty answer.
func Audit(d *project.Design) *Result {
	a := newAuditor(d)
	// Seats are independent: as many auditors as there are cores share them.
	const each = 4 // seats; fewer are not worth a goroutine
	workers := max(min(runtime.GOMAXPROCS(0), len(a.r.Seats)/each), 1)
	var done sync.WaitGroup
	for w := 1; w < workers; w++ {
		done.Go(func() { auditorOf(d, a.r).seats(w, workers) })
	}
	a.seats(0, workers)
	done.Wait()
	a.tally()
	return a.r
}

// seats answers every step-th seat, beginning with the first-th.
func (a *auditor) seats(first, step int) {
	for i := first; i < len(a.r.Seats); i += step {
		a.sit(i)
		for k := range a.r.Speakers {
			a.pair(i, k)
		}
		a.r.Views[i] = a.view(i)
	}
}

// Update answers again after the loudspeakers whose indexes are moved, and
// nothing else, were changed in d. prev is left as it was. Only the pairs of
// those loudspeakers are computed when no box of theirs can be in anyone's way;
// otherwise Update falls back to Audit.
func Update(prev *Result, d *project.Design, moved ...int) *Result {
	a, ok := reaudit(prev, d, moved)
	if !ok {
		return Audit(d)
	}
	for i := range a.r.Seats {
		a.sit(i)
		for _, k := range moved {
			a.pair(i, k)
		}
	}
	a.tally()
	return a.r
}

// group is a run of parts with a sphere around them, so that most are passed
// over without a look.
type group struct {
	bound    geometry.Sphere
	heart    geometry.Sphere // a ball that fits inside the first part
	from, to int
	seat     int  // index of the seat whose own parts these are; -1 for none
	crossing bool // counts only where truly crossed, for everyone
	feature  bool
	counts   bool // by clearance, for everyone but those of seat
}

// ball is what culling needs to know of a part.
type ball struct {
	geometry.Sphere         // around it
	inner           float64 // radius of the ball about the same centre inside it
	person          bool
}

// prepared is the room made ready for the inner loops. It is not changed after.
type prepared struct {
	solids  []geometry.Solid // of Result.Parts, same order, close together
	balls   []ball           // of solids
	own     []geometry.Solid // the listeners' own shoulders, one a seat
	groups  []group
	poly    geometry.Polygon
	convex  bool
	ceiling geometry.Vec // its height is Z + X x + Y y
	outside [][]outside  // by loudspeaker and driver
}

// auditor answers pairs and views of one design into r.
type auditor struct {
	*prepared
	d       *project.Design
	r       *Result
	margin  float64
	scratch geometry.Scratch
	mid     geometry.Vec // between the ears of the current seat
	from    []reach      // the groups, seen from mid
	near    []int32      // parts that may shade the current target
	cand    []candidate  // of the current pair
	most    float64      // no path of the current pair has more clearance
}

func newAuditor(d *project.Design) *auditor {
	r := &Result{Main: d.MainPoint(), Seats: d.Seats(), Parts: d.Parts()}
	r.Speakers = make([]project.Placed, len(d.Speakers))
	for k, l := range d.Speakers {
		r.Speakers[k] = d.PlaceOne(l, r.Main)
	}
	listener := d.Person(d.Seating.Sitters.Listener)
	r.Bodies = make([]project.Body, len(r.Seats))
	for i, s := range r.Seats {
		r.Bodies[i] = listener.In(s)
	}
	r.Pairs = make([]Pair, len(r.Seats)*len(r.Speakers))
	r.Views = make([]View, len(r.Seats))
	for k := range r.Speakers {
		r.column(k)
	}
	r.kept = prepare(d, r)
	return auditorOf(d, r)
}

// auditorOf returns an auditor of what is prepared in r.
func auditorOf(d *project.Design, r *Result) *auditor {
	return &auditor{prepared: r.kept, d: d, r: r, margin: float64(d.Criteria.Margin),
		from: make([]reach, len(r.kept.groups)), near: make([]int32, 0, len(r.Parts)), cand: make([]candidate, 0, len(r.Parts))}
}

// prepare lays out the solids and groups them: one group a seat, one for each
// other part.
func prepare(d *project.Design, r *Result) *prepared {
	parts := r.Parts
	pr := &prepared{
		solids: make([]geometry.Solid, len(parts)),
		balls:  make([]ball, len(parts)),
		own:    make([]geometry.Solid, len(r.Bodies)),
		poly:   d.Room.Polygon(),
	}
	pr.convex = pr.poly.Convex()
	room := d.Room
	pr.ceiling = geometry.Vec{X: room.CeilingAt(1, 0) - room.CeilingAt(0, 0),
		Y: room.CeilingAt(0, 1) - room.CeilingAt(0, 0), Z: room.CeilingAt(0, 0)}
	for i := range parts {
		pr.solids[i] = parts[i].Solid()
		pr.balls[i] = ballOf(&parts[i], &pr.solids[i])
	}
	for i, b := range r.Bodies {
		pr.own[i] = b.Shoulders.Solid()
	}
	seat := -1
	for i := 0; i < len(parts); {
		p := &parts[i]
		g := group{from: i, to: i + 1, seat: -1}
		switch {
		case p.Person() || p.ChairPart():
			for g.to < len(parts) && (parts[g.to].Person() || parts[g.to].ChairPart()) &&
				parts[g.to].Row == p.Row && parts[g.to].Seat == p.Seat {
				g.to++
			}
			seat++
			g.seat = seat
		case p.Kind == project.SpeakerPart:
			g.crossing = true
		case p.Kind == project.FeaturePart:
			g.feature = true
		}
		g.counts = !g.crossing && !g.feature
		g.bound = around(pr.balls[g.from:g.to])
		g.heart = p.Inner()
		pr.groups = append(pr.groups, g)
		i = g.to
	}
	pr.outside = make([][]outside, len(r.Speakers))
	for k := range r.Speakers {
		pr.outside[k] = pr.lookOutside(&r.Speakers[k])
	}
	return pr
}

func ballOf(p *project.Part, s *geometry.Solid) ball {
	return ball{s.Bound(), p.Inner().Radius, p.Person()}
}

// around returns a sphere that holds all of s, about the mean of their centres.
func around(s []ball) geometry.Sphere {
	var c geometry.Vec
	for _, b := range s {
		c = c.Add(b.Center)
	}
	c = c.Mul(1 / float64(len(s)))
	out := geometry.Sphere{Center: c}
	for _, b := range s {
		out.Radius = max(out.Radius, c.Dist(b.Center)+b.Radius)
	}
	return out
}

// pair answers seat i and loudspeaker k into its place in the result.
func (a *auditor) pair(i, k int) {
	r := a.r
	p := r.Pair(i, k)
	sp := &r.Speakers[k]
	decides := sp.Spec.Deciding()
	p.Verdict, p.Worst = NotJudged, -1
	if len(p.Paths) == 0 {
		return
	}
	a.gather(i, k)
	n := 0
	for di := range sp.Drivers {
		for _, ear := range [2]Side{Left, Right} {
			a.path(&p.Paths[n], i, k, di, ear)
			if di == decides && (p.Worst < 0 || worse(&p.Paths[n], &p.Paths[p.Worst])) {
				p.Worst = n
			}
			n++
		}
	}
	if !sp.Spec.Subwoofer() {
		p.Verdict = p.Paths[p.Worst].Verdict
	}
}

// column gives the pairs of loudspeaker k new room for their paths, all of one
// piece.
func (r *Result) column(k int) {
	n := 2 * len(r.Speakers[k].Drivers)
	paths := make([]Path, n*len(r.Seats))
	for i := range r.Seats {
		*r.Pair(i, k) = Pair{Paths: paths[i*n : (i+1)*n : (i+1)*n], Worst: -1}
	}
}

// candidate is a part that may be what a path of the current pair comes nearest
// to, or may stand in its way.
type candidate struct {
	part     int
	crossing bool // counts only where a path truly crosses it
}

// reach is where a group's sphere and heart are, seen from between the ears.
type reach struct {
	bound, heart   geometry.Vec
	bound2, heart2 float64 // squared lengths
}

// sit makes ready for the pairs of seat i.
func (a *auditor) sit(i int) {
	b := &a.r.Bodies[i]
	a.mid = b.EarLeft.Lerp(b.EarRight, 0.5)
	for gi := range a.groups {
		g := &a.groups[gi]
		bound, heart := g.bound.Center.Sub(a.mid), g.heart.Center.Sub(a.mid)
		a.from[gi] = reach{bound, heart, bound.Len2(), heart.Len2()}
	}
}

// beside returns the squared distance from a segment, along the unit vector u
// and of length l, to the point w from its start; w2 is the squared length of w.
func beside(u geometry.Vec, l float64, w geometry.Vec, w2 float64) float64 {
	along := u.X*w.X + u.Y*w.Y + u.Z*w.Z
	t := min(max(along, 0), l)
	return w2 - t*(2*along-t)
}

// gather collects the candidates of a pair. It looks along one line, from
// between the ears to the loudspeaker's front; no path of the pair strays from
// it by more than slack, so a part farther than the nearest by more than twice
// that can be left out.
func (a *auditor) gather(i, k int) {
	body, sp := &a.r.Bodies[i], &a.r.Speakers[k]
	line := newLine(a.mid, sp.At.Vec())
	u, l := line.d.Mul(math.Sqrt(line.inv)), line.d.Len()
	slack, disc := a.mid.Dist(body.EarLeft), 0.0
	for n := range sp.Drivers {
		slack = max(slack, sp.Drivers[n].Center.Dist(line.b))
		disc = max(disc, sp.Drivers[n].Radius)
	}
	// Upper bound of the clearance of any path: to the ball that fits inside
	// the first part (a head) of the nearest group.
	most := float64(Far)
	for gi := range a.groups {
		if g := &a.groups[gi]; g.counts && g.seat != i {
			r := most + g.heart.Radius
			if d2 := beside(u, l, a.from[gi].heart, a.from[gi].heart2); d2 < r*r {
				most = math.Sqrt(max(d2, 0)) - g.heart.Radius
			}
		}
	}
	most += slack
	a.most = most
	counted := max(most, disc) + slack // a part beyond this cannot matter
	crossed := disc + slack
	a.cand = a.cand[:0]
	nearest := math.Inf(1)
	for gi := range a.groups {
		g := &a.groups[gi]
		crossing := g.crossing || g.seat == i
		within := counted
		if crossing {
			within = crossed
		}
		if r := g.bound.Radius + within; beside(u, l, a.from[gi].bound, a.from[gi].bound2) > r*r {
			continue
		}
		if g.feature && a.carries(g, sp) {
			crossing, within = true, crossed
		}
		for n := g.from; n < g.to; n++ {
			b := &a.balls[n]
			d2 := line.dist2(b.Center)
			// The listener's own body is looked at apart.
			if r := b.Radius + within; d2 > r*r || b.person && g.seat == i {
				continue
			}
			a.cand = append(a.cand, candidate{n, crossing})
			// The likely nearest goes first, so that the first look settles most.
			if !crossing && (nearest+b.inner)*(nearest+b.inner) > d2 {
				nearest = math.Sqrt(d2) - b.inner
				last := len(a.cand) - 1
				a.cand[0], a.cand[last] = a.cand[last], a.cand[0]
			}
		}
	}
}

// line is a segment made ready to measure many distances to.
type line struct {
	a, b, d geometry.Vec
	inv     float64 // 1 / squared length
}

func newLine(a, b geometry.Vec) line {
	l := line{a: a, b: b, d: b.Sub(a)}
	if l2 := l.d.Len2(); l2 > 0 {
		l.inv = 1 / l2
	}
	return l
}

// dist2 returns the squared distance of p from the segment.
func (l *line) dist2(p geometry.Vec) float64 {
	x, y, z := p.X-l.a.X, p.Y-l.a.Y, p.Z-l.a.Z
	t := min(max((x*l.d.X+y*l.d.Y+z*l.d.Z)*l.inv, 0), 1)
	x -= t * l.d.X
	y -= t * l.d.Y
	z -= t * l.d.Z
	return x*x + y*y + z*z
}

// apart reports whether the solid s, bounded by bound, surely stays farther than
// reach from the segment: by its sphere, then by the plane square to the line
// from its centre to the nearest point of the segment, beyond which all of the
// segment lies.
func (l *line) apart(s *geometry.Solid, bound *ball, reach float64) bool {
	x, y, z := bound.Center.X-l.a.X, bound.Center.Y-l.a.Y, bound.Center.Z-l.a.Z
	t := min(max((x*l.d.X+y*l.d.Y+z*l.d.Z)*l.inv, 0), 1)
	w := geometry.Vec{X: t*l.d.X - x, Y: t*l.d.Y - y, Z: t*l.d.Z - z}
	d2 := w.Len2()
	if r := bound.Radius + reach; d2 > r*r {
		return true
	}
	d := math.Sqrt(d2)
	return d2 > 0 && d2-s.Reach(w) > reach*d
}

// worse reports whether path p decides over q: the worse verdict, then less
// clearance.
func worse(p, q *Path) bool {
	if p.Verdict != q.Verdict {
		return p.Verdict > q.Verdict
	}
	return p.Clearance < q.Clearance
}

// path answers one ear and one driver, among the candidates gathered.
func (a *auditor) path(p *Path, i, k, driver int, ear Side) {
	disc := a.r.Speakers[k].Drivers[driver]
	from := a.r.Bodies[i].EarLeft
	if ear == Right {
		from = a.r.Bodies[i].EarRight
	}
	seg := geometry.Segment{A: from, B: disc.Center}
	ln := newLine(seg.A, seg.B)
	*p = Path{Ear: ear, Driver: driver, From: from, To: disc.Center,
		Clearance: Far, Blocker: NoPart, Visible: 1}
	t := 0.0             // parameter of Nearest
	enter := math.Inf(1) // parameter where the first blocker is entered
	hidden := false      // the whole disc
	a.near = a.near[:0]

	for _, c := range a.cand {
		n := c.part
		// Nothing farther than the disc is wide can shade it: all lines from the
		// ear to the disc stay that near the middle one.
		within := disc.Radius
		if !c.crossing {
			within = max(within, min(p.Clearance, a.most))
		}
		s := &a.solids[n]
		if ln.apart(s, &a.balls[n], within) {
			continue
		}
		gap, at := s.Clearance(seg)
		if gap <= disc.Radius && !a.ownBox(n, k) {
			a.near = append(a.near, int32(n))
			// A depth is the least shift that frees a line: lines to the rest of
			// the disc are shifted by less, so they are blocked too.
			hidden = hidden || gap < -disc.Radius
		}
		if c.crossing && gap >= -touch {
			continue
		}
		if gap < -touch {
			if in, _, ok := s.Hit(seg); ok && in < enter {
				enter, p.Blocker = in, n
			}
		}
		if gap < p.Clearance {
			p.Clearance, t = gap, at
			if math.IsInf(enter, 1) {
				p.Blocker = n
			}
		}
	}
	// The listener's own head and neck never count, the shoulders when crossed.
	if own := &a.own[i]; own.Bound().Gap(seg) < 0 {
		if c, at := own.Clearance(seg); c < -touch {
			if c < p.Clearance {
				p.Clearance, t = c, at
			}
			if in, _, ok := own.Hit(seg); ok && in < enter {
				enter, p.Blocker = in, a.shoulders(i)
			}
		}
	}
	a.shell(seg, &a.outside[k][driver], p, &t, &enter)

	p.Nearest = seg.At(t)
	p.Angle = angleOf(p.Clearance, from.Dist(p.Nearest))
	switch {
	case hidden:
		p.Visible = 0
	case len(a.near) > 0:
		p.Visible = a.scratch.Visible(from, disc.Target(), a.solids, a.near)
	}
	switch {
	case p.Clearance < -touch:
		p.Verdict = Blocked
		p.Enter = seg.At(min(enter, 1))
		if p.Blocker == ShellPart {
			p.Visible = 0
		}
	case p.Clearance < a.margin || p.Visible < whole:
		p.Verdict = Tight
	default:
		p.Verdict = Clear
	}
}

// ownBox reports whether part n is the box of loudspeaker k, whose front its
// drivers lie in.
func (a *auditor) ownBox(n, k int) bool {
	p := &a.r.Parts[n]
	return p.Kind == project.SpeakerPart && p.Index == k
}

// shoulders returns the index of the part that stands for the shoulders in seat i.
func (a *auditor) shoulders(i int) int {
	for gi := range a.groups {
		if g := &a.groups[gi]; g.seat == i {
			for n := g.from; n < g.to; n++ {
				if a.r.Parts[n].Kind == project.ShoulderPart {
					return n
				}
			}
		}
	}
	return NoPart
}

// carries reports whether the feature of group g carries loudspeaker sp.
func (a *auditor) carries(g *group, sp *project.Placed) bool {
	at := sp.At.Vec()
	c, _ := a.solids[g.from].Clearance(geometry.Segment{A: at, B: at.Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))})
	return c < carried
}

// outside says how a driver lies to the room's shell.
type outside struct {
	plan         bool    // beyond the walls
	above, under float64 // over the ceiling, below the floor; metres
}

// lookOutside looks where the drivers of sp are.
func (pr *prepared) lookOutside(sp *project.Placed) []outside {
	out := make([]outside, len(sp.Drivers))
	for n, d := range sp.Drivers {
		at := geometry.Vec2{X: d.Center.X, Y: d.Center.Y}
		out[n] = outside{
			plan:  !pr.poly.Contains(at) && pr.poly.Distance(at) > flushTol,
			above: -pr.under(d.Center),
			under: -d.Center.Z,
		}
	}
	return out
}

// under returns how far p lies under the ceiling, metres.
func (pr *prepared) under(p geometry.Vec) float64 {
	return pr.ceiling.Z + pr.ceiling.X*p.X + pr.ceiling.Y*p.Y - p.Z
}

// shell lets the room's own walls, floor and ceiling block: where the footprint
// is concave a path may leave it and come back, and a driver may be outside.
func (a *auditor) shell(seg geometry.Segment, out *outside, p *Path, t, enter *float64) {
	block := func(depth, at float64) {
		if -depth < p.Clearance {
			p.Clearance, *t = -depth, at
		}
		if at < *enter {
			*enter, p.Blocker = at, ShellPart
		}
	}
	if !a.convex || out.plan {
		from := geometry.Vec2{X: seg.A.X, Y: seg.A.Y}
		to := geometry.Vec2{X: seg.B.X, Y: seg.B.Y}
		if depth, at, _, ok := a.poly.Obstructs(from, to); ok && depth > flushTol {
			block(depth, at)
		}
	}
	if out.above > flushTol {
		block(out.above, crossingAt(a.under(seg.A), -out.above))
	}
	if out.under > flushTol {
		block(out.under, crossingAt(seg.A.Z, -out.under))
	}
}

// crossingAt returns where a quantity that runs evenly from a to b is zero.
func crossingAt(a, b float64) float64 {
	if a == b {
		return 0
	}
	return min(max(a/(a-b), 0), 1)
}

// angleOf returns the angle under which a clearance c at distance d is seen.
func angleOf(c, d float64) float64 {
	if d < math.Abs(c) {
		return math.Copysign(math.Pi/2, c)
	}
	return math.Asin(c / d)
}

// tally counts the verdicts.
func (a *auditor) tally() {
	a.r.Count, a.r.PictureCount = [4]int{}, [4]int{}
	for i := range a.r.Pairs {
		a.r.Count[a.r.Pairs[i].Verdict]++
	}
	for i := range a.r.Views {
		a.r.PictureCount[a.r.Views[i].Verdict]++
	}
}
