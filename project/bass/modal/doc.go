// SPDX-License-Identifier: MIT

// Package modal answers what sound does in a closed rectangular room with light
// damping: its modes, and the pressure that sources make at listeners as the sum
// over those modes.
//
// The sum (Kuttruff, Room Acoustics, ch. 3; Morse and Ingard, Theoretical
// Acoustics, 9.5), relative to the free field of the source at 1 m:
//
//	p = 4 pi c^2 / V  sum_n  e_n psi_n(source) psi_n(receiver) / (w_n^2 + d_n^2 - w^2 + 2 j d_n w)
//
// psi_n(x, y, z) = cos(p pi x/L) cos(q pi y/W) cos(r pi z/H); e_n is the product
// over the three indices of 1 for index 0 and 2 otherwise; w_n = 2 pi f_n; d_n is
// the rate at which the mode dies away, 3 ln 10 / T60. The denominator carries
// d_n^2: this form equals the sum over image sources weighted by exp(-d t)
// exactly when all modes share d. Without d^2 levels move by some 0.05 dB at
// T60 = 0.5 s.
//
// It holds for a rectangular room whose surfaces absorb little and whose doors
// are shut, up to about its Schroeder frequency; above, single modes say little.
package modal
