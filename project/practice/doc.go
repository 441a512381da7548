// SPDX-License-Identifier: MIT

// Package practice judges a design by placement rules: where standards and the
// trade want loudspeakers, seats, rows and the picture to be. Each rule is data
// (Rules) with its limits, its source and the reason for it, and a pure check
// that measures; Check runs them all. A house standard (Standard) switches
// rules off or sets other limits, each with a reason.
//
// Numbers that users see are in surface units: degrees, metres, shares of 1.
// A rule without a Source is common practice: nobody prints it as a standard,
// and its limits are our own choice.
package practice
