// SPDX-License-Identifier: MIT

package sight

import (
	"math"
	"runtime"
	"sync"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
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
	a := roomAuditor(d)
	a.r.Pairs = make([]Pair, len(a.r.Seats)*len(a.r.Speakers))
	a.r.Views = make([]View, len(a.r.Seats))
	for k := range a.r.Speakers {
		a.r.column(k)
	}
	return a
}

// roomAuditor returns an auditor whose result has no room for answers.
func roomAuditor(d *project.Design) *auditor {
	r := &Result{Room: *place.Of(d)}
	r.kept = prepare(d, r)
	return auditorOf(d, r)
}

// auditorOf returns an auditor of what is prepared in r.
func auditorOf(d *project.Design, r *Result) *auditor {
	return &auditor{prepared: r.kept, d: d, r: r, margin: float64(d.Criteria.Margin),
		from: make([]reach, len(r.kept.groups)), near: make([]int32, 0, len(r.Parts)), cand: make([]candidate, 0, len(r.Parts))}
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
	return p.Kind == place.SpeakerPart && p.Index == k
}

// shoulders returns the index of the part that stands for the shoulders in seat i.
func (a *auditor) shoulders(i int) int {
	for gi := range a.groups {
		if g := &a.groups[gi]; g.seat == i {
			for n := g.from; n < g.to; n++ {
				if a.r.Parts[n].Kind == place.ShoulderPart {
					return n
				}
			}
		}
	}
	return NoPart
}

// carries reports whether the feature of group g carries loudspeaker sp.
func (a *auditor) carries(g *group, sp *place.Speaker) bool {
	at := sp.At.Vec()
	c, _ := a.solids[g.from].Clearance(geometry.Segment{A: at, B: at.Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))})
	return c < carried
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
