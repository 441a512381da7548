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
// What the style's font lacks is taken from Go's own: the minus sign is missing
// from fonts that are made for running text, and −10 dB without it is 10 dB.
type typeface struct {
	fonts    [2]*opentype.Font // the style's, and what helps out; the second may be nil
	buf      sfnt.Buffer
	measured map[rune]measure
	k        float64
}

// measure is which of the fonts has a rune, and how wide it is, in sizes.
type measure struct {
	font int
	wide float64
}

func newTypeface(s *Style, k float64) *typeface {
	own, err := opentype.Parse(goregular.TTF)
	if err != nil {
		panic("plot: the font of golang.org/x/image does not parse: " + err.Error())
	}
	t := &typeface{fonts: [2]*opentype.Font{own}, measured: map[rune]measure{}, k: k}
	if s.Font != nil {
		t.fonts = [2]*opentype.Font{s.Font, own}
	}
	return t
}

// size returns how many pixels type of the two sizes has.
func (t *typeface) size(big bool) float64 {
	if big {
		return titleSize * t.k
	}
	return textSize * t.k
}

// measure returns which font has r and how wide it is there. What none has is
// the first one's sign for that.
func (t *typeface) measure(r rune) measure {
	m, ok := t.measured[r]
	if ok {
		return m
	}
	for i, f := range t.fonts {
		if f == nil {
			continue
		}
		g, err := f.GlyphIndex(&t.buf, r)
		if err != nil || g == 0 && i > 0 {
			continue
		}
		em := f.UnitsPerEm()
		if v, err := f.GlyphAdvance(&t.buf, g, fixed.Int26_6(em), font.HintingNone); err == nil && em > 0 {
			m = measure{i, float64(v) / float64(em)}
		}
		if g != 0 {
			break
		}
	}
	t.measured[r] = m
	return m
}

// wide returns how many pixels text takes up, wideBig that of the title.
func (t *typeface) wide(text string) float64 {
	w := 0.0
	for _, r := range text {
		w += t.measure(r).wide
	}
	return w * textSize * t.k
}

func (t *typeface) wideBig(text string) float64 { return t.wide(text) / textSize * titleSize }
