// SPDX-License-Identifier: MIT

package wave

// interior4 is interior for n points, a multiple of 4; x points at the neighbour
// before the first.
//
//go:noescape
func interior4(d, x, y0, y1, z0, z1 *float32, n int, w *[7]float32)

// rim4 is rim, as interior4.
//
//go:noescape
func rim4(d, x, y0, y1, z0, z1 *float32, n int, w *[7]float32)

// byFour does as many points of a stretch as go by fours and returns how many.
func byFour(d, x, y0, y1, z0, z1 []float32, w *[7]float32, inside bool) int {
	n := len(d) &^ 3
	if n == 0 {
		return 0
	}
	_, _, _, _, _ = x[n], y0[n-1], y1[n-1], z0[n-1], z1[n-1] // else out of range
	if inside {
		interior4(&d[0], &x[0], &y0[0], &y1[0], &z0[0], &z1[0], n, w)
	} else {
		rim4(&d[0], &x[0], &y0[0], &y1[0], &z0[0], &z1[0], n, w)
	}
	return n
}

// vary4 is varied for n points, a multiple of 4.
//
//go:noescape
func vary4(d, x, y0, y1, z0, z1 *float32, n int, w *float32)

// varied4 is varied.
func varied4(d, x, y0, y1, z0, z1, w []float32) {
	n := len(d)
	_, _, _, _, _, _ = x[n], y0[n-1], y1[n-1], z0[n-1], z1[n-1], w[7*n-1] // else out of range
	vary4(&d[0], &x[0], &y0[0], &y1[0], &z0[0], &z1[0], n, &w[0])
}
