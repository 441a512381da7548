// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project/file"
	"earline/project/place"
)

// The visitors of a client view were one and the same, in one grey suit.
func TestVisitorsAreNoClones(t *testing.T) {
	d, _ := file.Demo("large")
	seats := place.Seats(d)
	for _, a := range seats {
		for _, b := range seats {
			beside := a.Row == b.Row && b.Number-a.Number == 1 || b.Row-a.Row == 1 && a.Number == b.Number
			if beside && reflect.DeepEqual(visitorOf(a, true), visitorOf(b, true)) {
				t.Errorf("seats %s and %s: the same visitor", a.Name(), b.Name())
			}
		}
		if !reflect.DeepEqual(visitorOf(a, true), visitorOf(a, true)) {
			t.Errorf("seat %s: another visitor each time", a.Name())
		}
		if v := visitorOf(a, false); v.top != figureCloth || v.skin != figureSkin {
			t.Errorf("seat %s: a drawing has coloured people", a.Name())
		}
	}
}

// Feet stand on the platform, neither over it nor in it, and people have their backs
// against the chair.
func TestSittersTouchFloorAndChair(t *testing.T) {
	d, _ := file.Demo("large")
	for _, s := range place.Seats(d) {
		s.Ref, s.Basis = geometry.Vec{}, geometry.WorldBasis()
		b := place.Other(d, s)
		for _, fine := range []bool{false, true} {
			m := figure(b, visitorOf(s, true), fine)
			low, back := math.Inf(1), math.Inf(1)
			box := s.BackBox()
			for i := 0; i < len(m.Pos); i += 3 {
				p := geometry.Vec{X: float64(m.Pos[i+2]), Y: float64(m.Pos[i]), Z: float64(m.Pos[i+1])}
				low = min(low, p.Z)
				q := box.Basis.Local(p.Sub(box.Center))
				if math.Abs(q.Z) < box.Half.Z && math.Abs(q.Y) < 0.15 {
					back = min(back, -box.Half.X-q.X)
				}
			}
			if math.Abs(low) > 0.01 {
				t.Errorf("seat %s: the lowest point of the feet is %.3f m above the platform", s.Name(), low)
			}
			if back > 0.01 || back < -0.08 { // the cushion gives
				t.Errorf("seat %s: the back is %.3f m before the chair", s.Name(), back)
			}
		}
	}
}

// A bent limb keeps its lengths wherever its end is within reach, and bends to the side it
// is told.
func TestABentLimbKeepsItsLengths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1, 1)
		vec := func(name string) geometry.Vec {
			return geometry.Vec{X: x.Draw(t, name+" x"), Y: x.Draw(t, name+" y"), Z: x.Draw(t, name+" z")}
		}
		a, b, towards := vec("a"), vec("b"), vec("towards")
		first, second := rapid.Float64Range(0.1, 1).Draw(t, "first"), rapid.Float64Range(0.1, 1).Draw(t, "second")
		way, ok := b.Sub(a).Unit()
		if l := a.Dist(b); !ok || l > first+second || l < math.Abs(first-second) || towards.Cross(way).Len() < 1e-3 {
			return
		}
		m := bend(a, b, first, second, towards)
		if math.Abs(m.Dist(a)-first) > 1e-9 || math.Abs(m.Dist(b)-second) > 1e-9 {
			t.Fatalf("parts %.6f and %.6f m long, want %.6f and %.6f", m.Dist(a), m.Dist(b), first, second)
		}
		if m.Sub(a).Dot(towards.Sub(way.Mul(towards.Dot(way)))) < -1e-9 {
			t.Fatal("bent to the other side")
		}
	})
}
