// SPDX-License-Identifier: MIT

package place

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project"
)

func lounge(t *rapid.T) (*project.Design, Seat) {
	d, s := erect(50, rapid.SampledFrom([]float64{0, 0.3, 0.5, 1}).Draw(t, "women"))
	d.Seating.Sitters.Slump, d.Seating.Sitters.Sink = 0.04, 0.03
	s.Chair.Headrest, s.Chair.HeadrestWidth = 0.12, 0.3
	s.Chair.MinRecline, s.Chair.MaxRecline = 5, 65
	s.Basis = geometry.YawBasis(rapid.Float64Range(-1, 1).Draw(t, "yaw"))
	return d, s
}

func direction(t *rapid.T) geometry.Vec {
	return geometry.Direction(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "az"), rapid.Float64Range(-1.57, 1.57).Draw(t, "el"))
}

// Nobody between two percentiles, reclined by any angle of the range, is
// anywhere outside the sets that are to hold them.
func TestCrowdHoldsEverybody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := lounge(t)
		lo := rapid.Float64Range(1, 99).Draw(t, "low")
		c := CrowdBetween(d, lo, rapid.Float64Range(lo, 99).Draw(t, "high"))
		l := s.Leans()
		for range rapid.IntRange(0, 8).Draw(t, "depth") {
			small, large := c.Halves()
			c = small
			if rapid.Bool().Draw(t, "large") {
				c = large
			}
			l = Lean{l.Mid(), l.To}
		}
		p := c.Low() + (c.High()-c.Low())*rapid.Float64Range(0, 1).Draw(t, "percentile")
		s.Recline = l.From + (l.To-l.From)*rapid.Float64Range(0, 1).Draw(t, "recline")
		n := direction(t)
		body := PersonAt(d, p).In(s)

		const tol = 1e-8 // m, of a size by halving
		within := func(what string, set geometry.Sweep, reach float64) {
			if got, _ := set.Support(n); reach > got+tol {
				t.Fatalf("P%.2f of P%.2f to P%.2f: %s reaches %.9f, the set %.9f", p, c.Low(), c.High(), what, reach, got)
			}
		}
		left, right, both := c.Ears(s, l, -1), c.Ears(s, l, 1), c.Ears(s, l, 0)
		within("left ear", left, n.Dot(body.EarLeft))
		within("right ear", right, n.Dot(body.EarRight))
		within("left ear of both", both, n.Dot(body.EarLeft))
		within("right ear of both", both, n.Dot(body.EarRight))
		eyes := c.Eyes(s, l)
		within("eye", eyes, n.Dot(body.Eye()))

		parts := map[PartKind]geometry.Solid{
			HeadPart: body.Head.Solid(), NeckPart: body.NeckSolid.Solid(), ShoulderPart: body.Shoulders.Solid()}
		for _, q := range s.ChairParts() {
			if q.Kind == BackPart || q.Kind == HeadrestPart {
				parts[q.Kind] = q.Solid()
			}
		}
		for kind, solid := range parts {
			_, at := solid.Support(n)
			_, back := solid.Support(n.Neg())
			for _, any := range []bool{false, true} {
				set, ok := c.Part(s, l, kind, any)
				if !ok {
					t.Fatalf("no set for %v", kind)
				}
				within(Part{Kind: kind}.String(), set, n.Dot(at))
				if kind == HeadPart || kind == NeckPart {
					continue
				}
				own, _ := c.Own(s, l, &left, kind, any)
				within("left ear less "+Part{Kind: kind}.String(), own, n.Dot(body.EarLeft)-n.Dot(back))
				own, _ = c.Own(s, l, &eyes, kind, any)
				within("eye less "+Part{Kind: kind}.String(), own, n.Dot(body.Eye())-n.Dot(back))
			}
		}
	})
}

// The sets of one person at one recline are that person.
func TestCrowdOfOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := lounge(t)
		p := rapid.Float64Range(1, 99).Draw(t, "percentile")
		s.Recline = rapid.Float64Range(0, 1.2).Draw(t, "recline")
		c, l, n := CrowdBetween(d, p, p), Lean{s.Recline, s.Recline}, direction(t)
		body := PersonAt(d, p).In(s)
		same := func(what string, set geometry.Sweep, reach float64) {
			if got, _ := set.Support(n); math.Abs(got-reach) > 1e-8 {
				t.Fatalf("%s reaches %.9f, the set %.9f", what, reach, got)
			}
		}
		same("left ear", c.Ears(s, l, -1), n.Dot(body.EarLeft))
		same("eye", c.Eyes(s, l), n.Dot(body.Eye()))
		parts := append(s.ChairParts(), ellipsoidPart(HeadPart, s, body.Head),
			ellipsoidPart(NeckPart, s, body.NeckSolid), ellipsoidPart(ShoulderPart, s, body.Shoulders))
		for _, q := range parts {
			solid := q.Solid()
			_, at := solid.Support(n)
			if set, ok := c.Part(s, l, q.Kind, false); ok {
				same(q.String(), set, n.Dot(at))
			}
		}
	})
}

// Halves share out their whole.
func TestCrowdHalves(t *testing.T) {
	d, _ := erect(50, 0.5)
	c := CrowdBetween(d, 5, 95)
	for range 12 {
		a, b := c.Halves()
		if a.Low() != c.Low() || b.High() != c.High() || a.High() != b.Low() || !(a.Spread() < c.Spread()) {
			t.Fatalf("P%v to P%v splits into P%v to P%v and P%v to P%v", c.Low(), c.High(), a.Low(), a.High(), b.Low(), b.High())
		}
		c = b
	}
	whole := CrowdBetween(d, 5, 95)
	a, _ := whole.Halves()
	copied, _ := whole.Clone().Halves()
	if a == copied || a.Low() != copied.Low() || a.High() != copied.High() {
		t.Error("a clone shares its halves, or has others")
	}
	one := CrowdBetween(d, 50, 50)
	if a, b := one.Halves(); a != one || b != one {
		t.Error("one person splits")
	}
}
