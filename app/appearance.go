// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"

	"earline/app/command"
	"earline/app/theme"
	"earline/assets"
)

// icon returns the window's icon.
func icon() fyne.Resource { return fyne.NewStaticResource("earline.png", assets.IconPixels()) }

// themeKey is the preference that remembers which theme was chosen, by name.
const themeKey = "theme"

// themes are the choices, in the order of their menu.
var themes = []struct {
	choice         theme.Choice
	id, name, says string
}{
	{theme.System, "system", "As the system", "Follows the system's choice of light, dark or more contrast."},
	{theme.Dark, "dark", "Dark colours", "Shows the window in dark colours, for a dark room."},
	{theme.Light, "light", "Light colours", "Shows the window in light colours, and plan and sections on light ground: for daylight and paper."},
	{theme.HighContrast, "high-contrast", "High contrast", "Shows the window in black and white."},
}

// themeNamed returns the choice of that name, and System for any other.
func themeNamed(id string) theme.Choice {
	for _, t := range themes {
		if t.id == id {
			return t.choice
		}
	}
	return theme.System
}

func (w *Window) themeCommands() command.Table {
	return command.Table{{ID: "view.theme", Name: "Theme", Menu: "View", LineAbove: true,
		Says: "Chooses the colours of the window.",
		Items: func() []command.Command {
			var items []command.Command
			for _, t := range themes {
				items = append(items, command.Command{ID: "view.theme." + t.id, Name: t.name, Says: t.says,
					Do: func() { w.chooseTheme(t.choice, t.id) },
					On: func() bool { return w.theme.Choice == t.choice }})
			}
			return items
		}}}
}

// chooseTheme takes a theme and remembers it.
func (w *Window) chooseTheme(c theme.Choice, id string) {
	w.fyne.Preferences().SetString(themeKey, id)
	t := w.theme
	t.Choice = c
	w.setTheme(t)
}

// followTheme shows every part of the window again when the theme becomes another one:
// pictures and charts keep what they have drawn.
func (w *Window) followTheme() {
	w.fyne.Settings().AddListener(func(fyne.Settings) {
		if !w.closed {
			w.show()
		}
	})
}

// wish takes in what the system wishes of all windows.
func (w *Window) wish(s theme.Wishes) {
	t := w.theme
	t.Wishes = s
	w.setTheme(t)
}

// setTheme shows the window in a theme.
func (w *Window) setTheme(t theme.Theme) {
	if t == w.theme {
		return
	}
	w.theme = t
	w.fyne.Settings().SetTheme(t)
}
