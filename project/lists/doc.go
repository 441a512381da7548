// SPDX-License-Identifier: MIT

// Package lists answers what a room is built with: loudspeakers and equipment by what
// they do, cables with the way that they take and what is lost on it, the mass on each
// wall and on the ceiling, outlets, heat and air, panels, light groups, and what is to be
// done and checked at each stage of the work.
//
// Lengths are metres, masses kilograms. All functions only read.
package lists
