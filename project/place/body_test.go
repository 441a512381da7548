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

func erect(listener, women float64) (*project.Design, Seat) {
	d := &project.Design{
		Chairs: []project.Chair{{ID: "c", PanHeight: 0.45, PanDepth: 0.5, PanWidth: 0.55, BackHeight: 0.6, BackThickness: 0.15}},
		Seating: project.Seating{
			Rows:    []project.Row{{Chair: "c", Distance: 4, Seats: 1, Pitch: 0.7, Centre: 2}},
			Sitters: project.Sitters{Listener: listener, Others: 50, Women: women},
		},
	}
	return d, Seats(d)[0]
}

// A sitter erect on a hard seat has the survey's heights and head sizes.
// Source: ANSUR II (US Army Natick 2012, NATICK/TR-15/007), percentiles computed
// from the public data; millimetres above the seat.
func TestErectSitterHasTheSurveysSizes(t *testing.T) {
	for _, c := range []struct {
		sex                                                 string
		women, percentile, ear, eye, crown, breadth, length float64
	}{
		{"men", 0, 5, 731, 750, 860, 146, 188},
		{"men", 0, 50, 786, 804, 918, 154, 200},
		{"men", 0, 95, 845, 860, 977, 163, 211},
		{"women", 1, 5, 677, 698, 803, 140, 178},
		{"women", 1, 50, 730, 748, 857, 147, 190},
		{"women", 1, 95, 784.8, 799, 912, 156, 202},
	} {
		d, s := erect(c.percentile, c.women)
		b := Listener(d, s)
		for _, q := range []struct {
			name      string
			got, want float64
		}{
			{"ear", b.EarLeft.Z - 0.45, c.ear},
			{"ear", b.EarRight.Z - 0.45, c.ear},
			{"eye", b.Eye().Z - 0.45, c.eye},
			{"crown", b.Crown.Z - 0.45, c.crown},
			{"top of the head solid", b.Head.Center.Z + b.Head.Radii.Z - 0.45, c.crown},
			{"head breadth", 2 * b.Head.Radii.Y, c.breadth},
			{"ear to ear", b.EarRight.Y - b.EarLeft.Y, c.breadth},
			{"head length", 2 * b.Head.Radii.X, c.length},
		} {
			if math.Abs(q.got*1000-q.want) > 0.05 { // the survey prints 0.1 mm
				t.Errorf("%s P%v %s: %.2f mm, want %v", c.sex, c.percentile, q.name, q.got*1000, q.want)
			}
		}
	}
}

// A long head reaches from ear to crown as far as the survey's, on any trunk: at
// P95 further than sitting height less ear height does.
// Source: ANSUR II as above, tragion to top of head; millimetres.
func TestLongHead(t *testing.T) {
	for _, c := range []struct{ women, low, high, want float64 }{
		{0, 5, 95, 141}, {0, 1, 99, 145}, {0, 5, 50, 131}, {1, 5, 95, 137}, {1, 1, 99, 142},
	} {
		d, s := erect(5, c.women)
		trunk := PersonAt(d, 5)
		above, ok := CrowdBetween(d, c.low, c.high).LongHead(trunk)
		long := trunk.WithCrown(above)
		b, own := long.In(s), trunk.In(s)
		if got := (b.Crown.Z - b.EarLeft.Z) * 1000; !ok || math.Abs(got-c.want) > 0.05 { // the survey prints 0.1 mm
			t.Errorf("women %v, P%v to P%v: %.2f mm from ear to crown, want %v", c.women, c.low, c.high, got, c.want)
		}
		if b.EarLeft != own.EarLeft || b.Eye() != own.Eye() || b.Shoulders != own.Shoulders {
			t.Error("a long head moves more than the crown")
		}
	}
	d, _ := erect(50, 0.5)
	if _, ok := CrowdBetween(d, 50, 50).LongHead(PersonAt(d, 50)); ok {
		t.Error("one body has two heads")
	}
}

// Percentiles of an equal mix are those of the mixed population.
// Source: computed from the same public data with as many women as men
// (percentiles of the mixture, printed to 1 mm). The tolerance is what
// interpolation between the five tabulated percentiles costs: 1.6 mm at worst.
func TestMixedPopulation(t *testing.T) {
	for _, c := range mixed {
		if got := c.size.at(c.percentile, 0.5) * 1000; math.Abs(got-c.want) > 2 {
			t.Errorf("%s P%v of an equal mix: %.1f mm, want %v", c.name, c.percentile, got, c.want)
		}
	}
}

// So many of the mixed population are smaller: the law that the size solves.
func TestMixedPercentileIsTheShareBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom([]bodySize{sittingHeight, eyeHeight, tragionHeight, tragionToCrown, headBreadth, headLength,
			shoulderBreadth, pupilDistance, hipBreadth, buttockKnee, kneeHeight}).Draw(t, "size")
		p := rapid.Float64Range(0.02, 99.98).Draw(t, "percentile")
		women := rapid.Float64Range(0, 1).Draw(t, "women")
		mm := b.at(p, women) * 1000
		below := func(q quantiles) float64 { z, _ := q.score(mm); return normal(z) }
		if got := 100 * ((1-women)*below(b.men) + women*below(b.women)); math.Abs(got-p) > 1e-7 {
			t.Fatalf("P%v of %v women is %v mm, below which are %v %%", p, women, mm, got)
		}
	})
}

// Reclining lowers the head, carries it back and keeps it level, however tall
// the sitter.
func TestRecliningCarriesTheHeadBackAndDown(t *testing.T) {
	for _, p := range []float64{5, 50, 95} {
		d, _ := erect(p, 0.5)
		var last Body
		for deg := 0; deg <= 60; deg += 10 {
			d.Seating.Rows[0].Recline = 0
			s := Seats(d)[0]
			s.Recline = float64(deg) * unit.Degree
			b := Listener(d, s)
			if b.Head.Basis != geometry.WorldBasis() {
				t.Fatalf("head not level at %d degrees", deg)
			}
			if deg > 0 && (b.Crown.X <= last.Crown.X || b.Crown.Z >= last.Crown.Z) {
				t.Errorf("P%v: from %d to %d degrees the crown went from %v to %v", p, deg-10, deg, last.Crown, b.Crown)
			}
			last = b
		}
	}
}

// A taller percentile is never lower anywhere.
func TestBodiesGrowWithPercentile(t *testing.T) {
	last := -math.MaxFloat64
	for p := 0.5; p < 100; p += 0.5 {
		got := sittingHeight.at(p, 0.4)
		if got <= last {
			t.Fatalf("P%v sits %v m high, less than P%v", p, got, p-0.5)
		}
		last = got
	}
}

// Seats of a curved row keep their distance from the arc's centre and face it.
func TestCurvedRowFacesItsCentre(t *testing.T) {
	d, _ := erect(50, 0.5)
	r := &d.Seating.Rows[0]
	r.Seats, r.Curve, r.Pitch = 5, 3, 0.8
	centre := geometry.V(4-3, 2, 0)
	seats := Seats(d)
	for i, s := range seats {
		if math.Abs(s.Ref.Dist(centre)-3) > 1e-12 {
			t.Errorf("seat %d is %v m from the centre, want 3", i+1, s.Ref.Dist(centre))
		}
		if geometry.Angle(s.Basis.U.Neg(), centre.Sub(s.Ref)) > 1e-9 {
			t.Errorf("seat %d does not face the centre", i+1)
		}
		if i > 0 && s.Ref.Y <= seats[i-1].Ref.Y {
			t.Errorf("seats do not run from left to right")
		}
	}
}

var mixed = []struct {
	name             string
	size             bodySize
	percentile, want float64
}{
	{"sitting height", sittingHeight, 5, 813}, {"sitting height", sittingHeight, 50, 887}, {"sitting height", sittingHeight, 95, 964},
	{"eye height", eyeHeight, 5, 708}, {"eye height", eyeHeight, 50, 775}, {"eye height", eyeHeight, 95, 847},
	{"ear height", tragionHeight, 5, 688}, {"ear height", tragionHeight, 50, 758}, {"ear height", tragionHeight, 95, 832},
	{"head breadth", headBreadth, 5, 141}, {"head breadth", headBreadth, 50, 151}, {"head breadth", headBreadth, 95, 161},
	{"head length", headLength, 5, 180}, {"head length", headLength, 50, 195}, {"head length", headLength, 95, 209},
}
