// SPDX-License-Identifier: MIT

package theme

import (
	"image/color"

	"earline/project"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/chart"
)

// Palette is all colours of a theme.
type Palette struct {
	// Scene is the colours of the picture of the room, Drawing those of the plan and the
	// sections. The plates of verdicts are those of Drawing.
	Scene, Drawing scene.Palette
	// Light says that things stand on light ground.
	Light bool

	colors [named]color.NRGBA
	text   color.NRGBA // Ink as Fyne's widgets draw it
}

// Fyne 2.7 works out the colour of the keys in a menu from the colour of text by way of
// the low bytes of 16-bit channels (widget.shortcutColor), so that an opaque one makes
// them all but invisible. Each text below has low bytes that make them readable, which
// a test holds.

// dark is the theme of a dark room: calm, so that the picture is judged on a dark
// surround.
var dark = Palette{
	Scene: scene.Lamplight(), Drawing: scene.Lamplight(),
	text: color.NRGBA{240, 240, 240, 238},
	colors: [named]color.NRGBA{
		Back:     {0x17, 0x1b, 0x21, 0xff},
		Panel:    {0x1f, 0x25, 0x2d, 0xff},
		Head:     {0x2a, 0x32, 0x3c, 0xff},
		Well:     {0x12, 0x16, 0x1b, 0xff},
		Button:   {0x33, 0x3d, 0x49, 0xff},
		Line:     {0x3a, 0x44, 0x50, 0xff},
		Edge:     {0x7d, 0x8b, 0x99, 0xff},
		Ink:      {0xe4, 0xe9, 0xee, 0xff},
		Faint:    {0xa6, 0xb3, 0xbf, 0xff},
		Disabled: {0x84, 0x91, 0x9e, 0xff},
		Accent:   {0x6f, 0xc3, 0xc8, 0xff},
		OnAccent: {0x10, 0x14, 0x19, 0xff},
		Fault:    {0xff, 0xa0, 0x8a, 0xff},
		Focus:    {0x6f, 0xc3, 0xc8, 0x50},
		Marked:   {0x6f, 0xc3, 0xc8, 0x50},
		Hover:    {0xff, 0xff, 0xff, 0x14},
		Pressed:  {0xff, 0xff, 0xff, 0x28},
		Bar:      {0x8a, 0x99, 0xa8, 0xff},
	},
}

// light is the theme for daylight.
var light = Palette{
	Scene: scene.Lamplight(), Drawing: scene.Paper(), Light: true,
	text: color.NRGBA{15, 15, 15, 238},
	colors: [named]color.NRGBA{
		Back:     {0xdb, 0xe0, 0xe5, 0xff},
		Panel:    {0xf2, 0xf4, 0xf6, 0xff},
		Head:     {0xe3, 0xe7, 0xeb, 0xff},
		Well:     {0xff, 0xff, 0xff, 0xff},
		Button:   {0xd3, 0xda, 0xe0, 0xff},
		Line:     {0xc3, 0xca, 0xd1, 0xff},
		Edge:     {0x6b, 0x77, 0x83, 0xff},
		Ink:      {0x1a, 0x1f, 0x24, 0xff},
		Faint:    {0x48, 0x54, 0x60, 0xff},
		Disabled: {0x6e, 0x7a, 0x86, 0xff},
		Accent:   {0x05, 0x5f, 0x66, 0xff},
		OnAccent: {0xff, 0xff, 0xff, 0xff},
		Fault:    {0x9c, 0x1f, 0x08, 0xff},
		Focus:    {0x05, 0x8a, 0x94, 0x60},
		Marked:   {0x05, 0x8a, 0x94, 0x50},
		Hover:    {0x00, 0x00, 0x00, 0x10},
		Pressed:  {0x00, 0x00, 0x00, 0x24},
		Bar:      {0x6b, 0x77, 0x83, 0xff},
	},
}

// highContrast is the theme for those who need more contrast: on black.
var highContrast = Palette{
	Scene: scene.HighContrast(), Drawing: scene.HighContrast(),
	text: color.NRGBA{255, 255, 255, 238},
	colors: [named]color.NRGBA{
		Back:     {0x00, 0x00, 0x00, 0xff},
		Panel:    {0x00, 0x00, 0x00, 0xff},
		Head:     {0x1c, 0x1c, 0x1c, 0xff},
		Well:     {0x00, 0x00, 0x00, 0xff},
		Button:   {0x30, 0x30, 0x30, 0xff},
		Line:     {0x8c, 0x8c, 0x8c, 0xff},
		Edge:     {0xff, 0xff, 0xff, 0xff},
		Ink:      {0xff, 0xff, 0xff, 0xff},
		Faint:    {0xe6, 0xe6, 0xe6, 0xff},
		Disabled: {0xb0, 0xb0, 0xb0, 0xff},
		Accent:   {0x66, 0xe8, 0xf0, 0xff},
		OnAccent: {0x00, 0x00, 0x00, 0xff},
		Fault:    {0xff, 0xb8, 0xa6, 0xff},
		Focus:    {0x66, 0xe8, 0xf0, 0x58},
		Marked:   {0x66, 0xe8, 0xf0, 0x60},
		Hover:    {0xff, 0xff, 0xff, 0x28},
		Pressed:  {0xff, 0xff, 0xff, 0x40},
		Bar:      {0xff, 0xff, 0xff, 0xff},
	},
}

func (p *Palette) color(c Color) color.NRGBA {
	if c < named {
		return p.colors[c]
	}
	k := p.Drawing.Verdicts[sight.Verdict((c-named)/perVerdict)]
	switch (c - named) % perVerdict {
	case plate:
		return nrgba(k.Plate)
	case ink:
		return nrgba(k.Ink)
	}
	return nrgba(k.Ray)
}

func nrgba(c scene.RGB) color.NRGBA {
	q := func(v float32) uint8 { return uint8(v*255 + 0.5) }
	return color.NRGBA{q(c.R), q(c.G), q(c.B), 0xff}
}

// Sample returns the colour of a finish, which is that of no theme.
func Sample(l project.LinearRGB) color.Color {
	return nrgba(scene.Displayed([3]float32{float32(min(max(l[0], 0), 1)), float32(min(max(l[1], 0), 1)), float32(min(max(l[2], 0), 1))}))
}

// Chart returns the colours of charts.
func (p *Palette) Chart() chart.Style {
	s := chart.Dark()
	if p.Light {
		s = chart.Light()
		s.Field = p.color(Well)
	} else {
		s.Field = p.color(Back)
	}
	s.Back, s.Ink, s.Faint, s.Line = p.color(Panel), p.color(Ink), p.color(Faint), p.color(Edge)
	return s
}
