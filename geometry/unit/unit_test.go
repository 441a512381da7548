// SPDX-License-Identifier: MIT

package unit_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
)

func TestParseLength(t *testing.T) {
	// The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
	tests := []struct {
		text string
		def  unit.Length
		want float64
	}{
		{"2400", unit.Millimetre, 2.4},
		{"2400", unit.Metre, 2400},
		{"2.4 m", 0, 2.4},
		{"2,4 m", 0, 2.4},
		{"2,400 m", 0, 2.4},
		{"0,125 mm", 0, 0.000125},
		{"240cm", 0, 2.4},
		{"2400 mm", 0, 2.4},
		{" 2400 MM ", 0, 2.4},
		{".5 m", 0, 0.5},
		{"2. m", 0, 2},
		{"-1.2 m", 0, -1.2},
		{"−1.2 m", 0, -1.2},
		{"+1.2 metres", 0, 1.2},
		{"66.5 in", 0, 1.6891},
		{`66 1/2"`, 0, 1.6891},
		{`66-1/2"`, 0, 1.6891},
		{"66½″", 0, 1.6891},
		{"½ in", 0, 0.0127},
		{`1/16"`, 0, 0.0015875},
		{"66 1/2", unit.Inch, 1.6891},
		{"5 1/2", unit.Foot, 1.6764},
		{`5' 6 1/2"`, 0, 1.6891},
		{`5'6.5"`, 0, 1.6891},
		{`5'-6 1/2"`, 0, 1.6891},
		{"5′ 6½″", 0, 1.6891},
		{"5’ 6 ½”", 0, 1.6891},
		{"5'6''", 0, 1.6764},
		{"5 ft 6 in", 0, 1.6764},
		{"5 ft. 6 in.", 0, 1.6764},
		{"5 feet 6 inches", 0, 1.6764},
		{"5' 6", 0, 1.6764},
		{"5'", 0, 1.524},
		{"5.5'", 0, 1.6764},
		{`-5' 6"`, 0, -1.6764},
		{"0", unit.Metre, 0},
	}
	for _, tt := range tests {
		got, err := unit.ParseLength(tt.text, tt.def)
		if err != nil {
			t.Errorf("ParseLength(%q, %g): %v", tt.text, float64(tt.def), err)
			continue
		}
		if math.Abs(float64(got)-tt.want) > 1e-15*math.Max(1, tt.want) { // one rounding
			t.Errorf("ParseLength(%q, %g) = %.17g, want %.17g", tt.text, float64(tt.def), float64(got), tt.want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	const (
		forms  = `a length such as 2.4 m, 2400 mm, 7' 10 1/2" or 94.5 in`
		noUnit = `a length with its unit, such as 2.4 m, 2400 mm or 7' 10"`
		comma  = "a decimal point, as three digits after a comma could be thousands"
		inches = "whole feet, then 0 to less than 12 inches"
		vulgar = "fractions of an inch or foot only; decimals in metric lengths"
	)
	tests := []struct {
		text, allowed string
		def           unit.Length
	}{
		{"", forms, unit.Metre},
		{"-", forms, unit.Metre},
		{"m", forms, 0},
		{"2400", noUnit, 0},
		{"NaN", forms, unit.Metre},
		{"Inf m", forms, 0},
		{"1e3 m", forms, 0},
		{"0x10 m", forms, 0},
		{"2.4.1 m", forms, 0},
		{"2 400 mm", forms, 0},
		{"2.4 km", forms, 0},
		{"1,200 mm", comma, 0},
		{"1,200", comma, unit.Millimetre},
		{`1,200"`, comma, 0},
		{"1/2 m", vulgar, 0},
		{"1/2", vulgar, unit.Millimetre},
		{`5' 12"`, inches, 0},
		{`5.5' 2"`, forms, 0},
		{`5' -2"`, "", 0}, // reads as 5'-2"
		{`5" 2'`, forms, 0},
		{`5' 2" 1"`, forms, 0},
		{"1 m 20 cm", forms, 0},
		{`1/0"`, forms, 0},
		{`5/3"`, forms, 0},
		{`1/3"`, forms, 0},
		{`5.5 1/2"`, forms, 0},
		{"10001 m", "at most 10000 m", 0},
		{strings.Repeat("9", 60) + " m", "at most 10000 m", 0},
		{strings.Repeat("9", 400) + " m", forms, 0},
		{"2.4 m\x00", forms, 0},
		{"2.4 \xff", forms, 0},
	}
	for _, tt := range tests {
		got, err := unit.ParseLength(tt.text, tt.def)
		if tt.allowed == "" {
			if err != nil {
				t.Errorf("ParseLength(%q): %v", tt.text, err)
			}
			continue
		}
		var pe *unit.ParseError
		if !errors.As(err, &pe) {
			t.Errorf("ParseLength(%q) = %v, %v, want a ParseError", tt.text, got, err)
			continue
		}
		if pe.Allowed != tt.allowed {
			t.Errorf("ParseLength(%q) allows %q, want %q", tt.text, pe.Allowed, tt.allowed)
		}
		if strings.ContainsAny(err.Error(), "\n\x00") {
			t.Errorf("ParseLength(%q): message of more than one plain line: %q", tt.text, err)
		}
	}
}

func TestFormat(t *testing.T) {
	tests := []struct {
		l                unit.Length
		metric, imperial string
	}{
		{0, "0.000 m", `0"`},
		{-1e-9, "0.000 m", `0"`},
		{2.4, "2.400 m", `7' 10 1/2"`},
		{1.6891, "1.689 m", `5' 6 1/2"`},
		{1.524, "1.524 m", `5' 0"`},
		{0.0127, "0.013 m", `1/2"`},
		{1.5367, "1.537 m", `5' 1/2"`},
		{-0.3048, "-0.305 m", `-1' 0"`},
		{0.3047999, "0.305 m", `1' 0"`},
		{unit.Length(math.NaN()), "no length", "no length"},
		{unit.Length(math.Inf(1)), "no length", "no length"},
	}
	for _, tt := range tests {
		if got := tt.l.Format(true); got != tt.metric {
			t.Errorf("Format(%g, metric) = %s, want %s", float64(tt.l), got, tt.metric)
		}
		if got := tt.l.Format(false); got != tt.imperial {
			t.Errorf("Format(%g, imperial) = %s, want %s", float64(tt.l), got, tt.imperial)
		}
	}
	if got := unit.Length(math.MaxFloat64).Format(false); !strings.HasSuffix(got, " ft") {
		t.Errorf("Format(MaxFloat64, imperial) = %s, want feet", got)
	}
}

// What Format prints, ParseLength reads back to within half the last place, and
// prints the same again.
func TestFormatParseRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := unit.Length(rapid.Float64Range(-1000, 1000).Draw(t, "metres"))
		for _, metric := range []bool{true, false} {
			half := 0.0005
			if !metric {
				half = float64(unit.Inch) / 32
			}
			text := l.Format(metric)
			got, err := unit.ParseLength(text, 0)
			if err != nil {
				t.Fatalf("ParseLength(%q): %v", text, err)
			}
			if d := math.Abs(float64(got - l)); d > half+1e-12 {
				t.Fatalf("%g prints as %s, read back %g: %g m off, allowed %g", float64(l), text, float64(got), d, half)
			}
			if again := got.Format(metric); again != text {
				t.Fatalf("%s prints again as %s", text, again)
			}
		}
	})
}

// However a length is written, it is the same length.
func TestUnitsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.IntRange(0, 20_000).Draw(t, "mm")
		m := float64(mm) / 1000
		for _, text := range []string{
			fmt.Sprintf("%d mm", mm), fmt.Sprintf("%d.%d cm", mm/10, mm%10), fmt.Sprintf("%d,%03d m", mm/1000, mm%1000),
		} {
			got, err := unit.ParseLength(text, 0)
			// Two roundings: the decimal, then the division.
			if err != nil || math.Abs(float64(got)-m) > 3e-16*m {
				t.Fatalf("ParseLength(%q) = %.17g, %v, want %.17g", text, float64(got), err, m)
			}
		}
		n := rapid.IntRange(0, 16*12*60).Draw(t, "sixteenths")
		want := float64(n) / 16 * 0.0254
		feet, rest := n/192, n%192
		for _, text := range []string{
			fmt.Sprintf(`%d' %d %d/16"`, feet, rest/16, rest%16),
			fmt.Sprintf(`%d %d/16 in`, n/16, n%16),
			fmt.Sprintf(`%v"`, float64(n)/16),
		} {
			got, err := unit.ParseLength(text, 0)
			if err != nil || math.Abs(float64(got)-want) > 1e-14 {
				t.Fatalf("ParseLength(%q) = %.17g, %v, want %.17g", text, float64(got), err, want)
			}
		}
	})
}

func TestLengthJSON(t *testing.T) {
	tests := []struct {
		in   string
		want unit.Length
		fail string
	}{
		{in: "2.4", want: 2.4},
		{in: `"2400 mm"`, want: 2.4},
		{in: `"7' 10 1/2\""`, want: 2.4003},
		{in: `"2400"`, fail: `found "2400", allowed: a length with its unit, such as 2.4 m, 2400 mm or 7' 10"`},
		{in: "true", fail: `found "true", allowed: a number of metres, or a length such as 2.4 m, 2400 mm, 7' 10 1/2" or 94.5 in`},
		{in: "1e9", fail: "found 1e9, allowed: at most 10000 m"},
	}
	for _, tt := range tests {
		var got unit.Length
		err := json.Unmarshal([]byte(tt.in), &got)
		if tt.fail != "" {
			if err == nil || err.Error() != tt.fail {
				t.Errorf("%s: error %v, want %s", tt.in, err, tt.fail)
			}
			continue
		}
		if err != nil || math.Abs(float64(got-tt.want)) > 1e-15 {
			t.Errorf("%s: got %v, %v, want %v", tt.in, float64(got), err, float64(tt.want))
		}
		out, err := json.Marshal(got)
		if err != nil || out[0] == '"' {
			t.Errorf("%s marshals as %s, %v, want a number", tt.in, out, err)
		}
	}
	if _, err := json.Marshal(unit.Length(math.NaN())); err == nil {
		t.Error("a NaN length marshals")
	}
}

func TestDegrees(t *testing.T) {
	for text, want := range map[string]unit.Degrees{
		"30": 30, "30°": 30, " 30 deg ": 30, "-12,5°": -12.5, "−12.5 degrees": -12.5, "+7": 7, "0": 0,
	} {
		if got, err := unit.ParseDegrees(text); err != nil || got != want {
			t.Errorf("ParseDegrees(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "°", "--3", "1e2", "NaN", "Inf", "30 m", "3 0", "36001"} {
		var pe *unit.ParseError
		if got, err := unit.ParseDegrees(text); !errors.As(err, &pe) {
			t.Errorf("ParseDegrees(%q) = %v, %v, want a ParseError", text, got, err)
		}
	}
	for d, want := range map[unit.Degrees]string{
		30: "30°", -12.5: "-12.5°", 0.004: "0°", -0.004: "0°", 109.999: "110°",
		unit.Degrees(math.Inf(-1)): "no angle",
	} {
		if got := d.String(); got != want {
			t.Errorf("String(%g) = %s, want %s", float64(d), got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := unit.Degrees(rapid.Float64Range(-360, 360).Draw(t, "degrees"))
		got, err := unit.ParseDegrees(d.String())
		if err != nil || math.Abs(float64(got-d)) > 0.005+1e-12 {
			t.Fatalf("%v reads back as %v, %v", float64(d), got, err)
		}
		if r := unit.FromRadians(d.Radians()); math.Abs(float64(r-d)) > 1e-12*360 {
			t.Fatalf("%v through radians is %v", float64(d), float64(r))
		}
	})
}

// FuzzParseLength holds that no text panics, gives something that is not a
// finite length, or prints what cannot be read back.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{
		"2.4 m", "2,4 m", "2400", `7' 10 1/2"`, "7′10½″", "7 ft 10 1/2 in", "-66-1/2\"", "5'-6", "1,200 mm", "NaN", "", "1/16",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, def := range []unit.Length{0, unit.Millimetre, unit.Metre, unit.Inch} {
			l, err := unit.ParseLength(text, def)
			if err != nil {
				if strings.Contains(err.Error(), "\n") {
					t.Errorf("ParseLength(%q): message of more than one line", text)
				}
				continue
			}
			if !(math.Abs(float64(l)) <= float64(unit.MaxLength)) {
				t.Errorf("ParseLength(%q) = %g", text, float64(l))
			}
			if l >= unit.MaxLength-unit.Inch || l <= unit.Inch-unit.MaxLength {
				continue // may print as just over the limit
			}
			for _, metric := range []bool{true, false} {
				if _, err := unit.ParseLength(l.Format(metric), 0); err != nil {
					t.Errorf("%q reads as %g, whose print cannot be read: %v", text, float64(l), err)
				}
			}
		}
	})
}

func ExampleParseLength() {
	for _, text := range []string{"2400", "240 cm", "2,4 m", `7' 10 1/2"`, "94½″"} {
		l, err := unit.ParseLength(text, unit.Millimetre)
		fmt.Println(l.Format(true), l.Format(false), err)
	}
	_, err := unit.ParseLength("1,200 mm", unit.Millimetre)
	fmt.Println(err)
	// Output:
	// 2.400 m 7' 10 1/2" <nil>
	// 2.400 m 7' 10 1/2" <nil>
	// 2.400 m 7' 10 1/2" <nil>
	// 2.400 m 7' 10 1/2" <nil>
	// 2.400 m 7' 10 1/2" <nil>
	// found "1,200 mm", allowed: a decimal point, as three digits after a comma could be thousands
}

func ExampleLength_Format() {
	ear := unit.Length(1.1271)
	fmt.Println(ear.Format(true), "or", ear.Format(false))
	// Output: 1.127 m or 3' 8 3/8"
}

func ExampleParseDegrees() {
	d, err := unit.ParseDegrees("-12,5°")
	fmt.Println(d, err)
	// Output: -12.5° <nil>
}

// A list of feet and inches ended a line with 10 and began the next with 1/4".
func TestALengthIsNotBrokenBetweenInchesAndTheirFraction(t *testing.T) {
	for text, want := range map[string][]string{
		`7 7/8" × 1' 1 3/8", 10 1/4"`:       {`7 7/8"`, "×", `1' 1 3/8",`, `10 1/4"`},
		`left 1' 11 5/8" right`:             {"left", `1' 11 5/8"`, "right"},
		"row 2 seat 3, 1 of 2 paths, 10 mm": strings.Fields("row 2 seat 3, 1 of 2 paths, 10 mm"),
		"row 1 3' 2 mm":                     {"row", "1", "3' 2", "mm"},
		"":                                  nil,
	} {
		if got := unit.Fields(text); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}
