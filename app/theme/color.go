// SPDX-License-Identifier: MIT

package theme

import (
	"image/color"

	"fyne.io/fyne/v2"

	"earline/project/sight"
)

// Color is a colour by what it is for. Which one that is the theme decides each time
// that something is painted, so that whatever has it follows the theme.
type Color uint8

// The surfaces of the window, from back to front, and its inks.
const (
	Back     Color = iota // behind everything
	Panel                 // inspector, drawer, bars
	Head                  // headings, menus, dialogs
	Well                  // where one types
	Button                // what one presses
	Line                  // what keeps parts apart
	Edge                  // border of what one can type in or choose
	Ink                   // text
	Faint                 // names of things, units
	Disabled              // what cannot be done now
	Accent                // chosen, focused; read-outs
	OnAccent              // text on Accent
	Fault                 // what is wrong, in words
	Focus                 // laid over what has the keyboard
	Marked                // laid under text that is marked
	Hover                 // laid over what is under the pointer
	Pressed               // laid over what is pressed
	Bar                   // of a scroll bar
	named                 // how many there are; those of verdicts follow
)

// The colours of a verdict.
const (
	plate = iota
	ink
	ray
	perVerdict
)

// RGBA implements color.Color.
func (c Color) RGBA() (r, g, b, a uint32) { return c.NRGBA().RGBA() }

// NRGBA returns the colour in the theme that the app has now.
func (c Color) NRGBA() color.NRGBA { return Now().color(c) }

// Now returns the palette of the theme that the app has now: Dark where it has none of
// ours, or where there is no app.
func Now() *Palette {
	if a := fyne.CurrentApp(); a != nil {
		if t, ok := a.Settings().Theme().(Theme); ok {
			return t.palette(a.Settings().ThemeVariant())
		}
	}
	return &dark
}

// Verdict returns how a verdict is shown, as the picture shows it: the colour of its
// plate, the ink that reads on it and its letter.
func Verdict(v sight.Verdict) (Color, Color, string) {
	return verdictColor(v, plate), verdictColor(v, ink), Now().Drawing.Verdicts[v].Letter
}

// VerdictInk returns the colour of a verdict's letter on an ordinary ground.
func VerdictInk(v sight.Verdict) Color { return verdictColor(v, ray) }

func verdictColor(v sight.Verdict, part Color) Color { return named + Color(v)*perVerdict + part }
