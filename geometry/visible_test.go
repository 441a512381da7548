// SPDX-License-Identifier: MIT

package geometry_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// flat is a target for the slow way: points c + x u + y v, with |x| <= 1 and
// |y| <= width(x).
type flat struct {
	c, u, v geometry.Vec
	round   bool
	target  geometry.Target
}

func flatDisc(d geometry.Disc) flat {
	u, _ := d.Normal.Cross(geometry.V(0.31, 0.52, 0.79)).Unit()
	return flat{d.Center, u.Mul(d.Radius), d.Normal.Cross(u).Mul(d.Radius), true, d.Target()}
}

func flatRect(r geometry.Rect) flat { return flat{r.Center, r.U, r.V, false, r.Target()} }

func (f flat) at(x, y float64) geometry.Vec { return f.c.Add(f.u.Mul(x)).Add(f.v.Mul(y)) }

// scanned is the slow way to Visible: the mean over scan lines of the part that
// no solid hides. On a line each convex solid hides one stretch. Its ends are
// found by halving, by Hit alone; a stretch between the probes is looked for
// where Clearance is least.
func scanned(eye geometry.Vec, f flat, solids []geometry.Solid, lines int) float64 {
	seen, all := 0.0, 0.0
	for i := range lines {
		// Even in angle, so that the lines crowd where a disc ends.
		a := math.Pi * (float64(i) + 0.5) / float64(lines)
		x, weight, w := -math.Cos(a), math.Sin(a), 1.0
		if f.round {
			w = math.Sin(a)
		}
		var hidden [][2]float64
		for j := range solids {
			if lo, hi, ok := hiddenStretch(eye, f, &solids[j], x, w); ok {
				hidden = append(hidden, [2]float64{lo, hi})
			}
		}
		seen += weight * (2*w - unionLength(hidden))
		all += weight * 2 * w
	}
	return seen / all
}

func hiddenStretch(eye geometry.Vec, f flat, s *geometry.Solid, x, w float64) (lo, hi float64, ok bool) {
	hit := func(y float64) bool {
		_, _, ok := s.Hit(geometry.Segment{A: eye, B: f.at(x, y)})
		return ok
	}
	const probes = 24
	y := func(i int) float64 { return -w + 2*w*float64(i)/probes }
	inside, found := 0.0, false
	for i := range probes + 1 {
		if hit(y(i)) {
			inside, found = y(i), true
			break
		}
	}
	if !found {
		clear := func(v float64) float64 {
			d, _ := s.Clearance(geometry.Segment{A: eye, B: f.at(x, v)})
			return d
		}
		at, best := 0, math.Inf(1)
		for i := range probes + 1 {
			if d := clear(y(i)); d < best {
				at, best = i, d
			}
		}
		g := (math.Sqrt(5) - 1) / 2
		a, b := y(max(at-1, 0)), y(min(at+1, probes))
		for range 40 {
			c, d := b-g*(b-a), a+g*(b-a)
			if clear(c) < clear(d) {
				b = d
			} else {
				a = c
			}
			if hit((a + b) / 2) {
				inside, found = (a+b)/2, true
				break
			}
		}
	}
	if !found {
		return 0, 0, false
	}
	end := func(out float64) float64 {
		if hit(out) {
			return out
		}
		in := inside
		for range 26 {
			if m := (in + out) / 2; hit(m) {
				in = m
			} else {
				out = m
			}
		}
		return in
	}
	return end(-w), end(w), true
}

func unionLength(p [][2]float64) float64 {
	sum := 0.0
	for len(p) > 0 {
		first := 0
		for i := range p {
			if p[i][0] < p[first][0] {
				first = i
			}
		}
		lo, hi := p[first][0], p[first][1]
		p[first] = p[len(p)-1]
		p = p[:len(p)-1]
		for grown := true; grown; {
			grown = false
			for i := 0; i < len(p); i++ {
				if p[i][0] <= hi {
					hi = math.Max(hi, p[i][1])
					p[i] = p[len(p)-1]
					p = p[:len(p)-1]
					grown = true
					i--
				}
			}
		}
		sum += hi - lo
	}
	return sum
}

// scene is a random eye, target and one to four solids between or across them.
func randomScene(r *rand.Rand) (eye geometry.Vec, f flat, solids []geometry.Solid) {
	eye = geomtest.Point(r, 1)
	center := eye.Add(geomtest.Unit(r).Mul(geomtest.Between(r, 1, 4)))
	size := geomtest.Size(r, 0.03, 1.5)
	if r.IntN(2) == 0 {
		f = flatDisc(geometry.Disc{Center: center, Normal: geomtest.Unit(r), Radius: size})
	} else {
		u := geomtest.Unit(r).Mul(size)
		v := geomtest.Unit(r).Mul(geomtest.Size(r, 0.3, 1) * size)
		f = flatRect(geometry.Rect{Center: center, U: u, V: v})
	}
	for range 1 + r.IntN(4) {
		// Near the line from the eye to the target, now and then past its end.
		at := eye.Lerp(center, geomtest.Between(r, 0.1, 1.1)).Add(geomtest.Point(r, 0.6*size+0.1))
		k := geomtest.Size(r, 0.1, 1)
		switch r.IntN(3) {
		case 0:
			e := geomtest.Ellipsoid(r)
			e.Center, e.Radii = at, e.Radii.Mul(k)
			solids = append(solids, e.Solid())
		case 1:
			b := geomtest.Box(r)
			b.Center, b.Half = at, b.Half.Mul(k)
			solids = append(solids, b.Solid())
		default:
			c := geomtest.Cylinder(r)
			c.Center, c.Radius, c.Half = at, c.Radius*k, c.Half*k
			solids = append(solids, c.Solid())
		}
	}
	return eye, f, solids
}

func TestVisibleAgainstScanLines(t *testing.T) {
	const tol = 9e-5 // of the target: what the scan lines err by, not Visible
	n, lines := 2000, 250
	if testing.Short() {
		n = 150
	}
	r := geomtest.Rand(t)
	var sc geometry.Scratch
	partly := 0
	worst := 0.0
	for i := range n {
		eye, f, solids := randomScene(r)
		got := sc.Visible(eye, f.target, solids, nil)
		want := scanned(eye, f, solids, lines)
		diff := math.Abs(got - want)
		if diff > tol { // too few lines?
			want = scanned(eye, f, solids, 4000)
			diff = math.Abs(got - want)
		}
		geomtest.Within(t, fmt.Sprintf("scene %d: eye %v, %+v, %+v", i, eye, f, solids), got, want, tol)
		worst = math.Max(worst, diff)
		if got > 0 && got < 1 {
			partly++
		}
	}
	t.Logf("%d of %d partly hidden; worst difference %.2g", partly, n, worst)
	if partly < n/3 {
		t.Errorf("only %d of %d scenes are partly hidden", partly, n)
	}
}
