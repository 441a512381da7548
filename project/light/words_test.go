// SPDX-License-Identifier: MIT

package light

import "testing"

func TestNoLightIsPrintedWithMoreDigitsThanItsNeighbours(t *testing.T) {
	for v, want := range map[float64]string{0.000997: "0.0010", 0.0011: "0.0011", 0.0996: "0.10", 9.96: "10", 9.94: "9.9", 99.6: "100", 0.97: "0.97"} {
		if got := Figures(v); got != want {
			t.Errorf("%g is printed %q, want %q", v, got, want)
		}
	}
}

func TestNoContrastIsPrintedAsAPowerOfTen(t *testing.T) {
	for c, want := range map[float64]string{99.7: "100 to 1", 99.4: "99 to 1", 104: "100 to 1", 1508: "1500 to 1"} {
		if got := Contrast(c); got != want {
			t.Errorf("%g is printed %q, want %q", c, got, want)
		}
	}
}
