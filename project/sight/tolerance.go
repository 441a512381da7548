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
	// Limits has one limit for each of four directions along the surface that
	// carries the loudspeaker. On a wall or behind the screen these are up, down,
	// left and right, as seen facing it; on the ceiling or the floor forward
	// (towards the screen wall), back, left and right, as seen facing the screen.
	// It is empty for a loudspeaker that is not judged.
	Limits []Limit
}

// Limit is how far a loudspeaker may be misplaced in one direction.
type Limit struct {
	Way    string       // "up", "forward"
	Toward geometry.Vec // the same, a unit vector along the surface
	// Max is the distance, metres, up to which no judged pair gets a worse
	// verdict. Over is set when none does as far as was looked; the fields below
	// are then not set.
	Max  float64
	Over bool
	// Seat is the index of the first seat whose verdict gets worse, from From to
	// To, because of Blocker (as in Path.Blocker).
	Seat     int
	Blocker  int
	From, To Verdict
}

// Tolerance returns how far loudspeaker k of d may be misplaced before one of
// its judged pairs goes from clear to tight or blocked, or from tight to blocked;
// r is Audit of d. The loudspeaker is shifted as a whole, without turning.
// Tolerance checks neither what its box then does to the paths to other
// loudspeakers and to the picture, nor whether it still fits its wall. Max errs
// by 0.25 mm at most, to the safe side; a stretch with a worse verdict that is
// shorter than that may be missed. A k out of range gives no limits. Neither d
// nor r is changed.
//
// Method: no clearance changes by more than the driver moves, so the driver can
// move by the remaining clearance without a check in between (sphere tracing;
// Hart 1996, "Sphere tracing: a geometric method for the antialiased ray tracing
// of implicit surfaces"). The verdict at each stop is that of the exact audit.
func Tolerance(d *project.Design, r *Result, k int) Tolerances {
	if k < 0 || k >= len(r.Speakers) || r.kept == nil {
		return Tolerances{}
	}
	ways := r.Ways(k)
	return ToleranceAlong(d, r, k, MostMisplaced, ways[:])
}

// ToleranceAlong is Tolerance in other directions, for each of ways a limit, and looks
// no farther than most.
func ToleranceAlong(d *project.Design, r *Result, k int, most float64, ways []Way) Tolerances {
	if k < 0 || k >= len(r.Speakers) || r.kept == nil {
		return Tolerances{}
	}
	sp := &r.Speakers[k]
	if sp.Spec.Deciding() < 0 || sp.Spec.Subwoofer() {
		return Tolerances{}
	}
	m := newMover(d, r, k)
	out := Tolerances{Limits: make([]Limit, len(ways))}
	for n := range ways {
		out.Limits[n] = m.limit(ways[n], most)
	}
	return out
}

// Words returns the limits in one line: "up 35 mm, down 12 mm, left over 500 mm,
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

// Words returns l in words: "up 35 mm" or "left over 500 mm". Lengths are
// rounded down.
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

// LimitSentence says which verdict gets worse at l, a limit of r.
func (r *Result) LimitSentence(l Limit, u project.Units) string {
	if l.Over {
		return l.Words(u)
	}
	s := r.Seats[l.Seat]
	return fmt.Sprintf("%s, then row %d seat %d goes from %v to %v by %s", l.Words(u), s.Row, s.Number, l.From, l.To, r.WordsFrom(l.Seat, l.Blocker))
}

// mover is an auditor that can shift loudspeaker k.
type mover struct {
	*auditor
	k    int
	home place.Speaker
	box  int   // group of its box, or -1
	part []int // parts that the current trace may come near
}

func newMover(d *project.Design, r *Result, k int) *mover {
	res := &Result{Room: r.Room, Pairs: r.Pairs}
	res.Speakers = slices.Clone(r.Speakers)
	kept := *r.kept
	kept.solids, kept.balls = slices.Clone(kept.solids), slices.Clone(kept.balls)
	kept.groups, kept.settings = slices.Clone(kept.groups), slices.Clone(kept.settings)
	res.kept = &kept
	t := &mover{auditor: auditorOf(d, res), k: k, home: r.Speakers[k], box: -1}
	res.Speakers[k].Drivers = slices.Clone(t.home.Drivers)
	kept.settings[k] = make([]setting, len(t.home.Drivers))
	for gi := range kept.groups {
		if p := &r.Parts[kept.groups[gi].from]; p.Kind == place.SpeakerPart && p.Index == k {
			t.box = gi
		}
	}
	return t
}

// shift moves the loudspeaker by v from its planned place. Call sit before.
func (t *mover) shift(v geometry.Vec) {
	sp := &t.r.Speakers[t.k]
	sp.At = project.PointOf(t.home.At.Vec().Add(v))
	sp.Box.Center = t.home.Box.Center.Add(v)
	for n := range sp.Drivers {
		sp.Drivers[n].Center = t.home.Drivers[n].Center.Add(v)
	}
	n := sp.Spec.Deciding()
	t.set(&t.settings[t.k][n], &sp.Drivers[n])
	if t.box >= 0 {
		t.putBox(t.box, &sp.Box)
		t.from[t.box] = t.groups[t.box].seen(t.mid)
	}
}

// Way is a direction with its name.
type Way struct {
	Name   string       // "up", "forward"
	Toward geometry.Vec // a unit vector
}

// Ways returns the four directions along the surface that carries loudspeaker k: those
// of Tolerances.
func (r *Result) Ways(k int) [4]Way {
	sp := &r.Speakers[k]
	forward, right := geometry.Vec{X: -1}, geometry.Vec{Y: 1}
	switch sp.Mount {
	case project.OnCeiling:
		n := r.Design.Room.CeilingNormal(float64(sp.At.X), float64(sp.At.Y))
		along := func(v geometry.Vec) geometry.Vec {
			u, _ := v.Sub(n.Mul(n.Dot(v))).Unit()
			return u
		}
		forward, right = along(forward), along(right)
	case project.OnFloor:
	default:
		if poly := r.Design.Room.Polygon(); sp.Mount == project.OnWall && len(poly) >= 3 {
			edge, _ := poly.Nearest(geometry.Vec2{X: float64(sp.At.X), Y: float64(sp.At.Y)})
			n := poly.InwardNormal(edge)
			right = geometry.Vec{X: -n.Y, Y: n.X} // facing -n, up is up
		}
		up := geometry.Vec{Z: 1}
		return [4]Way{{"up", up}, {"down", up.Neg()}, {"left", right.Neg()}, {"right", right}}
	}
	return [4]Way{{"forward", forward}, {"back", forward.Neg()}, {"left", right.Neg()}, {"right", right}}
}

// limit returns how far the loudspeaker may move in direction w, up to most.
func (t *mover) limit(w Way, most float64) Limit {
	l := Limit{Way: w.Name, Toward: w.Toward, Max: most, Over: true, Seat: -1, Blocker: NoPart}
	for i := range t.r.Seats {
		t.trace(i, w.Toward, &l)
	}
	return l
}

// trace moves the loudspeaker until seat i's verdict gets worse or the limit l
// is reached, and lowers l to where that was.
func (t *mover) trace(i int, toward geometry.Vec, l *Limit) {
	const least = 0.25e-3 // m, the least step
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
		if p := t.worstEar(i, t.k); p.Verdict > base {
			l.Max, l.Over, l.Seat, l.Blocker, l.From, l.To = at, false, i, p.Blocker, base, p.Verdict
			return
		}
		at = next
	}
}

// start sits in seat i and collects the parts that a trace of length most may
// come near.
func (t *mover) start(i int, base Verdict, most float64) {
	t.sit(i)
	t.shift(geometry.Vec{})
	sp := &t.r.Speakers[t.k]
	body := &t.r.Bodies[i]
	to := sp.Drivers[sp.Spec.Deciding()].Center
	// One line from between the ears stands for both. Features that carry the
	// loudspeaker now are included: they may cease to carry it on the way.
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

// slack returns a distance, at most most, by which the loudspeaker can certainly
// move along the unit vector toward before seat i's verdict gets worse than base,
// which is Clear or Tight.
func (t *mover) slack(i int, base Verdict, toward geometry.Vec, most float64) float64 {
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
		if crossing && carries(t.r.Parts[n].Kind) {
			// Up to here it certainly still carries the loudspeaker.
			most = min(most, carryTol-t.carryGap(n, sp))
		}
		// With this clearance or more the path keeps its verdict.
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

// ahead returns how far a loudspeaker whose front has the normal w can move along
// toward before the ear, given relative to it, is no longer in front of it. Until
// then its own box shades nothing.
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

// behindFace returns how far the driver can move while one face of part n has
// both it and the ear on its outer side; 0 for an ellipsoid. It lets a driver
// that is set into a soffit, and so touches it, slide along it.
func (t *mover) behindFace(n int, ear geometry.Vec, disc *geometry.Disc, base Verdict, toward geometry.Vec) float64 {
	const rounding = 1e-9 // m
	center := t.solids[n].Bound().Center
	faces, count := t.r.Parts[n].Faces(disc)
	best := 0.0
	for _, u := range faces[:count] {
		reach := t.solids[n].Reach(u) - rounding
		over := u.Dot(disc.Center.Sub(center)) - reach
		if base == Clear {
			over -= disc.Radius * u.Cross(disc.Normal).Len()
		}
		if u.Dot(ear.Sub(center)) < reach || over < 0 {
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

// slackWall is slack for wall w of the shell and one ear. The disc may move until
// part of it could be behind the wall's plane, or until a line to it could reach
// the wall itself, whichever is later. For the verdict Tight only its middle
// counts.
func (t *mover) slackWall(w int, seg geometry.Segment, disc *geometry.Disc, base Verdict, toward geometry.Vec, most float64) float64 {
	const level = 1e-12 // of a unit vector: along the wall
	wall := &t.walls[w]
	wide := 0.0
	if base == Clear {
		wide = spread(disc, wall.In)
	}
	before := -wall.Behind(disc.Center) - wide
	if t.flush(w, disc) {
		before += flushTol // the wall gives way to it by this much
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
