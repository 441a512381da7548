// SPDX-License-Identifier: MIT

package filter

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/project"
)

// Coefficients and responses of scipy 1.10.1, which knows the bilinear transform and not
// the note's closed forms: the analogue filters of the note, their middle at w0 = 2 fs
// tan(pi f/fs), through scipy.signal.bilinear; responses by scipy.signal.freqz.
//
//	A = 10**(g/40); w0 = 2*fs*numpy.tan(numpy.pi*f/fs); s = [1/w0**2, 1/w0, 1]
//	peak       b, a = [1, A/Q, 1], [1, 1/(A*Q), 1]
//	low shelf  b, a = [A, A*sqrt(A)/Q, A*A], [A, sqrt(A)/Q, 1]
//	high shelf b, a = [A*A, A*sqrt(A)/Q, A], [1, sqrt(A)/Q, A]
//	high-pass  b, a = [1, 0, 0], [1, 1/Q, 1]
//	B, A = signal.bilinear(b*s, a*s, fs); signal.freqz(B, A, worN=[20, 42, 80, 1000, 12000], fs=fs)
func TestBiquadsAgreeWithScipy(t *testing.T) {
	at := [5]float64{20, 42, 80, 1000, 12000}
	for _, tt := range []struct {
		f      project.Filter
		want   Biquad
		dB     [5]float64
		degree [5]float64
	}{
		{project.Filter{Kind: project.Peak, Frequency: 42, Gain: -6.5, Q: 4.3}, Biquad{0.9995108187557304, -1.9981127941704306, 0.9986321729374628, -1.9981127941704306, 0.9981429916931931},
			[5]float64{-0.14235612, -6.5, -0.19523835, -0.00068001034, -2.9114213e-06}, [5]float64{-6.1351002, -4.787737e-10, 7.1548356, 0.4287309, 0.028054479}},
		{project.Filter{Kind: project.Peak, Frequency: 1000, Gain: 6, Q: 1}, Biquad{1.043953086990335, -1.8953207239365961, 0.8677222847598565, -1.8953207239365961, 0.9116753717501916},
			[5]float64{0.0025888442, 0.011428509, 0.041608047, 6, 0.027964935}, [5]float64{0.80619659, 1.6926303, 3.2214961, 4.3696046e-13, -2.6440708}},
		{project.Filter{Kind: project.LowShelf, Frequency: 60, Gain: -4, Q: 0.7}, Biquad{0.9987063936338587, -1.9874269750343205, 0.988769272628963, -1.987412735450279, 0.9874899058468631},
			[5]float64{-3.9407882, -3.1931653, -0.99193368, -0.0003489674, -1.2710292e-06}, [5]float64{6.8865111, 15.56994, 16.438166, 1.1356517, 0.074176771}},
		{project.Filter{Kind: project.HighShelf, Frequency: 55, Gain: -5.5, Q: 0.7}, Biquad{0.5317530249252657, -1.0570997770328727, 0.5253843531688184, -1.9912216455795932, 0.9912592466408047},
			[5]float64{-0.11474878, -1.4513887, -4.4354423, -5.4996023, -5.4999985}, [5]float64{-10.494162, -22.820486, -21.048088, -1.4334798, -0.09367725}},
		{project.Filter{Kind: project.HighPass, Frequency: 18, Q: 0.7}, Biquad{0.9983184476237473, -1.9966368952474947, 0.9983184476237473, -1.9966341240863898, 0.9966396664085994},
			[5]float64{-2.2767103, -0.1754772, -0.020057504, -5.7722259e-05, -2.460343e-07}, [5]float64{81.593788, 36.869816, 18.70432, 1.4713683, 0.096428659}},
	} {
		b, err := New(tt.f, Rate)
		if err != nil {
			t.Fatal(err)
		}
		got, want := [5]float64{b.B0, b.B1, b.B2, b.A1, b.A2}, [5]float64{tt.want.B0, tt.want.B1, tt.want.B2, tt.want.A1, tt.want.A2}
		for i := range got {
			const rounding = 1e-12 // scipy goes through w0^2 of 1e11
			if math.Abs(got[i]-want[i]) > rounding {
				t.Errorf("%+v: coefficient %d is %.16g, want %.16g", tt.f, i, got[i], want[i])
			}
		}
		for i, f := range at {
			const printed = 1e-6 // dB and degrees: digits of the table
			h := b.Response(f, Rate)
			if dB, degree := Level(h), cmplx.Phase(h)*180/math.Pi; math.Abs(dB-tt.dB[i]) > printed || math.Abs(degree-tt.degree[i]) > printed {
				t.Errorf("%+v at %g Hz: %.9g dB, %.9g degrees, want %.9g, %.9g", tt.f, f, dB, degree, tt.dB[i], tt.degree[i])
			}
		}
	}
}

// The analogue filters of the note, at s = j tan(pi f/rate)/tan(pi f0/rate): what the
// bilinear transform makes of a frequency.
func analogue(f project.Filter, hz, rate float64) complex128 {
	a := math.Pow(10, f.Gain/40)
	s := complex(0, math.Tan(math.Pi*hz/rate)/math.Tan(math.Pi*f.Frequency/rate))
	c := func(v float64) complex128 { return complex(v, 0) }
	switch q, root := f.Q, math.Sqrt(a); f.Kind {
	case project.Peak:
		return (s*s + s*c(a/q) + 1) / (s*s + s*c(1/(a*q)) + 1)
	case project.LowShelf:
		return c(a) * (s*s + s*c(root/q) + c(a)) / (c(a)*s*s + s*c(root/q) + 1)
	case project.HighShelf:
		return c(a) * (c(a)*s*s + s*c(root/q) + 1) / (s*s + s*c(root/q) + c(a))
	default:
		return s * s / (s*s + s*c(1/f.Q) + 1)
	}
}

func drawn(t *rapid.T) project.Filter {
	f := project.Filter{Kind: rapid.SampledFrom([]project.FilterKind{project.Peak, project.LowShelf, project.HighShelf, project.HighPass}).Draw(t, "kind"),
		Frequency: rapid.Float64Range(10, 10000).Draw(t, "hz"), Q: rapid.Float64Range(0.1, 30).Draw(t, "q")}
	if f.Kind != project.HighPass {
		f.Gain = rapid.Float64Range(-30, 12).Draw(t, "gain")
	}
	return f
}

func TestFiltersAreTheNotesAnalogueOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rate := drawn(t), rapid.SampledFrom([]float64{44100, 48000, 96000, 192000}).Draw(t, "rate")
		hz := rapid.Float64Range(10, 20000).Draw(t, "at")
		b, err := New(f, rate)
		if err != nil {
			t.Fatal(err)
		}
		if !b.Stable() {
			t.Fatalf("%+v at %g Hz rings for ever: %+v", f, rate, b)
		}
		// Coefficients of about 2 in doubles leave 1e-15 of what is 1e-6 at 10 Hz and
		// 192 kHz, and a narrow filter makes it less again.
		const rounding = 1e-6
		if got, want := b.Response(hz, rate), analogue(f, hz, rate); cmplx.Abs(got-want) > rounding*(cmplx.Abs(want)+1) {
			t.Fatalf("%+v at %g Hz, %g Hz: %v, want %v", f, rate, hz, got, want)
		}
	})
}

// A cut takes away exactly what the boost by as much gives, as the note says of its peak;
// the same follows for the shelves.
func TestACutUndoesTheSameBoost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		up := drawn(t)
		down := up
		down.Gain = -up.Gain
		if up.Kind == project.HighPass {
			return
		}
		c, err := Of([]project.Filter{up, down})
		if err != nil {
			t.Fatal(err)
		}
		if h := c.Response(rapid.Float64Range(10, 20000).Draw(t, "at")); cmplx.Abs(h-1) > 1e-6 {
			t.Fatalf("%+v and its cut leave %v", up, h)
		}
	})
}

func TestWhatNoFilterCanBeIsRefusedInOneLine(t *testing.T) {
	fine := project.Filter{Kind: project.Peak, Frequency: 40, Gain: -3, Q: 2}
	with := func(edit func(*project.Filter)) project.Filter { f := fine; edit(&f); return f }
	for want, f := range map[string]project.Filter{
		"filter Q: 0, allowed: above 0":            with(func(f *project.Filter) { f.Q = 0 }),
		"filter Q: NaN, allowed: above 0":          with(func(f *project.Filter) { f.Q = math.NaN() }),
		"filter Q: +Inf, allowed: above 0":         with(func(f *project.Filter) { f.Q = math.Inf(1) }),
		"filter frequency: 24000 Hz, allowed":      with(func(f *project.Filter) { f.Frequency = 24000 }),
		"filter frequency: 0 Hz, allowed: above 0": with(func(f *project.Filter) { f.Frequency = 0 }),
		"filter gain: 90 dB, allowed: -60 to 60":   with(func(f *project.Filter) { f.Gain = 90 }),
		"filter gain: NaN dB, allowed: -60 to 60":  with(func(f *project.Filter) { f.Gain = math.NaN() }),
		"filter kind: notch, allowed: peak, low":   with(func(f *project.Filter) { f.Kind = "notch" }),
	} {
		if _, err := New(f, Rate); err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if _, err := New(fine, 0); err == nil {
		t.Error("a rate of 0 is taken")
	}
	if h := Chain(nil).Response(50); h != 1 {
		t.Errorf("no filter does %v", h)
	}
}
