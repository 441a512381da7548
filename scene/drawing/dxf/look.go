// SPDX-License-Identifier: MIT

package dxf

import (
	"fmt"
	"image/color"

	"earline/scene/drawing"
)

// Colours are numbers of a fixed palette. 7 is black on white paper and white on black.
const colourless = 7

// palette are the colours that have a name of their own, and greys. Another
// program's palette is the test's source of their values.
func palette() []struct {
	number int
	ink    color.NRGBA
} {
	grey := func(v uint8) color.NRGBA { return color.NRGBA{v, v, v, 255} }
	return []struct {
		number int
		ink    color.NRGBA
	}{
		{1, color.NRGBA{255, 0, 0, 255}}, {2, color.NRGBA{255, 255, 0, 255}}, {3, color.NRGBA{0, 255, 0, 255}},
		{4, color.NRGBA{0, 255, 255, 255}}, {5, color.NRGBA{0, 0, 255, 255}}, {6, color.NRGBA{255, 0, 255, 255}},
		{7, grey(0)}, {7, grey(255)}, {8, grey(128)}, {9, grey(192)},
		{30, color.NRGBA{255, 127, 0, 255}}, {94, color.NRGBA{0, 127, 0, 255}}, {14, color.NRGBA{127, 0, 0, 255}}, {174, color.NRGBA{0, 0, 127, 255}},
	}
}

// onWhite returns ink as it is seen on white paper.
func onWhite(ink color.NRGBA) (r, g, b int) {
	over := func(v uint8) int { return (int(v)*int(ink.A) + 255*(255-int(ink.A))) / 255 }
	return over(ink.R), over(ink.G), over(ink.B)
}

func white(ink color.NRGBA) bool {
	r, g, b := onWhite(ink)
	return min(r, g, b) > 250
}

// colour returns the number nearest to ink.
func colour(ink color.NRGBA) int {
	r, g, b := onWhite(ink)
	best, least := colourless, 1<<30
	for _, p := range palette() {
		x, y, z := int(p.ink.R)-r, int(p.ink.G)-g, int(p.ink.B)-b
		if d := x*x + y*y + z*z; d < least {
			best, least = p.number, d
		}
	}
	return best
}

// layer returns the name of a layer, which has the colour of what first lies on it.
func (p place) layer(name string, colour int) string {
	if name == "" {
		return "0" // in a block, that of the insert
	}
	return p.f.layers.of(name, name, colour)
}

// begin begins an entity. Lines and words are as strong as they can be: on a screen what
// is pale beside others would be lost in them.
func (p place) begin(kind, layer string, ink color.NRGBA) {
	if kind != "SOLID" {
		ink.A = 255
	}
	n := colour(ink)
	name := p.layer(layer, n)
	p.out.name(0, kind)
	p.out.name(8, name)
	if p.f.layers.get(name) != n {
		p.out.int(62, n)
	}
}

// dash writes the line type of a pen.
func (p place) dash(pen drawing.Pen) {
	if len(pen.Dash) == 0 {
		return
	}
	// Strokes and gaps in turn, in mm of the model. The names are those that drawing
	// programs have for such lines.
	pattern := make([]float64, 0, 2*len(pen.Dash))
	for len(pattern) == 0 || len(pattern)%2 == 1 {
		for _, d := range pen.Dash {
			pattern = append(pattern, d*p.mm)
		}
	}
	wish := "DASHED"
	switch {
	case len(pattern) > 2:
		wish = "CENTER"
	case pen.Dash[0] < 1:
		wish = "DOT"
	case pen.Dash[0] < 2.2:
		wish = "HIDDEN"
	}
	p.out.name(6, p.f.lines.of(wish, fmt.Sprintf("%.4g", pattern), pattern))
}
