// SPDX-License-Identifier: MIT

// Package fit finds what cannot be built as drawn: overlaps, what is outside or
// over the ceiling.
package fit
