// SPDX-License-Identifier: MIT

package app

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/app/words"
	"earline/assets"
	"earline/project"
	"earline/project/lesson"
)

// german has the window speak German until the test ends, and returns what it had no
// translation for so far.
func german(t *testing.T) (c *words.Catalogue, missed func() []string) {
	t.Helper()
	c, err := words.Read(assets.Words("de"))
	if err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	all := map[string]bool{}
	c.Missed = func(text string) {
		mu.Lock()
		defer mu.Unlock()
		all[text] = true
	}
	words.Speak(c)
	t.Cleanup(func() { words.Speak(nil) })
	return c, func() []string {
		mu.Lock()
		defer mu.Unlock()
		var out []string
		for text := range all {
			out = append(out, text)
		}
		slices.Sort(out)
		return out
	}
}

// showAll shows all that a room has to show without a change: every page with every part of
// it, the inspector, the menus, the lists of commands and keys.
func showAll(t *testing.T, w *Window, q *queue) {
	t.Helper()
	w.inspector.OpenAll()
	settled := func() {
		for until := time.Now().Add(50 * time.Millisecond); time.Now().Before(until); { // what is worked out comes later
			q.Run()
		}
		w.present()
	}
	for _, tab := range w.drawer.tabs {
		w.drawer.show(tab.Page)
		settled()
	}
	for _, c := range w.commands.All() {
		opens := strings.HasSuffix(c.Name, "…")
		for _, kind := range []string{"sound.", "lists.", "picture.", "view.rays", "view.plan", "view.long", "view.cross", "view.cut", "view.sit-in.1", "compare.", "practice.passed", "practice.rules"} {
			if strings.HasPrefix(c.ID, kind) && !opens && c.Do != nil && c.Refusal() == nil && c.ID != "view.cut.whole" {
				w.run(c)
				settled()
				w.ask.Escape()
			}
		}
	}
	w.controls.menu.Update()
	w.showKeys()
	w.ask.Escape()
	w.showAbout()
	w.ask.Escape()
	runID(t, w, "help.find")
	w.ask.Escape()
	for d := 0; d < 40; d++ {
		settled()
	}
}

// shown returns every text in the window.
func shown(root fyne.CanvasObject) (out []string) {
	pagetest.Walk(root, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *canvas.Text:
			out = append(out, o.Text)
		case *widget.Label:
			out = append(out, o.Text)
		case *widget.Button:
			out = append(out, o.Text)
		case *widget.Check:
			out = append(out, o.Text)
		case *field.Select:
			out = append(out, o.Options...)
		}
	})
	return out
}

// cut returns the texts in the window that have less room than they need.
func cut(root fyne.CanvasObject) (out []string) {
	pagetest.Walk(root, func(o fyne.CanvasObject) {
		if x, ok := o.(*canvas.Text); ok && x.Visible() && x.Size().Width > 0 && x.MinSize().Width > x.Size().Width+1 {
			out = append(out, x.Text)
		}
	})
	return out
}

// TestNothingIsShownUntranslated drives the window in German over the demos: what it shows
// without a translation are names, labels, numbers and units, and nothing is cut off.
func TestNothingIsShownUntranslated(t *testing.T) {
	c, missed := german(t)
	names, seen := map[string]bool{}, map[string]bool{}
	for _, demo := range []string{"small", "two-row", "large"} {
		q := new(queue)
		w, _ := testWindow(t, Config{Demo: demo, Post: q.Post})
		nameIn(t, w.session.Design(), names)
		showAll(t, w, q)
		for _, text := range shown(w.win.Content()) {
			seen[text] = true
		}
		for _, text := range cut(w.win.Content()) {
			t.Errorf("%s: %q is cut off", demo, text)
		}
		w.stopQuietly()
		w.win.Close()
	}
	report(t, missed(), names)
	for text := range seen {
		if again, ok := c.Exact(text); ok && again != text && !names[text] {
			t.Errorf("%q is shown, and not %q", text, again)
		}
	}
}

// What is done with a room is said in German too: proposals, a lesson, a comparison, what
// cannot be read, how the client is shown around.
func TestWorkIsSaidInGerman(t *testing.T) {
	_, missed := german(t)
	names := map[string]bool{}
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "two-row", Post: q.Post})
	nameIn(t, w.session.Design(), names)
	w.inspector.OpenAll()
	for _, c := range w.commands.All() { // every dialog that asks before a command acts
		if strings.HasSuffix(c.Name, "…") && c.Refusal() == nil && c.ID != "file.open" && c.ID != "edit.find" && !strings.Contains(c.ID, "export") {
			w.run(c)
			q.Run()
			w.ask.Escape()
		}
	}
	for _, id := range []string{"solve.lift", "solve.rows"} {
		runID(t, w, id)
		press(t, w, "Vorschlagen")
		q.Until(t, func() bool { return w.session.Offer != nil })
		w.present()
		runID(t, w, "proposal.refuse")
	}
	runID(t, w, "compare.keep")
	press(t, w, "Behalten")
	nameIn(t, w.session.Design(), names)
	names["Wie vorgefunden -"], names[`"Wie vorgefunden"`] = true, true // with what is said of it
	if err := w.session.Do("move M+030", "", func(d *project.Design) {
		d.Speakers[0].At.Z += 0.2
		d.Seating.Rows[0].Seats--
	}); err != nil {
		t.Fatal(err)
	}
	q.Until(t, func() bool { _, state := w.session.Compare(0); return state == session.Fresh })
	w.present()
	w.controls.menu.Update()
	runID(t, w, "view.client")
	q.Run()
	runID(t, w, "view.back")
	l, err := lesson.Make(7, 2)
	if err != nil {
		t.Fatal(err)
	}
	w.stopQuietly()
	w.win.Close()
	w, _ = testWindow(t, Config{Design: l.Start, Post: q.Post})
	nameIn(t, w.session.Design(), names)
	for range 3 {
		runID(t, w, "lesson.hint")
	}
	runID(t, w, "lesson.mark")
	showAll(t, w, q)
	report(t, missed(), names)
}

// What a client and a newcomer see is in German: the first steps, the foot of the client
// view, the curtain, a kept view, the questions before a picture or a film is taken.
func TestWhatIsShownToAClientIsInGerman(t *testing.T) {
	c, missed := german(t)
	names := map[string]bool{}
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: firstStepsDemo, Post: q.Post})
	nameIn(t, w.session.Design(), names)
	for _, size := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 1024, Height: 700}} {
		w.win.Resize(size)
		look := func(what string) {
			t.Helper()
			q.Run()
			w.present()
			root := w.win.Content()
			if top := w.win.Canvas().Overlays().Top(); top != nil {
				root = container.NewStack(root, top)
			}
			for _, text := range shown(root) {
				if again, ok := c.Exact(text); ok && again != text && !names[text] {
					t.Errorf("%s: %q is shown, and not %q", what, text, again)
				}
			}
			for _, text := range cut(root) {
				t.Errorf("%s at %v: %q is cut off", what, size, text)
			}
			if least := w.win.Content().MinSize(); least.Width > size.Width || least.Height > size.Height {
				t.Errorf("%s needs %v of %v", what, least, size)
			}
		}
		w.fyne.Preferences().SetBool(firstStepsKey, false)
		w.offerFirstSteps()
		look("the offer of the first steps")
		w.guide.Start()
		for w.guide.Running() {
			look("first steps")
			if next := buttonNamed(w, "Weiter"); next != nil {
				test.Tap(next)
			} else {
				press(t, w, "Fertig")
			}
		}
		if len(w.session.Design().Variants) == 0 {
			runID(t, w, "compare.keep")
			look("keep a design")
			w.ask.Escape()
			if err := w.session.Do(`keep the plan as "As found"`, "", func(d *project.Design) {
				kept := *d.Clone()
				kept.Variant = project.Variant{Name: "As found", Role: project.Existing}
				d.Variants = append(d.Variants, kept)
			}); err != nil {
				t.Fatal(err)
			}
			nameIn(t, w.session.Design(), names)
		}
		runID(t, w, "view.client")
		for _, id := range []string{"view.light.house", "view.light.brighter", "view.curtain"} {
			runID(t, w, id)
			look(id)
		}
		if got := w.client.before.Options[0]; got != "Kein Vorhang" {
			t.Errorf("%q is the choice of no curtain", got)
		}
		w.client.before.SetSelectedIndex(0)
		if before, _ := w.room.Curtain(); before != nil {
			t.Error("the curtain hangs after no curtain was chosen")
		}
		w.win.Canvas().Capture() // before it is on show there is no picture to save
		w.savePicture()
		if !w.ask.Busy() {
			t.Fatal("nothing is asked before a picture is saved")
		}
		look("save picture")
		w.ask.Escape()
		for _, film := range []string{"view.record.png", "view.record.entrance"} {
			runID(t, w, film)
			if !w.ask.Busy() {
				t.Fatal("nothing is asked before a film is taken")
			}
			look(film)
			w.ask.Escape()
		}
		runID(t, w, "view.keep")
		look("a view that is kept")
		runID(t, w, "view.back")
	}
	report(t, missed(), names)
}

// report fails the test for what has no translation and is no name.
func report(t *testing.T, missed []string, names map[string]bool) {
	t.Helper()
	var holes []string
	for _, text := range missed {
		if !named(text, names) && !nameless.MatchString(text) {
			holes = append(holes, text)
		}
	}
	if len(holes) > 0 {
		t.Errorf("%d texts have no translation:\n%s", len(holes), strings.Join(holes, "\n"))
	}
}

// named reports whether a text is a name that a design gives, or stands in its notes.
func named(text string, names map[string]bool) bool {
	if names[text] {
		return true
	}
	for n := range names {
		if strings.Contains(n, text) {
			return true
		}
	}
	return false
}

// nameless are what is written alike in every language: labels, units, keys, files.
var nameless = regexp.MustCompile(`^[-\dA-Z+_./:°%×,; ()]*$`)

// nameIn notes the names that a design gives.
func nameIn(t *testing.T, d *project.Design, names map[string]bool) {
	t.Helper()
	data, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	var visit func(v any, named bool)
	visit = func(v any, named bool) {
		switch v := v.(type) {
		case map[string]any:
			for k, inner := range v {
				visit(inner, k == "name" || k == "id" || k == "source" || k == "note" || k == "notes")
			}
		case []any:
			for _, inner := range v {
				visit(inner, named)
			}
		case string:
			if named {
				names[v] = true
			}
		}
	}
	visit(tree, false)
}

// German is longer than English: every page fits a small screen all the same.
func TestEveryPageFitsASmallScreenInGerman(t *testing.T) {
	german(t)
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "large", Post: q.Post})
	w.inspector.OpenAll()
	runID(t, w, "solve.lift")
	press(t, w, "Vorschlagen")
	q.Until(t, func() bool { return w.session.Offer != nil })
	for _, l := range w.drawer.tabs {
		w.drawer.show(l.Page)
		if least := w.win.Content().MinSize(); least.Width > 1024 || least.Height > 700 {
			t.Errorf("%s needs %v", l.Title(), least)
		}
	}
}

// The language is the one that was chosen, else the first of the system's that the window
// speaks, else English.
func TestTheLanguageOfTheWindow(t *testing.T) {
	for _, c := range []struct {
		chosen string
		system []string
		want   string
	}{
		{"", nil, "en"}, {"", []string{"de"}, "de"}, {"", []string{"fr", "de", "en"}, "de"}, {"", []string{"fr"}, "en"},
		{"en", []string{"de"}, "en"}, {"de", []string{"en"}, "de"}, {"xx", []string{"de"}, "de"},
	} {
		if got := language(c.chosen, c.system); got != c.want {
			t.Errorf("chosen %q, system %v: %s, want %s", c.chosen, c.system, got, c.want)
		}
	}
	w, _ := testWindow(t, Config{Demo: "small"})
	runID(t, w, "view.language.de")
	if got := w.fyne.Preferences().String(languageKey); got != "de" || !strings.Contains(w.session.Hint, "next start") {
		t.Errorf("%q is remembered; the window says %q", got, w.session.Hint)
	}
	if item, ok := w.commands.Command("view.language.de"); !ok || !item.IsOn() {
		t.Error("the menu does not show what was chosen")
	}
}
