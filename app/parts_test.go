// SPDX-License-Identifier: MIT

package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/command"
	"earline/app/field"
)

// The bar with light and exposure could be come to by Tab alone, and nothing said so.
func TestF6ComesToTheBarOfTheClientViewAndBack(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	w.runNamed("view.client")
	w.win.Canvas().Focus(w.room.View)
	w.runNamed("view.next-part")
	if f, ok := w.win.Canvas().Focused().(fyne.CanvasObject); !ok || !field.Holds(w.client.object, f) {
		t.Fatalf("F6 goes to %T", w.win.Canvas().Focused())
	}
	w.runNamed("view.next-part")
	if w.win.Canvas().Focused() != fyne.Focusable(w.room.View) {
		t.Errorf("F6 goes from the bar to %T", w.win.Canvas().Focused())
	}
}

// Finishes lay at the foot of the inspector, in a section of a group; no key, menu or
// search led there.
func TestFinishesAndViewpointsAreFoundByName(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.win.Resize(fyne.NewSize(1280, 800))
	for _, name := range []string{"Finishes", "Viewpoints", "Light", "Rows"} {
		found := false
		for _, c := range w.commands.Find(strings.ToLower(name)) {
			if c.Name == name && strings.HasPrefix(c.ID, "view.edit.") {
				found = true
				w.run(c)
			}
		}
		f, ok := w.win.Canvas().Focused().(fyne.CanvasObject)
		if !found || !ok || !field.Holds(w.inspector.Object(), f) {
			t.Errorf("%s: found %v, the keyboard is at %T", name, found, f)
			continue
		}
		d := fyne.CurrentApp().Driver()
		top := d.AbsolutePositionForObject(f).Y - d.AbsolutePositionForObject(w.inspector.Object()).Y
		if top < -1 || top+f.Size().Height > w.inspector.Object().Size().Height {
			t.Errorf("%s lies at %v of %v", name, top, w.inspector.Object().Size().Height)
		}
	}
}

// What is shown to a client, and the first steps, can be found without a mouse.
func TestEveryNewActionIsFound(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	for query, id := range map[string]string{
		"play the tour": "view.tour", "keep this view": "view.keep", "curtain": "view.curtain", "brighter": "view.light.brighter",
		"animated png": "view.record.png", "first steps": "help.first-steps", "entrance": "view.entrance", "save picture": "file.save-picture",
	} {
		if !containsCommand(w.commands.Find(query), id) {
			t.Errorf("%q does not find %s", query, id)
		}
	}
}

func containsCommand(all []command.Command, id string) bool {
	for _, c := range all {
		if c.ID == id {
			return true
		}
	}
	return false
}
