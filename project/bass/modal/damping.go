// SPDX-License-Identifier: MIT

package modal

// Surfaces are the six surfaces of a rectangular room by the real part of their
// acoustic admittance relative to that of air, rho c Re(1/Z): 0 is rigid. Front
// is x = 0, Left y = 0, Floor z = 0.
type Surfaces struct {
	Front, Back, Left, Right, Floor, Ceiling float64
}

// Scaled returns the surfaces with all admittances times k.
func (s Surfaces) Scaled(k float64) Surfaces {
	return Surfaces{s.Front * k, s.Back * k, s.Left * k, s.Right * k, s.Floor * k, s.Ceiling * k}
}

// pair returns the admittances of the surfaces at the origin and at the far end of
// an axis: x 0, y 1, z 2.
func (s Surfaces) pair(axis int) (near, far float64) {
	switch axis {
	case 0:
		return s.Front, s.Back
	case 1:
		return s.Left, s.Right
	}
	return s.Floor, s.Ceiling
}

// Loss is what takes sound from the room at one frequency.
type Loss struct {
	Surfaces
	// Rate is the rate, in 1/s, at which all sound dies away besides, however it
	// runs: after t seconds its pressure is exp(-Rate t) of what it was.
	Rate float64
}

// Damping returns the loss at a frequency in hertz. It must be a pure function,
// without negative values.
type Damping func(hertz float64) Loss

// Uniform gives all sound the same reverberation time, in seconds, at all
// frequencies.
func Uniform(t60 float64) Damping {
	l := Loss{Rate: rate(t60)}
	return func(float64) Loss { return l }
}

// Decay gives all modes the reverberation time, in seconds, that was measured at
// each frequency.
func Decay(t60 func(hertz float64) float64) Damping {
	return func(hertz float64) Loss { return Loss{Rate: rate(t60(hertz))} }
}

// Damping returns the damping of surfaces that take the same at all frequencies.
func (s Surfaces) Damping() Damping {
	return func(float64) Loss { return Loss{Surfaces: s} }
}

// Rate returns the rate, in 1/s, at which a mode dies away, to the first order in what
// surfaces take: of one pair of walls it is g for artanh g, 5 % too little at an
// absorption of 0.8. The sum over modes does not use it.
//
// Formula: a surface takes <p^2> g/(rho c) from each square metre, the mode holds
// <p^2>/(rho c^2) in each cubic metre, so the amplitude dies away at
// d = c/2 sum over surfaces of g (area integral of psi^2) / (volume integral of
// psi^2) = c/2 sum over axes of e (g0 + g1)/length, e = 1 for index 0 and 2
// otherwise (first order in g; Morse and Ingard, Theoretical Acoustics, 9.4). A
// mode that runs along a surface therefore loses half as much to it as one that
// runs towards it.
func (d Damping) Rate(r Room, m Mode) float64 {
	loss := d(m.Frequency)
	sum := 0.0
	for axis, index := range [...]int{m.P, m.Q, m.R} {
		near, far := loss.pair(axis)
		sum += weight(index) * (near + far) / r.side(axis)
	}
	return loss.Rate + r.speed()/2*sum
}

// weight is e for one index.
func weight(index int) float64 {
	if index == 0 {
		return 1
	}
	return 2
}
