// SPDX-License-Identifier: MIT

// Package handout makes the papers that are handed to people: the room book for the
// client, the proof sheet for owner and builder, and a card for every hole.
//
// The room book has no engineering in it: no labels of loudspeakers, no decibels, and
// nothing is promised that the plan does not hold. Sizes on paper are millimetres.
package handout
