// SPDX-License-Identifier: MIT

package film

import (
	"image"
	"slices"
)

// colours is how many colours a palette has.
const colours = 256

// fine is how many bits of red, green and blue tell colours apart.
const fine = 6

// palette is the colours of a picture, and for every colour that it may show the nearest
// of them.
type palette struct {
	rgb     [colours][3]int
	nearest []int16 // by key; -1 where nobody has asked yet
}

// key tells a colour apart.
func key(r, g, b int) int {
	const cut = 8 - fine
	return r>>cut<<(2*fine) | g>>cut<<fine | b>>cut
}

// swatch is a colour of a picture, and how many pixels have it.
type swatch struct {
	rgb [3]int
	n   int
}

// paletteOf returns the palette for m by cutting the box round its colours again and
// again at the median of its longest side. (P. Heckbert, "Color image quantization for
// frame buffer display", SIGGRAPH 1982.)
func paletteOf(m *image.RGBA) *palette {
	count := make([]int32, 1<<(3*fine))
	for y := range m.Rect.Dy() {
		for row := line(m, y); len(row) >= 4; row = row[4:] {
			count[key(int(row[0]), int(row[1]), int(row[2]))]++
		}
	}
	var all []swatch
	const mask, cut = 1<<fine - 1, 8 - fine
	for k, n := range count {
		if n > 0 {
			wide := func(v int) int { return v<<cut | v>>(fine-cut) }
			all = append(all, swatch{[3]int{wide(k >> (2 * fine)), wide(k >> fine & mask), wide(k & mask)}, int(n)})
		}
	}
	boxes := [][]swatch{all}
	for len(boxes) < colours {
		best, axis, most := -1, 0, 0
		for i, b := range boxes {
			if a, long := longest(b); long > most {
				best, axis, most = i, a, long
			}
		}
		if best < 0 {
			break // every box is one colour
		}
		b := boxes[best]
		slices.SortFunc(b, func(x, y swatch) int { return x.rgb[axis] - y.rgb[axis] })
		at := median(b)
		boxes[best] = b[:at]
		boxes = append(boxes, b[at:])
	}
	p := &palette{nearest: make([]int16, 1<<(3*fine))}
	for i := range p.nearest {
		p.nearest[i] = -1
	}
	for i, b := range boxes {
		n := 0
		for _, s := range b {
			n += s.n
		}
		for a := range 3 {
			sum := 0
			for _, s := range b {
				sum += s.n * s.rgb[a]
			}
			p.rgb[i][a] = sum / max(n, 1)
		}
	}
	return p
}

// longest returns the longest side of the box round colours, and its length times the
// pixels in it, so that what covers much of the picture is divided most.
func longest(b []swatch) (axis, weight int) {
	lo, hi, n := b[0].rgb, b[0].rgb, 0
	for _, s := range b {
		n += s.n
		for a, v := range s.rgb {
			lo[a], hi[a] = min(lo[a], v), max(hi[a], v)
		}
	}
	for a := range 3 {
		if w := (hi[a] - lo[a]) * (hi[a] - lo[a]) * n; w > weight {
			axis, weight = a, w
		}
	}
	return axis, weight
}

// median returns where the sorted colours are cut: half the pixels on either side, and a
// colour at least.
func median(b []swatch) int {
	n := 0
	for _, s := range b {
		n += s.n
	}
	half := 0
	for i, s := range b {
		if half += s.n; 2*half >= n {
			return min(max(i+1, 1), len(b)-1)
		}
	}
	return len(b) - 1
}

// table returns the palette as a GIF keeps it.
func (p *palette) table() []byte {
	out := make([]byte, 0, 3*colours)
	for _, c := range p.rgb {
		out = append(out, byte(c[0]), byte(c[1]), byte(c[2]))
	}
	return out
}

// threshold is a dither of 4 by 4 (B. E. Bayer, IEEE ICC 1973): it does not swim from
// picture to picture, as spread errors do.
var threshold = [4][4]int{{0, 8, 2, 10}, {12, 4, 14, 6}, {3, 11, 1, 9}, {15, 7, 13, 5}}

// dithered returns the pixels of m as numbers of colours.
func (p *palette) dithered(m *image.RGBA) []byte {
	const strong = 5 // of 255: about the step from colour to colour
	out := make([]byte, 0, m.Rect.Dx()*m.Rect.Dy())
	for y := range m.Rect.Dy() {
		row := line(m, y)
		for x := range m.Rect.Dx() {
			by := (2*threshold[y&3][x&3] - 15) * strong / 30
			clamp := func(v byte) int { return min(max(int(v)+by, 0), 255) }
			k := key(clamp(row[4*x]), clamp(row[4*x+1]), clamp(row[4*x+2]))
			if p.nearest[k] < 0 {
				p.nearest[k] = p.find(k)
			}
			out = append(out, byte(p.nearest[k]))
		}
	}
	return out
}

// find returns the colour nearest to those of a key.
func (p *palette) find(k int) int16 {
	const mask, cut = 1<<fine - 1, 8 - fine
	middle := func(v int) int { return v<<cut + 1<<(cut-1) }
	r, g, b := middle(k>>(2*fine)), middle(k>>fine&mask), middle(k&mask)
	best, near := 0, 1<<30
	for i, c := range p.rgb {
		// Green counts most for the eye, blue least; roughly as luminance does.
		d := 2*(c[0]-r)*(c[0]-r) + 4*(c[1]-g)*(c[1]-g) + (c[2]-b)*(c[2]-b)
		if d < near {
			best, near = i, d
		}
	}
	return int16(best)
}
