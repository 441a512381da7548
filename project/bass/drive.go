// SPDX-License-Identifier: MIT

package bass

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"earline/project"
	"earline/project/bass/crossover"
	"earline/project/bass/filter"
)

// Sub is a subwoofer: its construction and its drive. The zero value is one that
// reaches down to 0 Hz.
type Sub struct {
	Name string // for remarks; empty is its number
	// Enclosure says how it falls off below its corner: project.Ported by 24 dB
	// per octave, anything else as sealed, by 12.
	Enclosure project.Enclosure
	// Corner is where its response has fallen by 3 dB, in hertz; 0: nowhere. The
	// fall is that of a Butterworth filter.
	Corner float64
	// Sensitivity is its level well above the corner, in dB re 20 uPa at 1 m in the
	// free field for 2.83 V. A value measured on the floor of a hall counts 6 dB
	// more than one in the free field.
	Sensitivity float64
	// Filters are those of the processor, which Optimise leaves as they are.
	Filters filter.Chain
	Drive
}

// Drive is what the processor does to the signal of one subwoofer.
type Drive struct {
	Gain     float64 // dB
	Delay    float64 // s
	Inverted bool    // polarity
	// LowPass is the corner of a fourth-order Linkwitz-Riley low-pass, where it has
	// fallen by 6 dB, in hertz; 0 is none.
	LowPass float64
}

// Response returns the complex response of the subwoofer itself at f hertz,
// above 0, re its response far above the corner: a Butterworth high-pass of
// second or fourth order (Butterworth 1930; sealed and vented alignments after
// Thiele 1971 and Small 1972).
func (s Sub) Response(f float64) complex128 {
	if s.Corner == 0 {
		return 1
	}
	order := 2
	if s.Enclosure == project.Ported {
		order = 4
	}
	return crossover.Filter{Order: order, Passes: crossover.Above}.Response(f, s.Corner)
}

// Response returns what the drive does to a signal of f hertz: gain, polarity,
// delay and low-pass.
func (d Drive) Response(f float64) complex128 {
	h := cmplx.Rect(math.Pow(10, d.Gain/20), -2*math.Pi*f*d.Delay)
	if d.Inverted {
		h = -h
	}
	return h * d.crossover(f)
}

// Tuned returns the drive of a loudspeaker as the design has it, without a
// low-pass.
func Tuned(t project.Tuning) Drive {
	return Drive{Gain: t.Gain, Delay: t.Delay / 1000, Inverted: t.Inverted}
}

// Tuning returns d as the design stores it, to a millionth of a dB and of a
// millisecond, so that whole steps print as such.
func (d Drive) Tuning() project.Tuning {
	return project.Tuning{Gain: math.Round(1e6*d.Gain) / 1e6, Delay: math.Round(1e9*d.Delay) / 1e6, Inverted: d.Inverted}
}

// crossover returns the response of the low-pass.
func (d Drive) crossover(f float64) complex128 {
	return crossover.Of(project.LinkwitzRiley4).Low.Response(f, d.LowPass)
}

// fixed returns the response that Optimise does not change: that of the subwoofer,
// its sensitivity, its filters and its low-pass.
func (s Sub) fixed(f float64) complex128 {
	return s.Response(f) * s.crossover(f) * s.Filters.Response(f) * complex(math.Pow(10, s.Sensitivity/20), 0)
}

// check returns a fault for values that cannot be computed; n counts from 1.
func (s Sub) check(n int) error {
	var faults []error
	fault := func(field string, v any, allowed string) {
		faults = append(faults, &project.Fault{Field: fmt.Sprintf("subwoofer %d %s", n, field), Found: fmt.Sprint(v), Allowed: allowed})
	}
	switch s.Enclosure {
	case "", project.Sealed, project.Ported:
	default:
		fault("enclosure", s.Enclosure, "sealed or ported")
	}
	if !(s.Corner >= 0 && s.Corner < 1000) {
		fault("corner", fmt.Sprint(s.Corner, " Hz"), "0 (none) to 1000 Hz")
	}
	if !(math.Abs(s.Sensitivity) <= 200) {
		fault("sensitivity", fmt.Sprint(s.Sensitivity, " dB"), "-200 to 200 dB")
	}
	if !(math.Abs(s.Gain) <= 100) {
		fault("gain", fmt.Sprint(s.Gain, " dB"), "-100 to 100 dB")
	}
	if !(s.Delay >= 0 && s.Delay <= 1) {
		fault("delay", fmt.Sprint(s.Delay, " s"), "0 to 1 s")
	}
	if !(s.LowPass >= 0 && !math.IsInf(s.LowPass, 0)) {
		fault("low-pass", fmt.Sprint(s.LowPass, " Hz"), "0 (none) or above")
	}
	return errors.Join(faults...)
}
