// SPDX-License-Identifier: MIT

package main

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/bake"
)

// FuzzFlags: whatever is typed after a flag is read into its limits, or refused in
// one line that says what is allowed.
func FuzzFlags(f *testing.F) {
	for _, s := range []string{"1280x800", "8192×16", "60cmx60cm", "0,6 x 7' 10\"", "4000", "30,5°", "-12.5 deg", "6", "NaN", "0x1p3", "1e9x1", "x", "xx", "", "∞", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		check := func(what string, err error, inside bool) {
			switch {
			case err == nil && !inside:
				t.Errorf("%s of %q is outside its limits", what, text)
			case err != nil && (strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "allowed: ")):
				t.Errorf("%s of %q: %q", what, text, err)
			}
		}
		p, err := size(text)
		check("size", err, p.w >= 16 && p.h >= 16 && p.w*p.h <= 4096*4096)
		g, err := grid(text)
		check("grid", err, g.PitchX >= 0.05 && g.PitchY >= 0.05 && g.PitchX <= 10 && g.PitchY <= 10)
		o, err := octave(text)
		check("octave", err, o >= 0 && o < len(octaveNames()))
		n, err := count(text)
		check("count", err, n >= 0 && n < 1_000_000)
		l, err := lengthIn(5*unit.Centimetre, 10*unit.Metre)(text)
		check("step", err, l >= 0.05 && l <= 10)
		a, err := notZero(unit.ParseDegrees, "not 0")(text)
		check("angle", err, a != 0 && math.Abs(float64(a)) <= 36_000)
		s, err := stops(text)
		check("exposure", err, math.Abs(s) <= bake.MostStops)
		beside := &project.Design{Variants: []project.Design{{Variant: project.Variant{Name: "As found"}}}}
		for _, typed := range []string{text, "As found:" + text} {
			before, share, err := curtainOf(beside, typed)
			check("curtain", err, before != nil && share >= 0 && share <= 1)
		}
		_, err = chartNamed(text)
		check("chart", err, true)
		_, err = oneOf("a", "b")(text)
		check("word", err, text == "a" || text == "b")
		if shown := escaped(text); strings.ContainsFunc(shown, unicode.IsControl) {
			t.Errorf("%q is shown as %q", text, shown)
		}
	})
}

// FuzzView: whatever is typed after --view is a camera of finite numbers or refused.
func FuzzView(f *testing.F) {
	for _, s := range []string{"overview", "plan", "seat:1.1", "seat:9.9", "ear:1.2:M+030", "ear:1.1:LFE1", "walk:1,2,1.5,0", "walk:1,2,1.5,0,-14", "walk:NaN,1,1,1", "seat:", "ear::", ":"} {
		f.Add(s)
	}
	d, _ := file.Demo("small")
	r := sight.Audit(d)
	f.Fuzz(func(t *testing.T, text string) {
		v, err := scene.Named(d, r, text, 1.6)
		if err != nil {
			return
		}
		for _, x := range v.Camera.Matrix(1.6) {
			if x != x || math.IsInf(float64(x), 0) {
				t.Fatalf("%q: %v", text, v.Camera)
			}
		}
	})
}

// FuzzManual: no text becomes a request of the formatter.
func FuzzManual(f *testing.F) {
	for _, s := range []string{".TH", "'x", `\fB`, "a\n.b", "  kept\n\n.x", "-o"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var b strings.Builder
		roffText(&b, text)
		for _, line := range strings.Split(b.String(), "\n") {
			if strings.HasPrefix(line, "'") || strings.HasPrefix(line, ".") && !strings.Contains(" .PP .RS .RE .nf .fi ", " "+line+" ") {
				t.Fatalf("%q gives the request %q", text, line)
			}
		}
	})
}
