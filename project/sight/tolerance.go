// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// MostMisplaced is how far Tolerance looks, metres.
const MostMisplaced = 0.5

// Tolerances says how far a loudspeaker may be misplaced.
type Tolerances struct {
	// Limits has the four ways along what carries the loudspeaker: up, down,
	// left, right for one on a wall or behind the screen, as seen facing it;
	// forward (towards the screen wall), back, left, right as seen facing the
	// screen for one on the ceiling or the floor. It is empty for a loudspeaker
	// that is not judged.
	Limits []Limit
}

// Limit is how far a loudspeaker may be misplaced one way.
type Limit struct {
	Way    string       // "up", "forward"
	Toward geometry.Vec // the same, a unit vector along the surface
	// Max is the distance, metres, up to which no judged pair gets a worse
	// verdict. Over says that none does up to MostMisplaced; the rest is not set
	// then.
	Max  float64
	Over bool
	// Seat is the index of the seat that gets worse first, from From to To,
	// because of Blocker (as in Path.Blocker).
	Seat     int
	Blocker  int
	From, To Verdict
}

// Tolerance answers how far loudspeaker k of d may be misplaced before a judged
// pair of it goes from clear to tight or blocked, or from tight to blocked; r is
// Audit of d. The loudspeaker is shifted as a whole, without turning; what its
// box then does to paths to other loudspeakers and to the picture is not asked,
// nor whether it still fits its wall. Max errs by 0.25 mm at most, to the safe
// side; a stretch shorter than that in which a verdict is worse may be passed
// over. k out of range gives no limits. Neither d nor r is changed.
//
// Method: no clearance changes by more than the driver moves, so the driver may
// be carried on by whatever is left of the clearance without a look (sphere
// tracing; Hart 1996, "Sphere tracing: a geometric method for the antialiased
// ray tracing of implicit surfaces"), the verdict at each stop being that of the
// exact audit.
func Tolerance(d *project.Design, r *Result, k int) Tolerances {
	if k < 0 || k >= len(r.Speakers) || r.kept == nil {
		return Tolerances{}
	}
	sp := &r.Speakers[k]
	if sp.Spec.Deciding() < 0 || sp.Spec.Subwoofer() {
		return Tolerances{}
	}
	tr := newTrial(d, r, k)
	ways := tr.ways()
	out := Tolerances{Limits: make([]Limit, len(ways))}
	for n := range ways {
		out.Limits[n] = tr.limit(ways[n])
	}
	return out
}

// Words says the limits in one line: "up 35 mm, down 12 mm, left over 500 mm,
// right 4 mm".
func (t Tolerances) Words(u project.Units) string {
	text := ""
	for i, l := range t.Limits {
		if i > 0 {
			text += ", "
		}
		text += l.Words(u)
	}
	return text
}

// Words says l: "up 35 mm" or "left over 500 mm". Lengths are rounded down.
func (l Limit) Words(u project.Units) string {
	if l.Over {
		return l.Way + " over " + short(l.Max, u)
	}
	least := 0.001
	if u == project.Imperial {
		least = 0.1 * float64(unit.Inch)
	}
	return l.Way + " " + short(math.Floor(l.Max/least)*least, u)
}

// LimitSentence says what breaks at l, which must be of r.
func (r *Result) LimitSentence(l Limit, u project.Units) string {
	if l.Over {
		return l.Words(u)
	}
	s := r.Seats[l.Seat]
	return fmt.Sprintf("%s, then row %d seat %d goes from %v to %v by %s", l.Words(u), s.Row, s.Number, l.From, l.To, r.WordsFrom(l.Seat, l.Blocker))
}

// trial is an auditor whose loudspeaker k can be shifted.
type trial struct {
	*auditor
	k    int
	home place.Speaker
	box  int    // group of its box, or -1
	part []near // what the current trace may come near
	plan bool   // whether walls can get in the way of it
}

// near is a part that a trace may come near.
type near struct{ part, group int }

func newTrial(d *project.Design, r *Result, k int) *trial {
	res := &Result{Room: r.Room, Pairs: r.Pairs}
	res.Speakers = slices.Clone(r.Speakers)
	kept := *r.kept
	kept.solids, kept.balls = slices.Clone(kept.solids), slices.Clone(kept.balls)
	kept.groups, kept.outside = slices.Clone(kept.groups), slices.Clone(kept.outside)
	res.kept = &kept
	t := &trial{auditor: auditorOf(d, res), k: k, home: r.Speakers[k], box: -1}
	res.Speakers[k].Drivers = slices.Clone(t.home.Drivers)
	for gi := range kept.groups {
		if p := &r.Parts[kept.groups[gi].from]; p.Kind == place.SpeakerPart && p.Index == k {
			t.box = gi
		}
	}
	return t
}

// shift puts the loudspeaker by v from where it is planned. The trial must sit.
func (t *trial) shift(v geometry.Vec) {
	sp := &t.r.Speakers[t.k]
	sp.At = project.PointOf(t.home.At.Vec().Add(v))
	sp.Box.Center = t.home.Box.Center.Add(v)
	for n := range sp.Drivers {
		sp.Drivers[n].Center = t.home.Drivers[n].Center.Add(v)
	}
	at := sp.Drivers[sp.Spec.Deciding()].Center
	out := &t.outside[t.k][sp.Spec.Deciding()]
	*out = outside{above: -t.under(at), under: -at.Z}
	if t.plan {
		plan := geometry.Vec2{X: at.X, Y: at.Y}
		out.plan = !t.poly.Contains(plan) && t.poly.Distance(plan) > flushTol
	}
	if t.box >= 0 {
		g := &t.groups[t.box]
		t.solids[g.from] = sp.Box.Solid()
		t.balls[g.from].Sphere = t.solids[g.from].Bound()
		g.bound, g.heart.Center = t.balls[g.from].Sphere, sp.Box.Center
		w := sp.Box.Center.Sub(t.mid)
		t.from[t.box] = reach{w, w, w.Len2(), w.Len2()}
	}
}

// way is a direction with its name.
type way struct {
	name   string
	toward geometry.Vec
}

// ways returns the directions along what carries the loudspeaker.
func (t *trial) ways() [4]way {
	forward, right := geometry.Vec{X: -1}, geometry.Vec{Y: 1}
	switch t.home.Mount {
	case project.OnCeiling:
		n, _ := geometry.Vec{X: t.ceiling.X, Y: t.ceiling.Y, Z: -1}.Unit()
		along := func(v geometry.Vec) geometry.Vec {
			u, _ := v.Sub(n.Mul(n.Dot(v))).Unit()
			return u
		}
		forward, right = along(forward), along(right)
	case project.OnFloor:
	default:
		if t.home.Mount == project.OnWall && len(t.poly) >= 3 {
			edge, _ := t.poly.Nearest(geometry.Vec2{X: float64(t.home.At.X), Y: float64(t.home.At.Y)})
			n := t.poly.InwardNormal(edge)
			right = geometry.Vec{X: -n.Y, Y: n.X} // facing -n, up is up
		}
		up := geometry.Vec{Z: 1}
		return [4]way{{"up", up}, {"down", up.Neg()}, {"left", right.Neg()}, {"right", right}}
	}
	return [4]way{{"forward", forward}, {"back", forward.Neg()}, {"left", right.Neg()}, {"right", right}}
}

// limit returns how far the loudspeaker may go one way.
func (t *trial) limit(w way) Limit {
	l := Limit{Way: w.name, Toward: w.toward, Max: MostMisplaced, Over: true, Seat: -1, Blocker: NoPart}
	for i := range t.r.Seats {
		t.trace(i, w.toward, &l)
	}
	return l
}

// trace carries the loudspeaker on until seat i gets a worse verdict or l is
// reached, and lowers l.
func (t *trial) trace(i int, toward geometry.Vec, l *Limit) {
	const least = 0.25e-3 // m, of a step
	base := t.r.Pair(i, t.k).Verdict
	if base != Clear && base != Tight {
		return
	}
	t.start(i, base, toward, l.Max)
	for at := 0.0; at < l.Max; {
		t.shift(toward.Mul(at))
		if s := t.slack(i, base, toward, l.Max-at); s >= least {
			at += s
			continue
		}
		next := min(at+least, l.Max)
		t.shift(toward.Mul(next))
		if p := t.decide(i, t.k); p.Verdict > base {
			l.Max, l.Over, l.Seat, l.Blocker, l.From, l.To = at, false, i, p.Blocker, base, p.Verdict
			return
		}
		at = next
	}
}

// start sits in seat i and collects what a trace of length most may come near.
func (t *trial) start(i int, base Verdict, toward geometry.Vec, most float64) {
	t.plan = true
	t.sit(i)
	t.shift(geometry.Vec{})
	sp := &t.r.Speakers[t.k]
	body := &t.r.Bodies[i]
	to := sp.Drivers[sp.Spec.Deciding()].Center
	t.plan = !t.staysIn(body.EarLeft, to, toward.Mul(most)) || !t.staysIn(body.EarRight, to, toward.Mul(most))
	// Both ears by the line between them; a feature may be let go on the way.
	seg := geometry.Segment{A: t.mid, B: to}
	far := most + body.EarLeft.Dist(t.mid) + max(t.margin, sp.Drivers[sp.Spec.Deciding()].Radius)
	t.part = t.part[:0]
	for gi := range t.groups {
		g := &t.groups[gi]
		if g.bound.Gap(seg) >= far {
			continue
		}
		for n := g.from; n < g.to; n++ {
			if !(g.seat == i && t.balls[n].person) && t.balls[n].Gap(seg) < far {
				t.part = append(t.part, near{n, gi})
			}
		}
	}
}

// staysIn reports whether the walls surely let every path from an ear to a
// driver at p or on the way by v from there pass. So they do when they let the
// first and the last pass, the driver's way itself too, and no corner of the
// outline lies between: then every wall that crosses the paths crosses the first
// and the last.
func (t *trial) staysIn(ear, p, v geometry.Vec) bool {
	a, b, c := geometry.Vec2{X: ear.X, Y: ear.Y}, geometry.Vec2{X: p.X, Y: p.Y}, geometry.Vec2{X: p.X + v.X, Y: p.Y + v.Y}
	if t.convex { // the farthest beyond a convex outline is an end of the way
		beyond := func(q geometry.Vec2) bool { return !t.poly.Contains(q) && t.poly.Distance(q) > flushTol }
		return !beyond(b) && !beyond(c)
	}
	for _, way := range [3][2]geometry.Vec2{{a, b}, {a, c}, {b, c}} {
		if depth, _, _, ok := t.poly.Obstructs(way[0], way[1]); ok && depth > flushTol {
			return false
		}
	}
	for _, q := range t.poly {
		x, y, z := b.Sub(a).Cross(q.Sub(a)), c.Sub(b).Cross(q.Sub(b)), a.Sub(c).Cross(q.Sub(c))
		if x >= 0 && y >= 0 && z >= 0 || x <= 0 && y <= 0 && z <= 0 {
			return false
		}
	}
	return true
}

// slack returns a distance, no more than most, that the loudspeaker can surely
// go on towards the unit vector toward before seat i gets a verdict worse than
// base, Clear or Tight.
func (t *trial) slack(i int, base Verdict, toward geometry.Vec, most float64) float64 {
	sp := &t.r.Speakers[t.k]
	disc := &sp.Drivers[sp.Spec.Deciding()]
	out := &t.outside[t.k][sp.Spec.Deciding()]
	body := &t.r.Bodies[i]
	ears := [2]geometry.Segment{{A: body.EarLeft, B: disc.Center}, {A: body.EarRight, B: disc.Center}}
	for _, pt := range t.part {
		n, g := pt.part, &t.groups[pt.group]
		if pt.group == t.box {
			for _, seg := range ears {
				most = min(most, ahead(sp.Front.W, seg.A.Sub(sp.At.Vec()), toward))
			}
			continue
		}
		crossing := g.crossing || g.seat == i
		if g.feature && t.carries(g, sp) {
			crossing = true
			most = min(most, t.letsGo(g, sp))
		}
		// From this clearance the path keeps its verdict.
		keep := -touch
		if base == Clear {
			keep = disc.Radius // nothing shades the disc
			if !crossing {
				keep = max(keep, t.margin)
			}
		}
		for _, seg := range ears {
			if t.balls[n].Gap(seg)-keep >= most {
				continue
			}
			c, _ := t.solids[n].Clearance(seg)
			s := c - keep
			if crossing && s < most {
				s = max(s, t.behindFace(n, seg.A, disc, base, toward))
			}
			most = min(most, s)
		}
	}
	for _, seg := range ears {
		if own := &t.own[i]; own.Bound().Gap(seg) < most {
			c, _ := own.Clearance(seg)
			most = min(most, max(c, 0)+touch)
		}
		most = min(most, t.slackShell(seg, out, toward))
	}
	return most
}

// ahead returns how far a loudspeaker whose front has the normal w can go before
// an ear at that place from it is no longer before the front: its own box shades
// nothing till then.
func ahead(w, ear, toward geometry.Vec) float64 {
	before, rate := w.Dot(ear), w.Dot(toward)
	switch {
	case before <= 0:
		return 0
	case rate <= 0:
		return math.Inf(1)
	}
	return before / rate
}

// letsGo returns how far sp can go before the feature of g no longer carries it.
func (t *trial) letsGo(g *group, sp *place.Speaker) float64 {
	at := sp.At.Vec()
	c, _ := t.solids[g.from].Clearance(geometry.Segment{A: at, B: at.Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))})
	return carried - c
}

// behindFace returns how far the driver can go for which a face of the box n
// keeps it and the ear on one side; of an ellipsoid, 0. So a driver set into a
// soffit, which it touches, may slide along it.
func (t *trial) behindFace(n int, ear geometry.Vec, disc *geometry.Disc, base Verdict, toward geometry.Vec) float64 {
	const rounding = 1e-9 // m
	box := t.r.Parts[n].Box
	if box == nil {
		return 0
	}
	best := 0.0
	for _, u := range [6]geometry.Vec{box.Basis.U, box.Basis.V, box.Basis.W, box.Basis.U.Neg(), box.Basis.V.Neg(), box.Basis.W.Neg()} {
		reach := t.solids[n].Reach(u) - rounding
		over := u.Dot(disc.Center.Sub(box.Center)) - reach
		if base == Clear {
			over -= disc.Radius * u.Cross(disc.Normal).Len()
		}
		if u.Dot(ear.Sub(box.Center)) < reach || over < 0 {
			continue
		}
		if rate := -u.Dot(toward); rate > 1e-12 {
			best = max(best, over/rate)
		} else {
			return math.Inf(1)
		}
	}
	return best
}

// slackShell is slack for the room's shell. A corner of the walls that juts into
// the room must first be reached; then the paths' line passes it by no more than
// the driver goes on, or by as much more as the corner is farther than the driver.
func (t *trial) slackShell(seg geometry.Segment, out *outside, toward geometry.Vec) float64 {
	most := math.Inf(1)
	height := func(over, rate float64) { // over grows evenly
		if rate > 0 {
			most = min(most, max(flushTol-over, 0)/rate)
		}
	}
	height(out.above, toward.Z-t.ceiling.X*toward.X-t.ceiling.Y*toward.Y)
	height(out.under, -toward.Z)
	if !t.plan || toward.X == 0 && toward.Y == 0 {
		return most
	}
	a, b := geometry.Vec2{X: seg.A.X, Y: seg.A.Y}, geometry.Vec2{X: seg.B.X, Y: seg.B.Y}
	inside, gone := t.poly.Contains(b), t.poly.Distance(b)
	if inside {
		gone = -gone
	}
	most = min(most, max(flushTol-gone, 0))
	if t.convex {
		return most
	}
	if !inside { // coming back in, what lies between counts
		most = min(most, gone)
	}
	lever := 1.0
	for _, q := range t.poly {
		lever = max(lever, q.Dist(a)/max(b.Dist(a), 1e-6))
	}
	depth, _, _, ok := t.poly.Obstructs(a, b)
	if !ok {
		depth = 0
	}
	return min(most, max(flushTol-depth, 0)/lever)
}
