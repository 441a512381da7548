// SPDX-License-Identifier: MIT

package layout

import (
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
	"earline/project/system"
)

const (
	spareSight = 0.005 // m beyond the margin
	// aroundFrom is from where on loudspeakers of the bed stand around the seats and not
	// at the screen, degrees of azimuth.
	aroundFrom = 45
)

// What stands against a place, in the planner's own measure: a broken rule costs 1 or
// more, so many small things less.
const (
	costRule  = 2.0
	costSmall = 0.03
)

// placer places the loudspeakers of one arrangement.
type placer struct {
	p     *planner
	d     *project.Design
	probe *sight.Probe
	main  geometry.Vec
	ears  []ear
	last  float64        // x of the last ears
	bed   []geometry.Vec // placed so far
	// raised and front are how high the highest around the seats and at the screen
	// stand, degrees.
	raised, front float64
	cost          float64 // of those placed so far
	hard          int     // the seat that was last found in trouble: looked at first
}

// ear is where somebody hears, and whether in the main row.
type ear struct {
	geometry.Vec
	main bool
}

// loudspeakers gives d the loudspeakers of the planner's system and returns what they
// cost; false, and a design without all of them, once that is more than most.
func (p *planner) loudspeakers(d *project.Design, most float64) (float64, bool) {
	if p.wish.Keep.Loudspeakers {
		return 0, true
	}
	d.Models = slices.Clone(p.kit.models)
	l := &placer{p: p, d: d, main: place.MainPoint(d)}
	was := d.Speakers
	d.Speakers = nil
	for _, c := range p.system.Channels {
		if !c.LFE() {
			// Until it is placed it lies in a corner, in nobody's way.
			d.Speakers = append(d.Speakers, named(was, c.Label, p.kit.box))
		}
	}
	l.probe = sight.NewProbe(d)
	for i, b := range l.probe.Room().Bodies {
		e := b.Ear()
		l.ears = append(l.ears, ear{e, l.probe.Room().Seats[i].Row == d.Seating.Main.Row})
		l.last = max(l.last, e.X)
	}
	// What is hardest to place first. The heights last: they keep away from the bed.
	for stage := range overHeads + 1 {
		for k := range d.Speakers {
			c, _ := p.system.Channel(d.Speakers[k].Label)
			if stageOf(c) != stage || l.follows(k) {
				continue
			}
			if !l.place(k, c, most) {
				return l.cost, false
			}
			switch _, el := direction(l.d.Speakers[k], l.main); {
			case stage == around:
				l.raised = max(l.raised, el)
			case stage == atScreen && c.Azimuth != 0:
				l.front = max(l.front, el)
			}
		}
	}
	l.subwoofers(was)
	if !d.System.Chosen() || p.wish.System != "" {
		// Named where it would not be guessed: the file stays as old as it can.
		d.System = project.System{}
		if s, ok := system.Guess(d); !ok || s.Name != p.system.Name {
			d.System.Name = p.system.Name
		}
	}
	return l.cost, true
}

// named returns the loudspeaker of that label as it was, in no place yet; without one, a
// new one of the model.
func named(was []project.Loudspeaker, label, model string) project.Loudspeaker {
	for _, s := range was {
		if s.Label == label {
			s.At, s.Aim, s.Mount = project.Point{}, project.Aim{}, project.OnWall
			return s
		}
	}
	return project.Loudspeaker{Label: label, Model: model, Mount: project.OnWall}
}

// The stages in which loudspeakers are placed.
const (
	around = iota // sides and rears
	atScreen
	wides
	overHeads
)

// stageOf orders the channels.
func stageOf(c system.Channel) int {
	az := math.Abs(c.Azimuth)
	switch {
	case above(c.Label):
		return overHeads
	case az < aroundFrom:
		return atScreen
	case az < 75:
		return wides
	}
	return around
}

// other returns the loudspeaker on the other side of k, or -1.
func (l *placer) other(k int) int {
	label := l.d.Speakers[k].Label
	want := strings.Replace(label, "+", "-", 1)
	if want == label {
		want = strings.Replace(label, "-", "+", 1)
	}
	return slices.IndexFunc(l.d.Speakers, func(s project.Loudspeaker) bool { return s.Label == want && s.Label != label })
}

// follows reports whether k is the right one of a pair, which goes where its left goes.
func (l *placer) follows(k int) bool {
	return strings.Contains(l.d.Speakers[k].Label, "-") && l.other(k) >= 0
}

// place puts loudspeaker k, on the left or in the middle, where it costs least, and its
// partner opposite; false when it would cost more than most with those before it.
func (l *placer) place(k int, c system.Channel, most float64) bool {
	o := l.other(k)
	least := most - l.cost + 1e-9
	var best [2]project.Loudspeaker
	found := false
	for _, own := range [...]bool{true, false} {
		for _, s := range l.spots(k, c, own) {
			if s.cost >= least {
				break // they get no cheaper
			}
			left, ok := l.put(s, l.d.Speakers[k], 1)
			if !ok {
				continue
			}
			cost := s.cost + l.stands(k, left, c, least-s.cost)
			right := left
			if o >= 0 && l.p.mirrored {
				right.At.Y = lengthOf(2*l.p.centre - float64(left.At.Y))
			} else if o >= 0 && cost < least {
				if right, ok = l.put(s, l.d.Speakers[o], -1); !ok {
					continue
				}
				cost += l.stands(o, right, c, least-cost)
			}
			if cost < least {
				best, least, found = [2]project.Loudspeaker{left, right}, cost, true
			}
		}
		if found {
			break
		}
	}
	if !found {
		return false
	}
	l.cost += least
	l.set(k, best[0])
	if o >= 0 {
		s := l.d.Speakers[o]
		s.Model, s.At, s.Mount = best[1].Model, best[1].At, best[1].Mount
		l.set(o, s)
	}
	return true
}

func (l *placer) set(k int, s project.Loudspeaker) {
	l.d.Speakers[k] = s
	l.probe.Move(k, place.OneSpeaker(l.d, s, l.main))
	if !above(s.Label) {
		l.bed = append(l.bed, s.At.Vec())
	}
}

// stands returns what stands against loudspeaker k being s, 0 for nothing; once that
// is most or more, something no less than most.
func (l *placer) stands(k int, s project.Loudspeaker, c system.Channel, most float64) float64 {
	placed := place.OneSpeaker(l.d, s, l.main)
	at := s.At.Vec()
	cost := 0.0
	high := above(c.Label)
	if high && math.Abs(c.Azimuth) > 90 && at.X < l.last {
		cost += 10 * costSmall // nobody has it before them: rule behind-above
	}
	for _, e := range l.ears {
		if at.Dist(e.Vec) < l.p.limits.headToSpeaker {
			cost += costRule
		}
		if high {
			for _, b := range l.bed {
				angle := geometry.Angle(at.Sub(e.Vec), b.Sub(e.Vec))
				if e.main && angle < l.p.limits.apartMain*unit.Degree || angle < l.p.limits.apartLeast*unit.Degree {
					cost += costRule
				} else if angle < l.p.limits.apart*unit.Degree {
					cost += costSmall
				}
			}
		}
		if !covers(&placed, e.Vec) {
			if e.main || stageOf(c) == atScreen {
				cost += costRule
			} else {
				cost += costSmall
			}
		}
	}
	if cost >= most {
		return cost
	}
	l.probe.Move(k, placed)
	margin := float64(l.d.Criteria.Margin) + spareSight
	n := len(l.ears)
	for m := range n {
		i := (l.hard + m) % n
		l.p.paths++
		switch q := l.probe.Path(i, k); {
		case q.Verdict == sight.Blocked:
			cost += 200 - max(q.Clearance, -1)
		case q.Verdict == sight.Tight, q.Clearance < margin:
			cost += 20 + margin - q.Clearance
		}
		if cost >= most {
			l.hard = i
			break
		}
	}
	return cost
}

// covers reports whether ear is inside the nominal coverage of s, as the rules measure
// it.
func covers(s *place.Speaker, ear geometry.Vec) bool {
	const spare = 0.5 // degrees
	right, ok := s.Front.V.Sub(s.Axis.Mul(s.Front.V.Dot(s.Axis))).Unit()
	if !ok {
		return false
	}
	up := s.Axis.Cross(right)
	to := ear.Sub(s.At.Vec())
	across := math.Atan2(math.Abs(to.Dot(right)), to.Dot(s.Axis)) / unit.Degree
	tall := math.Asin(min(math.Abs(to.Dot(up))/to.Len(), 1)) / unit.Degree
	return across <= float64(s.Spec.CoverageH)/2-spare && tall <= float64(s.Spec.CoverageV)/2-spare
}
