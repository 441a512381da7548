// SPDX-License-Identifier: MIT

package drawing

import (
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Typeface measures text, without kerning: at small sizes kerning makes "T," one
// sign. What its font lacks is taken from the Go font: the minus sign is missing
// from fonts that are made for running text, and −10 dB without it is 10 dB.
//
// It remembers what it has measured: one goroutine at a time.
type Typeface struct {
	fonts    [2]*opentype.Font // the one asked for, and what helps out; the second may be nil
	buf      sfnt.Buffer
	measured map[rune]advance
	bold     *Typeface // once asked for
}

// advance is which of the fonts has a rune, and how wide it is there, in sizes.
type advance struct {
	font  int
	width float64
	lacks bool // none has it
}

// NewTypeface returns the typeface of a font; nil is the Go font.
func NewTypeface(f *opentype.Font) *Typeface {
	own := parsed(goregular.TTF)
	t := &Typeface{fonts: [2]*opentype.Font{own}, measured: map[rune]advance{}}
	if f != nil {
		t.fonts = [2]*opentype.Font{f, own}
	}
	return t
}

func parsed(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("drawing: the font of golang.org/x/image does not parse: " + err.Error())
	}
	return f
}

// Bold returns the typeface of bold labels: the bold Go font, helped out by the
// fonts of t.
func (t *Typeface) Bold() *Typeface {
	if t.bold == nil {
		t.bold = &Typeface{fonts: [2]*opentype.Font{parsed(gobold.TTF), t.fonts[0]}, measured: map[rune]advance{}}
	}
	return t.bold
}

// Of returns the typeface that a label is set in: t, or its bold one.
func (t *Typeface) Of(bold bool) *Typeface {
	if bold {
		return t.Bold()
	}
	return t
}

// Width returns how wide text is in type of that size, in the unit of the size.
func (t *Typeface) Width(text string, size float64) float64 {
	w := 0.0
	for _, r := range text {
		_, v := t.Advance(r)
		w += v
	}
	return w * size
}

// Advance returns which font has r, for Font, and how wide r is in type of size 1.
// What none has is the first font's sign for that.
func (t *Typeface) Advance(r rune) (font int, width float64) {
	a, ok := t.measured[r]
	if !ok {
		a = t.measure(r)
		t.measured[r] = a
	}
	return a.font, a.width
}

func (t *Typeface) measure(r rune) advance {
	a := advance{lacks: true}
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
			a = advance{i, float64(v) / float64(em), g == 0}
		}
		if g != 0 {
			break
		}
	}
	return a
}

// Has tells whether one of the fonts has r.
func (t *Typeface) Has(r rune) bool {
	t.Advance(r)
	return !t.measured[r].lacks
}

// Instead returns what is written in place of a rune that no font has, where fonts are
// contained and the reader's cannot help out: something of the same meaning, or "?",
// and whether that says as much.
func Instead(r rune) (text string, same bool) {
	switch r {
	case '⌀', '∅':
		return "Ø", true // U+00D8, which is read as a diameter as well
	case '⅓':
		return "1/3", true
	case '⅔':
		return "2/3", true
	case '⅙':
		return "1/6", true
	case '⅚':
		return "5/6", true
	case '✓':
		return "√", true
	case '\u2010', '\u2011': // hyphens
		return "-", true
	case '\u2002', '\u2003', '\u2007', '\u2009', '\u202f': // spaces
		return " ", true
	}
	if unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
		return " ", true
	}
	return "?", false
}

// Font returns the font that Advance names: 0 the typeface's own, 1 the one that
// helps out.
func (t *Typeface) Font(i int) *opentype.Font { return t.fonts[i] }

// Family returns the name of the typeface; "" when the font has none.
func (t *Typeface) Family() string {
	name, err := t.fonts[0].Name(&t.buf, sfnt.NameIDFamily)
	if err != nil {
		return ""
	}
	return name
}
