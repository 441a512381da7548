// SPDX-License-Identifier: MIT

package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"earline/app/command"
	"earline/app/locale"
	"earline/app/words"
	"earline/assets"
)

// languageKey is the preference that remembers which language was chosen, by its code;
// empty is the system's.
const languageKey = "language"

// english is the language in which the program makes its texts.
const english = "en"

// languages are those of the window, in the order of their menu. Each is called what it
// calls itself, so that who cannot read the window finds it.
var languages = []struct{ code, id, name, says string }{
	{"", "system", "As the system", "Has the window speak the language of the system, from the next start on."},
	{english, "en", "English", "Has the window speak English, from the next start on."},
	{"de", "de", "Deutsch", "Has the window speak German, from the next start on."},
}

// language returns the code of the language of the window: the one that was chosen, or else
// the first that the system asks for and the window speaks.
func language(chosen string, system []string) string {
	for _, code := range append([]string{chosen}, system...) {
		if code != "" && slices.ContainsFunc(languages, func(l struct{ code, id, name, says string }) bool { return l.code == code }) {
			return code
		}
	}
	return english
}

// speak chooses the language of the window and of the toolkit's own dialogs. It comes
// before the window is made, whose parts are named then.
func speak(p fyne.Preferences) {
	system := locale.Wanted()
	if len(system) == 0 {
		system = []string{lang.SystemLocale().LanguageString()} // where the environment does not say
	}
	code := language(p.String(languageKey), system)
	locale.Speak(code)
	_ = lang.AddTranslationsForLocale([]byte("{}"), fyne.Locale(code)) // it looks again which language to speak
	if code == english {
		return
	}
	c, err := words.Read(assets.Words(code))
	if err != nil { // a test holds that there is no such catalogue
		fyne.LogError("The window speaks English", err)
		return
	}
	words.Speak(c)
}

func (w *Window) languageCommands() command.Table {
	return command.Table{{ID: "view.language", Name: "Language", Menu: "View",
		Says: "Chooses the language of the window, from the next start on.",
		Items: func() []command.Command {
			var items []command.Command
			for _, l := range languages {
				items = append(items, command.Command{ID: "view.language." + l.id, Name: l.name, Says: l.says,
					Do: func() { w.chooseLanguage(l.code) },
					On: func() bool { return w.fyne.Preferences().String(languageKey) == l.code }})
			}
			return items
		}}}
}

// chooseLanguage remembers a language. Every part of the window has its texts from when it
// was made, so that another language comes with the next start.
func (w *Window) chooseLanguage(code string) {
	if w.fyne.Preferences().String(languageKey) == code {
		return
	}
	w.fyne.Preferences().SetString(languageKey, code)
	w.showControls()
	w.session.Say("The window speaks this language from the next start on.")
}
