// SPDX-License-Identifier: MIT

package unit_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
)

// Seen: no field took 2.3+0.1; a room was measured in pieces and added up on paper.
func TestASumCanBeTypedForALength(t *testing.T) {
	tests := []struct {
		text string
		def  unit.Length
		want float64 // worked out by hand; the inch is 25.4 mm exactly
	}{
		{"2.3+0.1", unit.Metre, 2.4},
		{"5200/2", unit.Millimetre, 2.6},
		{"5200 mm / 2", unit.Metre, 2.6},
		{"3.9-2*0.26", unit.Metre, 3.38},
		{"2.3 m + 4 in", unit.Metre, 2.4016},
		{"2,3 + 0,1", unit.Metre, 2.4},
		{"2.3 m − 30 cm", unit.Metre, 2},
		{"(5.2-0.3)/2", unit.Metre, 2.45},
		{"(5.2 m - 300 mm)/2", 0, 2.45},
		{"2 × 1.2 m", 0, 2.4},
		{"8/2/4", unit.Metre, 1},
		{"2/4*2", unit.Metre, 1},
		{"-1.2 + 3", unit.Metre, 1.8},
		{"-(1.2 + 3)", unit.Metre, -4.2},
		{"1 - -2", unit.Metre, 3},
		{`7' 10 1/2" + 1/2"`, unit.Inch, 2.413},
		{`7'-10" + 2"`, unit.Inch, 2.4384},
		{`66-1/2"`, unit.Metre, 1.6891}, // a length, as before, not 65.5
		{"66 1/2 in * 2", unit.Metre, 3.3782},
		{"12+6", unit.Inch, 0.4572},
		{"1/2", unit.Metre, 0.5},
		{"2.4 m", 0, 2.4},
	}
	for _, tt := range tests {
		got, err := unit.ParseLengthSum(tt.text, tt.def)
		if err != nil || math.Abs(float64(got)-tt.want) > 1e-12 {
			t.Errorf("ParseLengthSum(%q, %g) = %.12g, %v, want %.12g", tt.text, float64(tt.def), float64(got), err, tt.want)
		}
	}
	for _, text := range []string{"", "2+", "*2", "(2", "2)", "2++", "1/0", "2 m * 2 m", "2 / 1 m", "2 m 3 m", "0x10+1", "1_0+1",
		"1e3+1", "9000 m + 9000 m", "2 + abc", strings.Repeat("(", 65), "1 m + 1,200 mm", "()", "NaN+1", "1//2"} {
		var pe *unit.ParseError
		if got, err := unit.ParseLengthSum(text, unit.Metre); !errors.As(err, &pe) {
			t.Errorf("ParseLengthSum(%q) = %v, %v, want a ParseError", text, got, err)
		}
	}
	if _, err := unit.ParseLengthSum("1+2", 0); err == nil {
		t.Error("a sum without any unit is a length")
	}
}

func TestASumCanBeTypedForAnAngle(t *testing.T) {
	for text, want := range map[string]unit.Degrees{
		"45/2": 22.5, "30° + 2.5": 32.5, "90-110 deg": -20, "30": 30, "-12,5°": -12.5, "2*(30° + 5)": 70,
	} {
		if got, err := unit.ParseDegreesSum(text); err != nil || got != want {
			t.Errorf("ParseDegreesSum(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "30 m + 2", "30°*2°", "1/0", "36000+1", "30 +"} {
		if got, err := unit.ParseDegreesSum(text); err == nil {
			t.Errorf("ParseDegreesSum(%q) = %v", text, got)
		}
	}
}

// Seen: the inspector took 0x1p3 and 1_0 for numbers, and refused "−12,5" that
// lengths and angles read.
func TestANumberIsWhatAPersonWrites(t *testing.T) {
	for text, want := range map[string]float64{
		"2.4": 2.4, "2,39": 2.39, "−12,5": -12.5, "+7": 7, " 85 ": 85, ".5": 0.5, "3*0.25": 0.75, "1 – 2": -1, "16/9": 1.777777778,
	} {
		if got, err := unit.ParseNumber(text); err != nil || got != want {
			t.Errorf("ParseNumber(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "0x10", "0x1p3", "1_0", "1e3", "NaN", "Inf", "2.4 m", "1 2", "1.2.3", "'", "1/0", strings.Repeat("9", 20)} {
		if got, err := unit.ParseNumber(text); err == nil {
			t.Errorf("ParseNumber(%q) = %v", text, got)
		}
	}
}

// A sum of lengths is the sum of what each reads as alone.
func TestSumsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := []string{"m", "cm", "mm", "in", ""} // 5 ft - 6 in is a length: five feet and six inches
		text, want := "", 0.0
		for k := range rapid.IntRange(2, 4).Draw(t, "terms") {
			one := strings.TrimSpace(fmt.Sprintf("%.2f %s", rapid.Float64Range(0, 99).Draw(t, "value"), rapid.SampledFrom(units).Draw(t, "unit")))
			v, err := unit.ParseLength(one, unit.Metre)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case k == 0:
				text, want = one, float64(v)
			case rapid.Bool().Draw(t, "minus"):
				text, want = text+" - "+one, want-float64(v)
			default:
				text, want = text+" + "+one, want+float64(v)
			}
		}
		got, err := unit.ParseLengthSum(text, unit.Metre)
		if err != nil || math.Abs(float64(got)-want) > 0.6e-7 { // sums are kept to 0.1 micrometre
			t.Fatalf("%s = %.9f, %v, want %.9f", text, float64(got), err, want)
		}
	})
}

// FuzzSums holds that no text panics or gives what is not a finite quantity, and
// that what ParseLength reads is read the same.
func FuzzSums(f *testing.F) {
	for _, s := range []string{"2.3+0.1", "5200/2", "3.9-2*0.26", "2.3 m + 4 in", "(5.2-0.3)/2", `7' 10 1/2"+1/2"`, "66-1/2\"", "30°+2", "1/0", "((", "-", "2×3÷4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, def := range []unit.Length{0, unit.Millimetre, unit.Metre, unit.Inch} {
			plain, plainErr := unit.ParseLength(text, def)
			l, err := unit.ParseLengthSum(text, def)
			switch {
			case plainErr == nil && (err != nil || l != plain):
				t.Errorf("%q reads as %g alone and %g, %v as a sum", text, float64(plain), float64(l), err)
			case err == nil && !(math.Abs(float64(l)) <= float64(unit.MaxLength)+1e-6):
				t.Errorf("ParseLengthSum(%q) = %g", text, float64(l))
			case err != nil && strings.Contains(err.Error(), "\n"):
				t.Errorf("ParseLengthSum(%q): message of more than one line", text)
			}
		}
		if a, err := unit.ParseDegreesSum(text); err == nil && !(math.Abs(float64(a)) <= float64(unit.MaxDegrees)) {
			t.Errorf("ParseDegreesSum(%q) = %g", text, float64(a))
		}
		if v, err := unit.ParseNumber(text); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("ParseNumber(%q) = %g", text, v)
		}
	})
}

func ExampleParseLengthSum() {
	for _, text := range []string{"2.3+0.1", "5200 mm / 2", "3.9-2*0.26", "2.3 m + 4 in"} {
		l, err := unit.ParseLengthSum(text, unit.Metre)
		fmt.Println(l, err)
	}
	// Output:
	// 2.400 m <nil>
	// 2.600 m <nil>
	// 3.380 m <nil>
	// 2.402 m <nil>
}
