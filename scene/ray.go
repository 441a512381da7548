// SPDX-License-Identifier: MIT

package scene

import (
	"cmp"
	"math"
	"slices"

	"earline/geometry"
	"earline/project/sight"
)

// sightline is one straight path to draw.
type sightline struct {
	from, to geometry.Vec
	stop     geometry.Vec // where it is blocked or nearest to it
	verdict  sight.Verdict
	blocker  int
	clear    float64 // clearance, metres
	chosen   bool    // belongs to what is selected
	own      bool    // starts at the camera, so only its far end can be seen
}

// MaxRays is how many rays are drawn that are not selected: nobody reads more, and a
// room at the limits of a design has some twenty thousand.
const MaxRays = 400

// worst returns the rays of all that are drawn, in their order: the selected and of the
// others the worst.
func worst(all []sightline) []sightline {
	var others []int
	for i := range all {
		if !all[i].chosen {
			others = append(others, i)
		}
	}
	if len(others) <= MaxRays {
		return all
	}
	slices.SortStableFunc(others, func(a, b int) int {
		return cmp.Or(cmp.Compare(all[b].verdict, all[a].verdict), cmp.Compare(all[a].clear, all[b].clear))
	})
	left := map[int]bool{}
	for _, i := range others[MaxRays:] {
		left[i] = true
	}
	var drawn []sightline
	for i := range all {
		if !left[i] {
			drawn = append(drawn, all[i])
		}
	}
	return drawn
}

// rays draws the judged paths. They differ without colour too: a clear path is a
// plain line, a tight one has dashes in two colours, a blocked one is a thick rod with a
// core up to what blocks it, with a ring there and dots beyond.
func (s *painter) rays() {
	if s.r == nil || s.o.Rays == NoRays {
		return
	}
	plain, top := &Lines{Name: "rays"}, &Lines{Name: "rays selected", OnTop: true}
	rods := &Mesh{Name: "blocked rays", Unlit: true}
	casings := &Mesh{Name: "blocked casings", Unlit: true, OneSided: true}
	marks := &Mesh{Name: "blocked marks", Unlit: true, OnTop: true}
	var chosen, other []int // blockers
	var seen Looks          // those that are drawn
	all := s.sightlines()
	rays := worst(all)
	s.list.Rays, s.list.AllRays = len(rays), len(all)
	for _, ray := range rays {
		l := plain
		if ray.chosen {
			l = top
		}
		c := s.ink.Verdicts[ray.verdict]
		seen[ray.verdict] = c
		switch ray.verdict {
		case sight.Clear:
			l.stroke(ray.from, ray.to, c.Ray)
		case sight.Tight:
			l.twoDashes(ray.from, ray.to, 0.09, 0.06, c)
			tick(l, ray, c.Ray)
		case sight.Blocked:
			if !ray.own {
				rod(rods.pen(), ray.from, ray.stop, 0.008, c.Gap)
				rod(casings.pen(), ray.from, ray.stop, 0.017, c.Ray)
			}
			l.twoDashes(ray.stop, ray.to, 0.05, 0.02, c)
			target(marks.pen(), ray, c)
			if ray.chosen {
				chosen = append(chosen, ray.blocker)
			} else {
				other = append(other, ray.blocker)
			}
		}
	}
	// Of a casing only the far faces show, which leaves its core free.
	for i := 0; i+2 < len(casings.Index); i += 3 {
		casings.Index[i], casings.Index[i+1] = casings.Index[i+1], casings.Index[i]
	}
	for i, n := range casings.Nor {
		casings.Nor[i] = -n
	}
	s.addLines(plain)
	s.addLines(top)
	s.add(casings)
	s.add(rods)
	s.add(s.highlight("blockers", 0.20, other))
	s.add(s.highlight("blockers selected", 0.45, chosen))
	s.add(marks)
	if s.o.Labels {
		s.list.Legend = s.ink.legend(seen)
	}
}

// sightlines returns the paths to draw: one for each pair of seat and
// loudspeaker, the worst, and one for each seat's view of the picture.
func (s *painter) sightlines() []sightline {
	var out []sightline
	r, n := s.r, len(s.r.Speakers)
	pairs := len(r.Pairs) >= len(r.Seats)*n
	for i := range r.Seats {
		for k := 0; k < n && pairs; k++ {
			pair := r.Pair(i, k)
			if pair.Verdict == sight.NotJudged || pair.Deciding() == nil {
				continue
			}
			p := pair.Deciding()
			ray := sightline{from: p.From, to: p.To, stop: p.Enter, verdict: pair.Verdict, blocker: p.Blocker, clear: p.Clearance,
				chosen: s.chosen(i, k), own: i == s.o.FromSeat}
			if pair.Verdict == sight.Tight {
				ray.stop = p.Nearest
			}
			if s.shown(ray) {
				out = append(out, ray)
			}
		}
		if i < len(r.Views) {
			v := r.Views[i]
			ray := sightline{from: v.Eye, to: v.Hidden, stop: v.Enter, verdict: v.Verdict, blocker: v.Blocker, clear: v.Clearance,
				chosen: s.chosen(i, None), own: i == s.o.FromSeat}
			if v.Verdict != sight.NotJudged && s.shown(ray) {
				out = append(out, ray)
			}
		}
	}
	return out
}

// chosen reports whether the path from seat i to loudspeaker k - None is the
// picture - belongs to what is selected.
func (s *painter) chosen(i, k int) bool {
	switch {
	case s.o.Seat == None && s.o.Speaker == None:
		return false
	case k == None:
		return s.o.Seat == i && s.o.Speaker == None
	}
	return (s.o.Seat == None || s.o.Seat == i) && (s.o.Speaker == None || s.o.Speaker == k)
}

func (s *painter) shown(r sightline) bool {
	if !r.from.Finite() || !r.to.Finite() || !r.stop.Finite() {
		return false
	}
	return r.chosen || !s.o.Only && (s.o.Rays == All || r.verdict > sight.Clear)
}

// tick draws a short cross stroke at the point of a tight path that is nearest to
// its blocker.
func tick(l *Lines, ray sightline, c RGB) {
	w, ok := ray.to.Sub(ray.from).Unit()
	if !ok {
		return
	}
	u := across(w)
	v := w.Cross(u)
	for _, d := range [2]geometry.Vec{u, v} {
		l.stroke(ray.stop.Sub(d.Mul(0.035)), ray.stop.Add(d.Mul(0.035)), c)
	}
}

// rod draws a four-sided bar from a to b.
func rod(p pen, a, b geometry.Vec, radius float64, c RGB) {
	w, ok := b.Sub(a).Unit()
	if !ok {
		return
	}
	p.limb([]joint{{a, radius, c}, {b, radius, c}}, across(w), 4)
}

// target draws a ring about the point where a path is blocked, in three bands.
func target(p pen, ray sightline, c Look) {
	w, ok := ray.to.Sub(ray.from).Unit()
	if !ok {
		return
	}
	u := across(w)
	v := w.Cross(u)
	const n = 16
	for _, band := range [3]struct {
		in, out float64 // m
		c       RGB
	}{{0.036, 0.044, c.Ray}, {0.044, 0.056, c.Gap}, {0.056, 0.064, c.Ray}} {
		for j := range n {
			s0, c0 := math.Sincos(2 * math.Pi * float64(j) / n)
			s1, c1 := math.Sincos(2 * math.Pi * float64(j+1) / n)
			at := func(s, c, r float64) geometry.Vec { return ray.stop.Add(u.Mul(c * r)).Add(v.Mul(s * r)) }
			p.plain(at(s0, c0, band.in), at(s0, c0, band.out), at(s1, c1, band.out), at(s1, c1, band.in), band.c)
		}
	}
}

// highlight returns tinted copies of the blockers, a little larger.
func (s *painter) highlight(name string, alpha float32, blockers []int) *Mesh {
	m := &Mesh{Name: name, Alpha: alpha, Unlit: true, OnTop: true, OneSided: true}
	const more = 0.006 // m
	c := s.ink.Hides
	done := make(map[int]bool)
	for _, i := range blockers {
		if i < 0 || i >= len(s.r.Parts) || done[i] {
			continue
		}
		done[i] = true
		switch part := s.r.Parts[i]; {
		case part.Ellipsoid != nil:
			e := part.Ellipsoid
			m.pen().to(e.Center, e.Basis).ball(e.Radii.Add(geometry.Vec{X: more, Y: more, Z: more}), 16, c)
		case part.Cylinder != nil:
			c := part.Cylinder
			m.pen().to(c.Center, c.Basis).drum(c.Radius+more, c.Half+more, s.ink.Hides)
		case part.Box != nil:
			b := part.Box
			m.pen().to(b.Center, b.Basis).bevel(b.Half.Add(geometry.Vec{X: more, Y: more, Z: more}), 0.01, plainSkin(c))
		case part.Triangle != nil:
			t := part.Triangle
			if n, ok := t.Normal(); ok { // seen from both sides
				up := n.Mul(more)
				m.pen().facet(t[0].Add(up), t[1].Add(up), t[2].Add(up), n, c)
				m.pen().facet(t[0].Sub(up), t[2].Sub(up), t[1].Sub(up), n.Neg(), c)
			}
		}
	}
	return m
}
