// SPDX-License-Identifier: MIT

// Package project holds the design document of a private cinema room - room,
// screen, seating, loudspeakers - and what follows from it without any
// judgement: where each seat, ear, eye, driver and solid is. The questions a
// plan must answer (who hears what, who sees what) have a sub-package each.
//
// All positions are in the room frame of package geometry: x back from the
// screen wall, y from the left wall to the right wall, z up from the finished
// floor, metres.
package project
