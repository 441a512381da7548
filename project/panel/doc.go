// SPDX-License-Identifier: MIT

// Package panel lays out the panels of a design (project.Panels) along walls and under
// the ceiling, clear of what is there already, and says what they are as treatments.
//
// What of a panel a door, a loudspeaker or a step takes is cut out of it. Rules for what
// is left are common practice, no source.
package panel
