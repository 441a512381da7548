// SPDX-License-Identifier: MIT

// Package oracle answers again, slowly and by other means, what package sight
// answers: it is what tests compare the kernel with. It reads the file by
// itself and imports nothing of this module, so that no fault can be in both
// for being in one place. Only tests import it.
//
// Its ways: positions by matrices; distances by golden section; depths by a
// search over directions of shift; what is seen by straight rays to points
// spread over the disc or the picture; the room's shell by cutting each ray at
// the walls and asking of each piece whether it is inside.
//
// The frame is the file's: x back from the screen wall, y to the right, z up,
// metres. All functions are safe from any goroutine; a Room is not changed by
// what is asked of it.
package oracle

// touch is how deep something must be entered to count, metres: the contract of
// package sight, not a tolerance of this one.
const touch = 1e-6
