// SPDX-License-Identifier: MIT

// Package diff says what differs between two designs, in the words of the trade.
//
// Compare lists it value by value; OnlySpeakers answers quickly whether an edit
// moved loudspeakers and nothing else; Speakers says which loudspeaker of one
// design is which of the other. Nothing here judges whether a change is for the
// better.
//
// Loudspeakers, models and materials are the same thing in both designs when they
// bear the same name or ID, rows and what is built in when they stand at the same
// place of their list, counted from either end. All functions only read, and may
// be called from any goroutine.
package diff
