// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"math"
	"strconv"
)

// Colour is a colour as the web writes it: "#rrggbb", red, green and blue of sRGB in
// hexadecimal digits. Empty is none.
type Colour string

// LinearRGB is a colour as light: shares of red, green and blue of sRGB, from 0 to 1.
type LinearRGB [3]float64

// LinearOf returns what share a component of sRGB, from 0 to 1, is of full light: the transfer
// function of IEC 61966-2-1:1999, 5.2.
func LinearOf(encoded float64) float64 {
	if encoded <= 0.04045 {
		return encoded / 12.92
	}
	return math.Pow((encoded+0.055)/1.055, 2.4)
}

// EncodedOf is the reverse of LinearOf: IEC 61966-2-1:1999, 5.3.
func EncodedOf(linear float64) float64 {
	if linear <= 0.0031308 {
		return linear * 12.92
	}
	return 1.055*math.Pow(linear, 1/2.4) - 0.055
}

// Linear returns c as light; ok is false where c is none.
func (c Colour) Linear() (l LinearRGB, ok bool) {
	if len(c) != 7 || c[0] != '#' {
		return l, false
	}
	v, err := strconv.ParseUint(string(c[1:]), 16, 24)
	if err != nil {
		return l, false
	}
	for i := range l {
		l[i] = LinearOf(float64(v>>(16-8*i)&0xff) / 255)
	}
	return l, true
}

// Reflectance returns the share of white light that a matt surface which looks like c
// throws back: Y of CIE 1931 of the primaries of sRGB (IEC 61966-2-1:1999, 5.2, to four
// digits). 0 where c is none.
func (c Colour) Reflectance() float64 {
	l, _ := c.Linear()
	return l.Luminance()
}

// Luminance returns Y of l, from 0 to 1.
func (l LinearRGB) Luminance() float64 { return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] }

// At returns l as bright as y, from 0 to 1: the same hue, and paler only where no colour of
// that hue is so bright.
func (l LinearRGB) At(y float64) LinearRGB {
	own := l.Luminance()
	if own == 0 {
		return LinearRGB{y, y, y}
	}
	most := 0.0
	for i := range l {
		l[i] *= y / own
		most = max(most, l[i])
	}
	if most > 1 { // mixed with a grey as bright
		t := (1 - y) / (most - y)
		for i := range l {
			l[i] = y + t*(l[i]-y)
		}
	}
	return l
}

// Colour returns the nearest colour that can be written.
func (l LinearRGB) Colour() Colour {
	var v [3]int
	for i := range v {
		v[i] = int(math.Round(255 * EncodedOf(min(max(l[i], 0), 1))))
	}
	return Colour(fmt.Sprintf("#%02x%02x%02x", v[0], v[1], v[2]))
}
