// SPDX-License-Identifier: MIT

// Package modal answers what sound does in a closed rectangular room: its modes, and
// the pressure that sources make at listeners as the sum over those modes.
//
// Relative to the free field of the source at 1 m (Morse and Ingard, Theoretical
// Acoustics, 9.4 and 9.5; Kuttruff, Room Acoustics, ch. 3),
//
//	p = 4 pi sum_n psi_n(source) psi_n(receiver) / (N_n (kappa_n^2 - k^2))
//
// psi_n is the product of one function along each axis, N_n its square integrated
// over the room, kappa_n^2 the sum of the squares of three roots, k the wave number
// 2 pi f/c. Between rigid walls the roots are p pi/L, q pi/W, r pi/H and the functions
// cosines; walls that give way by an admittance move both (axis.go). Both depend on
// frequency, and all is complex. The sum over one of the three indices has a
// closed form, so that only two are summed (section.go), and what is smooth is carried
// over frequency (bands.go).
//
// What all sound loses anyhow is a k of (w - j d)/c, d in 1/s: the same as the sum over
// image sources weighted by exp(-d t).
//
// This is the exact solution for surfaces that react locally, with a real admittance,
// each alike all over, whatever they absorb: the tests hold it to 1e-4 of the free
// field at 1 m, from 0.02 to all that such a surface can take. It knows closed
// rectangular rooms with nothing in them.
package modal
