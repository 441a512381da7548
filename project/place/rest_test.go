// SPDX-License-Identifier: MIT

package place

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// recliner returns a seat in the large demo's chair, and its design.
func recliner(percentile float64) (*project.Design, Seat) {
	d, s := erect(percentile, 0.5)
	d.Seating.Sitters.Slump, d.Seating.Sitters.Sink = 0.04, 0.03
	s.Chair = project.Chair{PanHeight: 0.44, PanDepth: 0.52, PanWidth: 0.56, BackHeight: 0.58, BackThickness: 0.16,
		Headrest: 0.1, HeadrestWidth: 0.32, MinRecline: 8, MaxRecline: 60}
	return d, s
}

func (s Seat) reclined(deg float64) Seat {
	s.Recline = deg * math.Pi / 180
	return s
}

// gaps returns how far the head is from the headrest and from the chair's back;
// negative: so deep inside.
func gaps(b Body) (headrest, back float64) {
	head := b.Head.Solid()
	from := func(box geometry.Box) float64 {
		solid := box.Solid()
		return geometry.Distance(&solid, &head, box.Basis.U, math.Inf(1), 1e-10).Lower
	}
	rest, _ := b.Seat.HeadrestBox()
	return from(rest), from(b.Seat.BackBox())
}

// A head reclined by 45 or 60 degrees hovered 80 to 100 mm before the headrest
// that holds it. Up to 30 degrees it is where it was: ear behind the hinge and
// over the floor and gap, in millimetres, for P50 in the large demo's chair as
// worked out apart from this code before the head learnt to rest.
func TestReclinedHeadRestsOnItsHeadrest(t *testing.T) {
	const printed = 0.5 // mm
	for _, c := range []struct{ deg, behind, over, gap float64 }{
		{20, 72, 1082, 46},
		{30, 154, 1036, 61},
	} {
		d, s := recliner(50)
		b := Listener(d, s.reclined(c.deg))
		gap, _ := gaps(b)
		e := b.Ear()
		for _, q := range [3]struct {
			what      string
			got, want float64
		}{{"ear behind the hinge", e.X - s.Ref.X, c.behind}, {"ear over the floor", e.Z, c.over}, {"gap", gap, c.gap}} {
			if math.Abs(q.got*1000-q.want) > printed {
				t.Errorf("%v degrees: %s %.1f mm, want %v", c.deg, q.what, q.got*1000, q.want)
			}
		}
	}
	for _, deg := range []float64{35, 45, 60} {
		d, s := recliner(50)
		s = s.reclined(deg)
		b := Listener(d, s)
		if gap, _ := gaps(b); math.Abs(gap) > 1e-9 {
			t.Errorf("%v degrees: the head is %.2f mm before the headrest", deg, gap*1000)
		}
		if rest, _ := s.HeadrestBox(); rest.Basis != b.Head.Basis {
			t.Errorf("%v degrees: the head is not tipped as the headrest is", deg)
		}
		was := s
		was.Chair.Headrest = 0
		level := Listener(d, was)
		if now, then := b.Ear(), level.Ear(); now.X <= then.X || now.Z >= then.Z {
			t.Errorf("%v degrees: at rest the ear is at %v, level at %v", deg, now, then)
		}
		if level.Head.Basis != geometry.WorldBasis() {
			t.Errorf("%v degrees: with no headrest the head is not level", deg)
		}
	}
}

// From level to resting nothing of a head jumps: in steps of 0.1 degrees it
// moves by millimetres, all the way back and down.
func TestHeadGoesOverSmoothly(t *testing.T) {
	const most = 6e-3 // m a step; with the torso alone it is 1.2 mm
	for _, p := range []float64{5, 50, 95} {
		d, s := recliner(p)
		last := Listener(d, s.reclined(0))
		for n := 1; n <= 600; n++ {
			b := Listener(d, s.reclined(float64(n)/10))
			for _, q := range [5][2]geometry.Vec{{last.EarLeft, b.EarLeft}, {last.Eye(), b.Eye()}, {last.Crown, b.Crown},
				{last.Head.Center, b.Head.Center}, {last.NeckSolid.Center, b.NeckSolid.Center}} {
				if q[0].Dist(q[1]) > most {
					t.Fatalf("P%v at %.1f degrees: %v to %v", p, float64(n)/10, q[0], q[1])
				}
			}
			if b.Ear().X <= last.Ear().X || n > 80 && b.Ear().Z >= last.Ear().Z {
				t.Fatalf("P%v at %.1f degrees: the ear goes from %v to %v", p, float64(n)/10, last.Ear(), b.Ear())
			}
			last = b
		}
	}
}

// Whoever reclines far in whatever chair has the head against headrest or back
// and not inside: it touches the plane of the one or the other.
func TestRestingHeadTouchesTheChair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := recliner(rapid.Float64Range(1, 99).Draw(t, "percentile"))
		d.Seating.Sitters.Women = rapid.Float64Range(0, 1).Draw(t, "women")
		s.Chair.BackHeight = unit.Length(rapid.Float64Range(0.4, 0.9).Draw(t, "back"))
		s.Chair.Headrest = unit.Length(rapid.Float64Range(0.05, 0.4).Draw(t, "headrest"))
		s = s.reclined(rapid.Float64Range(35, 80).Draw(t, "recline"))
		b := Listener(d, s)
		head := b.Head.Solid()
		gap := math.Inf(1)
		rest, _ := s.HeadrestBox()
		for _, box := range [2]geometry.Box{rest, s.BackBox()} {
			_, at := head.Support(box.Basis.U)
			gap = min(gap, box.Basis.U.Dot(box.Center.Sub(at))-box.Half.X)
		}
		if math.Abs(gap) > 1e-9 {
			t.Fatalf("at %v rad the head is %v m from the chair", s.Recline, gap)
		}
	})
}
