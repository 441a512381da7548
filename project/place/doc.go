// SPDX-License-Identifier: MIT

// Package place says where everything of a design is: seats, bodies, ears, eyes,
// drivers, solids, floor. It judges nothing.
//
// All positions are in the room frame of package geometry: x back from the
// screen wall, y from the left wall to the right wall, z up from the finished
// floor, metres. Angles are in radians.
package place
