// SPDX-License-Identifier: MIT

// Package newroom plans a whole room from three answers: how large the room is, how
// many seats it is to have, and which loudspeaker system. Rows on their platforms,
// chairs, screen, loudspeakers, subwoofers and a door are placed so that nothing is
// in the way and no placement rule is broken, wherever that can be had.
//
// It tries plans in a fixed order, the most comfortable first, and takes the first in
// which nothing is at fault, else the one with the least fault: equal wishes give equal
// rooms. The answer is a beginning, to be changed by whoever knows the room.
//
// All models are invented.
package newroom
