// SPDX-License-Identifier: MIT

package geometry_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// window returns a random rectangle that cuts most outlines that star draws
// about the origin.
func window(r *rand.Rand) (lo, hi geometry.Vec2) {
	lo = point2(r, 3)
	return lo, lo.Add(geometry.Vec2{X: geomtest.Between(r, 0.2, 4), Y: geomtest.Between(r, 0.2, 4)})
}

// outlines are a room with a notch, either way round, and random ones.
func outlines(r *rand.Rand, n int) []geometry.Polygon {
	out := []geometry.Polygon{ell(), reversed(ell())}
	for range n {
		out = append(out, star(r, point2(r, 1)))
	}
	return out
}

// nearAny reports whether q lies so near to the outline or to the line x = c.X or
// y = c.Y that rounding decides on which side.
func nearAny(p geometry.Polygon, q geometry.Vec2, cs ...geometry.Vec2) bool {
	const hair = 1e-6 // m
	near := p.Distance(q) < hair
	for _, c := range cs {
		near = near || math.Abs(q.X-c.X) < hair || math.Abs(q.Y-c.Y) < hair
	}
	return near
}

func TestClipKnownShapes(t *testing.T) {
	all := geometry.Vec2{X: 9, Y: 9}
	if got := ell().Clip(all.Mul(-1), all); len(got) != len(ell()) || got.Area() != 27 {
		t.Errorf("a room within the rectangle came back as %v", got)
	}
	// The notch divides the L's far half into one leg of 3 x 1.
	geomtest.Within(t, "leg", ell().Clip(geometry.Vec2{X: 0, Y: 5}, all).Area(), 3, 1e-12)
	if got := ell().Clip(geometry.Vec2{X: 4, Y: 4}, all); math.Abs(got.Area()) > 1e-12 {
		t.Errorf("something of the notch is left: %v", got)
	}
	if got := ell().Clip(all, all.Mul(2)); len(got) != 0 {
		t.Errorf("outside is left: %v", got)
	}
	if got := ell().ClipHalf(all, geometry.Vec2{X: 1}); len(got) != 0 {
		t.Errorf("what lies before the line is left: %v", got)
	}
}

// The slow way: a point is in the part if it is in the outline and in the
// rectangle.
func TestClipAgainstPoints(t *testing.T) {
	r := geomtest.Rand(t)
	for _, p := range outlines(r, 300) {
		before := append(geometry.Polygon{}, p...)
		lo, hi := window(r)
		part := p.Clip(lo, hi)
		for _, q := range part {
			if q.X < lo.X-1e-12 || q.X > hi.X+1e-12 || q.Y < lo.Y-1e-12 || q.Y > hi.Y+1e-12 {
				t.Fatalf("%v within %v %v: corner %v is outside", p, lo, hi, q)
			}
		}
		for range 60 {
			q := point2(r, 6)
			if nearAny(p, q, lo, hi) {
				continue
			}
			want := turnsAround(p, q) && q.X > lo.X && q.X < hi.X && q.Y > lo.Y && q.Y < hi.Y
			if got := part.Contains(q); got != want {
				t.Fatalf("%v within %v %v: contains %v is %v, want %v", p, lo, hi, q, got, want)
			}
		}
		for i := range p {
			if p[i] != before[i] {
				t.Fatal("the outline itself was changed")
			}
		}
	}
}

// What a rectangle cuts off, and what is left, are the whole together; and the
// same cuts one by one leave the same.
func TestClippedPartsAddUp(t *testing.T) {
	r := geomtest.Rand(t)
	for _, p := range outlines(r, 300) {
		lo, hi := p.Bounds()
		cut := geometry.Vec2{X: geomtest.Between(r, lo.X, hi.X), Y: geomtest.Between(r, lo.Y, hi.Y)}
		sum := p.Clip(lo, cut).Area() + p.Clip(cut, hi).Area() +
			p.Clip(geometry.Vec2{X: lo.X, Y: cut.Y}, geometry.Vec2{X: cut.X, Y: hi.Y}).Area() +
			p.Clip(geometry.Vec2{X: cut.X, Y: lo.Y}, geometry.Vec2{X: hi.X, Y: cut.Y}).Area()
		geomtest.Within(t, "four quarters", sum, p.Area(), 1e-9)

		n := point2(r, 1)
		halves := p.ClipHalf(cut, n).Area() + p.ClipHalf(cut, n.Mul(-3)).Area()
		geomtest.Within(t, "two halves", halves, p.Area(), 1e-9)

		quarter := p.ClipHalf(cut, geometry.Vec2{X: 2}).ClipHalf(cut, geometry.Vec2{Y: 0.1})
		geomtest.Within(t, "a quarter in two cuts", quarter.Area(), p.Clip(cut, hi).Area(), 1e-9)
	}
}

func TestClipHalfAgainstPoints(t *testing.T) {
	r := geomtest.Rand(t)
	for _, p := range outlines(r, 300) {
		at, inward := point2(r, 3), point2(r, 2)
		part := p.ClipHalf(at, inward)
		for range 60 {
			q := point2(r, 6)
			side := q.Sub(at).Dot(inward)
			if math.Abs(side) < 1e-6*inward.Len() || nearAny(p, q) {
				continue
			}
			if got, want := part.Contains(q), turnsAround(p, q) && side > 0; got != want {
				t.Fatalf("%v behind %v towards %v: contains %v is %v, want %v", p, at, inward, q, got, want)
			}
		}
	}
}

// The slow way: walk across the room and ask of each point whether it is inside.
func TestSpansAgainstPoints(t *testing.T) {
	r := geomtest.Rand(t)
	for _, p := range outlines(r, 300) {
		x := geomtest.Between(r, -4, 6)
		spans := p.Spans(x)
		for i, s := range spans {
			if !(s[1] > s[0]) || i > 0 && s[0] < spans[i-1][1] {
				t.Fatalf("%v at %v: %v", p, x, spans)
			}
		}
		for y := -6.0; y < 7; y += 0.05 {
			q := geometry.Vec2{X: x, Y: y}
			if nearAny(p, q) {
				continue
			}
			in := false
			for _, s := range spans {
				in = in || y > s[0] && y < s[1]
			}
			if want := turnsAround(p, q); in != want {
				t.Fatalf("%v at %v: inside is %v, want %v; spans %v", p, q, in, want, spans)
			}
		}
	}
}

// Walls run along y at the places that people type: there the spans are those
// just behind.
func TestSpansAtAWall(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		want [][2]float64
	}{
		{-0.1, nil}, {0, [][2]float64{{0, 6}}}, {2, [][2]float64{{0, 6}}}, {3, [][2]float64{{0, 3}}}, {6, nil},
	} {
		for _, p := range []geometry.Polygon{ell(), reversed(ell())} {
			got := p.Spans(tt.x)
			if len(got) != len(tt.want) || len(got) > 0 && got[0] != tt.want[0] {
				t.Errorf("at %v: got %v, want %v", tt.x, got, tt.want)
			}
		}
	}
}

// The slow way: many points of the segment, each in the rectangle or not.
func TestSegmentClipAgainstPoints(t *testing.T) {
	r := geomtest.Rand(t)
	for i := range 2000 {
		s := geometry.Segment2{A: point2(r, 5), B: point2(r, 5)}
		switch i % 5 {
		case 0:
			s.B.X = s.A.X
		case 1:
			s.B.Y = s.A.Y
		}
		lo, hi := window(r)
		in := func(q geometry.Vec2, slack float64) bool {
			return q.X >= lo.X-slack && q.X <= hi.X+slack && q.Y >= lo.Y-slack && q.Y <= hi.Y+slack
		}
		part, ok := s.Clip(lo, hi)
		if in(s.A, 0) && part.A != s.A || in(s.B, 0) && part.B != s.B {
			t.Fatalf("%v within %v %v: an end within was moved: %v", s, lo, hi, part)
		}
		if ok && (!in(part.A, 1e-12) || !in(part.B, 1e-12)) {
			t.Fatalf("%v within %v %v: %v reaches out", s, lo, hi, part)
		}
		const pieces = 1000
		count := 0
		for k := range pieces {
			if in(s.A.Add(s.B.Sub(s.A).Mul((float64(k)+0.5)/pieces)), 0) {
				count++
			}
		}
		want, got := float64(count)/pieces*s.A.Dist(s.B), 0.0
		if ok {
			got = part.A.Dist(part.B)
		}
		geomtest.Within(t, "length", got, want, 2*s.A.Dist(s.B)/pieces)
	}
}

func TestSegmentClipEdgeCases(t *testing.T) {
	lo, hi := geometry.Vec2{X: 0, Y: 0}, geometry.Vec2{X: 4, Y: 3}
	far := math.Inf(1)
	for _, tt := range []struct {
		name   string
		s      geometry.Segment2
		lo, hi geometry.Vec2
		want   geometry.Segment2
		ok     bool
	}{
		{"along a side", geometry.Segment2{A: geometry.Vec2{X: -1, Y: 3}, B: geometry.Vec2{X: 2, Y: 3}}, lo, hi,
			geometry.Segment2{A: geometry.Vec2{X: 0, Y: 3}, B: geometry.Vec2{X: 2, Y: 3}}, true},
		{"beside a side", geometry.Segment2{A: geometry.Vec2{X: -1, Y: 3.1}, B: geometry.Vec2{X: 2, Y: 3.1}}, lo, hi, geometry.Segment2{}, false},
		{"through a corner only", geometry.Segment2{A: geometry.Vec2{X: 3, Y: 4}, B: geometry.Vec2{X: 5, Y: 2}}, lo, hi,
			geometry.Segment2{A: hi, B: hi}, true},
		{"a point within", geometry.Segment2{A: geometry.Vec2{X: 1, Y: 1}, B: geometry.Vec2{X: 1, Y: 1}}, lo, hi,
			geometry.Segment2{A: geometry.Vec2{X: 1, Y: 1}, B: geometry.Vec2{X: 1, Y: 1}}, true},
		{"no sides to left and right", geometry.Segment2{A: geometry.Vec2{X: -1, Y: -9}, B: geometry.Vec2{X: 1, Y: 9}},
			geometry.Vec2{X: 0, Y: -far}, geometry.Vec2{X: 4, Y: far}, geometry.Segment2{B: geometry.Vec2{X: 1, Y: 9}}, true},
		{"no number", geometry.Segment2{A: geometry.Vec2{X: math.NaN(), Y: 1}, B: geometry.Vec2{X: 1, Y: 1}}, lo, hi, geometry.Segment2{}, false},
	} {
		if got, ok := tt.s.Clip(tt.lo, tt.hi); ok != tt.ok || ok && got != tt.want {
			t.Errorf("%s: got %v, %v, want %v, %v", tt.name, got, ok, tt.want, tt.ok)
		}
	}
}

// A point is over the box if it is so in the box's own axes.
func TestOutlineAgainstPoints(t *testing.T) {
	r := geomtest.Rand(t)
	for range 300 {
		b := geomtest.Box(r)
		b.Basis = geometry.YawBasis(geomtest.Between(r, -math.Pi, math.Pi))
		p := b.Outline()
		geomtest.Within(t, "area", p.Area(), 4*b.Half.X*b.Half.Y, 1e-9*b.Half.X*b.Half.Y)
		for range 40 {
			at := geometry.Vec{X: geomtest.Between(r, -2, 2) * b.Half.X, Y: geomtest.Between(r, -2, 2) * b.Half.Y}
			q := b.Center.Add(b.Basis.World(at))
			if nearAny(p, geometry.Vec2{X: q.X, Y: q.Y}) {
				continue
			}
			want := math.Abs(at.X) < b.Half.X && math.Abs(at.Y) < b.Half.Y
			if got := p.Contains(geometry.Vec2{X: q.X, Y: q.Y}); got != want {
				t.Fatalf("%v: contains %v is %v, want %v", b, at, got, want)
			}
		}
	}
	along := geometry.Box{Center: geometry.V(3, 2, 1), Basis: geometry.WorldBasis(), Half: geometry.V(1, 0.5, 9)}
	want := geometry.Polygon{{X: 2, Y: 1.5}, {X: 4, Y: 1.5}, {X: 4, Y: 2.5}, {X: 2, Y: 2.5}}
	for i, q := range along.Outline() {
		if q != want[i] {
			t.Errorf("corner %d is %v, want %v", i, q, want[i])
		}
	}
}

// Outlines without area, without corners and without numbers are cut too.
func TestClippingNothingNeverPanics(t *testing.T) {
	bad := []geometry.Polygon{nil, {{}}, {{1, 1}, {1, 1}}, {{0, 0}, {1, 0}, {2, 0}},
		{{math.NaN(), 0}, {1, 0}, {1, 1}}, {{0, 0}, {math.Inf(1), 0}, {1, 1}}}
	for _, p := range bad {
		p.Clip(geometry.Vec2{}, geometry.Vec2{X: 1, Y: 1})
		p.Clip(geometry.Vec2{X: 1, Y: 1}, geometry.Vec2{})
		p.ClipHalf(geometry.Vec2{}, geometry.Vec2{})
		p.Spans(0.5)
	}
}
