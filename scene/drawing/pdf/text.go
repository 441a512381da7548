// SPDX-License-Identifier: MIT

package pdf

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"image/color"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"

	"earline/scene/drawing"
)

// Text implements drawing.Canvas. What no font has is written as
// drawing.Instead says.
func (c *Canvas) Text(layer string, ink color.NRGBA, l drawing.Label) {
	runs, width := c.runs(l)
	if len(runs) == 0 {
		return
	}
	c.onto(layer)
	c.ink(ink)
	at := l.Stands()
	if l.Turn != 0 {
		c.f.TransformBegin()
		c.f.TransformRotate(l.Turn, at.X, at.Y)
		c.font = -1 // what is set in here is forgotten at the end
	}
	x := at.X - width*float64(l.Anchor)/2
	for _, r := range runs {
		c.set(r.font, l.Size)
		c.f.Text(x, at.Y, r.text)
		x += r.width
	}
	if l.Turn != 0 {
		c.f.TransformEnd()
		c.font = -1
	}
}

// run is a part of a label in one font.
type run struct {
	font  int
	text  string
	width float64
}

// runs cuts a label into what each font has of it.
func (c *Canvas) runs(l drawing.Label) (runs []run, width float64) {
	t := c.typeface.Of(l.Bold)
	put := func(r rune) {
		which, w := t.Advance(r)
		font := c.embed(t.Font(which))
		c.fonts[font].used[r] = true
		if n := len(runs); n == 0 || runs[n-1].font != font {
			runs = append(runs, run{font: font})
		}
		last := &runs[len(runs)-1]
		last.text += string(r)
		last.width += w * l.Size
		width += w * l.Size
	}
	for _, r := range l.Text {
		if single(r) && t.Has(r) && r >= ' ' {
			put(r)
			continue
		}
		instead, same := drawing.Instead(r)
		if !same {
			c.lacking[r] = true
		}
		for _, r := range instead {
			put(r)
		}
	}
	return runs, width
}

// single tells whether r is one unit of UTF-16, which is all that the library can
// write.
func single(r rune) bool { return r <= 0xffff && utf8.ValidRune(r) }

// plain returns text that the library can write as it is, for titles and names.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case !single(r):
			return utf8.RuneError
		case r < ' ':
			return ' '
		}
		return r
	}, text)
}

// set makes a font the one that is written in, of a size in mm.
func (c *Canvas) set(font int, size float64) {
	if font != c.font || size != c.size {
		const point = 25.4 / 72 // mm
		c.f.SetFont(c.fonts[font].family, "", size/point)
		c.font, c.size = font, size
	}
}

// embedded is a font, of which the document contains what it uses.
type embedded struct {
	font *opentype.Font
	// family is what the library knows it by, name how it is called. The library
	// writes "utf8" and the family, which is as long as the name with its tag.
	family, name string
	used         map[rune]bool
}

// embed returns which of fonts f is.
func (c *Canvas) embed(f *opentype.Font) int {
	for i, e := range c.fonts {
		if e.font == f {
			return i
		}
	}
	var buf sfnt.Buffer
	name, err := f.Name(&buf, sfnt.NameIDPostScript)
	if name = strings.Map(inName, name); err != nil || name == "" {
		name = "Font"
	}
	const more = len("ABCDEF+") - len("utf8")
	e := &embedded{f, fmt.Sprintf("f%0*d", more+len(name)-1, len(c.fonts)), name, map[rune]bool{}}
	c.f.AddUTF8FontFromBytes(e.family, "", source(f))
	c.fonts = append(c.fonts, e)
	return len(c.fonts) - 1
}

// inName keeps what stands in a name of a PDF for itself.
func inName(r rune) rune {
	if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '-' {
		return r
	}
	return -1
}

// names returns how the library names the font, and its name with a tag that says which
// runes are contained.
func (e *embedded) names() (library, tagged string) {
	var runes []rune
	for r := range e.used {
		runes = append(runes, r)
	}
	slices.Sort(runes)
	h := fnv.New64a()
	_, _ = h.Write([]byte(e.name + string(runes))) // a hash takes everything
	tag, n := make([]byte, 6), h.Sum64()
	for i := range tag {
		tag[i] = 'A' + byte(n%26)
		n /= 26
	}
	return "utf8" + e.family, string(tag) + "+" + e.name
}

// source returns the bytes that a font was read from.
func source(f *opentype.Font) []byte {
	var buf sfnt.Buffer
	var b bytes.Buffer
	if _, err := f.WriteSourceTo(&buf, &b); err != nil {
		return nil // the library says that there is no such font
	}
	return b.Bytes()
}
