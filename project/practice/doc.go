// SPDX-License-Identifier: MIT

// Package practice judges a design by placement rules: where standards and the
// trade want loudspeakers, seats, rows and the picture to be. Each rule is data
// (Rules) with its limits, its source and the reason for it, and a pure check
// that measures; Check runs them all.
//
// It is the one place of limits. Rules that grade have Bands: what is good, what is
// accepted, and what no solver goes beyond. Two shipped standards give them (shipped.go),
// of which a design chooses one; a house standard, a file, switches rules off or sets
// other limits, each with a reason. Solvers ask the same Standard (Of, Standard.For), so
// that the rules accept what a solver proposes. Where a system has no range for a
// direction, its nominal is judged, and nobody is quoted. What is raised beyond good is
// met where sight needs it (need.go). Steps, guards and headroom are held to the dwelling
// code that the design chooses (codes.go).
//
// Numbers that users see are in surface units: degrees, metres, shares of 1.
// A rule without a Source is common practice: nobody prints it as a standard,
// and its limits are our own choice.
package practice
