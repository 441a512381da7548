// SPDX-License-Identifier: MIT

package practice

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

// need is the least height at which everyone who now sees a loudspeaker still does,
// with the design's margin where there is one now.
type need struct {
	height    float64 // of its reference point, metres
	elevation float64 // of it there, degrees from the main position
	allowed   float64 // elevation a build allowance higher
}

// surveyor works out what sight needs of the loudspeakers of a design.
type surveyor struct {
	c     *checker
	d     *project.Design
	probe *sight.Probe
	needs map[int]need
}

// people returns who surveys for the people set.
func (c *checker) people() *surveyor {
	if c.survey == nil {
		c.survey = &surveyor{c: c, d: c.d, probe: sight.ProbeOf(c.d, c.r), needs: map[int]need{}}
	}
	return c.survey
}

// everyone returns who surveys for the smallest listener behind the largest others that
// a plan is made for: somebody may have raised a loudspeaker for them.
func (c *checker) everyone() *surveyor {
	if c.surveyAll == nil {
		d := *c.d
		all := sight.WholeRange()
		d.Seating.Sitters.Listener = min(d.Seating.Sitters.Listener, all.Low)
		d.Seating.Sitters.Others = max(d.Seating.Sitters.Others, all.High)
		c.surveyAll = &surveyor{c: c, d: &d, probe: sight.NewProbe(&d), needs: map[int]need{}}
	}
	return c.surveyAll
}

// of returns what sight needs of loudspeaker k. Where no line is free now, that is the
// height as it is.
func (s *surveyor) of(k int) need {
	n, ok := s.needs[k]
	if !ok {
		n = s.find(k)
		s.needs[k] = n
	}
	return n
}

// find halves the heights between the ears and where loudspeaker k hangs, to a
// millimetre, for one seat after the other: all others need no more than the worst seat,
// and are only asked whether its height will do.
func (s *surveyor) find(k int) need {
	const fine = 0.001 // m
	l := s.d.Speakers[k]
	top := float64(l.At.Z)
	floor := min(s.c.r.Main.Z, top)
	free := s.free(k)
	hi := top
	if len(free) > 0 {
		hi = floor
	}
	// What stands in the way lower down may hang in the way higher up: ask until a height
	// will do for all in turn.
	for n, good := 0, 0; good < len(free) && hi < top; n = (n + 1) % len(free) {
		if s.still(free[n], k, hi) {
			good++
			continue
		}
		low := hi // too low
		lo := floor
		for hi = top; hi-lo > fine; {
			if mid := lo + (hi-lo)/2; mid > low && s.still(free[n], k, mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		good = 1
	}
	s.put(k, top)
	allowance := s.c.std.BuildAllowance().Good.Least()
	return need{hi, s.elevation(l, hi), s.elevation(l, min(hi+allowance, float64(s.c.d.Speakers[k].At.Z)))}
}

// sightline is a seat that sees a loudspeaker, and how far its path is clear, up to the
// design's margin, metres.
type sightline struct {
	seat int
	had  float64
}

// free returns the seats that see loudspeaker k, the nearest to being blocked first.
func (s *surveyor) free(k int) []sightline {
	free := make([]sightline, 0, len(s.c.r.Seats))
	for i := range s.c.r.Seats {
		if q := s.probe.Path(i, k); q.Verdict == sight.Clear || q.Verdict == sight.Tight {
			free = append(free, sightline{i, q.Clearance})
		}
	}
	slices.SortStableFunc(free, func(a, b sightline) int { return cmp.Compare(a.had, b.had) })
	for n := range free {
		free[n].had = min(free[n].had, float64(s.d.Criteria.Margin))
	}
	return free
}

// still reports whether a seat sees loudspeaker k at height z as well as now.
func (s *surveyor) still(l sightline, k int, z float64) bool {
	const rounding = 1e-9 // m
	s.put(k, z)
	q := s.probe.Path(l.seat, k)
	return q.Verdict != sight.Blocked && q.Clearance >= l.had-rounding
}

// put puts loudspeaker k at height z.
func (s *surveyor) put(k int, z float64) {
	room := s.probe.Room()
	if float64(room.Speakers[k].At.Z) == z {
		return
	}
	l := s.d.Speakers[k]
	l.At.Z = unit.Length(z)
	s.probe.Move(k, place.OneSpeaker(s.d, l, room.Main))
}

// elevation returns the elevation of a loudspeaker at a height, degrees.
func (s *surveyor) elevation(l project.Loudspeaker, z float64) float64 {
	p := l.At.Vec()
	p.Z = z
	_, el, _ := geometry.AzEl(p.Sub(s.c.r.Main))
	return el / unit.Degree
}

// raised reports whether a channel stands higher than is good, where that may be for
// the sake of sight.
func (c *checker) raised(h *heard) bool {
	switch c.layer(h.channel) {
	case Wide, Side, Rear:
		return h.v > h.bands.Good.Most()
	}
	return false
}

// spare is how much higher a channel stands than sight needs: of its loudspeakers the
// least, since one that must stand there holds the others.
type spare struct {
	degrees, metres float64
	need            need
	names           string
	speakers        []int
}

func (s *surveyor) spare(both []*heard) spare {
	c := s.c
	least := spare{degrees: math.Inf(1), metres: math.Inf(1)}
	for _, h := range both {
		for _, k := range h.speakers {
			n := s.of(k)
			if m := float64(c.d.Speakers[k].At.Z) - n.height; m < least.metres {
				least = spare{degrees: max(c.directions[k].el-n.allowed, 0), metres: max(m, 0), need: n}
			}
		}
	}
	return least
}

// weighRaise completes a remark on the elevation of a channel, or a pair, that is
// raised beyond good: it is settled where sight needs it, and says what sight does not.
func (c *checker) weighRaise(both []*heard, worst *heard, m *Remark) {
	if m.Grade == Good || !c.raised(worst) {
		return
	}
	s := c.people().spare(both)
	grade := c.std.Spare().Grade(s.degrees)
	_, on := c.limits["raise-spare"]
	forWhom := ""
	if m.Grade == Accepted && grade != Good {
		if all := c.everyone().spare(both); c.std.Spare().Grade(all.degrees) == Good {
			s, grade, forWhom = all, Good, " for everyone from small to tall"
		}
	}
	switch {
	case m.Grade == Accepted && on:
		why := "held to what sight needs"
		if grade == Good {
			why = "sight needs " + c.show(s.need.elevation) + forWhom
		}
		c.settle(m, worst.bands.Accepted.Limits, why)
		s.names, s.speakers = namesOf(both), slices.Clone(m.Speakers)
		c.spares = append(c.spares, s)
	case grade == Good:
		m.Text += "; sight needs " + c.show(s.need.elevation)
	default:
		m.Text += "; " + c.length(s.metres) + " more than sight needs"
	}
}

// raiseSpare tells of those that elevation accepts for the sake of sight.
func (c *checker) raiseSpare() {
	for _, s := range c.spares {
		m := c.graded(s.degrees, c.std.Spare())
		m.Speakers = s.speakers
		if s.metres < 0.0005 {
			m.Text = s.names + " as low as sight allows"
		} else {
			m.Text = s.names + " " + c.length(s.metres) + ", " + c.show(s.degrees) + ", more than sight needs"
		}
		m.Text += c.asksBands(c.std.Spare(), m.Grade)
		at := c.directions[s.speakers[0]]
		m.Mark = Mark{Kind: AngleMark, At: c.r.Main, From: c.toward(at.az, at.el-s.degrees, at.dist), To: at.at, Label: c.show(s.degrees)}
	}
}
