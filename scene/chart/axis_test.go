// SPDX-License-Identifier: MIT

package chart

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/scene/drawing"
)

// The preferred frequencies of one-third octaves, and of octaves, through the
// audible range as ISO 266 prints them (from memory; every sound level meter has
// them).
func TestNominalFrequencies(t *testing.T) {
	want := []float64{20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
		1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000}
	octaves := map[float64]bool{31.5: true, 63: true, 125: true, 250: true, 500: true, 1000: true, 2000: true, 4000: true, 8000: true, 16000: true}
	for i, f := range want {
		if got := nominalThird(i + 3); got != f {
			t.Errorf("third %d: got %v, want %v", i+3, got, f)
		}
		if got := isOctave(i + 3); got != octaves[f] {
			t.Errorf("%v Hz in octaves: got %v", f, got)
		}
		// Printed midbands are the exact ones, 10^(n/10), to 1.3 % at most.
		if exact := 10 * math.Pow(10, float64(i+3)/10); math.Abs(f/exact-1) > 0.013 {
			t.Errorf("%v Hz is far from %v", f, exact)
		}
	}
	if got := nominalThird(-1); got != 8 {
		t.Errorf("under 10 Hz: got %v, want 8", got)
	}
}

// written returns what is written along an axis.
func (s *scale) written() string {
	var out []string
	for _, t := range s.ticks {
		if t.text != "" {
			out = append(out, t.text)
		}
	}
	return strings.Join(out, " ")
}

func TestAxes(t *testing.T) {
	typeface := drawing.NewTypeface(nil)
	width := func(text string) float64 { return typeface.Width(text, textSize) }
	for _, c := range []struct {
		name   string
		axis   Axis
		across bool
		data   []float64
		want   string
	}{
		{"bass", Axis{Kind: Frequency, Min: 20, Max: 200}, true, nil, "20 25 31.5 40 50 63 80 100 125 160 200"},
		{"all of it", Axis{Kind: Frequency, Min: 20, Max: 20000}, true, nil, "20 31.5 63 125 250 500 1k 2k 4k 8k 16k 20k"},
		{"from data", Axis{Kind: Frequency}, true, []float64{24, 180}, "20 25 31.5 40 50 63 80 100 125 160 200"},
		{"arrivals", Axis{Kind: Time, Min: 0, Max: 0.030}, true, nil, "0 2 4 6 8 10 12 14 16 18 20 22 24 26 28 30"},
		{"reverberation", Axis{Kind: Time}, false, []float64{0, 0.71}, "0.0 0.2 0.4 0.6 0.8"},
		{"decibels", Axis{Kind: Decibel}, false, []float64{58, 84}, "55 60 65 70 75 80 85"},
		{"ripple", Axis{Kind: Decibel}, false, []float64{70.1, 70.2}, "60 65 70 75 80 85"},
		{"six", Axis{Kind: Decibel, Min: -6, Max: 6}, false, nil, "−6 −4 −2 0 2 4 6"},
		{"nine", Axis{Kind: Decibel, Min: -9, Max: 9}, false, nil, "−9 −6 −3 0 3 6 9"},
		{"constant", Axis{}, false, []float64{4, 4}, "3.4 3.6 3.8 4.0 4.2 4.4 4.6"},
		{"nothing", Axis{}, false, nil, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{"backwards", Axis{Min: 5, Max: 1}, false, []float64{0, 10}, "0 2 4 6 8 10"},
		{"one end", Axis{Min: 0, Max: math.NaN()}, false, []float64{3, 9}, "0 2 4 6 8 10"},
	} {
		data := noExtent()
		for _, v := range c.data {
			data.add(v)
		}
		a, b := 150.0, 0.0
		if c.across {
			a, b = 0, 800
		}
		s := newScale(&c.axis, data, track{from: a, to: b, horizontal: c.across, k: 1, width: width})
		if diff := cmp.Diff(c.want, s.written()); diff != "" {
			t.Errorf("%s: -want +got\n%s", c.name, diff)
		}
	}
}

// An octave is as wide everywhere, and a decibel as high.
func TestOctavesAreEquallyWide(t *testing.T) {
	d := (&Chart{X: Axis{Kind: Frequency, Min: 20, Max: 20000}}).Layout(Paper{W: 950, H: 210, Style: Dark()})
	first := d.x.pixel(40) - d.x.pixel(20)
	if want := d.field.Dx() / math.Log2(1000); math.Abs(first-want) > 1e-9 {
		t.Errorf("an octave is %v px, want %v", first, want)
	}
	for f := 20.0; f <= 10000; f *= 2 {
		if got := d.x.pixel(2*f) - d.x.pixel(f); math.Abs(got-first) > 1e-6 {
			t.Errorf("from %v Hz an octave is %v px, want %v", f, got, first)
		}
	}
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{formatNumber(-3.2, 1), "−3.2"}, {formatNumber(-0.04, 1), "0.0"}, {formatNumber(12, 0), "12"},
		{formatHertz(31.5), "31.5"}, {formatHertz(12500), "12.5k"}, {formatHertz(1000), "1k"}, {formatHertz(3150), "3.15k"},
		{formatSignificant(63.0957, 3), "63.1"}, {formatSignificant(125.89, 3), "126"}, {formatSignificant(1.2589, 3), "1.26"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// The read-out of a chart far beyond what is heard lost zeros of the power of ten.
func TestLargeFrequencyKeepsItsPowerOfTen(t *testing.T) {
	s := scale{kind: Frequency}
	if got, want := s.say(5.287e13), "5.287e+10 kHz"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
