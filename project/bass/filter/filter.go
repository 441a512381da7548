// SPDX-License-Identifier: MIT

// Package filter turns the filters of a parametric equaliser into biquads, the sections
// of second order that digital processors run, and says what those do to a signal.
//
// Formulas: R. Bristow-Johnson, Audio EQ Cookbook, W3C Working Group Note, 8 June 2021
// (https://www.w3.org/TR/audio-eq-cookbook/): filters of the analogue world brought over
// by the bilinear transform, their middle kept in its place.
package filter

import (
	"fmt"
	"math"
	"math/cmplx"

	"earline/project"
)

// Rate is the sample rate that responses are computed at and coefficients are written
// for unless something else is asked, hertz. In the bass another rate changes a response
// by less than 0.001 dB, but never its coefficients by so little that they can be taken
// over.
const Rate = 48000

// Biquad is a section of second order:
//
//	H(z) = (B0 + B1/z + B2/z^2)/(1 + A1/z + A2/z^2)
//
// A1 and A2 have the sign that they have in this denominator, as in the note; some
// processors want them with the other.
type Biquad struct{ B0, B1, B2, A1, A2 float64 }

// New returns the biquad of f at a sample rate in hertz. It returns a *project.Fault for
// a filter that cannot be made: the frequency at half the rate or above, Q 0, or a gain
// of more than 60 dB either way.
//
// The Q of a shelf is that of the note: 0.707 is a slope without a hump.
func New(f project.Filter, rate float64) (Biquad, error) {
	const greatest = 60 // dB: far beyond any equaliser
	refuse := func(field string, v any, unit, allowed string) (Biquad, error) {
		return Biquad{}, &project.Fault{Field: "filter " + field, Found: fmt.Sprint(v, unit), Allowed: allowed}
	}
	switch {
	case !(rate > 0) || math.IsInf(rate, 0):
		return refuse("sample rate", rate, " Hz", "above 0 Hz")
	case !(f.Frequency > 0 && f.Frequency < rate/2):
		return refuse("frequency", f.Frequency, " Hz", fmt.Sprintf("above 0, below half the sample rate, %g Hz", rate/2))
	case !(f.Q > 0) || math.IsInf(f.Q, 0):
		return refuse("Q", f.Q, "", "above 0")
	case !(math.Abs(f.Gain) <= greatest):
		return refuse("gain", f.Gain, " dB", fmt.Sprintf("-%d to %d dB", greatest, greatest))
	}
	a := math.Pow(10, f.Gain/40)
	sin, cos := math.Sincos(2 * math.Pi * f.Frequency / rate)
	alpha := sin / (2 * f.Q)
	slope := 2 * math.Sqrt(a) * alpha
	switch f.Kind {
	case project.Peak:
		return normalised(1+alpha*a, -2*cos, 1-alpha*a, 1+alpha/a, -2*cos, 1-alpha/a), nil
	case project.LowShelf:
		return normalised(a*((a+1)-(a-1)*cos+slope), 2*a*((a-1)-(a+1)*cos), a*((a+1)-(a-1)*cos-slope),
			(a+1)+(a-1)*cos+slope, -2*((a-1)+(a+1)*cos), (a+1)+(a-1)*cos-slope), nil
	case project.HighShelf:
		return normalised(a*((a+1)+(a-1)*cos+slope), -2*a*((a-1)+(a+1)*cos), a*((a+1)+(a-1)*cos-slope),
			(a+1)-(a-1)*cos+slope, 2*((a-1)-(a+1)*cos), (a+1)-(a-1)*cos-slope), nil
	case project.HighPass:
		return normalised((1+cos)/2, -(1 + cos), (1+cos)/2, 1+alpha, -2*cos, 1-alpha), nil
	}
	return refuse("kind", f.Kind, "", "peak, low shelf, high shelf or high-pass")
}

func normalised(b0, b1, b2, a0, a1, a2 float64) Biquad {
	return Biquad{b0 / a0, b1 / a0, b2 / a0, a1 / a0, a2 / a0}
}

// Response returns what b does to a signal of f hertz at a sample rate in hertz.
func (b Biquad) Response(f, rate float64) complex128 { return b.At(Delay(f, rate)) }

// Delay returns 1/z at f hertz: what a delay of one sample at that rate does.
func Delay(f, rate float64) complex128 { return cmplx.Rect(1, -2*math.Pi*f/rate) }

// At returns the response of b where 1/z is as given: see Delay.
func (b Biquad) At(delay complex128) complex128 {
	c := func(v float64) complex128 { return complex(v, 0) }
	return (c(b.B0) + delay*(c(b.B1)+delay*c(b.B2))) / (1 + delay*(c(b.A1)+delay*c(b.A2)))
}

// Stable reports whether b comes to rest: its poles lie within the unit circle (the
// triangle of Jury, |A2| < 1 and |A1| < 1 + A2).
func (b Biquad) Stable() bool { return math.Abs(b.A2) < 1 && math.Abs(b.A1) < 1+b.A2 }

// Chain is filters one after the other at Rate. The zero value leaves a signal as it is.
type Chain []Biquad

// Of returns filters as a chain. For errors see New.
func Of(filters []project.Filter) (Chain, error) {
	var c Chain
	for _, f := range filters {
		b, err := New(f, Rate)
		if err != nil {
			return nil, err
		}
		c = append(c, b)
	}
	return c, nil
}

// Response returns what c does to a signal of f hertz.
func (c Chain) Response(f float64) complex128 {
	h := complex(1, 0)
	for _, b := range c {
		h *= b.Response(f, Rate)
	}
	return h
}

// Level returns by how much c raises a signal of f hertz, dB.
func (c Chain) Level(f float64) float64 { return Level(c.Response(f)) }

// Level returns the level of a response, dB; no less than -400.
func Level(h complex128) float64 {
	const nothing = 1e-40
	return 10 * math.Log10(max(real(h)*real(h)+imag(h)*imag(h), nothing))
}
