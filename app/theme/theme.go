// SPDX-License-Identifier: MIT

// Package theme is how the window looks: dark, calm, and dense enough for an
// inspector and a table beside the picture on a small screen. The colours of
// verdicts are here too, chosen to stay apart for every kind of colour vision.
package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"
)

// Theme is the window's theme. The zero value is ready to use.
type Theme struct{}

var _ fyne.Theme = Theme{}

// The surfaces of the window, from back to front, and its inks.
var (
	Back   = color.NRGBA{0x17, 0x1b, 0x21, 0xff} // behind everything
	Panel  = color.NRGBA{0x1f, 0x25, 0x2d, 0xff} // inspector, drawer, bars
	Head   = color.NRGBA{0x2a, 0x32, 0x3c, 0xff} // headings
	Well   = color.NRGBA{0x12, 0x16, 0x1b, 0xff} // where one types
	Line   = color.NRGBA{0x3a, 0x44, 0x50, 0xff}
	Ink    = color.NRGBA{0xe4, 0xe9, 0xee, 0xff}
	Faint  = color.NRGBA{0x9d, 0xab, 0xb8, 0xff} // names of things, units
	Accent = color.NRGBA{0x6f, 0xc3, 0xc8, 0xff} // chosen, focused
	Fault  = color.NRGBA{0xff, 0xa0, 0x8a, 0xff} // what is wrong, in words
)

// text is Ink as Fyne's widgets draw it. Fyne 2.7 works out the colour of the
// shortcuts in a menu from it by way of the low bytes of 16-bit channels
// (widget.shortcutColor), so that an opaque text colour makes them all but
// invisible; this one makes them (224, 224, 224, 251).
var text = color.NRGBA{240, 240, 240, 238}

// Color returns the colour of that name. The system's variant is not followed:
// a picture of a dark room is judged on a dark surround.
func (Theme) Color(name fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	switch name {
	case base.ColorNameBackground:
		return Panel
	case base.ColorNameForeground:
		return text
	case base.ColorNameInputBackground:
		return Well
	case base.ColorNameInputBorder, base.ColorNameSeparator:
		return Line
	case base.ColorNamePlaceHolder:
		return Faint
	case base.ColorNameDisabled:
		return color.NRGBA{0x84, 0x91, 0x9e, 0xff}
	case base.ColorNamePrimary, base.ColorNameHyperlink:
		return Accent
	case base.ColorNameForegroundOnPrimary:
		return Back
	case base.ColorNameFocus:
		return color.NRGBA{0x6f, 0xc3, 0xc8, 0x70}
	case base.ColorNameSelection:
		return color.NRGBA{0x6f, 0xc3, 0xc8, 0x50}
	case base.ColorNameButton:
		return color.NRGBA{0x33, 0x3d, 0x49, 0xff}
	case base.ColorNameHover:
		return color.NRGBA{0xff, 0xff, 0xff, 0x14}
	case base.ColorNamePressed:
		return color.NRGBA{0xff, 0xff, 0xff, 0x28}
	case base.ColorNameScrollBar:
		return color.NRGBA{0x8a, 0x99, 0xa8, 0x99}
	case base.ColorNameMenuBackground, base.ColorNameOverlayBackground, base.ColorNameHeaderBackground:
		return Head
	case base.ColorNameError:
		return Fault
	}
	return base.DefaultTheme().Color(name, base.VariantDark)
}

// Font returns Fyne's own fonts.
func (Theme) Font(s fyne.TextStyle) fyne.Resource { return base.DefaultTheme().Font(s) }

// Icon returns Fyne's own icons.
func (Theme) Icon(n fyne.ThemeIconName) fyne.Resource { return base.DefaultTheme().Icon(n) }

// Size returns the size of that name, about two thirds of Fyne's own.
func (Theme) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case base.SizeNamePadding:
		return 3
	case base.SizeNameInnerPadding:
		return 4
	case base.SizeNameText:
		return 12.5
	case base.SizeNameCaptionText:
		return 11
	case base.SizeNameSubHeadingText:
		return 14
	case base.SizeNameHeadingText:
		return 17
	case base.SizeNameInlineIcon:
		return 16
	case base.SizeNameScrollBar:
		return 10
	case base.SizeNameScrollBarSmall:
		return 4
	case base.SizeNameLineSpacing:
		return 3
	case base.SizeNameInputRadius, base.SizeNameSelectionRadius:
		return 3
	}
	return base.DefaultTheme().Size(name)
}
