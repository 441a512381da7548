// SPDX-License-Identifier: MIT

package noise

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
	"earline/project/file"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// The curves of NR 10 to 25 from the coefficients, 31.5 Hz to 8 kHz (ISO/R 1996 noise
// rating curves, as public repositories tabulate them; worked out apart from this code).
func TestNRCurves(t *testing.T) {
	for nr, want := range map[float64]Levels{
		10: {62.21, 43.40, 30.70, 21.30, 14.54, 10.00, 6.65, 4.15, 2.30},
		15: {65.61, 47.35, 35.05, 25.95, 19.41, 15.00, 11.72, 9.27, 7.45},
		20: {69.02, 51.30, 39.40, 30.60, 24.28, 20.00, 16.80, 14.40, 12.60},
		25: {72.42, 55.25, 43.75, 35.25, 29.15, 25.00, 21.87, 19.52, 17.75},
	} {
		got := NRCurve(nr)
		for i := range got {
			near(t, fmt.Sprintf("NR %g octave %d", nr, i), got[i], want[i], 0.01)
		}
	}
}

// The published curves rate themselves, and what lies half way lies half way.
func TestNCOfItsOwnCurves(t *testing.T) {
	for k, c := range ncCurves {
		var l Levels
		copy(l[1:], c[:])
		if nc, ok := NC(l); !ok || nc != 15+5*float64(k) {
			t.Errorf("NC %d is rated %g", 15+5*k, nc)
		}
	}
	// 1 kHz at 19.5 lies between 17 (NC 15) and 22 (NC 20): NC 17.5, all else lower.
	if nc, ok := NC(Levels{0, 0, 0, 0, 0, 19.5, 0, 0, 0}); !ok || nc != 17.5 {
		t.Errorf("%g %v", nc, ok)
	}
	if nc, ok := NC(Levels{}); ok || nc != 15 {
		t.Errorf("silence: %g %v", nc, ok)
	}
	if nc, ok := NC(Levels{0, 0, 0, 0, 0, 90, 0, 0, 0}); ok || nc != 50 {
		t.Errorf("a drill: %g %v", nc, ok)
	}
}

// A curve rates as itself, and no level can be raised without raising the rating where it
// decides.
func TestALouderOctaveNeverRatesQuieter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nr := rapid.Float64Range(0, 80).Draw(t, "nr")
		l := NRCurve(nr)
		if got, _ := NR(l); math.Abs(got-nr) > 1e-9 {
			t.Fatalf("NR %g is rated %g", nr, got)
		}
		i, up := rapid.IntRange(0, len(l)-1).Draw(t, "octave"), rapid.Float64Range(0.1, 20).Draw(t, "up")
		nc, _ := NC(l)
		l[i] += up
		got, octave := NR(l)
		if louder, _ := NC(l); got <= nr || octave != i || louder < nc {
			t.Fatalf("%g after %g, decided at %d", got, nr, octave)
		}
	})
}

func TestLevelsInARoom(t *testing.T) {
	near(t, "room constant", RoomConstant(100*0.2, 0.2), 25, 1e-12) // Bies, Engineering Noise Control, 5th ed., eq. 6.44: S 100 m², a 0.2
	near(t, "1 m in the free field", InRoom(28, 1, 0), 28, 1e-12)
	near(t, "2 m in the free field", InRoom(28, 2, 0), 28-20*math.Log10(2), 1e-12)
	// By hand: 4 pi 4 / 25 = 2.0106, with 1/4 at 2 m 2.2606: 3.542 dB up.
	near(t, "2 m in a room", InRoom(28, 2, 25), 31.542, 0.001)
	near(t, "far off, the even field is left", InRoom(28, 1e6, 25), 28+10*math.Log10(16*math.Pi/25), 1e-6)
	near(t, "two alike", Sum(20, 20), 23.0103, 1e-4) // 10 lg 2
}

func small(t *testing.T) *project.Design {
	t.Helper()
	d, ok := file.Demo("small")
	if !ok {
		t.Fatal("no demo")
	}
	return d
}

func metres(v float64) string { return fmt.Sprintf("%.1f m", v) }

func TestTheCheckLine(t *testing.T) {
	d := small(t)
	d.Projector, d.ProjectorModels = project.Projector{}, nil
	say := func() string { r := Of(d, 0); return r.Line(metres) }
	want := func(text string) {
		t.Helper()
		if got := say(); !strings.HasPrefix(got, text) {
			t.Errorf("%s\nwant %s", got, text)
		}
	}
	const asked = "; reference listening rooms ask for NR 10 and never over NR 15 (Rec. ITU-R BS.1116-3 (02/2015), 8.4.4, from memory)"
	want("Background noise: not known" + asked)
	for nr, verdict := range map[float64]string{10: "as quiet as that", 15.4: "within the limit", 16: "over the limit by 1", 25: "over the limit by 10"} {
		d.Playback.Background = nr
		want(fmt.Sprintf("Background noise: NR %.0f, as stated, without a projector%s: %s", nr, asked, verdict))
	}
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Noise: 30}}
	s := d.Seating.Rows[0]
	d.Projector = project.Projector{Model: "p", Mount: project.CeilingMount, At: project.Point{X: s.Distance, Y: s.Centre, Z: 2.2}}
	d.Playback.Background = 20
	r := Of(d, 0)
	if r.Seat == "" || r.Distance < 0.5 || r.Distance > 1.5 || math.Abs(r.NR-Sum(20, r.Projector-5)) > 1e-9 {
		t.Errorf("%+v", r)
	}
	want(fmt.Sprintf("Background noise: NR %.0f, NR 20 as stated with the projector, %.0f dB(A) at seat 1.2, %.1f m away, about NR %.0f; reference", r.NR, r.Projector, r.Distance, r.Projector-5))
	if r.Remark() == "" {
		t.Error("what is assumed is not said")
	}
	d.Playback.Background = 0
	want("Background noise: NR 2")
	d.Projector.Mount = project.PortMount
	want("Background noise: not known (the projector is behind glass); ")
	l := NRCurve(18)
	d.Measured.Noise = l[:]
	want("Background noise: NR 18, measured, decided at ")
	if got := say(); !strings.Contains(got, "NC 1") {
		t.Error(got)
	}
	if rep := Of(d, 0).Report(); rep.NR == nil || *rep.NR != 18 || rep.Verdict != "over the limit" {
		t.Errorf("%+v", rep)
	}
}
