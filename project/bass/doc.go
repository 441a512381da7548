// SPDX-License-Identifier: MIT

// Package bass answers what the subwoofers do at every seat: levels over
// frequency, how alike the seats hear them, how loud they can play and must (Output),
// and which positions, gains, delays and polarities make them more alike.
//
// The sound of each subwoofer at each seat, a field.Transfer, comes from one of
// two ways of computing it: package modal, the sum over the modes of a
// rectangular room, in milliseconds; or package wave, finite differences in a
// room of any shape, in seconds. Its Remarks say what it holds for, and every
// result here carries them on.
//
// How long the room rings (Decay) follows from the same two ways. What was measured of it
// scales what the surfaces take; without, a study by modes says what half and twice the
// absorption would do.
//
// Levels are dB re 20 uPa when the subwoofers' sensitivities are given, for 2.83
// V at each subwoofer before its gain. Loud bass harms hearing and shakes
// buildings: keep to local rules on noise, and have loads that hang or are built
// in checked by licensed people.
package bass
