// SPDX-License-Identifier: MIT

package chart

import (
	"image/color"
	"regexp"

	"golang.org/x/image/font/opentype"
)

// Style is the colours of a chart and its type.
type Style struct {
	Back, Field color.NRGBA // behind everything; behind the lines
	Line, Grid  color.NRGBA // the frame; the grid, whose finer lines are paler
	Ink, Faint  color.NRGBA // title and names; numbers, units, notes
	// Inks are the colours of series, in the order in which series take them. They
	// differ in lightness as well as hue; lines differ in pattern too.
	Inks             []color.NRGBA
	Wanted, Unwanted color.NRGBA
	Mark             color.NRGBA
	// Font is the typeface; nil is the Go font, which also stands in for signs that
	// another one lacks.
	Font *opentype.Font
	// Comma writes numbers with a decimal comma.
	Comma bool
}

// Dark returns a style for a dark window, beside the colours of verdicts.
func Dark() Style {
	return Style{
		Back:  color.NRGBA{0x1f, 0x25, 0x2d, 0xff},
		Field: color.NRGBA{0x17, 0x1b, 0x21, 0xff},
		Line:  color.NRGBA{0x5a, 0x66, 0x74, 0xff},
		Grid:  color.NRGBA{0x35, 0x3e, 0x49, 0xff},
		Ink:   color.NRGBA{0xe4, 0xe9, 0xee, 0xff},
		Faint: color.NRGBA{0x9d, 0xab, 0xb8, 0xff},
		Inks: []color.NRGBA{
			{0x63, 0xb4, 0xe2, 0xff}, // sky
			{0xff, 0xe0, 0x7a, 0xff}, // pale gold
			{0xe2, 0x62, 0x92, 0xff}, // rose
			{0x8e, 0xe0, 0xb4, 0xff}, // mint
			{0xf0, 0x8c, 0x4e, 0xff}, // copper
			{0xc3, 0xb4, 0xf6, 0xff}, // lavender
			{0x3f, 0x9e, 0x8f, 0xff}, // sea
			{0xe9, 0xe4, 0xd8, 0xff}, // linen
		},
		Wanted:   color.NRGBA{0x58, 0xb8, 0x98, 0xff},
		Unwanted: color.NRGBA{0xe0, 0x4a, 0x78, 0xff},
		Mark:     color.NRGBA{0xf0, 0xc0, 0x90, 0xff},
	}
}

// Light returns a style for paper.
func Light() Style {
	return Style{
		Back:  color.NRGBA{0xff, 0xff, 0xff, 0xff},
		Field: color.NRGBA{0xff, 0xff, 0xff, 0xff},
		Line:  color.NRGBA{0x6a, 0x72, 0x7a, 0xff},
		Grid:  color.NRGBA{0xcf, 0xd5, 0xda, 0xff},
		Ink:   color.NRGBA{0x1a, 0x1f, 0x24, 0xff},
		Faint: color.NRGBA{0x55, 0x5f, 0x69, 0xff},
		Inks: []color.NRGBA{
			{0x1f, 0x6f, 0xb0, 0xff}, // blue
			{0xb0, 0x5a, 0x00, 0xff}, // amber
			{0x9c, 0x12, 0x57, 0xff}, // magenta
			{0x2b, 0x8f, 0x5e, 0xff}, // green
			{0x50, 0x3a, 0x9a, 0xff}, // violet
			{0xd0, 0x4a, 0x3a, 0xff}, // brick
			{0x0f, 0x5a, 0x60, 0xff}, // petrol
			{0x6b, 0x5b, 0x45, 0xff}, // umber
		},
		Wanted:   color.NRGBA{0x2b, 0x8f, 0x6e, 0xff},
		Unwanted: color.NRGBA{0xb0, 0x20, 0x50, 0xff},
		Mark:     color.NRGBA{0x8a, 0x50, 0x10, 0xff},
	}
}

// figure returns a number in words as s writes it.
func (s *Style) figure(text string) string {
	if s.Comma {
		return decimal.ReplaceAllString(text, "$1,$2")
	}
	return text
}

// decimal is the point of a number.
var decimal = regexp.MustCompile(`(\d)\.(\d)`)

// ink returns colour n of s, from 1; after the last one comes the first.
func (s *Style) ink(n int) color.NRGBA {
	if len(s.Inks) == 0 {
		return s.Ink
	}
	i := (n - 1) % len(s.Inks)
	if i < 0 {
		i += len(s.Inks)
	}
	return s.Inks[i]
}

// fade returns c with that share of its opacity.
func fade(c color.NRGBA, share float64) color.NRGBA {
	c.A = uint8(float64(c.A)*share + 0.5)
	return c
}

// seriesStyle is how a series is drawn.
type seriesStyle struct {
	ink    int // number of the style's inks, from 1; 0 is the faint ink
	dash   Dash
	width  float64 // points
	symbol int     // number of the points' shape, from 0
	bar    int     // number among the bars, from 0; -1 for none
}

// seriesStyles gives each series its ink, pattern and symbol, in their order.
func (c *Chart) seriesStyles() []seriesStyle {
	out := make([]seriesStyle, len(c.Series))
	ink, dash, symbol, bar := 0, Solid, 0, 0
	for i := range c.Series {
		s := &c.Series[i]
		l := seriesStyle{ink: s.Ink, dash: s.Dash, width: 1.6, bar: -1}
		if s.Heavy {
			l.width = 2.4
		}
		if s.Quiet {
			l.width = 1
		}
		if l.ink <= 0 && !s.Quiet {
			ink++
			l.ink = ink
		}
		if l.dash == Auto || l.dash > DashDotted {
			l.dash = Solid
			if (s.Kind == Line || s.Kind == Steps) && !s.Quiet {
				l.dash = dash
				if dash++; dash > DashDotted {
					dash = Solid
				}
			}
		}
		if s.Kind == Points || s.Kind == Stems {
			l.symbol = symbol
			symbol++
		}
		if s.Kind == Bars {
			l.bar = bar
			bar++
		}
		out[i] = l
	}
	return out
}

// color returns the colour of l in a style.
func (l seriesStyle) color(s *Style) color.NRGBA {
	if l.ink <= 0 {
		return s.Faint
	}
	return s.ink(l.ink)
}
