// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"strconv"

	"earline/geometry/unit"
)

// measure writes a length as it is read on a tape: millimetres, or feet, inches and
// sixteenths.
func measure(metric bool, metres float64) string {
	if metric {
		const hair = 1e-6 // mm: half a millimetre that rounding took away
		mm := math.Round(metres*1000 + math.Copysign(hair, metres))
		return strconv.FormatFloat(mm+0, 'f', 0, 64)
	}
	return unit.Length(metres).Format(false)
}

// signed writes a height over or under something, always with its sign.
func signed(metric bool, metres float64) string {
	s := measure(metric, metres)
	switch {
	case s == "0" || s == `0"`:
		return "±" + s
	case metres > 0:
		return "+" + s
	}
	return "−" + s[1:]
}
