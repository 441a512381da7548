// SPDX-License-Identifier: MIT

package sight_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/project/sight/sighttest"
)

// meets is the test of Möller and Trumbore 1997, "Fast, Minimum Storage Ray/Triangle
// Intersection": nothing of the kernel.
func meets(from, to geometry.Vec, t geometry.Triangle) bool {
	d, e1, e2 := to.Sub(from), t[1].Sub(t[0]), t[2].Sub(t[0])
	p := d.Cross(e2)
	det := e1.Dot(p)
	if det == 0 {
		return false
	}
	s := from.Sub(t[0])
	u := s.Dot(p) / det
	q := s.Cross(e1)
	v, at := d.Dot(q)/det, e2.Dot(q)/det
	return u >= 0 && v >= 0 && u+v <= 1 && at >= 0 && at < 1-1e-6
}

// rubble returns triangles among the seats of a room.
func rubble(r *rand.Rand, room project.Room, n int) (m project.Mesh) {
	lo, hi := room.Polygon().Bounds()
	for range n {
		c := geometry.V(lo.X+(hi.X-lo.X)*(0.1+0.8*r.Float64()), lo.Y+(hi.Y-lo.Y)*r.Float64(), 0.3+1.2*r.Float64())
		for range 3 {
			m.Points = append(m.Points, c.Add(geometry.V(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(0.7)))
		}
		k := len(m.Points)
		m.Triangles = append(m.Triangles, [3]int{k - 3, k - 2, k - 1})
	}
	return m
}

// with returns d with m as an obstacle in it.
func with(d *project.Design, m project.Mesh) *project.Design {
	d = d.Clone()
	b := project.Backdrop{Name: "rubble", Obstacle: true}
	b.SetMesh(m)
	d.Backdrops = append(d.Backdrops, b)
	return d
}

// Rays cast against the triangles alone agree with what sight says of a room with
// triangles in it, beside the same room without: a path that was clear is blocked by
// the backdrop exactly where a ray meets one of them, and the share of a picture seen
// whole before is that which rays find. In rooms of all kinds, and by every law.
func TestBackdropsHideWhatRaysSay(t *testing.T) {
	paths, blocked, partly, views := 0, 0, 0, 0
	for seed := range uint64(43) {
		d := projecttest.Room(seed)
		if seed >= 40 {
			d, _ = file.Demo([]string{"small", "two-row", "large"}[seed-40])
		}
		r := rand.New(rand.NewPCG(seed, 7))
		m := rubble(r, d.Room, 20)
		e := with(d, m)
		if err := e.Validate(); err != nil {
			t.Fatal(err)
		}
		placed := e.Backdrops[0].Placed() // rounded, as it is kept
		hit := func(from, to geometry.Vec) bool {
			for k := range placed.Triangles {
				if meets(from, to, placed.Triangle(k)) {
					return true
				}
			}
			return false
		}
		was, is := sight.Audit(d), sight.Audit(e)
		sighttest.Check(t, e, is)
		for n := range is.Pairs {
			for k := range is.Pairs[n].Paths {
				p, q := &was.Pairs[n].Paths[k], &is.Pairs[n].Paths[k]
				if p.Verdict == sight.Blocked || p.Visible < 1-1e-9 {
					continue
				}
				paths++
				if math.Abs(q.Clearance) < 1e-5 {
					continue // either will do
				}
				met := hit(q.From, q.To)
				if met {
					blocked++
				}
				if met != (q.Clearance < 0) {
					t.Errorf("room %d, pair %d path %d: a ray meets a triangle %v, clearance %v", seed, n, k, met, q.Clearance)
				}
				if met && (q.Verdict != sight.Blocked || q.Blocker < 0 || is.Parts[q.Blocker].String() != "backdrop rubble") {
					t.Errorf("room %d, pair %d path %d: %v, hidden by %d", seed, n, k, q.Verdict, q.Blocker)
				}
			}
		}
		center, right, up := d.Screen.Picture()
		for i := range is.Views {
			if was.Views[i].Visible < 1-1e-9 || was.Views[i].Verdict == sight.Blocked {
				continue
			}
			views++
			const n = 64
			seen := 0
			for a := range n {
				for b := range n {
					to := center.Add(right.Mul((float64(a)+0.5)/n*2 - 1)).Add(up.Mul((float64(b)+0.5)/n*2 - 1))
					if !hit(is.Views[i].Eye, to) {
						seen++
					}
				}
			}
			share := float64(seen) / (n * n)
			if share < 1 {
				partly++
			}
			// Every side of every triangle's shadow runs through some two hundred cells at
			// most, and half a cell is what each may err by; those errors nearly cancel.
			if math.Abs(share-is.Views[i].Visible) > 0.015 {
				t.Errorf("room %d, seat %d: sees %.4f of the picture, by rays %.4f", seed, i, is.Views[i].Visible, share)
			}
		}
	}
	t.Logf("%d paths, %d blocked; %d views, %d partly hidden", paths, blocked, views, partly)
	if blocked < 100 || partly < 10 {
		t.Error("too little of it blocked: the test looks at nothing")
	}
}

// Of pairs that are said to hold for everyone, none is blocked by the audit of any of a
// few people of the range, with the same rubble in the way.
func TestNobodyOfTheRangeIsBehindABackdrop(t *testing.T) {
	held, broken := 0, 0
	for seed := range uint64(4) {
		d, _ := file.Demo("two-row")
		d = d.Clone()
		d.Seating.Main = project.MainPosition{At: project.PointOf(sight.Audit(d).Main)} // for every listener alike
		e := with(d, rubble(rand.New(rand.NewPCG(seed, 3)), d.Room, 6))
		all, err := sight.RangeFor(t.Context(), e, sight.RangeOptions{Low: 5, High: 95})
		if err != nil {
			t.Fatal(err)
		}
		for _, who := range [][2]float64{{5, 95}, {50, 50}, {95, 5}, {5, 5}, {95, 95}, {30, 80}} {
			one := e.Clone()
			one.Seating.Sitters.Listener, one.Seating.Sitters.Others = who[0], who[1]
			r := sight.Audit(one)
			for i := range r.Seats {
				for k := range r.Speakers {
					p := r.Pair(i, k)
					if p.Worst < 0 {
						continue
					}
					q := all.Pair(i, k)
					gap := p.Paths[p.Worst].Clearance
					if q.Certified && q.Holds {
						held++
						if gap < -1e-6 {
							t.Errorf("room %d, %v: seat %d, loudspeaker %d holds by %v and is blocked by %v", seed, who, i, k, q.Lower, -gap)
						}
					} else {
						broken++
					}
				}
			}
		}
	}
	t.Logf("%d held, %d not", held, broken)
	if held < 50 || broken < 5 {
		t.Error("too little of either: the test looks at nothing")
	}
}

// The same triangles in another order, and split over two backdrops, are the same room.
func TestTheOrderOfTrianglesMeansNothing(t *testing.T) {
	d, _ := file.Demo("two-row")
	m := rubble(rand.New(rand.NewPCG(5, 5)), d.Room, 30)
	whole := sight.Audit(with(d, m))
	half := m
	half.Triangles = slices.Clone(m.Triangles[:11])
	rest := m
	rest.Triangles = slices.Clone(m.Triangles[11:])
	slices.Reverse(rest.Triangles)
	split := sight.Audit(with(with(d, rest), half))
	for n := range whole.Pairs {
		for k := range whole.Pairs[n].Paths {
			p, q := &whole.Pairs[n].Paths[k], &split.Pairs[n].Paths[k]
			if math.Abs(p.Clearance-q.Clearance) > 1e-9 || math.Abs(p.Visible-q.Visible) > 1e-9 || p.Verdict != q.Verdict {
				t.Fatalf("pair %d path %d: %v %v %v, split %v %v %v", n, k, p.Clearance, p.Visible, p.Verdict, q.Clearance, q.Visible, q.Verdict)
			}
		}
	}
}

// A box of twelve triangles hides what a column of the same size hides.
func TestABoxOfTrianglesIsABox(t *testing.T) {
	d, _ := file.Demo("two-row")
	f := project.Feature{Kind: project.Column, Name: "box", At: project.Point{X: 3, Y: 1.6, Z: 0.2}, Length: 0.5, Width: 0.4, Height: 1.1, Turn: 20}
	c := f.Box().Corners()
	m := project.Mesh{Points: c[:]}
	for _, q := range [6][4]int{{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int{q[0], q[1], q[2]}, [3]int{q[0], q[2], q[3]})
	}
	solid := d.Clone()
	solid.Room.Features = append(solid.Room.Features, f)
	want, got := sight.Audit(solid), sight.Audit(with(d, m))
	blocked := 0
	for n := range want.Pairs {
		for k := range want.Pairs[n].Paths {
			p, q := &want.Pairs[n].Paths[k], &got.Pairs[n].Paths[k]
			if p.Verdict == sight.Blocked {
				blocked++
			}
			const rounded = 3e-4 // m: its corners are kept to a tenth of a millimetre
			if p.Clearance > rounded && math.Abs(p.Clearance-q.Clearance) > rounded || math.Abs(p.Visible-q.Visible) > 0.02 || p.Verdict != q.Verdict && math.Abs(p.Clearance) > rounded {
				t.Errorf("pair %d path %d: box %v %v %v, triangles %v %v %v", n, k, p.Verdict, p.Clearance, p.Visible, q.Verdict, q.Clearance, q.Visible)
			}
		}
	}
	for i := range want.Views {
		if v, w := &want.Views[i], &got.Views[i]; math.Abs(v.Visible-w.Visible) > 0.005 {
			t.Errorf("seat %d sees %v, of triangles %v", i, v.Visible, w.Visible)
		}
	}
	if blocked == 0 {
		t.Error("the box hides nothing: the test looks at nothing")
	}
}

// What stands in the way is named by the name that the user gave it.
func TestABackdropIsNamedWhereItHides(t *testing.T) {
	d, _ := file.Demo("small")
	m := project.Mesh{Points: []geometry.Vec{{X: 1.5, Y: -9, Z: -9}, {X: 1.5, Y: 30, Z: -9}, {X: 1.5, Y: 0, Z: 30}}, Triangles: [][3]int{{0, 1, 2}}}
	e := with(d, m)
	text := fmt.Sprint(sight.Audit(e).Report(e))
	if !strings.Contains(text, "backdrop rubble") {
		t.Error(text)
	}
}

// Two thousand triangles in the large demo.
func BenchmarkAuditBackdrop(b *testing.B) {
	d, _ := file.Demo("large")
	e := with(d, furniture(d.Room))
	b.ResetTimer()
	for b.Loop() {
		sight.Audit(e)
	}
}

// furniture is a net of two thousand triangles across the room under the ears, in the
// order in which they lie together.
func furniture(room project.Room) (m project.Mesh) {
	lo, hi := room.Polygon().Bounds()
	const n = 31
	for i := range n + 1 {
		for k := range n + 1 {
			m.Points = append(m.Points, geometry.V(lo.X+(hi.X-lo.X)*float64(i)/n, lo.Y+(hi.Y-lo.Y)*float64(k)/n, 0.4))
		}
	}
	for i := range n {
		for k := range n {
			a := i*(n+1) + k
			m.Triangles = append(m.Triangles, [3]int{a, a + 1, a + n + 2}, [3]int{a, a + n + 2, a + n + 1})
		}
	}
	return m
}

// The same for everyone.
func BenchmarkRangeBackdrop(b *testing.B) {
	d, _ := file.Demo("large")
	e := with(d, furniture(d.Room))
	b.ResetTimer()
	for b.Loop() {
		if _, err := sight.Range(b.Context(), e); err != nil {
			b.Fatal(err)
		}
	}
}

// The wall of a scan on which a loudspeaker hangs carries it: it is no more in the way of
// it than the room's own wall is, nor for anyone of the range; set in its plane, no more
// either.
func TestAScannedWallCarriesWhatHangsOnIt(t *testing.T) {
	d, _ := file.Demo("small")
	k := slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Label == "M+110" })
	was := sight.Audit(d)
	sp := was.Speakers[k]
	back := sp.At.Vec().Sub(sp.Front.W.Mul(float64(sp.Spec.Depth)))
	for name, through := range map[string]geometry.Vec{"behind": back, "in front": sp.Drivers[sp.Spec.Deciding()].Center} {
		u, v := sp.Front.U.Mul(9), sp.Front.V.Mul(9)
		m := project.Mesh{Points: []geometry.Vec{through.Sub(u).Sub(v), through.Add(u.Mul(3)).Sub(v), through.Sub(u).Add(v.Mul(3))}, Triangles: [][3]int{{0, 1, 2}}}
		e := with(d, m)
		if err := e.Validate(); err != nil {
			t.Fatal(err)
		}
		is := sight.Audit(e)
		all, err := sight.Range(t.Context(), e)
		if err != nil {
			t.Fatal(err)
		}
		before, err := sight.Range(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		for i := range is.Seats {
			p, q := was.Pair(i, k), is.Pair(i, k)
			if p.Verdict != q.Verdict {
				t.Errorf("%s, seat %d: %v, with the wall %v by %.4f, sees %.3f", name, i, p.Verdict, q.Verdict, q.Paths[q.Worst].Clearance, q.Paths[q.Worst].Visible)
			}
			if a, b := before.Pair(i, k), all.Pair(i, k); a.Holds != b.Holds {
				t.Errorf("%s, seat %d: held %v, with the wall %v", name, i, a.Holds, b.Holds)
			}
		}
	}
}
