// SPDX-License-Identifier: MIT

package follow

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

const (
	// centredTol is how far from the middle something is centred still.
	centredTol = 0.001 // m
	// touchTol is how near a wall or a ceiling a box stands that is built against it.
	touchTol = 0.03 // m
	// bracket is how far off its wall a loudspeaker on a wall hangs at most, and
	// against how near to a wall one on the floor is set; usual, no source.
	bracket = 0.15 // m
	against = 0.05 // m
	// inWall is how far a door or a window may lie off the finished wall, as in
	// fit.Findings.
	inWall = 0.4 // m
	// hung is how far before its wall a screen is that hangs on it.
	hung = 0.1 // m
	// drop is how far below the ceiling something hangs from it at most.
	drop = 0.6 // m
)

// Shell brings along, in after, what the change of the shell from before to after
// takes along, and says what. But for the shell the two designs are alike. What has
// no well-defined way to go stays: all of it where the number of corners changes, or
// where Validate refuses the change itself.
func Shell(before, after *project.Design) Moved {
	if slices.Equal(before.Room.Footprint, after.Room.Footprint) && before.Room.Ceiling.Equal(after.Room.Ceiling) ||
		len(before.Room.Footprint) != len(after.Room.Footprint) || len(before.Room.Footprint) < 3 {
		return Moved{}
	}
	s := &shell{old: before, d: after, p: before.Room.Polygon(), q: after.Room.Polygon()}
	if s.p.Simple() != nil || s.q.Simple() != nil || s.p.Area()*s.q.Area() < 0 {
		return Moved{}
	}
	if after.Validate() != nil {
		return Moved{} // it is refused for what it is
	}
	for _, part := range []func(){s.screen, s.rows, s.features, s.speakers, s.treatments, s.zones, s.projector, s.lights} {
		kept, moved := after.Clone(), s.moved
		part()
		if after.Validate() != nil { // would go beyond what a design can be: it stays
			*after, s.moved = *kept, moved
		}
	}
	return s.moved
}

// shell is a change of the shell under way.
type shell struct {
	old, d *project.Design
	p, q   geometry.Polygon // the outline before and after, edge by edge
	moved  Moved
}

// middles returns the middle of the room across at x, before and after: of the
// stretch of floor in which y is.
func (s *shell) middles(x, y float64) (from, to float64, ok bool) {
	mid := func(p geometry.Polygon) (float64, bool) {
		lo, hi := p.Bounds()
		const off = 1e-3 // m, so that a wall across is not met along its face
		best, found := 0.0, false
		for _, span := range p.Spans(min(max(x, lo.X+off), hi.X-off)) {
			if m := (span[0] + span[1]) / 2; !found || math.Abs(m-y) < math.Abs(best-y) {
				best, found = m, true
			}
		}
		return best, found
	}
	from, ok1 := mid(s.p)
	to, ok2 := mid(s.q)
	return from, to, ok1 && ok2
}

// across returns how far what is centred at (x, y) moves to stay centred; 0 for what
// is not centred. The middle is that of the floor at x, or at the screen.
func (s *shell) across(x, y float64) float64 {
	for _, at := range [2]float64{x, float64(s.old.Screen.Distance)} {
		if from, to, ok := s.middles(at, y); ok && math.Abs(y-from) <= centredTol {
			return to - from
		}
	}
	return 0
}

// wallShift returns how far wall edge takes along what is at foot on it: square to
// the wall, and along it only where the wall has become too short, half being how
// far the thing reaches along it.
func (s *shell) wallShift(edge int, foot geometry.Vec2, half float64) geometry.Vec2 {
	a, b := s.p.Edge(edge)
	c, d := s.q.Edge(edge)
	if a == c && b == d {
		return geometry.Vec2{}
	}
	was, now := b.Sub(a), d.Sub(c)
	if !(was.Len() > 0) || !(now.Len() > 0) {
		return geometry.Vec2{}
	}
	u := was.Mul(1 / was.Len())
	t := foot.Sub(a).Dot(u)
	foot = a.Add(u.Mul(t))
	v := now.Mul(1 / now.Len())
	to := foot.Sub(c).Dot(v)
	lo, hi := min(half, max(t, 0)), now.Len()-min(half, max(was.Len()-t, 0))
	if lo <= hi {
		to = min(max(to, lo), hi)
	}
	return c.Add(v.Mul(to)).Sub(foot)
}

// near returns the walls that something stands against: those to which one of its
// corners is nearer than slack, or beyond which it is by less than inWall; the nearest
// first, and others only if they stand square to it.
func (s *shell) near(corners []geometry.Vec2, slack float64) []int {
	var middle geometry.Vec2
	for _, c := range corners {
		middle = middle.Add(c.Mul(1 / float64(len(corners))))
	}
	type wall struct {
		edge int
		off  float64
	}
	var found []wall
	for i := range s.p {
		a, b := s.p.Edge(i)
		run := b.Sub(a)
		long := run.Len()
		if t := middle.Sub(a).Dot(run) / long; t < -0.2 || t > long+0.2 {
			continue
		}
		n := s.p.InwardNormal(i)
		gap := math.Inf(1)
		for _, c := range corners {
			gap = min(gap, c.Sub(a).Dot(n))
		}
		if gap <= slack && gap >= -inWall {
			found = append(found, wall{i, math.Abs(gap)})
		}
	}
	slices.SortStableFunc(found, func(a, b wall) int { return cmp.Compare(a.off, b.off) })
	var out []int
	for _, w := range found {
		askew := func(k int) bool { return math.Abs(s.p.InwardNormal(k).Dot(s.p.InwardNormal(w.edge))) > 0.01 }
		if !slices.ContainsFunc(out, askew) {
			out = append(out, w.edge)
		}
	}
	return out
}

func (s *shell) screen() {
	sc := &s.d.Screen
	if by := s.across(float64(sc.Distance), float64(sc.Centre)); by != 0 {
		sc.Centre = shifted(sc.Centre, by)
	}
	at := geometry.Vec2{X: float64(s.old.Screen.Distance), Y: float64(s.old.Screen.Centre)}
	if edge, foot := s.p.Nearest(at); s.p.InwardNormal(edge).X > 0.9 && at.X-foot.X <= hung {
		sc.Distance = shifted(sc.Distance, s.wallShift(edge, at, 0).X)
	}
	s.moved.Screen = s.old.Screen.Centre != sc.Centre || s.old.Screen.Distance != sc.Distance
}

func (s *shell) rows() {
	for i := range s.d.Seating.Rows {
		r := &s.d.Seating.Rows[i]
		was := r.Centre
		r.Centre = shifted(was, s.across(float64(r.Distance), float64(was)))
		if was != r.Centre {
			s.moved.Rows++
		}
	}
	if m := &s.d.Seating.Main; m.Row == 0 {
		was := m.At.Y
		m.At.Y = shifted(was, s.across(float64(m.At.X), float64(was)))
		s.moved.Main = was != m.At.Y
	}
}

// tidy returns v free of the dust of binary fractions.
func tidy(v float64) unit.Length { return unit.Length(math.Round(v*1e7) / 1e7) }

// shifted returns v moved by so much; what does not move keeps every digit.
func shifted(v unit.Length, by float64) unit.Length {
	const still = 1e-9 // m
	if math.Abs(by) < still {
		return v
	}
	return tidy(float64(v) + by)
}

// floorCorners returns the corners of a box seen from above.
func floorCorners(b geometry.Box) []geometry.Vec2 {
	out := make([]geometry.Vec2, 0, 8)
	for _, c := range b.Corners() {
		out = append(out, geometry.Vec2{X: c.X, Y: c.Y})
	}
	return out
}

// ceilings returns the height of the ceiling before at one place and after at another.
func (s *shell) ceilings(from, to project.Point) (before, after float64) {
	return s.old.Room.CeilingAt(float64(from.X), float64(from.Y)), s.d.Room.CeilingAt(float64(to.X), float64(to.Y))
}

// placed returns the loudspeakers as they stood.
func (s *shell) placed() []place.Speaker { return place.Speakers(s.old) }
