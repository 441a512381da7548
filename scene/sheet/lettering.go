// SPDX-License-Identifier: MIT

package sheet

import (
	"image/color"
	"strings"

	"earline/geometry/unit"
	"earline/scene/drawing"
)

// capital is the height of a capital letter of the Go font, in sizes of its type
// (measured: 1480 of 2048 units); drop is how far its letters reach below the line.
const (
	capital = 0.7227
	drop    = 0.21
)

// size returns the size of type whose capitals are so high.
func size(height float64) float64 { return height / capital }

// width returns how wide a text is whose capitals are so high.
func (p *page) width(text string, height float64) float64 { return p.face.Width(text, size(height)) }

// text writes a line of text whose capitals are height high, on the line y; x is its
// start, middle or end.
func (p *page) text(layer string, ink color.NRGBA, x, y, height float64, a drawing.Anchor, text string) {
	if text == "" {
		return
	}
	w := p.width(text, height)
	switch a {
	case drawing.Middle:
		x -= w / 2
	case drawing.End:
		x -= w
	}
	p.words = append(p.words, word{text, textBox(x, y, w, height)})
	p.canvas.Text(layer, ink, drawing.Label{X: x, Y: y, Text: text, Size: size(height), Width: w, Anchor: a})
}

// textBox returns what a line of text covers.
func textBox(x, y, w, height float64) drawing.Box {
	return drawing.Rect(x, y-height, x+w, y+drop*size(height))
}

// textUp writes a line of text that reads from the right-hand side of the sheet,
// upwards, along the line x; y is its start, middle or end.
func (p *page) textUp(layer string, ink color.NRGBA, x, y, height float64, a drawing.Anchor, text string) {
	if text == "" {
		return
	}
	w := p.width(text, height)
	switch a {
	case drawing.Middle:
		y += w / 2
	case drawing.End:
		y += w
	}
	p.words = append(p.words, word{text, drawing.Rect(x-height, y-w, x+drop*size(height), y)})
	p.canvas.Text(layer, ink, drawing.Label{X: x, Y: y, Text: text, Size: size(height), Width: w, Anchor: a, Turn: 90})
}

// levelBox and upBox return what a line of text takes whose middle is at x, y, level
// and reading upwards.
func (p *page) levelBox(x, y float64, text string) drawing.Box {
	w := p.width(text, small)
	return textBox(x-w/2, y, w, small)
}

func (p *page) upBox(x, y float64, text string) drawing.Box {
	w := p.width(text, small)
	return drawing.Rect(x-small, y-w/2, x+drop*size(small), y+w/2)
}

// fitted returns text, shortened until it is no wider than room.
func (p *page) fitted(text string, height, room float64) string {
	if p.width(text, height) <= room {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 {
		letters = letters[:len(letters)-1]
		if short := strings.TrimRight(string(letters), " ,.") + "…"; p.width(short, height) <= room {
			return short
		}
	}
	return ""
}

// together is a space at which no line is broken; on the sheet it is a plain one.
const together = "\u00a0"

// wrapped breaks text between words into lines no wider than room.
func (p *page) wrapped(text string, height, room float64) (out []string) {
	line := ""
	for _, w := range unit.Fields(text) {
		w = strings.ReplaceAll(w, together, " ")
		longer := strings.TrimSpace(line + " " + w)
		if line != "" && p.width(longer, height) > room {
			out = append(out, line)
			longer = w
		}
		line = p.fitted(longer, height, room)
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

func capitalised(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
