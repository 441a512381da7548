// SPDX-License-Identifier: MIT

//go:build !amd64

package wave

// byFour leaves all points of a stretch to Go.
func byFour(_, _, _, _, _, _ []float32, _ *[7]float32, _ bool) int { return 0 }

// varied4 is varied.
func varied4(d, x, y0, y1, z0, z1, w []float32) { varied(d, x, y0, y1, z0, z1, w) }
