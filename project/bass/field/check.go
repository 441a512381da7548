// SPDX-License-Identifier: MIT

package field

import (
	"fmt"
	"math"

	"earline/project"
)

// Ascending returns a *project.Fault unless the frequencies, in hertz, are one
// or more, finite, above 0 and strictly ascending.
func Ascending(frequencies []float64) error {
	if len(frequencies) == 0 {
		return &project.Fault{Field: "frequencies", Found: "none", Allowed: "one or more, ascending"}
	}
	last := 0.0
	for i, f := range frequencies {
		if !(f > last) || math.IsInf(f, 0) {
			return &project.Fault{
				Field:   fmt.Sprintf("frequency %d", i+1),
				Found:   fmt.Sprintf("%v Hz", f),
				Allowed: fmt.Sprintf("above %v Hz", last),
			}
		}
		last = f
	}
	return nil
}

// Positive returns a *project.Fault that names the field unless v is a finite
// number above 0.
func Positive(name string, v float64) error {
	if v > 0 && !math.IsInf(v, 0) {
		return nil
	}
	return &project.Fault{Field: name, Found: fmt.Sprint(v), Allowed: "a number above 0"}
}
