// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"
	"strings"
)

// finishes checks how the surfaces look.
func (c *checker) finishes(r *Room) {
	f := &r.Finishes
	const at = "room.finishes."
	for _, p := range FinishPlaces() {
		if p != ScreenFinish {
			c.finish(at+string(p), *f.At(p))
		}
	}
	c.given(at+"screen.reflectance", f.Screen.Reflectance, leastReflectance, 1, "")
	for _, x := range []struct{ name, value string }{{"material", string(f.Screen.Material)}, {"colour", string(f.Screen.Colour)}} {
		if x.value != "" {
			c.fault(at+"screen."+x.name, quote(x.value), "nothing: of the screen's cloth only the reflectance is given")
		}
	}
	listed, walls := map[int]bool{}, len(r.Footprint)
	for i := range c.count(at+"wall", len(f.Wall), 0, MaxCorners) {
		w, at := f.Wall[i], fmt.Sprintf("%swall[%d]", at, i)
		if w.Wall < 1 || w.Wall > walls {
			c.fault(at+".wall", fmt.Sprint(w.Wall), fmt.Sprintf("1 to %d", walls))
		} else if listed[w.Wall] {
			c.fault(at+".wall", fmt.Sprintf("%d again", w.Wall), "each wall once")
		}
		listed[w.Wall] = true
		if w.Finish() == (Finish{}) {
			c.fault(at, "no finish", "a material, a colour or a reflectance")
		}
		c.finish(at, w.Finish())
	}
}

// Surfaces throw back something, and never all.
const (
	leastReflectance = 0.01
	mostReflectance  = 0.98
)

// finish checks one finish. Its colour and its reflectance may differ as a sample and a
// screen do, not more.
func (c *checker) finish(field string, f Finish) {
	const (
		least = 0.02 // by which they may differ. No source
		share = 0.15 // of the greater one
	)
	if f.Material != "" {
		oneOf(c, field+".material", f.Material, FinishMaterials()...)
	}
	before := len(c.faults)
	c.given(field+".reflectance", f.Reflectance, leastReflectance, mostReflectance, "")
	if f.Colour == "" {
		return
	}
	l, ok := f.Colour.Linear()
	if !ok {
		c.fault(field+".colour", quote(string(f.Colour)), nearestColour(f.Colour))
		return
	}
	y := l.Luminance()
	if within := min(max(y, leastReflectance), mostReflectance); within != y {
		c.fault(field+".colour", fmt.Sprintf("%q, which throws back %.3f of the light", string(f.Colour), y), fmt.Sprintf("0.01 to 0.98; %q is the nearest", string(nearestWithin(l))))
		return
	}
	if r := f.Reflectance; r != 0 && len(c.faults) == before && math.Abs(r-y) > max(least, share*max(r, y)) {
		c.fault(field+".reflectance", fmt.Sprintf("%.2f beside the colour %q, which throws back %.2f", r, string(f.Colour), y),
			fmt.Sprintf("either alone, or both alike: %q throws back %.2f", string(l.At(r).Colour()), r))
	}
}

// nearestWithin returns the colour nearest to l that throws back something and not all.
func nearestWithin(l LinearRGB) Colour {
	y := min(max(l.Luminance(), leastReflectance), mostReflectance)
	c := l.At(y).Colour()
	for step := 0.0005; c.Reflectance() < leastReflectance || c.Reflectance() > mostReflectance; step *= 2 { // rounded out of it
		if y > 0.5 {
			y -= step
		} else {
			y += step
		}
		c = l.At(y).Colour()
	}
	return c
}

// nearestColour says how colours are written, with the one that was meant where that can
// be told.
func nearestColour(c Colour) string {
	const form = `six hexadecimal digits after "#", as "#69503f"`
	digits := strings.TrimPrefix(strings.TrimSpace(string(c)), "#")
	if len(digits) == 3 { // as the web's short form
		digits = strings.Repeat(digits[:1], 2) + strings.Repeat(digits[1:2], 2) + strings.Repeat(digits[2:], 2)
	}
	if meant := Colour("#" + strings.ToLower(digits)); meant.Reflectance() > 0 {
		return fmt.Sprintf("%s; did you mean %q?", form, string(meant))
	}
	return form
}
