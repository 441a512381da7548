// SPDX-License-Identifier: MIT

package sight

import (
	"math"

	"earline/project/air"
)

// KnifeEdge returns the loss in dB, at frequency f in hertz, of a path that a
// straight edge enters by h metres (negative: passes beside by -h), d1 and d2
// metres from the two ends.
//
// It is the approximation J(v) of Rec. ITU-R P.526, equation 31, with
// v = h sqrt(2 (d1+d2) / (lambda d1 d2)); J is 0 below v = -0.78, within 0.1 dB
// of the Fresnel integral above. The edge is taken as endless: a head or a
// headrest is small and rounded, so the true loss is less, above all below
// 2 kHz. Read it as an upper bound.
func KnifeEdge(h, d1, d2, f float64) float64 {
	if !(d1 > 0) || !(d2 > 0) || !(f > 0) {
		return 0
	}
	lambda := air.Speed20 / f
	v := h * math.Sqrt(2*(d1+d2)/(lambda*d1*d2))
	if v <= -0.78 {
		return 0
	}
	return math.Max(0, 6.9+20*math.Log10(math.Sqrt((v-0.1)*(v-0.1)+1)+v-0.1))
}
