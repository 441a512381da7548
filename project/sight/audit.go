// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"runtime"

	"earline/geometry"
	"earline/project"
	"earline/project/crew"
	"earline/project/place"
)

// Far is the clearance reported when nothing that counts is nearer, metres.
const Far = 10

const (
	// touch is how deep a path must enter a solid to count as blocked, metres:
	// far below any tape, far above rounding.
	touch = 1e-6
	// carryTol is the greatest distance between a loudspeaker and a feature that
	// carries it, metres. Such a feature blocks only where a path enters it.
	carryTol = 0.02
	// flushTol is how far a driver may lie outside the room's shell before the
	// shell counts as being in the way, metres: a flush front is never dead flat.
	flushTol = 0.03
	// faceTol is how far off the face of a box, or off a wall, all of a disc may
	// lie and still count as set flush in it, metres: places are typed to the
	// millimetre.
	faceTol = 1e-3
	// level is by how much the clearances of two parts may differ that count as
	// equally near, metres.
	level = 1e-9
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
	var done crew.Crew
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
		a.ears = a.nearEars(i)
		a.near[i] = a.ears
		for k := range a.r.Speakers {
			a.pair(i, k)
		}
	}
	// The views after all pairs: the processor guesses better where it is at.
	for i := first; i < len(a.r.Seats); i += step {
		a.r.Views[i] = a.view(i)
	}
}

// Update audits d again after a change of the loudspeakers with the indexes moved
// and of nothing else. prev is left as it was. Update computes only the pairs of
// these loudspeakers if none of their boxes can be in anyone's way, before or
// after; otherwise it falls back to Audit.
func Update(prev *Result, d *project.Design, moved ...int) *Result {
	a, ok := reaudit(prev, d, moved)
	if !ok {
		return Audit(d)
	}
	for i := range a.r.Seats {
		a.sit(i)
		a.ears = a.near[i]
		for _, k := range moved {
			a.pair(i, k)
		}
	}
	a.tally()
	return a.r
}

// auditor answers pairs and views of one design into r.
type auditor struct {
	*prepared
	d       *project.Design
	r       *Result
	margin  float64
	scratch geometry.Scratch
	mid     geometry.Vec // between the ears of the current seat
	from    []fromMid    // the groups, seen from mid
	shade   []int32      // solids that may shade the current target
	ears    [2]float64   // nearEars of the current seat
	met     []int32      // groups that the current pair comes near
	cand    []candidate  // of the current pair
	under   []under      // of the current view
	most    float64      // no path of the current pair has more clearance
}

func newAuditor(d *project.Design) *auditor {
	a := roomAuditor(d)
	a.r.Pairs = make([]Pair, len(a.r.Seats)*len(a.r.Speakers))
	a.r.Views = make([]View, len(a.r.Seats))
	for k := range a.r.Speakers {
		a.r.newPaths(k)
	}
	a.near = make([][2]float64, len(a.r.Seats))
	return a
}

// roomAuditor returns an auditor whose result has no Pairs and no Views.
func roomAuditor(d *project.Design) *auditor {
	r := &Result{Room: *place.Of(d)}
	r.kept = prepare(d, r)
	return auditorOf(d, r)
}

// auditorOf returns an auditor for the room prepared in r.
func auditorOf(d *project.Design, r *Result) *auditor {
	return &auditor{prepared: r.kept, d: d, r: r, margin: float64(d.Criteria.Margin),
		from: make([]fromMid, len(r.kept.groups)), met: make([]int32, 0, len(r.kept.groups)),
		shade: make([]int32, 0, len(r.Parts)), cand: make([]candidate, 0, len(r.Parts))}
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

// newPaths gives the pairs of loudspeaker k new paths, in one allocation.
func (r *Result) newPaths(k int) {
	n := 2 * len(r.Speakers[k].Drivers)
	paths := make([]Path, n*len(r.Seats))
	for i := range r.Seats {
		*r.Pair(i, k) = Pair{Paths: paths[i*n : (i+1)*n : (i+1)*n], Worst: -1}
	}
}

// worse reports whether path p is worse than q: by verdict, then by clearance.
func worse(p, q *Path) bool {
	if p.Verdict != q.Verdict {
		return p.Verdict > q.Verdict
	}
	return p.Clearance < q.Clearance
}

// worstEar returns the path that decides pair (i, k), whose loudspeaker has
// drivers: from the worse ear to the deciding driver. Call sit(i) before. It
// changes no result.
func (a *auditor) worstEar(i, k int) Path {
	a.gather(i, k)
	driver := a.r.Speakers[k].Spec.Deciding()
	var left, right Path
	a.path(&left, i, k, driver, Left)
	a.path(&right, i, k, driver, Right)
	if worse(&right, &left) {
		return right
	}
	return left
}

// path answers one ear and one driver, among the candidates gathered.
func (a *auditor) path(p *Path, i, k, driver int, ear Side) {
	sp := &a.r.Speakers[k]
	disc := &sp.Drivers[driver]
	from := a.r.Bodies[i].EarLeft
	if ear == Right {
		from = a.r.Bodies[i].EarRight
	}
	*p = Path{Ear: ear, Driver: driver, From: from, To: disc.Center,
		Clearance: Far, Blocker: NoPart, Visible: 1}
	m := meeting{seg: geometry.Segment{A: from, B: disc.Center}, length: from.Dist(disc.Center), enter: math.Inf(1), disc: disc}
	a.shade = a.shade[:0]
	a.meetParts(p, &m, k)
	a.meetShoulders(p, &m, i)
	setting := &a.settings[k][driver]
	if deep, at, ok := a.depth(m.seg, setting, a.earOut[i][ear]); ok {
		m.shut = m.shut || a.earOut[i][ear] > touch
		m.meet(p, -deep, at, at, ShellPart)
	}
	p.Nearest = m.seg.At(m.nearest)
	p.Angle = angleOf(p.Clearance, from.Dist(p.Nearest))
	a.judge(p, &m, setting.walls)
}

// meeting collects what a path meets before its verdict is known.
type meeting struct {
	seg     geometry.Segment
	length  float64 // of seg
	disc    *geometry.Disc
	nearest float64 // parameter of Path.Nearest
	enter   float64 // parameter where the first blocker is entered
	shut    bool    // nothing of the disc is visible
}

// meet records that the path has the clearance gap from blocker, at the parameter
// at, and enters it, if it does, at the parameter enter.
func (m *meeting) meet(p *Path, gap, at, enter float64, blocker int) {
	if gap < -touch && enter < m.enter {
		m.enter, p.Blocker = enter, blocker
	}
	// If two are equally near, the one nearer to the ear is named, in any order.
	if gap < p.Clearance-level || gap < p.Clearance+level && at < m.nearest {
		p.Clearance, m.nearest = min(gap, p.Clearance), at
		if math.IsInf(m.enter, 1) {
			p.Blocker = blocker
		}
	}
}

// shading returns how near the solid within bound must come to the middle line to
// hide any of the disc. All lines from the ear to the disc end within its radius of
// the middle one; as far along as the solid reaches they are nearer in proportion.
func (m *meeting) shading(bound *geometry.Sphere) float64 {
	radius := m.disc.Radius
	far := bound.Center.Dist(m.seg.A) + bound.Radius
	if shortest := m.length - radius; far < shortest {
		return radius * far / shortest
	}
	return radius
}

// meetParts goes through the candidates: it records what the path enters or comes
// near, and collects what may shade the disc.
func (a *auditor) meetParts(p *Path, m *meeting, k int) {
	sp := &a.r.Speakers[k]
	before := sp.Front.W.Dot(m.seg.A.Sub(sp.At.Vec())) > 0
	radius := m.disc.Radius
	ln := newLine(m.seg.A, m.seg.B)
	most := min(a.most, a.ears[p.Ear]) // the path's clearance is no more
	for _, c := range a.cand {
		n := c.part
		if before && c.crossing && a.ownBox(n, k) {
			continue // its drivers lie in its front
		}
		s, b := &a.solids[n], &a.balls[n]
		within := radius
		if !c.crossing {
			within = max(within, min(p.Clearance, most))
		}
		if ln.apart(s, b, within) {
			continue
		}
		shading := radius
		if within == radius {
			if shading = m.shading(&b.Sphere); c.crossing && ln.apart(s, b, shading) {
				continue
			}
		}
		gap, at := s.Clearance(m.seg)
		if c.crossing && gap <= shading && a.setIn(n, m.disc, m.seg.A) {
			continue
		}
		if gap <= shading {
			a.shade = append(a.shade, int32(n))
			// A depth is the least shift that frees a line. Lines to the rest of
			// the disc are shifted by less, so they are blocked too.
			m.shut = m.shut || gap < -radius
		}
		if c.crossing && gap >= -touch {
			continue
		}
		m.meet(p, gap, at, entry(s, m.seg, gap), n)
	}
}

// meetShoulders is meetParts for the listener's own shoulders.
func (a *auditor) meetShoulders(p *Path, m *meeting, i int) {
	n := a.shoulders(i)
	own := &a.solids[n]
	bound := own.Bound()
	shading := m.shading(&bound)
	if bound.Gap(m.seg) > shading {
		return
	}
	gap, at := own.Clearance(m.seg)
	if gap <= shading {
		a.shade = append(a.shade, int32(n))
		m.shut = m.shut || gap < -m.disc.Radius
	}
	if gap < -touch {
		m.meet(p, gap, at, entry(own, m.seg, gap), a.shoulderPart[i])
	}
}

// entry returns the parameter at which seg, whose clearance is gap, enters s.
func entry(s *geometry.Solid, seg geometry.Segment, gap float64) float64 {
	if gap < -touch {
		if in, _, ok := s.Hit(seg); ok {
			return in
		}
	}
	return math.Inf(1)
}

// judge sets p's visible share and its verdict.
func (a *auditor) judge(p *Path, m *meeting, walls []geometry.Wall) {
	var target geometry.Target
	if len(a.shade) > 0 || len(walls) > 0 {
		target = m.disc.Target()
	}
	switch {
	case m.shut:
		p.Visible = 0
	case len(a.shade) > 0 || len(walls) > 0:
		p.Visible = a.scratch.VisibleWithin(walls, p.From, target, a.solids, a.shade)
	}
	switch {
	case p.Clearance < -touch || p.Visible == 0:
		p.Verdict = Blocked
		if math.IsInf(m.enter, 1) { // several together hide it, none alone
			if m.shut { // not looked at yet
				a.scratch.VisibleWithin(walls, p.From, target, a.solids, a.shade)
			}
			p.Blocker, m.enter = a.hider(p.From, target, walls), m.nearest
		}
		p.Enter = m.seg.At(min(m.enter, 1))
	case p.Visible < whole:
		p.Verdict = Tight
		if p.Clearance >= a.margin {
			p.Blocker = a.hider(p.From, target, walls)
		}
	case p.Clearance < a.margin:
		p.Verdict = Tight
	default:
		p.Verdict = Clear
	}
}

// hider returns which of a.shade and the walls hides most of the target, of several
// alike the walls or the first; NoPart if nothing hides any. Call VisibleWithin
// with them before.
func (a *auditor) hider(eye geometry.Vec, target geometry.Target, walls []geometry.Wall) int {
	const alike = 1e-9 // what the shares err by
	best, most := NoPart, 0.0
	for n := range a.shade {
		if s := a.scratch.Alone(n); s > 0 && (best == NoPart || s > most+alike) {
			best, most = a.partOf(int(a.shade[n])), s
		}
	}
	if len(walls) > 0 {
		if s := 1 - a.scratch.VisibleWithin(walls, eye, target, nil, nil); s > 0 && s >= most {
			best = ShellPart
		}
	}
	return best
}

// partOf returns the part that solid n is; see prepared.solids.
func (a *auditor) partOf(n int) int {
	if i := n - len(a.r.Parts); i >= 0 {
		return a.shoulderPart[i]
	}
	return n
}

// setIn reports whether disc is set flush in a face of the feature, or in the triangle,
// that is part n and the ear is in front of that face: the part then hides none of the
// disc.
func (a *auditor) setIn(n int, disc *geometry.Disc, ear geometry.Vec) bool {
	p, s := &a.r.Parts[n], &a.solids[n]
	if p.Kind != place.FeaturePart && p.Triangle == nil {
		return false
	}
	center := s.Bound().Center
	to, from := disc.Center.Sub(center), ear.Sub(center)
	faces, count := p.Faces(disc)
	for _, u := range faces[:count] {
		face := s.Reach(u)
		if u.Dot(from) > face && math.Abs(u.Dot(to)-face)+spread(disc, u) <= faceTol {
			return true
		}
	}
	return false
}

// ownBox reports whether part n is the box of loudspeaker k, whose front its
// drivers lie in.
func (a *auditor) ownBox(n, k int) bool {
	p := &a.r.Parts[n]
	return p.Kind == place.SpeakerPart && p.Index == k
}

// shoulders returns the index in solids of the shoulders of the listener in
// seat i.
func (a *auditor) shoulders(i int) int { return len(a.r.Parts) + i }

// carryGap returns how far the line from the front of sp to the back of its box
// is from the feature that is part n.
func (a *auditor) carryGap(n int, sp *place.Speaker) float64 {
	at := sp.At.Vec()
	c, _ := a.solids[n].Clearance(geometry.Segment{A: at, B: at.Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))})
	return c
}

// angleOf returns the angle, radians, that a clearance c at distance d subtends.
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
