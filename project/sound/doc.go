// SPDX-License-Identifier: MIT

// Package sound answers what every seat will hear above the bass: the level and
// balance of the direct sound of every loudspeaker, who sits inside its
// coverage, what amplifier it needs, its delay and trim; the first reflections,
// how they stand to the published limit and where on which wall to treat them;
// and how long the room rings.
//
// All of it is geometrical: sound as rays, valid where a wavelength is small
// beside walls and furniture, from some 500 Hz up. Below the Schroeder frequency
// (see Reverb) the room's modes decide, which package bass computes: it is asked what
// the subwoofers can play.
// Levels are those of a free field plus single reflections; nothing here stands
// in for a measurement after the room is built.
//
// Frequencies are the octaves of project.Octaves; what depends on frequency is
// evaluated at their exact middles (Midbands). Levels are dB, re 20 uPa where
// they are SPL. Lengths are metres in the room frame of package geometry.
package sound
