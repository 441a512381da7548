// SPDX-License-Identifier: MIT

// Package shell is the room as sound and light meet it: flat pieces with what
// covers them.
//
// Every piece has an outline in its own coordinates, what it is made of, octave by
// octave, and covers: panels, doors, and what is built against it. The areas of
// the reverberation, the mirror images of the reflections and what the walls take
// of the bass all come from here, so that they cannot disagree. So do the
// materials that are assumed where a design names none.
//
// Lengths are metres in the room frame of package geometry, areas square metres.
package shell
