// SPDX-License-Identifier: MIT

// Package viewing answers how each seat sees each shape of picture: under what angles,
// from how many picture heights, how much of it is hidden and by whom, which row sees
// best, and from which distances published figures ask that it be seen.
//
// Lengths are metres, angles degrees. All functions only read.
package viewing
