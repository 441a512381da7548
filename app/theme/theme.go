// SPDX-License-Identifier: MIT

// Package theme is how the window looks: calm, and dense enough for an inspector and a
// table beside the picture on a small screen. All colours of the window are here, or in
// the palettes of scene, chosen to be read and to stay apart for every kind of colour
// vision.
package theme

import (
	"image/color"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"
)

// Choice is which theme the user wants.
type Choice uint8

// The choices of a theme.
const (
	System Choice = iota // as the system has it
	Dark
	Light
	HighContrast
)

// Wishes are the system's: Fyne does not follow them once an app has a theme of its own.
type Wishes struct {
	Light    bool // light colours are wanted
	Contrast bool // more contrast is wanted
}

// Theme is the window's theme. The zero value follows the system.
type Theme struct {
	Choice Choice
	Wishes Wishes
}

var _ fyne.Theme = Theme{}

// palette returns the colours. Where nothing else is wanted a dark room is judged on a
// dark surround.
func (t Theme) palette(v fyne.ThemeVariant) *Palette {
	switch {
	case t.Choice == HighContrast, t.Choice == System && t.Wishes.Contrast:
		return &highContrast
	case t.Choice == Light, t.Choice == System && (t.Wishes.Light || v == base.VariantLight):
		return &light
	}
	return &dark
}

// Color returns the colour of that name.
func (t Theme) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	p := t.palette(v)
	switch name {
	case base.ColorNameBackground:
		return p.color(Panel)
	case base.ColorNameForeground:
		return p.text
	case base.ColorNameInputBackground:
		return p.color(Well)
	case base.ColorNameInputBorder:
		return p.color(Edge)
	case base.ColorNameSeparator:
		return p.color(Line)
	case base.ColorNamePlaceHolder:
		return p.color(Faint)
	case base.ColorNameDisabled:
		return p.color(Disabled)
	case base.ColorNamePrimary, base.ColorNameHyperlink:
		return p.color(Accent)
	case base.ColorNameForegroundOnPrimary:
		return p.color(OnAccent)
	case base.ColorNameFocus:
		return p.color(Focus)
	case base.ColorNameSelection:
		return p.color(Marked)
	case base.ColorNameButton:
		return p.color(Button)
	case base.ColorNameHover:
		return p.color(Hover)
	case base.ColorNamePressed:
		return p.color(Pressed)
	case base.ColorNameScrollBar:
		return p.color(Bar)
	case base.ColorNameMenuBackground, base.ColorNameOverlayBackground, base.ColorNameHeaderBackground:
		return p.color(Head)
	case base.ColorNameError:
		return p.color(Fault)
	}
	if p.Light {
		return base.DefaultTheme().Color(name, base.VariantLight)
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
