// SPDX-License-Identifier: MIT

package light

import (
	"math"

	"earline/geometry"
)

// mostCorners bounds the outlines for which Factor is worked out exactly.
const mostCorners = 16

// Factor returns the share of what a small face at p, with that unit normal, would send
// out evenly that meets the flat outline: its form factor, or configuration factor. What
// lies behind the face does not count. An outline of luminance L gives the face π L Factor
// lux. Which way round the outline runs, and which of its sides p sees, does not matter.
//
// Formula: J. H. Lambert, Photometria (1760), the sum over the edges of the angle that
// each takes, seen from p, times the cosine between the normals of its plane through p
// and of the face, over 2π; cut first at the face's own plane. Outlines of more than 15
// corners, which no room has near, count as none.
func Factor(p, normal geometry.Vec, outline []geometry.Vec) float64 {
	if len(outline) >= mostCorners {
		return 0
	}
	var above [2 * mostCorners]geometry.Vec
	n := 0
	for i, a := range outline {
		b := outline[0]
		if i+1 < len(outline) {
			b = outline[i+1]
		}
		a, b = a.Sub(p), b.Sub(p)
		ha, hb := a.Dot(normal), b.Dot(normal)
		if ha >= 0 {
			above[n] = a
			n++
		}
		if (ha > 0 && hb < 0) || (ha < 0 && hb > 0) {
			above[n] = a.Add(b.Sub(a).Mul(ha / (ha - hb)))
			n++
		}
	}
	sum := 0.0
	for i := range n {
		a, b := above[i], above[0]
		if i+1 < n {
			b = above[i+1]
		}
		c := a.Cross(b)
		l := c.Len()
		if l == 0 {
			continue // the edge points at the face, or has no length
		}
		sum += math.Atan2(l, a.Dot(b)) * c.Dot(normal) / l
	}
	return math.Abs(sum) / (2 * math.Pi)
}
