// SPDX-License-Identifier: MIT

// Package layout plans what stands in a room, together: rows on their platforms, the
// size, shape and height of the picture, and the loudspeakers of a system, for the
// room's own outline, features and door. Chairs, loudspeaker models, their names and a
// bar with its stools are kept; so are screen, rows or loudspeakers, where the wish says.
//
// It tries plans in a fixed order, the most comfortable first, and takes the first in
// which nothing is at fault, else the one with the least fault: equal wishes give equal
// rooms. Where that is not all that was wished for it says what stands against it, and
// what other plans come to: fewer rows, another shape of picture, sitters who are not
// quite as tall.
//
// The limits are those of the placement rules (project/practice); what is only common
// practice is said to be.
package layout
