// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/air"
	"earline/project/file"
	"earline/project/place"
	"earline/project/sight"
)

// pair returns a room with two like loudspeakers on the axis of the main
// position, far and near metres before it, aimed at it.
func pair(far, near float64) *project.Design {
	d := hall(1, 1, 2)
	main := place.MainPoint(d)
	for k, r := range []float64{far, near} {
		d.Speakers[k].At = project.PointOf(geometry.V(main.X-r, main.Y, main.Z))
	}
	return d
}

func TestDelayAndTrim(t *testing.T) {
	// LV-074: per metre; LV-078: 0.3 m at 48 kHz.
	c := air.Speed(20)
	geomtest.Within(t, "delay of a metre", DelayFor(1, 0, c), 2.91375, 1e-5)
	geomtest.Within(t, "samples of 0.3 m", 48*DelayFor(0.3, 0, c), 41.958, 0.001)
	// SUP-AC-delay-temp: 2.5 m, 20 to 25 degrees.
	geomtest.Within(t, "2.5 m five degrees warmer", DelayFor(2.5, 0, air.Speed(25))-DelayFor(2.5, 0, c), -0.0613, 1e-4)
	// LV-075 to LV-077: two loudspeakers at 20 degrees.
	for _, row := range []struct{ far, near, delay, trim float64 }{
		{3.5, 3.2, 0.8741, -0.7784}, {4.0, 2.4, 4.6620, -4.4370}, {3.0, 1.85, 3.3508, -4.1990},
	} {
		d := pair(row.far, row.near)
		d.Room.Air = project.Air{Temperature: 20, Humidity: 50}
		got := Hear(d, nil)
		name := fmt.Sprintf("%g and %g m", row.far, row.near)
		geomtest.Within(t, name+": far delay", got.Speakers[0].DelayExact, 0, 1e-12)
		geomtest.Within(t, name+": far trim", got.Speakers[0].TrimExact, 0, 1e-12)
		geomtest.Within(t, name+": delay", got.Speakers[1].DelayExact, row.delay, 1e-4)
		// The published trim is of distance alone; air takes up to 10 dB/km more.
		geomtest.Within(t, name+": trim", got.Speakers[1].TrimExact, row.trim, 0.01*(row.far-row.near)+1e-4)
		geomtest.Within(t, name+": trim of distance", Spreading(row.far)-Spreading(row.near), row.trim, 1e-4)
		// Rounded to the usual steps of 0.1 ms and 0.5 dB.
		geomtest.Within(t, name+": set delay", got.Speakers[1].Delay, row.delay, 0.05+1e-9)
		geomtest.Within(t, name+": delay in steps", math.Remainder(got.Speakers[1].Delay, 0.1), 0, 1e-9)
		geomtest.Within(t, name+": trim in steps", math.Remainder(got.Speakers[1].Trim, 0.5), 0, 1e-9)
	}
}

// On the axis at r metres the level is the free-field one (LV-014 to LV-020), less
// the air.
func TestDirectOnAxis(t *testing.T) {
	d := pair(4, 2)
	d.Models[0] = func(m project.Model) project.Model {
		m.Sensitivity, m.Power, m.Cutoff = perWatt(90).Sensitivity, 200, 0
		return m
	}(d.Models[0])
	got := Hear(d, nil)
	h := got.Speakers[0].Main
	rated := h.Rated(d.Models[0])
	geomtest.Within(t, "1 kHz at 4 m", rated[kilohertz], 100.969, 4*0.005+0.001) // LV-015, air 4.7 dB/km
	geomtest.Within(t, "63 Hz at 4 m", rated[0], 100.969, 0.002)
	geomtest.Within(t, "8 kHz at 4 m", rated[7], 100.969-4*0.1039, 0.002) // AC-034
	// LV-018: 387.38 W for 105 dB at 3.5 m.
	got = Hear(func() *project.Design {
		d := pair(3.5, 2)
		d.Models[0].Sensitivity = perWatt(90).Sensitivity
		return d
	}(), nil)
	geomtest.Within(t, "watts at 3.5 m", got.Speakers[0].Power, 387.38, 387.38*0.006) // 0.02 dB of air
	geomtest.Within(t, "headroom of 200 W", got.Speakers[0].Headroom, 10*math.Log10(200/got.Speakers[0].Power), 1e-9)
	if s := got.Speakers[0]; s.Headroom > 0 {
		t.Errorf("200 W reach 105 dB at 3.5 m: %+v", s)
	}
}

// Inverse square: a loudspeaker twice as far in the same direction is 6.02 dB
// softer wherever it points (AC-009), but for the air.
func TestInverseSquare(t *testing.T) {
	r := geomtest.Rand(t)
	sp := placed(80, 50)
	a := roomAir{speed: air.Speed20}
	for range 500 {
		q := NewRadiator(&sp)
		u := geomtest.Unit(r)
		dist := geomtest.Between(r, 0.2, 10)
		s := Speaker{First: kilohertz - 1, Last: kilohertz + 1}
		var near, far Heard
		s.hear(&near, q, &a, q.at.Add(u.Mul(dist)))
		s.hear(&far, q, &a, q.at.Add(u.Mul(2*dist)))
		for o := range near.Gain {
			geomtest.Within(t, "twice as far", far.Gain[o]-near.Gain[o], -20*math.Log10(2), 1e-9)
		}
	}
}

// What mirror partners do is the same at mirror seats.
func TestDirectMirrors(t *testing.T) {
	d := hall(3, 5, 8)
	got := Hear(d, nil)
	seats := place.Seats(d)
	for i, s := range seats {
		m := i - s.Number + 1 + (5 - s.Number) // the mirror seat
		for k := range d.Speakers {
			a, b := got.At(i, k), got.At(m, k^1)
			for o := range a.Gain {
				geomtest.Within(t, fmt.Sprintf("seat %d speaker %d octave %d", i, k, o), a.Gain[o], b.Gain[o], 1e-9)
				geomtest.Within(t, "its loss", a.Loss[o], b.Loss[o], 1e-6)
			}
		}
	}
	for k := 0; k < len(d.Speakers); k += 2 {
		a, b := got.Speakers[k], got.Speakers[k+1]
		geomtest.Within(t, "spread", a.SpreadOverall, b.SpreadOverall, 1e-9)
		geomtest.Within(t, "trim", a.TrimExact, b.TrimExact, 1e-9)
		geomtest.Within(t, "power", a.Power, b.Power, 1e-9*a.Power)
	}
}

// Spread and deviation are those of the levels, the slow way.
func TestSpreadTheSlowWay(t *testing.T) {
	d := hall(2, 4, 4)
	got := Hear(d, nil)
	for k, s := range got.Speakers {
		for o := range s.Spread {
			lo, hi, sum := math.Inf(1), math.Inf(-1), 0.0
			for i := range 8 {
				g := got.At(i, k).Gain[o]
				lo, hi, sum = min(lo, g), max(hi, g), sum+g
			}
			square := 0.0
			for i := range 8 {
				square += math.Pow(got.At(i, k).Gain[o]-sum/8, 2)
			}
			geomtest.Within(t, "spread", s.Spread[o], hi-lo, 1e-9)
			geomtest.Within(t, "deviation", s.Deviation[o], math.Sqrt(square/8), 1e-9)
		}
		if got.At(s.Quietest, k).Overall > got.At(s.Loudest, k).Overall {
			t.Errorf("loudspeaker %d: quietest seat %d, loudest %d", k, s.Quietest, s.Loudest)
		}
	}
}

// A blocked path loses what the audit says, at most; a clear one nothing.
func TestBlockingComesFromTheAudit(t *testing.T) {
	d := hall(2, 4, 4)
	for k := range d.Speakers {
		d.Speakers[k].At.X, d.Speakers[k].At.Z = 3.1, 1.15 // beside the heads of row 1
	}
	audit := sight.Audit(d)
	got := Hear(d, audit)
	blocked := 0
	for i := range audit.Seats {
		for k := range d.Speakers {
			h, p := got.At(i, k), audit.Pair(i, k)
			if p.Verdict == sight.Clear {
				if h.Loss != [8]float64{} || h.OverallLoss != 0 {
					t.Errorf("a clear path loses %v", h.Loss)
				}
				continue
			}
			if p.Verdict == sight.Blocked {
				blocked++
			}
			geomtest.Within(t, "loss at 2 kHz", h.Loss[5], p.Deciding().Loss(Midbands()[5]), 1e-12)
			// An energy mean of the octaves from 500 Hz to 2 kHz.
			if h.OverallLoss < min(h.Loss[3], h.Loss[5])-1e-9 || h.OverallLoss > max(h.Loss[3], h.Loss[5])+1e-9 {
				t.Errorf("overall loss %g, octaves %v", h.OverallLoss, h.Loss)
			}
		}
	}
	if blocked == 0 {
		t.Error("nothing blocked: the test looked at nothing")
	}
}

// Loudspeakers that play one channel share it; LFE channels play louder by their
// gain (LV-003, LV-006).
func TestChannelsShared(t *testing.T) {
	d := pair(4, 2)
	alone := Hear(d, nil).Speakers[0]
	geomtest.Within(t, "peak of a channel", alone.Target, 105, 1e-9) // LV-005
	d.Speakers[1].Label, d.Speakers[1].Copy = d.Speakers[0].Label, "b"
	shared := Hear(d, nil).Speakers[0]
	if shared.Channel != 2 {
		t.Errorf("%d loudspeakers play the channel", shared.Channel)
	}
	geomtest.Within(t, "half the power", shared.Power, alone.Power/2, 1e-9*alone.Power)
	// LV-001, LV-002: 85 dB for a channel; two surrounds that share one have 82 each.
	geomtest.Within(t, "reference", alone.Target-20, 85, 1e-9)
	geomtest.Within(t, "reference of one of two", shared.Target-20, 82, 0.02)

	d = pair(4, 2)
	d.Speakers[0].Label = "LFE1"
	d.Models = append(d.Models, d.Models[0])
	d.Models[1].ID, d.Models[1].Drivers = "sub", []project.Driver{{Band: project.Sub, Diameter: 0.33}}
	d.Speakers[0].Model = "sub"
	s := Hear(d, nil).Speakers[0]
	geomtest.Within(t, "peak of LFE", s.Target, 115, 1e-9) // LV-006
	if s.Plays != [8]bool{true, true} || s.First != 0 || s.Last != 0 {
		t.Errorf("a subwoofer plays %v", s.Plays)
	}
}

// The trim is against the one that needs the most drive, subwoofers apart; those
// that share a channel are 3 dB lower each.
func TestTrims(t *testing.T) {
	d := pair(4, 2)
	d.Speakers[1].Label, d.Speakers[1].Copy = d.Speakers[0].Label, "b"
	third := d.Speakers[0]
	third.Label, third.Copy = "M+180", ""
	d.Speakers = append(d.Speakers, third)
	got := Hear(d, nil)
	geomtest.Within(t, "alone at 4 m", got.Speakers[2].TrimExact, 0, 1e-9)
	geomtest.Within(t, "one of two at 4 m", got.Speakers[0].TrimExact, -10*math.Log10(2), 1e-9)

	d.Models = append(d.Models, d.Models[0])
	d.Models[1].ID, d.Models[1].Drivers = "sub", []project.Driver{{Band: project.Sub, Diameter: 0.33}}
	d.Models[1].Sensitivity, d.Models[1].CoverageH = 80, 90
	sub := third
	sub.Label, sub.Model = "LFE1", "sub"
	sub.Aim = project.Aim{Fixed: true} // towards the screen: the seats are behind it
	d.Speakers = append(d.Speakers, sub)
	with := Hear(d, nil)
	geomtest.Within(t, "alone, beside a weak subwoofer", with.Speakers[2].TrimExact, 0, 1e-9)
	if s := with.Speakers[3]; s.TrimExact < 9 || !s.Main.Inside {
		t.Errorf("a subwoofer 10 dB less sensitive: %+v", s)
	}
	tuned := with.Tuned(d)
	if tuned.Speakers[3].Tuning.Gain != with.Speakers[3].Trim || d.Speakers[3].Tuning.Gain != 0 {
		t.Errorf("tuned %+v, given %+v", tuned.Speakers[3].Tuning, d.Speakers[3].Tuning)
	}
}

// Subwoofers that are aligned keep what sets them apart and move together to the
// means proposed; none plays before its time. Setting up again changes nothing.
func TestSettingUpKeepsAnAlignment(t *testing.T) {
	d := hall(1, 2, 4)
	d.Models = append(d.Models, d.Models[0])
	d.Models[1].ID, d.Models[1].Drivers = "sub", []project.Driver{{Band: project.Sub, Diameter: 0.33}}
	for k, name := range []string{"LFE1", "LFE2"} {
		l := &d.Speakers[2+k]
		l.Label, l.Copy, l.Model = name, "", "sub"
		l.At.X += 0.5
	}
	fresh := Hear(d, nil)
	for k, l := range fresh.Tuned(d).Speakers {
		if l.Tuning.Delay != fresh.Speakers[k].Delay || l.Tuning.Gain != fresh.Speakers[k].Trim {
			t.Errorf("%s, never tuned, is set to %+v", l.Name(), l.Tuning)
		}
	}
	for _, apart := range []float64{3.2, 200} {
		d.Speakers[2].Tuning = project.Tuning{Gain: -1.5, Inverted: true}
		d.Speakers[3].Tuning = project.Tuning{Delay: apart, Gain: 2}
		heard := Hear(d, nil)
		out := heard.Tuned(d)
		one, other := out.Speakers[2].Tuning, out.Speakers[3].Tuning
		geomtest.Within(t, "delay between the two", other.Delay-one.Delay, apart, 1e-6)
		geomtest.Within(t, "gain between the two", other.Gain-one.Gain, 3.5, 1e-6)
		if !one.Inverted || other.Inverted || one.Delay < 0 {
			t.Errorf("%+v and %+v", one, other)
		}
		gain := (heard.Speakers[2].Trim + heard.Speakers[3].Trim) / 2
		geomtest.Within(t, "mean gain", (one.Gain+other.Gain)/2, gain, 0.25+1e-6)
		if one.Delay > 0 {
			delay := (heard.Speakers[2].Delay + heard.Speakers[3].Delay) / 2
			geomtest.Within(t, "mean delay", (one.Delay+other.Delay)/2, delay, 0.05+1e-6)
		}
		if again := Hear(out, nil).Tuned(out); again.Speakers[2] != out.Speakers[2] || again.Speakers[3] != out.Speakers[3] {
			t.Errorf("again: %+v and %+v", again.Speakers[2].Tuning, again.Speakers[3].Tuning)
		}
	}
}

func TestLoudness(t *testing.T) {
	d := hall(1, 2, 6)
	d.Speakers[5].Label = "LFE1"
	audit := sight.Audit(d)
	l := Hear(d, audit).Loudness(audit.Speakers)
	geomtest.Within(t, "all at peak", l.All, 116.761, 0.001) // LV-007
	geomtest.Within(t, "hours at the reference", l.ReferenceMinutes, 480, 1e-9)
	geomtest.Within(t, "minutes at the peak", l.PeakMinutes, 4.725, 0.001) // LV-069
	if !(l.AllMinutes < l.PeakMinutes) {
		t.Errorf("all at once: %+v", l)
	}
}

// Seats inside the nominal coverage are at most 6 dB off the axis at 4 kHz, and
// those outside at least.
func TestInsideTheCoverage(t *testing.T) {
	d := hall(4, 6, 8)
	d.Models[0].CoverageH, d.Models[0].CoverageV = 40, 30
	got := Hear(d, nil)
	in := 0
	for i := range got.Heard {
		h := &got.Heard[i]
		if h.Inside {
			in++
		}
		if h.Inside != (h.Directivity[6] >= Edge) {
			t.Errorf("inside %v at %g dB", h.Inside, h.Directivity[6])
		}
	}
	if in == 0 || in == len(got.Heard) {
		t.Errorf("%d of %d inside: the test looked at nothing", in, len(got.Heard))
	}
}

// A room with no loudspeakers or measured ones of any kind gives an answer.
func TestDirectOfLittle(t *testing.T) {
	if got := Hear(hall(1, 1, 0), nil); len(got.Speakers) != 0 || len(got.Heard) != 0 {
		t.Errorf("no loudspeakers: %+v", got)
	}
	d := hall(1, 1, 1)
	d.Speakers[0].At = project.PointOf(place.MainPoint(d)) // on the listener's head
	for _, h := range Hear(d, nil).Heard {
		if math.IsNaN(h.Overall) || math.IsInf(h.Overall, 0) {
			t.Errorf("at the ear: %+v", h)
		}
	}
}

// The budget: 24 seats, 16 loudspeakers, 8 octaves in 2 ms on one core, given the
// audit.
func BenchmarkDirect(b *testing.B) {
	d := hall(4, 6, 16)
	audit := sight.Audit(d)
	b.Run("seats=24,loudspeakers=16", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if r := Hear(d, audit); len(r.Heard) != 24*16 {
				b.Fatal("short result")
			}
		}
	})
}

// A loudspeaker behind the screen was as loud at the seats as one beside it: its cloth
// took nothing. It takes what the document says, from those behind it alone.
func TestTheScreenTakesFromTheSoundBehindIt(t *testing.T) {
	d, _ := file.Demo("large")
	d = d.Clone()
	d.Screen.Transparent = true
	behind := -1
	for k, l := range d.Speakers {
		if l.Mount == project.BehindScreen {
			behind = k
		}
	}
	if behind < 0 {
		behind = 0
		d.Speakers[0].Mount = project.BehindScreen
	}
	before := Hear(d, nil)
	loss := []float64{0, 0, 0.5, 1, 1, 2, 3, 5}
	d.Picture.SoundLoss = loss
	after := Hear(d, nil)
	for k, l := range d.Speakers {
		for o := range loss {
			want := 0.0
			if l.Mount == project.BehindScreen {
				want = loss[o]
			}
			if got := before.At(0, k).Gain[o] - after.At(0, k).Gain[o]; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, octave %d: the screen takes %g dB, want %g", l.Label, o, got, want)
			}
		}
	}
	if after.Speakers[behind].Power <= before.Speakers[behind].Power {
		t.Error("it needs no more power for that")
	}
}
