// SPDX-License-Identifier: MIT

// Package blend answers how the mains and the subwoofers add up through the crossover,
// at every seat, and which delay and polarity of the subwoofers serves best.
//
// A main plays through the high-pass of its crossover and its own low end; the
// subwoofers play the same signal through the low-pass, each with the gain, delay and
// polarity that the design gives it. What both are at the seats comes from package
// bass, which takes a loudspeaker for a small source: that holds while the box is small
// beside the wave, to some 300 Hz.
//
// Levels are set as a processor's trims are: each main so that it is at 0 dB in the
// octave above the crossover at the main position, without filter and without the fall
// of its own low end; the subwoofers together so that they are at 0 dB in the octave
// below, without filter. Trims are set with noise (energy means of the band), so a dip
// in that band is in them. Delays and polarities are those of the design.
//
// The main position is the seat nearest to it.
package blend
