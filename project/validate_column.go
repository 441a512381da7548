// SPDX-License-Identifier: MIT

package project

import "fmt"

// round checks what may be round.
func (c *checker) round(at string, f Feature) {
	switch {
	case !f.Round:
		c.length(at+"width_m", f.Width, 0.001, maxPlace)
	case f.Kind != Column:
		c.fault(at+"round", fmt.Sprintf("true for a %s", f.Kind), "for a column only")
	case f.Width != 0 && f.Width != f.Length:
		c.fault(at+"width_m", fmt.Sprintf("%s m of a round column of %s m", figure(float64(f.Width)), figure(float64(f.Length))),
			"as length_m, its diameter, or left out")
	}
}
