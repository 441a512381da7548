// SPDX-License-Identifier: MIT

package newroom

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/place"
	"earline/project/sight"
)

// What is kept between loudspeakers and people, and between a box and the walls. The
// rules set the limits (project/practice); a little more is kept here.
const (
	fromHead   = 1.02 // m: rule seat-loudspeaker
	fromWall   = 0.06 // m, of a box: rule loudspeaker-wall
	apart      = 20.5 // degrees from bed to height at an ear: rule separation
	spareSight = 0.005
	// tape is what the rules azimuth and elevation grant beyond a range, degrees, less
	// a little.
	tape = 0.8
	// aroundFrom is from where on loudspeakers of the bed stand around the seats and not
	// at the screen, degrees of azimuth.
	aroundFrom = 45
	// fiveChannels is how many channels 5.1 has.
	fiveChannels = 6
)

// placer places the loudspeakers of one arrangement.
type placer struct {
	p     *planner
	d     *project.Design
	probe *sight.Probe
	main  geometry.Vec
	ears  []geometry.Vec
	bed   []geometry.Vec // placed so far
	cost  float64        // of those placed so far
	hard  int            // the seat that was last found in trouble: looked at first
}

// loudspeakers gives d the loudspeakers of the planner's system and returns what they
// cost; false, and a design without all of them, once that is more than most.
func (p *planner) loudspeakers(d *project.Design, most float64) (float64, bool) {
	d.Models = models()
	for i := range d.Models {
		d.Models[i].Power = powers[0]
	}
	l := &placer{p: p, d: d, main: place.MainPoint(d)}
	d.Speakers = nil
	for _, c := range p.channels {
		if !c.LFE() {
			// Until it is placed it lies in a corner, in nobody's way.
			d.Speakers = append(d.Speakers, project.Loudspeaker{Label: c.Label, Model: boxModel, Mount: project.OnWall})
		}
	}
	l.probe = sight.NewProbe(d)
	for _, b := range l.probe.Room().Bodies {
		l.ears = append(l.ears, b.Ear())
	}
	// What is hardest to place first. The heights last: they keep away from the bed.
	for stage := range 3 {
		for k := range d.Speakers {
			if c := p.channelOf(d.Speakers[k].Label); c.Azimuth >= 0 && stageOf(c) == stage {
				if !l.place(k, c, most) {
					return l.cost, false
				}
			}
		}
	}
	for _, c := range p.channels {
		if c.LFE() {
			d.Speakers = append(d.Speakers, l.subwoofers(c)...)
		}
	}
	return l.cost, true
}

// stageOf orders the channels: around the seats, at the screen, above.
func stageOf(c bs2051.Channel) int {
	switch {
	case isAbove(c):
		return 2
	case c.Azimuth < aroundFrom:
		return 1
	}
	return 0
}

func isAbove(c bs2051.Channel) bool { return strings.HasPrefix(c.Label, "U") }

func (p *planner) channelOf(label string) bs2051.Channel {
	for _, c := range p.channels {
		if c.Label == label {
			return c
		}
	}
	return bs2051.Channel{}
}

// place puts loudspeaker k, on the left or in the middle, where it costs least, and
// its partner opposite; false when it would cost more than most with those before it.
func (l *placer) place(k int, c bs2051.Channel, most float64) bool {
	best, least := project.Loudspeaker{}, most-l.cost+1e-9
	found := false
	for _, s := range l.places(l.d.Speakers[k], c) {
		if s.cost >= least {
			break // they get no cheaper
		}
		if cost := s.cost + l.stands(k, s.Loudspeaker, c, least-s.cost); cost < least {
			best, least, found = s.Loudspeaker, cost, true
		}
	}
	if !found {
		return false
	}
	l.cost += least
	l.set(k, best)
	if c.Azimuth == 0 {
		return true
	}
	other := strings.Replace(best.Label, "+", "-", 1)
	for j := range l.d.Speakers {
		if l.d.Speakers[j].Label == other {
			best.Label = other
			best.At.Y = lengthOf(l.p.wide - float64(best.At.Y))
			l.set(j, best)
		}
	}
	return true
}

func (l *placer) set(k int, s project.Loudspeaker) {
	l.d.Speakers[k] = s
	l.probe.Move(k, place.OneSpeaker(l.d, s, l.main))
	if !strings.HasPrefix(s.Label, "U") {
		l.bed = append(l.bed, s.At.Vec())
	}
}

// option is a place with what it costs by itself.
type option struct {
	project.Loudspeaker
	cost float64
}

// steps returns from, what lies beside it in steps, and lo and hi, the nearest first.
func steps(from, lo, hi, step float64) []float64 {
	out := []float64{from}
	for by := step; from-by > lo || from+by < hi; by += step {
		if from+by < hi {
			out = append(out, from+by)
		}
		if from-by > lo {
			out = append(out, from-by)
		}
	}
	if hi > from {
		out = append(out, hi)
	}
	if lo < from {
		out = append(out, lo)
	}
	return out
}

// places returns where a loudspeaker of channel c may go, the cheapest first.
func (l *placer) places(s project.Loudspeaker, c bs2051.Channel) []option {
	var out []option
	add := func(cost float64, s project.Loudspeaker, ok bool) {
		if ok {
			out = append(out, option{s, cost})
		}
	}
	switch stageOf(c) {
	case 2:
		// Flush between 45 and 55 degrees up, where both the system and the rule for
		// flush models allow it; else a box under the ceiling that turns to its aim.
		for _, el := range [...]float64{48, 51, 46, 54} {
			for _, az := range steps(c.Azimuth, c.AzimuthMin, c.AzimuthMax, 5) {
				v, ok := l.inCeiling(s, az, el)
				add(0, v, ok)
			}
		}
		for _, el := range [...]float64{45, 50, 40, 36, 32, 54} {
			for _, az := range steps(c.Azimuth, c.AzimuthMin, c.AzimuthMax, 5) {
				v, ok := l.box(s, az, el, boxModel, project.OnCeiling)
				add(0.01, v, ok)
			}
		}
	case 1:
		for _, az := range steps(c.Azimuth, c.AzimuthMin, c.AzimuthMax, 2.5) {
			v, ok := l.behindScreen(s, az)
			add(0, v, ok)
		}
		for _, az := range steps(c.Azimuth, c.AzimuthMin, min(c.AzimuthMax, 40), 2.5) {
			v, ok := l.box(s, az, 0, frontModel, project.OnWall)
			add(0.02, v, ok)
			v, ok = l.box(s, az, 0, boxModel, project.OnWall)
			add(0.05, v, ok)
		}
	default:
		lo, hi := c.AzimuthMin-tape, c.AzimuthMax+tape
		if len(l.p.channels) == fiveChannels {
			lo, hi = c.AzimuthMin+0.1, c.AzimuthMax-0.1 // rule surround grants no tape's worth
		}
		for _, raise := range [...]float64{0, tape, 2, 4, 6, 8, 10, 12, 14, 15.5, 17, 19, 21, 23, 25, 28, 31, 34, 37} {
			cost := raise / 100
			if raise > c.ElevationMax+tape {
				cost += 1
			}
			if raise > 15 {
				cost += 1 // rule bed-raise
			}
			for _, az := range steps(c.Azimuth, lo, hi, 1.5) {
				v, ok := l.box(s, az, raise, boxModel, project.OnWall)
				add(cost, v, ok)
				v, ok = l.inWall(s, az, raise)
				add(cost+0.001, v, ok)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b option) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// stands returns what stands against loudspeaker k being s, 0 for nothing; once that
// is most or more, something no less than most.
func (l *placer) stands(k int, s project.Loudspeaker, c bs2051.Channel, most float64) float64 {
	placed := place.OneSpeaker(l.d, s, l.main)
	at := s.At.Vec()
	cost := 0.0
	for _, ear := range l.ears {
		if at.Dist(ear) < fromHead {
			cost += 2
		}
		if isAbove(c) {
			for _, b := range l.bed {
				if geometry.Angle(at.Sub(ear), b.Sub(ear)) < apart*unit.Degree {
					cost += 2
				}
			}
		}
		if !covers(&placed, ear) {
			cost += 2
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

// box puts a box that turns to the main position as far out as walls and ceiling let
// its corners go. It does not turn as it moves along its direction, so that this is
// linear.
func (l *placer) box(s project.Loudspeaker, az, el float64, model string, mount project.Mount) (project.Loudspeaker, bool) {
	s.Model, s.Mount = model, mount
	dir := geometry.Direction(az*unit.Degree, el*unit.Degree)
	s.At = project.PointOf(l.main.Add(dir))
	placed := place.OneSpeaker(l.d, s, l.main)
	over := 0.03 // m, under the ceiling
	far := math.Inf(1)
	for _, o := range cornersFrom(&placed) {
		q := l.main.Add(o)
		for _, lim := range [...]struct{ at, way, lo, hi float64 }{
			{q.X, dir.X, fromWall, l.p.long - fromWall},
			{q.Y, dir.Y, fromWall, l.p.wide - fromWall},
			{q.Z, dir.Z, 0.05, l.p.high - over},
		} {
			if lim.way > 1e-9 {
				far = min(far, (lim.hi-lim.at)/lim.way)
			} else if lim.way < -1e-9 {
				far = min(far, (lim.lo-lim.at)/lim.way)
			}
		}
	}
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	if mount == project.OnCeiling && l.p.high-at.Z > 0.45 {
		return s, false // a wall comes first
	}
	if az < 45 && mount == project.OnWall && at.X < float64(l.d.Screen.Distance)+0.1 {
		return s, false
	}
	return s, far > 0.5
}

// inWall puts a flush loudspeaker where its direction meets a wall.
func (l *placer) inWall(s project.Loudspeaker, az, el float64) (project.Loudspeaker, bool) {
	s.Model, s.Mount = wallModel, project.OnWall
	dir := geometry.Direction(az*unit.Degree, el*unit.Degree)
	far := math.Inf(1)
	if dir.X > 1e-9 {
		far = min(far, (l.p.long-l.main.X)/dir.X)
	}
	if dir.Y < -1e-9 {
		far = min(far, -l.main.Y/dir.Y)
	}
	if dir.Y > 1e-9 {
		far = min(far, (l.p.wide-l.main.Y)/dir.Y)
	}
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	// Its frame stays clear of corners and ceiling.
	corner := math.Hypot(min(at.X, l.p.long-at.X), min(at.Y, l.p.wide-at.Y))
	return s, corner > 0.25 && at.Z < l.p.high-0.25
}

// inCeiling puts a flush loudspeaker where its direction meets the ceiling.
func (l *placer) inCeiling(s project.Loudspeaker, az, el float64) (project.Loudspeaker, bool) {
	s.Model, s.Mount = ceilingModel, project.OnCeiling
	dir := geometry.Direction(az*unit.Degree, el*unit.Degree)
	at := l.main.Add(dir.Mul((l.p.high - l.main.Z) / dir.Z))
	s.At = rounded(at)
	s.At.Z = lengthOf(l.p.high)
	const edge = 0.25 // m
	return s, at.X > float64(l.d.Screen.Distance)+edge && at.X < l.p.long-edge && at.Y > edge && at.Y < l.p.wide-edge
}

// behindScreen puts a front just behind the screen.
func (l *placer) behindScreen(s project.Loudspeaker, az float64) (project.Loudspeaker, bool) {
	s.Model, s.Mount = frontModel, project.BehindScreen
	dir := geometry.Direction(az*unit.Degree, 0)
	s.At = project.PointOf(l.main.Add(dir))
	placed := place.OneSpeaker(l.d, s, l.main)
	foremost := math.Inf(-1)
	for _, o := range cornersFrom(&placed) {
		foremost = max(foremost, o.X)
	}
	const gap = 0.03 // m before it
	far := (float64(l.d.Screen.Distance) - gap - foremost - l.main.X) / dir.X
	at := l.main.Add(dir.Mul(far))
	s.At = rounded(at)
	for _, o := range cornersFrom(&placed) {
		if q := at.Add(o); q.X < 0.02 || q.Y < fromWall || q.Y > l.p.wide-fromWall {
			return s, false
		}
	}
	return s, true
}

// subwoofers returns two on the floor behind the screen, as evenly as two can be.
func (l *placer) subwoofers(c bs2051.Channel) []project.Loudspeaker {
	m := l.d.Models[len(l.d.Models)-1]
	x := float64(l.d.Screen.Distance) - 0.05
	var out []project.Loudspeaker
	for i, share := range [2]float64{0.25, 0.75} {
		y := min(max(share*l.p.wide, 0.3), l.p.wide-0.3)
		s := project.Loudspeaker{Label: c.Label, Model: subModel, Mount: project.OnFloor,
			At: rounded(geometry.V(x, y, float64(m.Height)/2)), Aim: project.Aim{Fixed: true, Azimuth: 180}}
		if i > 0 {
			s.Copy = "b"
		}
		out = append(out, s)
	}
	return out
}

// cornersFrom returns the corners of the box of s from its reference point.
func cornersFrom(s *place.Speaker) [8]geometry.Vec {
	var out [8]geometry.Vec
	h, b := s.Box.Half, s.Box.Basis
	for i := range out {
		u, v, w := h.X, h.Y, h.Z
		if i&1 > 0 {
			u = -u
		}
		if i&2 > 0 {
			v = -v
		}
		if i&4 > 0 {
			w = -w
		}
		out[i] = s.Box.Center.Add(b.World(geometry.V(u, v, w))).Sub(s.At.Vec())
	}
	return out
}

// rounded returns v in whole millimetres, as one builds.
func rounded(v geometry.Vec) project.Point {
	mm := func(x float64) unit.Length { return unit.Length(math.Round(x*1000) / 1000) }
	return project.Point{X: mm(v.X), Y: mm(v.Y), Z: mm(v.Z)}
}
