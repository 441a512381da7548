// SPDX-License-Identifier: MIT

// Package setout says where on the walls, the ceiling and the floor everything of a
// design goes: above or below one laser line, so far from walls that can be reached
// with a tape, with the edges of every hole, the aim of every loudspeaker and how far
// it may end up from there.
package setout
