// SPDX-License-Identifier: MIT

package bake

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Less colour is as bright, and of no other tint; all of it is the light itself, and none
// is grey.
func TestTwilightTakesColourNotBrightness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		colour := func(name string, lo, hi float32) (c Colour) {
			for n := range c {
				c[n] = rapid.Float32Range(lo, hi).Draw(t, name)
			}
			return c
		}
		light, albedo, share := colour("light", 0, 10), colour("albedo", 0.02, 1), rapid.Float32Range(0, 1).Draw(t, "share")
		thrown := func(l Colour) (out Colour) {
			for n := range out {
				out[n] = l[n] * albedo[n]
			}
			return out
		}
		before, after := thrown(light), thrown(greyer(light, albedo, share))
		y := before.luminance()
		near := func(what string, got, want float32) {
			if math.Abs(float64(got-want)) > 1e-4*(1+float64(y)) {
				t.Errorf("%s: %v, want %v", what, got, want)
			}
		}
		near("brightness", after.luminance(), y)
		for n := range before {
			near("tint", after[n]-y, share*(before[n]-y))
		}
	})
	if day, night := colourSeen(8), colourSeen(0); day != 1 || night != 0.2 {
		t.Errorf("by day %v, by night %v", day, night)
	}
}
