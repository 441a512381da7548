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
	box  int   // group of its box, or -1
	part []int // what the current trace may come near
}

func newTrial(d *project.Design, r *Result, k int) *trial {
	res := &Result{Room: r.Room, Pairs: r.Pairs}
	res.Speakers = slices.Clone(r.Speakers)
	kept := *r.kept
	kept.solids, kept.balls = slices.Clone(kept.solids), slices.Clone(kept.balls)
	kept.groups, kept.settings = slices.Clone(kept.groups), slices.Clone(kept.settings)
	res.kept = &kept
	t := &trial{auditor: auditorOf(d, res), k: k, home: r.Speakers[k], box: -1}
	res.Speakers[k].Drivers = slices.Clone(t.home.Drivers)
	kept.settings[k] = make([]setting, len(t.home.Drivers))
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
	n := sp.Spec.Deciding()
	t.set(&t.settings[t.k][n], &sp.Drivers[n])
	if t.box >= 0 {
		g := &t.groups[t.box]
		t.solids[g.from] = sp.Box.Solid()
		t.balls[g.from].Sphere = t.solids[g.from].Bound()
		g.bound, g.inner.Center = t.balls[g.from].Sphere, sp.Box.Center
		t.from[t.box] = g.seen(t.mid)
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
	t.start(i, base, l.Max)
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
func (t *trial) start(i int, base Verdict, most float64) {
	t.sit(i)
	t.shift(geometry.Vec{})
	sp := &t.r.Speakers[t.k]
	body := &t.r.Bodies[i]
	to := sp.Drivers[sp.Spec.Deciding()].Center
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
				t.part = append(t.part, n)
			}
		}
	}
}

// slack returns a distance, no more than most, that the loudspeaker can surely
// go on towards the unit vector toward before seat i gets a verdict worse than
// base, Clear or Tight.
func (t *trial) slack(i int, base Verdict, toward geometry.Vec, most float64) float64 {
	sp := &t.r.Speakers[t.k]
	disc := &sp.Drivers[sp.Spec.Deciding()]
	body := &t.r.Bodies[i]
	ears := [2]geometry.Segment{{A: body.EarLeft, B: disc.Center}, {A: body.EarRight, B: disc.Center}}
	for _, n := range t.part {
		if t.ownBox(n, t.k) {
			for _, seg := range ears {
				most = min(most, ahead(sp.Front.W, seg.A.Sub(sp.At.Vec()), toward))
			}
			continue
		}
		crossing := t.toEar(n, i, t.k) == crossed
		if crossing && t.r.Parts[n].Kind == place.FeaturePart {
			// So far it surely goes on carrying the loudspeaker.
			most = min(most, carried-t.carryGap(n, sp))
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
		own := &t.solids[t.shoulders(i)]
		keep := -touch
		if base == Clear {
			keep = disc.Radius
		}
		if own.Bound().Gap(seg)-keep < most {
			c, _ := own.Clearance(seg)
			most = min(most, max(c-keep, 0))
		}
		for w := range t.walls {
			most = min(most, t.slackWall(w, seg, disc, base, toward, most))
		}
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

// slackWall is slack for wall w of the shell and one ear. The disc may go on for
// as long as none of it can come behind the wall's plane, or for as long as no
// line to it can come to the wall itself; for a verdict of tight its middle may.
func (t *trial) slackWall(w int, seg geometry.Segment, disc *geometry.Disc, base Verdict, toward geometry.Vec, most float64) float64 {
	const level = 1e-12 // of a unit vector: along the wall
	wall := &t.walls[w]
	wide := 0.0
	if base == Clear {
		wide = spread(disc, wall.In)
	}
	before := -wall.Behind(disc.Center) - wide
	if t.flush(w, disc) {
		before += flushTol // the wall gives way to it so far
	}
	rate := -wall.In.Dot(toward)
	switch {
	case before < -touch:
		before = 0 // it lies behind the plane, beyond the wall's end
	case rate <= level:
		return most
	default:
		before = max(before, 0) / rate
	}
	if before >= most || wall.Endless() {
		return before
	}
	if base == Clear {
		wide = disc.Radius
	} else {
		wide = 0
	}
	return max(before, wall.Gap(seg)-wide)
}
