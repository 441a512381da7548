// SPDX-License-Identifier: MIT

package oracle

import (
	"fmt"
	"math"
)

// Solid is a box, an ellipsoid or a round column that can stand in the way.
type Solid struct {
	// Kind is head, neck, shoulders, pan, back, headrest, arm, platform, feature,
	// screen, projector or box.
	Kind string
	// Row and Seat count from 1 and are 0 where they mean nothing. Index is that
	// of a feature or a loudspeaker.
	Row, Seat, Index int
	Round            bool // an ellipsoid
	Column           bool // a cylinder about its third axis
	Centre           Vec
	Axes             Matrix
	Half             [3]float64 // along the axes
	ball             float64    // radius about Centre that holds it
}

// String names s by kind and place.
func (s *Solid) String() string {
	switch s.Kind {
	case "feature", "box":
		return fmt.Sprintf("%s %d", s.Kind, s.Index)
	case "shell", "screen", "projector":
		return s.Kind
	}
	return fmt.Sprintf("%s of row %d seat %d", s.Kind, s.Row, s.Seat)
}

func ellipsoid(kind string, f frame, x, y, z float64) Solid {
	return Solid{Kind: kind, Round: true, Centre: f.at, Axes: f.axes, Half: [3]float64{x, y, z}, ball: max(x, y, z)}
}

// box is by its whole sizes.
func box(kind string, f frame, x, y, z float64) Solid {
	return Solid{Kind: kind, Centre: f.at, Axes: f.axes, Half: [3]float64{x / 2, y / 2, z / 2},
		ball: math.Sqrt(x*x+y*y+z*z) / 2}
}

// column is by its diameter and its height.
func column(kind string, f frame, across, high float64) Solid {
	return Solid{Kind: kind, Column: true, Centre: f.at, Axes: f.axes, Half: [3]float64{across / 2, across / 2, high / 2},
		ball: math.Hypot(across, high) / 2}
}

// aside returns the unit vector straight from the axis of a column to p.
func (s *Solid) aside(p Vec) Vec {
	d := p.sub(s.Centre)
	return d.sub(s.Axes[2].times(d.dot(s.Axes[2]))).unit()
}

// own returns p in the coordinates of s, metres.
func (s *Solid) own(p Vec) [3]float64 {
	d := p.sub(s.Centre)
	return [3]float64{d.dot(s.Axes[0]), d.dot(s.Axes[1]), d.dot(s.Axes[2])}
}

// Support returns how far s reaches along the unit vector n, from the origin.
func (s *Solid) Support(n Vec) float64 {
	var k [3]float64
	for i := range k {
		k[i] = s.Half[i] * n.dot(s.Axes[i])
	}
	if s.Round {
		return s.Centre.dot(n) + math.Sqrt(k[0]*k[0]+k[1]*k[1]+k[2]*k[2])
	}
	if s.Column {
		return s.Centre.dot(n) + math.Hypot(k[0], k[1]) + math.Abs(k[2])
	}
	return s.Centre.dot(n) + math.Abs(k[0]) + math.Abs(k[1]) + math.Abs(k[2])
}

// away returns how far p is from s; 0 inside.
func (s *Solid) away(p Vec) float64 {
	y := s.own(p)
	sum := 0.0
	if s.Column {
		return math.Hypot(max(math.Hypot(y[0], y[1])-s.Half[0], 0), max(math.Abs(y[2])-s.Half[2], 0))
	}
	if !s.Round {
		for i, v := range y {
			if o := math.Abs(v) - s.Half[i]; o > 0 {
				sum += o * o
			}
		}
		return math.Sqrt(sum)
	}
	// The nearest point x of the surface has y - x along the surface's normal:
	// y = x (1 + k/h^2) with one k for all axes, the root of a falling function
	// (Eberly, "Distance from a point to an ellipsoid"), found by halving.
	h := s.Half
	low, high := 0.0, 0.0
	for i := range y {
		y[i] = math.Abs(y[i])
		sum += y[i] * y[i] / (h[i] * h[i])
		low = max(low, h[i]*y[i]-h[i]*h[i])
		high += h[i] * h[i] * y[i] * y[i]
	}
	if sum <= 1 {
		return 0
	}
	high = math.Sqrt(high) // over every axis at once
	excess := func(k float64) (f, slope float64) {
		f = -1
		for i := range y {
			q := 1 / (h[i]*h[i] + k)
			w := h[i] * y[i] * q
			f += w * w
			slope -= 2 * w * w * q
		}
		return f, slope
	}
	k := low
	for range 60 {
		f, slope := excess(k)
		if f > 0 {
			low = k
		} else {
			high = k
		}
		next := k - f/slope
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-k) <= 1e-15*(1+k) {
			break
		}
		k = next
	}
	sum = 0
	for i := range y {
		w := k * y[i] / (h[i]*h[i] + k)
		sum += w * w
	}
	return math.Sqrt(sum)
}

const golden = 0.6180339887498949

// least returns the least value of f from 0 to 1 and where, for f that falls and
// then rises.
func least(f func(float64) float64, steps int) (value, at float64) {
	lo, hi := 0.0, 1.0
	a, b := hi-golden, lo+golden
	fa, fb := f(a), f(b)
	value, at = f(0), 0
	if v := f(1); v < value {
		value, at = v, 1
	}
	for range steps {
		if fa <= fb {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		}
	}
	if fa < value {
		value, at = fa, a
	}
	if fb < value {
		value, at = fb, b
	}
	return value, at
}

// Gap returns the distance of s from the straight line from a to b; 0 where they
// meet. The distance from a convex solid is convex along a line.
func (s *Solid) Gap(a, b Vec) float64 {
	d, _ := least(func(t float64) float64 { return s.away(a.to(b, t)) }, 50)
	return d
}

// Enter returns from where to where the line from a (0) to b (1) is inside s by
// more than touch; ok is false where it is not.
func (s *Solid) Enter(a, b Vec) (from, to float64, ok bool) {
	p, q := s.own(a), s.own(b)
	return s.enter(&p, &q, touch)
}

// enter is Enter in the coordinates of s, by more than least.
func (s *Solid) enter(p, q *[3]float64, least float64) (from, to float64, ok bool) {
	from, to = 0, 1
	if !s.Round {
		for i := range p {
			if s.Column && i < 2 {
				continue
			}
			h := s.Half[i] - least
			d := q[i] - p[i]
			if d == 0 {
				if p[i] >= h || p[i] <= -h {
					return 0, 0, false
				}
				continue
			}
			t, u := (-h-p[i])/d, (h-p[i])/d
			if t > u {
				t, u = u, t
			}
			from, to = max(from, t), min(to, u)
			if from >= to {
				return 0, 0, false
			}
		}
		if !s.Column {
			return from, to, true
		}
	}
	var a, b, c float64 // a t^2 + 2 b t + c < 0 inside
	c = -1
	for i := range p {
		if s.Column && i == 2 {
			continue
		}
		h := 1 / (s.Half[i] - least)
		d, e := (q[i]-p[i])*h, p[i]*h
		a += d * d
		b += d * e
		c += e * e
	}
	disc := b*b - a*c
	if s.Column && a == 0 { // along the axis
		return from, to, c < 0
	}
	if disc <= 0 || a == 0 {
		return 0, 0, false
	}
	root := math.Sqrt(disc)
	from, to = max(from, (-b-root)/a), min(to, (-b+root)/a)
	return from, to, from < to
}

// Inner returns how deep inside s the line from a to b comes, at least: no shift
// of it by less frees it.
func (s *Solid) Inner(a, b Vec) float64 {
	t, u, ok := s.Enter(a, b)
	if !ok {
		return 0
	}
	a, b = a.to(b, t), a.to(b, u)
	d, _ := least(func(t float64) float64 { return -s.under(a.to(b, t)) }, 60)
	return -d
}

// under returns a radius about p that fits inside s.
func (s *Solid) under(p Vec) float64 {
	y, h := s.own(p), s.Half
	if s.Column {
		return min(h[0]-math.Hypot(y[0], y[1]), h[2]-math.Abs(y[2]))
	}
	if s.Round {
		n := 0.0
		for i := range y {
			n += y[i] * y[i] / (h[i] * h[i])
		}
		return (1 - math.Sqrt(n)) * min(h[0], h[1], h[2])
	}
	return min(h[0]-math.Abs(y[0]), h[1]-math.Abs(y[1]), h[2]-math.Abs(y[2]))
}

// Shift returns the least shift found that frees the line from a to b of s; each
// one tried frees it, so that the true least is no more. What all shifts of the
// line that meet s sweep is the sum of s and the line turned about. Of a box that
// is a polytope, and the least way out of it square to a face: one of the box, or
// one that the line sweeps along an edge of it. Of an ellipsoid or a column it is looked for:
// over directions square to the line, where the two ends change places, and over
// directions all round, the best of them made better step by step.
func (s *Solid) Shift(a, b Vec) float64 {
	need := func(n Vec) float64 { return s.Support(n) - min(n.dot(a), n.dot(b)) }
	along := b.sub(a).unit()
	side := along.cross(s.Axes[0])
	if o := along.cross(s.Axes[1]); o.len() > side.len() {
		side = o
	}
	side = side.unit()
	other := along.cross(side)
	round := func(angle float64) Vec { return side.times(math.Cos(angle)).add(other.times(math.Sin(angle))) }

	best := math.Inf(1)
	take := func(n Vec) { best = min(best, need(n)) }
	for _, axis := range s.Axes {
		take(axis)
		take(axis.times(-1))
		if c := along.cross(axis); c.len() > 1e-9 {
			take(c.unit())
			take(c.unit().times(-1))
		}
	}
	if s.Column { // the ways straight from its axis
		for _, p := range [2]Vec{a, b} {
			if out := s.aside(p); out.len() > 0.5 {
				take(out)
			}
		}
	} else if !s.Round {
		return best // of a polytope the least shift is square to a face of the sum
	}
	// Square to the line: one angle.
	const many = 48
	for i := range many {
		mid := 2 * math.Pi * float64(i) / many
		const half = 2 * math.Pi / many
		f := need(round(mid))
		if f > need(round(mid-half)) || f > need(round(mid+half)) {
			continue
		}
		v, _ := least(func(t float64) float64 { return need(round(mid + half*(2*t-1))) }, 40)
		best = min(best, v)
	}
	// All round.
	type start struct {
		n Vec
		f float64
	}
	var starts [4]start
	for i := range starts {
		starts[i].f = math.Inf(1)
	}
	for _, n := range allRound {
		f := need(n)
		for i := range starts {
			if f < starts[i].f {
				copy(starts[i+1:], starts[i:])
				starts[i] = start{n, f}
				break
			}
		}
	}
	for _, st := range starts {
		for step, tries := 0.15, 0; step > 1e-6 && tries < 200; tries++ {
			u := st.n.cross(s.Axes[0])
			if o := st.n.cross(s.Axes[1]); o.len() > u.len() {
				u = o
			}
			u = u.unit()
			v := st.n.cross(u)
			better := false
			for k := range 8 {
				a := float64(k) * math.Pi / 4
				n := st.n.add(u.times(step * math.Cos(a))).add(v.times(step * math.Sin(a))).unit()
				if f := need(n); f < st.f-1e-10 {
					st, better = start{n, f}, true
					break
				}
			}
			if !better {
				step /= 2
			}
		}
		best = min(best, st.f)
	}
	return best
}

// allRound are directions spread evenly (a spiral of golden angles).
var allRound = func() (out [160]Vec) {
	for i := range out {
		z := 1 - (2*float64(i)+1)/float64(len(out))
		r := math.Sqrt(1 - z*z)
		a := 2 * math.Pi * golden * float64(i)
		out[i] = Vec{r * math.Cos(a), r * math.Sin(a), z}
	}
	return out
}()
