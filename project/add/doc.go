// SPDX-License-Identifier: MIT

// Package add finds where one more loudspeaker or row of seats can go in a design:
// in nothing's way, outside of no wall, and against no rule that must hold.
package add
