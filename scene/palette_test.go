// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/project/sight"
	"earline/scene"
)

// linear undoes the sRGB curve (IEC 61966-2-1).
func linear(c scene.RGB) [3]float64 {
	var out [3]float64
	for i, v := range [3]float32{c.R, c.G, c.B} {
		if v <= 0.04045 {
			out[i] = float64(v) / 12.92
		} else {
			out[i] = math.Pow((float64(v)+0.055)/1.055, 2.4)
		}
	}
	return out
}

// lightness returns L* (CIE 1976) of linear sRGB.
func lightness(c [3]float64) float64 {
	y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

// Clear, tight and blocked keep apart in lightness for people who lack red or
// green cones, and for a picture without colour. The dichromat matrices are
// those of Vienot, Brettel and Mollon, "Digital video colourmaps for checking
// the legibility of displays by dichromats", Color Research and Application 24
// (1999), in linear RGB; from memory, not looked up.
func TestVerdictsDifferWithoutColour(t *testing.T) {
	eyes := map[string][3][3]float64{
		"no colour deficiency": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"protanopia":           {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
		"deuteranopia":         {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
	}
	const apart = 15 // L*, our own choice: some five times what one tells apart side by side
	verdicts := []sight.Verdict{sight.Clear, sight.Tight, sight.Blocked}
	for name, m := range eyes {
		seen := make([]float64, len(verdicts))
		for i, v := range verdicts {
			c := linear(scene.Verdict(v))
			var s [3]float64
			for a := range 3 {
				s[a] = m[a][0]*c[0] + m[a][1]*c[1] + m[a][2]*c[2]
			}
			seen[i] = lightness(s)
		}
		for i := range verdicts {
			for j := range i {
				if d := math.Abs(seen[i] - seen[j]); d < apart {
					t.Errorf("%s: %v and %v differ by %.1f in L*, want %v", name, verdicts[i], verdicts[j], d, apart)
				}
			}
		}
	}
}
