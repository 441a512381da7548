// SPDX-License-Identifier: MIT

// Package noise says how quiet the room is: NR and NC of octave levels, and what is
// stated of the background and the projector against what reference rooms ask for.
//
// It adds up what is stated. What comes through walls and ducts it does not compute.
package noise
