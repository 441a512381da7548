// SPDX-License-Identifier: MIT

package unit_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"earline/geometry/unit"
)

// FuzzParseDegrees holds that no text panics or gives what is no angle, and that what
// is printed reads as what was meant.
func FuzzParseDegrees(f *testing.F) {
	for _, s := range []string{"30", "30°", "-12,5 deg", "−12.5", "+0", "36000", "36001", "NaN", "Inf", "0x1p3", "1_0", "1e3", "", "°", "--3", "degrees", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := unit.ParseDegrees(text)
		if err != nil {
			if strings.Contains(err.Error(), "\n") || d != 0 {
				t.Fatalf("ParseDegrees(%q) = %g, %q", text, float64(d), err)
			}
			return
		}
		if !(math.Abs(float64(d)) <= float64(unit.MaxDegrees)) || strings.ContainsAny(text, "xXpPnNiI_") {
			t.Fatalf("ParseDegrees(%q) = %g", text, float64(d))
		}
		again, err := unit.ParseDegrees(d.String())
		const printed = 0.00501 // String gives hundredths
		if err != nil || math.Abs(float64(again-d)) > printed {
			t.Fatalf("%q reads as %g, which prints as %s and reads as %g: %v", text, float64(d), d, float64(again), err)
		}
	})
}

// FuzzLengthJSON holds that no bytes of a file panic or give what is no length.
func FuzzLengthJSON(f *testing.F) {
	for _, s := range []string{"1.4", `"7' 10\""`, `"2400 mm"`, `"2400"`, "null", "-0", "1e400", `"\ud800"`, "[]", "{", ""} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var l unit.Length
		if err := json.Unmarshal(data, &l); err == nil && (math.IsNaN(float64(l)) || math.IsInf(float64(l), 0)) {
			t.Fatalf("%q gives %g", data, float64(l))
		}
	})
}
