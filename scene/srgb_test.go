// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"testing"
)

// Known pairs. The first column is what is written in files, of 255.
func TestDisplayColoursAreThoseOfTheStandard(t *testing.T) {
	for _, c := range []struct {
		code, light, near float64
		source            string
	}{
		{0, 0, 0, "IEC 61966-2-1, black"},
		{255, 1, 1e-7, "IEC 61966-2-1, white"},
		{0.04045 * 255, 0.0031308, 2e-7, "IEC 61966-2-1, where the straight part ends, to its digits"},
		{118, 0.1812, 1e-4, "a grey card of 18 per cent is written 118, from memory"},
		{128, 0.2159, 1e-4, "half the code is a fifth of the light, from memory"},
		{188, 0.5029, 1e-4, "half the light is written 188, from memory"},
	} {
		v := float32(c.code / 255)
		if got := (RGB{v, v, v}).Linear(); math.Abs(float64(got[1])-c.light) > c.near || got[0] != got[1] || got[1] != got[2] {
			t.Errorf("%g of 255 is %g of the light, want %g (%s)", c.code, got[1], c.light, c.source)
		}
	}
}

// Every colour of a file comes back from its light, and a square, which was taken for the
// curve once, is off by up to 0.042 of white.
func TestEveryDisplayColourComesBack(t *testing.T) {
	square := 0.0
	for code := range 256 {
		v := float32(code) / 255
		light := RGB{v, v, v}.Linear()
		if back := Displayed(light); math.Abs(float64(back.G-v)) > 2e-6 {
			t.Errorf("code %d comes back as %g of 255", code, back.G*255)
		}
		square = max(square, math.Abs(float64(v*v-light[1])))
	}
	if square < 0.042 || square > 0.043 {
		t.Errorf("a square is off by %g", square)
	}
	if y := (RGB{1, 1, 1}).Luminance(); math.Abs(y-1) > 1e-6 {
		t.Errorf("white is %g bright", y)
	}
}
