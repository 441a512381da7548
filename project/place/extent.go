// SPDX-License-Identifier: MIT

package place

import (
	"math"

	"earline/project"
)

// Extent returns half the size of f along x and along y, turned as it is, metres.
func Extent(f project.Feature) (x, y float64) {
	b := f.Box()
	return math.Abs(b.Basis.U.X)*b.Half.X + math.Abs(b.Basis.V.X)*b.Half.Y,
		math.Abs(b.Basis.U.Y)*b.Half.X + math.Abs(b.Basis.V.Y)*b.Half.Y
}
