// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"math"

	"earline/geometry/unit"
	"earline/project"
)

// short prints a clearance for a cell, the unit understood: whole millimetres,
// or tenths of an inch; beyond a metre it says no more than that.
func short(metres float64, u project.Units) string {
	var s string
	switch {
	case metres >= 1 && u == project.Imperial:
		return ">3 ft"
	case metres >= 1:
		return ">1 m"
	case u == project.Imperial:
		s = fmt.Sprintf("%.1f", metres/float64(unit.Inch))
	default:
		s = fmt.Sprintf("%.0f", metres*1000)
	}
	return s
}

// percent never rounds a part to the whole or to nothing.
func percent(share float64) string {
	n := math.Round(share * 100)
	switch {
	case n == 100 && share < 1:
		n = 99
	case n == 0 && share > 0:
		n = 1
	}
	return fmt.Sprintf("%.0f %%", n)
}
