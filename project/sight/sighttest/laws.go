// SPDX-License-Identifier: MIT

// Package sighttest holds the laws that every result of sight obeys, whatever
// the room, for the tests of all that makes or uses one.
package sighttest

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/project/sight"
)

const (
	touch = 1e-6     // m: how deep a path enters what blocks it
	whole = 1 - 1e-6 // share from which a target counts as seen whole
	onTol = 1e-6     // m: how far off its line or surface a point may be by rounding
	// A view is blocked by what stands a hair over a line too, which may hide less
	// than the error of a share, about 1e-9.
	hair = 1e-3 // m
)

// TB is what Check needs of a test; *testing.T and *rapid.T have it.
type TB interface {
	Helper()
	Errorf(format string, args ...any)
}

// Breach is a law that a result breaks.
type Breach struct {
	Law  string // in a few words
	What string // where, with its figures
}

// Check fails the test for every law that r, the audit of d, breaks.
func Check(t TB, d *project.Design, r *sight.Result) {
	t.Helper()
	const most = 10
	all := Breaches(d, r)
	for i, b := range all {
		if i == most {
			t.Errorf("and %d more", len(all)-most)
			break
		}
		t.Errorf("law broken: %s: %s", b.Law, b.What)
	}
}

// Breaches returns every law that r, the audit of d, breaks.
func Breaches(d *project.Design, r *sight.Result) []Breach {
	c := &checker{d: d, r: r}
	for i := range r.Seats {
		for k := range r.Speakers {
			p := r.Pair(i, k)
			for n := range p.Paths {
				c.path(i, k, n)
			}
			c.pair(i, k)
		}
		c.view(i)
	}
	c.counts()
	return c.found
}

type checker struct {
	d     *project.Design
	r     *sight.Result
	found []Breach
}

// law notes a law that does not hold; what says where, with the figures.
func (c *checker) law(holds bool, law string, what func() string) {
	if !holds {
		c.found = append(c.found, Breach{law, what()})
	}
}

func (c *checker) path(i, k, n int) {
	r, sp := c.r, &c.r.Speakers[k]
	p := &r.Pair(i, k).Paths[n]
	what := func() string {
		return fmt.Sprintf("seat %s to %s, driver %d, %s ear: %v by %s, clearance %.9g, share %.9g", r.Seats[i].Name(), sp.Name(), p.Driver, p.Ear,
			p.Verdict, r.WordsFrom(i, p.Blocker), p.Clearance, p.Visible)
	}
	law := func(holds bool, law string) { c.law(holds, law, what) }

	ear := r.Bodies[i].EarLeft
	if n%2 == 1 {
		ear = r.Bodies[i].EarRight
	}
	law(p.Driver == n/2 && int(p.Ear) == n%2 && p.From == ear && p.To == sp.Drivers[n/2].Center,
		"paths run driver by driver, from the left ear, then from the right")
	blocked, clear := p.Verdict == sight.Blocked, p.Verdict == sight.Clear
	law(blocked || clear || p.Verdict == sight.Tight, "every path has a verdict")
	law(p.Visible >= 0 && p.Visible <= 1, "a share is from 0 to 1")
	law(p.Clearance <= sight.Far && !math.IsNaN(p.Clearance), "a clearance is capped")

	law(!blocked || p.Visible < 1, "blocked: not seen in full")
	law(!blocked || p.Blocker != sight.NoPart, "blocked: by something")
	law(p.Visible > 0 || blocked, "share 0: blocked")
	law(p.Visible >= whole || !clear, "share below 1: not clear")
	law(p.Visible >= whole || p.Blocker != sight.NoPart, "share below 1: by something")
	law(p.Clearance >= sight.Far || p.Blocker != sight.NoPart, "clearance: to something")
	margin := float64(c.d.Criteria.Margin)
	law(clear == (!blocked && p.Clearance >= margin && p.Visible >= whole), "clear: clearance of the margin or more, and seen whole")
	law(blocked || p.Clearance >= -touch, "entered: blocked")
	law(!blocked || p.Clearance < -touch || p.Visible == 0, "blocked: entered, or wholly hidden")

	seg := geometry.Segment{A: p.From, B: p.To}
	law(off(seg, p.Nearest) <= onTol, "the nearest point lies on the path")
	law(sign(p.Angle) == sign(p.Clearance), "the angle has the clearance's sign")
	if blocked && p.Clearance < -touch {
		law(off(seg, p.Enter) <= onTol, "the path is entered on the path")
		law(p.Enter == p.From || c.surface(i, p.Blocker, p.Enter) <= onTol, "the path is entered in the blocker's surface")
	}
}

func (c *checker) pair(i, k int) {
	r, sp := c.r, &c.r.Speakers[k]
	p := r.Pair(i, k)
	what := func() string {
		return fmt.Sprintf("seat %s to %s: %v, worst %d of %+v", r.Seats[i].Name(), sp.Name(), p.Verdict, p.Worst, p.Paths)
	}
	law := func(holds bool, law string) { c.law(holds, law, what) }
	law(len(p.Paths) == 2*len(sp.Drivers), "two paths a driver")
	first := 2 * sp.Spec.Deciding()
	if first < 0 {
		law(p.Worst == -1 && p.Verdict == sight.NotJudged, "nothing to decide: not judged")
		return
	}
	if p.Worst != first && p.Worst != first+1 {
		law(false, "the worst path is one of the deciding driver's two")
		return
	}
	w, o := &p.Paths[p.Worst], &p.Paths[2*first+1-p.Worst]
	law(w.Verdict > o.Verdict || w.Verdict == o.Verdict && w.Clearance <= o.Clearance, "the worst path is the worse of two")
	if sp.Spec.Subwoofer() {
		law(p.Verdict == sight.NotJudged, "subwoofers are not judged")
	} else {
		law(p.Verdict == w.Verdict, "a pair has its worst path's verdict")
	}
}

func (c *checker) view(i int) {
	r := c.r
	v := &r.Views[i]
	what := func() string {
		return fmt.Sprintf("picture from seat %s: %v by %s, clearance %.9g, share %.9g", r.Seats[i].Name(),
			v.Verdict, r.WordsFrom(i, v.Blocker), v.Clearance, v.Visible)
	}
	law := func(holds bool, law string) { c.law(holds, law, what) }

	center, right, up := c.d.Screen.Picture()
	blocked := v.Verdict == sight.Blocked
	law(v.Verdict != sight.NotJudged, "every view has a verdict")
	law(v.Visible >= 0 && v.Visible <= 1, "a share is from 0 to 1")
	law(v.Eye == r.Bodies[i].Eye(), "a view is from midway between the eyes")
	if v.Eye.X <= center.X || right.Y <= 0 || up.Z <= 0 {
		law(blocked && v.Visible == 0 && v.Blocker < 0, "no picture before the eye: blocked, by nothing, share 0")
		return
	}
	law(v.Clearance <= sight.Far && !math.IsNaN(v.Clearance), "a clearance is capped")
	law(!blocked || v.Blocker != sight.NoPart, "blocked: by something")
	law(v.Clearance >= sight.Far || v.Blocker != sight.NoPart, "clearance: to something")
	law(blocked == (v.Visible < whole || v.Clearance < -touch), "a view is blocked when some of it is hidden or something stands over a line")
	law(v.Clearance >= -hair || v.Visible < 1, "blocked: not seen in full")
	if !blocked {
		margin := float64(c.d.Criteria.PictureMargin)
		law((v.Verdict == sight.Clear) == (v.Clearance >= margin), "clear: clearance of the margin or more, and seen whole")
	}
	edge := geometry.Segment{A: center.Sub(up).Sub(right), B: center.Sub(up).Add(right)}
	law(off(edge, v.Toward) <= onTol, "the worst line leads to the lower edge")
	law(off(geometry.Segment{A: v.Eye, B: v.Toward}, v.Nearest) <= onTol, "the nearest point lies on the worst line")
	law(off(geometry.Segment{A: v.Eye, B: v.Hidden}, v.Enter) <= onTol, "what hides a point of the picture stands on the line to it")
}

func (c *checker) counts() {
	var pairs, views [4]int
	for i := range c.r.Pairs {
		pairs[c.r.Pairs[i].Verdict]++
	}
	for i := range c.r.Views {
		views[c.r.Views[i].Verdict]++
	}
	c.law(pairs == c.r.Count && len(c.r.Pairs) == len(c.r.Seats)*len(c.r.Speakers), "the pairs are counted", func() string { return fmt.Sprint(c.r.Count) })
	c.law(views == c.r.PictureCount && len(c.r.Views) == len(c.r.Seats), "the views are counted", func() string { return fmt.Sprint(c.r.PictureCount) })
}

// surface returns how far p is from the surface of blocker, for seat i.
func (c *checker) surface(i, blocker int, p geometry.Vec) float64 {
	switch {
	case blocker == sight.ShellPart:
		return c.shell(p)
	case blocker < 0 || blocker >= len(c.r.Parts):
		return math.Inf(1)
	}
	part := &c.r.Parts[blocker]
	s := c.r.Seats[i]
	if part.Kind == place.ShoulderPart && part.Row == s.Row && part.Seat == s.Number {
		// The sitter's own are the listener's.
		own := c.r.Bodies[i].Shoulders
		part = &place.Part{Ellipsoid: &own}
	}
	switch {
	case part.Box != nil:
		l := part.Box.Basis.Local(p.Sub(part.Box.Center))
		h := part.Box.Half
		return math.Abs(max(math.Abs(l.X)-h.X, math.Abs(l.Y)-h.Y, math.Abs(l.Z)-h.Z))
	case part.Cylinder != nil:
		l := part.Cylinder.Basis.Local(p.Sub(part.Cylinder.Center))
		return math.Abs(max(math.Hypot(l.X, l.Y)-part.Cylinder.Radius, math.Abs(l.Z)-part.Cylinder.Half))
	case part.Ellipsoid != nil:
		// To first order near the surface: |f| / |grad f|, f = |l/r|^2 - 1.
		e := part.Ellipsoid
		l, q := e.Basis.Local(p.Sub(e.Center)), e.Radii
		f := l.X*l.X/(q.X*q.X) + l.Y*l.Y/(q.Y*q.Y) + l.Z*l.Z/(q.Z*q.Z) - 1
		g := geometry.Vec{X: 2 * l.X / (q.X * q.X), Y: 2 * l.Y / (q.Y * q.Y), Z: 2 * l.Z / (q.Z * q.Z)}
		return math.Abs(f) / g.Len()
	case part.Triangle != nil:
		t := part.Triangle.Solid()
		gap, _ := t.Clearance(geometry.Segment{A: p, B: p})
		return math.Abs(gap)
	}
	return math.Inf(1)
}

// shell returns how far p is from the nearest wall, the floor or the ceiling.
// A surface may have been moved out to a driver flush in it, by up to 30 mm.
func (c *checker) shell(p geometry.Vec) float64 {
	const moved = 0.03
	d := min(c.d.Room.Polygon().Distance(geometry.Vec2{X: p.X, Y: p.Y}),
		math.Abs(p.Z), math.Abs(c.d.Room.CeilingAt(p.X, p.Y)-p.Z))
	return max(d-moved, 0)
}

// off returns the distance of p from seg.
func off(seg geometry.Segment, p geometry.Vec) float64 {
	d := seg.B.Sub(seg.A)
	t := 0.0
	if l := d.Len2(); l > 0 {
		t = min(max(p.Sub(seg.A).Dot(d)/l, 0), 1)
	}
	return seg.At(t).Dist(p)
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
