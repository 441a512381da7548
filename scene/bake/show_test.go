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

// Evened light is in the same order of brightness, nearer together, and of the same tint;
// how much the eye takes does not depend on how much light there is in all.
func TestDarkCornersAreSeenBesideLamps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 9).Draw(t, "sites")
		lit, twice := make([]Colour, n), make([]Colour, n)
		for i := range lit {
			for k := range lit[i] {
				lit[i][k] = rapid.Float32Range(0.1, 20).Draw(t, "light")
				twice[i][k] = 2 * lit[i][k]
			}
		}
		before := append([]Colour(nil), lit...)
		even(lit)
		even(twice)
		for i := range lit {
			for k := range lit[i] {
				if got, want := lit[i][k]/lit[i].luminance(), before[i][k]/before[i].luminance(); math.Abs(float64(got/want-1)) > 1e-4 {
					t.Errorf("tint %v, was %v", got, want)
				}
				if got := twice[i][k] / lit[i][k]; math.Abs(float64(got-2)) > 1e-3 {
					t.Errorf("twice the light is %v times", got)
				}
			}
			was, is := before[i].luminance()/before[0].luminance(), lit[i].luminance()/lit[0].luminance()
			if was > 1 && (is > was*1.0001 || is < 0.9999) || was < 1 && (is < was*0.9999 || is > 1.0001) {
				t.Errorf("a place is %v as bright as the first, was %v", is, was)
			}
		}
	})
	dark := []Colour{{}, {}}
	even(dark)
	if dark[0] != (Colour{}) {
		t.Errorf("a dark room is lit: %v", dark)
	}
}
