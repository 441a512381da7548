// SPDX-License-Identifier: MIT

package plot

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// typeface measures text, without kerning: at these sizes it makes "T," one sign.
type typeface struct {
	font     *opentype.Font
	buf      sfnt.Buffer
	advances map[rune]float64
	k        float64
}

func newTypeface(s *Style, k float64) *typeface {
	f := s.Font
	if f == nil {
		var err error
		if f, err = opentype.Parse(goregular.TTF); err != nil {
			panic("plot: the font of golang.org/x/image does not parse: " + err.Error())
		}
	}
	return &typeface{font: f, advances: map[rune]float64{}, k: k}
}

// size returns how many pixels type of the two sizes has.
func (t *typeface) size(big bool) float64 {
	if big {
		return titleSize * t.k
	}
	return textSize * t.k
}

// advance returns how wide a rune is, in sizes.
func (t *typeface) advance(r rune) float64 {
	a, ok := t.advances[r]
	if !ok {
		em := t.font.UnitsPerEm()
		if i, err := t.font.GlyphIndex(&t.buf, r); err == nil && em > 0 {
			if v, err := t.font.GlyphAdvance(&t.buf, i, fixed.Int26_6(em), font.HintingNone); err == nil {
				a = float64(v) / float64(em)
			}
		}
		t.advances[r] = a
	}
	return a
}

// wide returns how many pixels text takes up, wideBig that of the title.
func (t *typeface) wide(text string) float64 {
	w := 0.0
	for _, r := range text {
		w += t.advance(r)
	}
	return w * textSize * t.k
}

func (t *typeface) wideBig(text string) float64 { return t.wide(text) / textSize * titleSize }
