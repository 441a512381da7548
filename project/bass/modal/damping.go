// SPDX-License-Identifier: MIT

package modal

// Damping returns the rate at which the pressure of a mode dies away, in 1/s:
// after t seconds it is exp(-rate t). It must not be negative.
type Damping func(Mode) float64

// Uniform gives all modes the same reverberation time, in seconds.
func Uniform(t60 float64) Damping {
	d := rate(t60)
	return func(Mode) float64 { return d }
}

// ByKind gives axial, tangential and oblique modes each their own reverberation
// time, in seconds; the still one dies away as the axial ones do.
func ByKind(axial, tangential, oblique float64) Damping {
	d := [...]float64{rate(axial), rate(axial), rate(tangential), rate(oblique)}
	return func(m Mode) float64 { return d[m.Kind()] }
}

// Surfaces are the six surfaces of a rectangular room by the real part of their
// acoustic admittance relative to that of air, rho c Re(1/Z): 0 is rigid. Front
// is x = 0, Left y = 0, Floor z = 0.
type Surfaces struct {
	Front, Back, Left, Right, Floor, Ceiling float64
}

// Damping returns the damping of each mode of the room by locally reacting surfaces
// of small admittance.
//
// Formula: a surface takes <p^2> g/(rho c) from each square metre, the mode holds
// <p^2>/(rho c^2) in each cubic metre, so the amplitude dies away at
// d = c/2 sum over surfaces of g (area integral of psi^2) / (volume integral of
// psi^2) = c/2 sum over axes of e (g0 + g1)/length, e = 1 for index 0 and 2
// otherwise (first order in g; Morse and Ingard, Theoretical Acoustics, 9.4). A
// mode that runs along a surface therefore loses half as much to it as one that
// runs towards it.
func (s Surfaces) Damping(r Room) Damping {
	half := r.speed() / 2
	x := half * (s.Front + s.Back) / r.Length
	y := half * (s.Left + s.Right) / r.Width
	z := half * (s.Floor + s.Ceiling) / r.Height
	return func(m Mode) float64 {
		return weight(m.P)*x + weight(m.Q)*y + weight(m.R)*z
	}
}

// weight is e for one index.
func weight(index int) float64 {
	if index == 0 {
		return 1
	}
	return 2
}
