// SPDX-License-Identifier: MIT

package app

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/page/pagetest"
	"earline/app/words"
	"earline/assets"
	"earline/project"
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

// tour shows all that a room has to show without a change: every page with every part of
// it, the inspector, the menus, the lists of commands and keys.
func tour(t *testing.T, w *Window, q *queue) {
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
// without a translation are names, labels, numbers and units.
func TestNothingIsShownUntranslated(t *testing.T) {
	c, missed := german(t)
	names, seen := map[string]bool{}, map[string]bool{}
	for _, demo := range []string{"small", "two-row", "large"} {
		q := new(queue)
		w, _ := testWindow(t, Config{Demo: demo, Post: q.Post})
		nameIn(t, w.session.Design(), names)
		tour(t, w, q)
		for _, text := range shown(w.win.Content()) {
			seen[text] = true
		}
		for _, text := range cut(w.win.Content()) {
			t.Errorf("%s: %q is cut off", demo, text)
		}
		w.stopQuietly()
		w.win.Close()
	}
	var holes []string
	for _, text := range missed() { // before the texts on show are looked up once more
		if !named(text, names) && !nameless.MatchString(text) {
			holes = append(holes, text)
		}
	}
	for text := range seen {
		if again, ok := c.Exact(text); ok && again != text && !names[text] {
			t.Errorf("%q is shown, and not %q", text, again)
		}
	}
	if len(holes) > 0 {
		t.Errorf("%d texts have no translation:\n%s", len(holes), strings.Join(holes, "\n"))
	}
	if to := os.Getenv("EARLINE_WORDS"); to != "" { // a file for who translates
		_ = os.WriteFile(to, []byte(strings.Join(holes, "\n")+"\n"), 0o644)
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
