// SPDX-License-Identifier: MIT

// Package project is the document of a private cinema room - room, screen,
// seating, loudspeakers - checked and undone. Where each seat, ear, eye, driver
// and solid of it is, package place says. The questions a plan must answer (who
// hears what, who sees what) have a sub-package each.
//
// All positions are in the room frame of package geometry: x back from the
// screen wall, y from the left wall to the right wall, z up from the finished
// floor, metres.
package project
