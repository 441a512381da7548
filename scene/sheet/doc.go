// SPDX-License-Identifier: MIT

// Package sheet draws a room for who builds it: plan, ceiling, every wall, sections,
// cut-outs, set-out list and checks, each at a scale of the trade on paper of a size
// that is in the printer.
//
// A drawing is a view: a direction in which the room is looked at, what is seen in it,
// and the chains of dimensions beside it. Sheets are filled with views; a view has one
// scale, and measures true on paper printed at 100 %.
//
// Views look as one stands: the plan from above, each wall from inside the room, the
// sections towards the right wall and towards the screen. The ceiling is drawn as a
// reflected ceiling plan: as a mirror on the floor would show it, so that what is on the
// left of the plan is on the left of the ceiling, and one can be laid on the other. It
// is not what one sees on looking up, in which left and right change places.
//
// Line widths and heights of letters are those of technical drawings (ISO 128-2, ISO
// 3098-1), the frame is that of ISO 5457: all from memory.
package sheet
