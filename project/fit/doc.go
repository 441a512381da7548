// SPDX-License-Identifier: MIT

// Package fit finds what cannot stand as drawn: overlaps, what is outside or
// over the ceiling.
package fit
