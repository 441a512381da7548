// SPDX-License-Identifier: MIT

// Package decay answers how long a room rings, from the lowest bass up: mode by mode and
// third by third of an octave up to 200 Hz (package bass), by octaves from 125 Hz up
// (package sound), beside what was measured and what is wanted. It reads tables of
// measured times and asks about those that cannot be of the room.
package decay
