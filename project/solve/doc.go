// SPDX-License-Identifier: MIT

// Package solve finds what a design should be changed to, where that can be
// computed: heights of loudspeakers, risers of rows, the size and height of the
// picture, places of height loudspeakers, panels for the sound. A whole room is planned by
// project/layout.
//
// Every solver works on a copy, is deterministic, and ends with a Proposal:
// what to change, what it gains, and, where the wish cannot be had, which limit
// stands against it, where and by how much, with the nearest compromise made.
// Searches go by steps that are proven to skip nothing, never by random trial;
// each solver says to what step it is exact.
//
// All solvers stop soon after their context is cancelled, with its error, and
// return a *project.Fault for a design or an option that cannot be used.
package solve
