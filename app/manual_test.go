// SPDX-License-Identifier: MIT

package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"earline/app/page/pagetest"
	"earline/assets"
)

// Help > Manual opens a chapter, its field leaves the chapters with a word in them, and
// Enter goes to the first.
func TestTheManualIsReadAndSearched(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	c, ok := w.commands.Command("help.manual.rules")
	if !ok {
		t.Fatal("no chapter of rules in the menu")
	}
	w.run(c)
	text := func() string {
		var b strings.Builder
		for r := range pagetest.Objects[*widget.RichText](w.win.Canvas().Overlays().Top()) {
			b.WriteString(r.String())
		}
		return b.String()
	}
	if got := text(); !strings.Contains(got, "House standard") || strings.Contains(got, "|---") || strings.Contains(got, "<!--") {
		t.Errorf("shows %.400q", got)
	}
	top := func() (y float32) {
		for s := range pagetest.Objects[*container.Scroll](w.win.Canvas().Overlays().Top()) {
			y = max(y, s.Offset.Y)
		}
		return y
	}
	typeKey(w.win.Canvas().Focused(), fyne.KeyPageDown)
	if top() == 0 {
		t.Error("Page Down does not turn the page")
	}
	for _, r := range "leapfrog" {
		w.win.Canvas().Focused().TypedRune(r)
	}
	typeKey(w.win.Canvas().Focused(), fyne.KeyReturn)
	if got := text(); !strings.Contains(got, "leapfrog") {
		t.Errorf("the field does not lead to the chapter: %.200q", got)
	}
	typeKey(w.win.Canvas().Focused(), fyne.KeyEscape)
	if w.ask.Busy() {
		t.Error("Escape leaves the manual open")
	}
}

// No table's marks are left, and nothing that stands in a cell is lost.
func TestATableIsReadAsLines(t *testing.T) {
	got := withoutTables("a\n\n| key | is |\n|---|---|\n| `x` | an \\| or |\n| `y` |  |\n<!-- end -->\nb")
	if want := "a\n\n- `x`: an | or\n- `y`\nb"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for _, topic := range assets.Manual() {
		if got := withoutTables(topic.Text); strings.Contains(got, "\n|") || strings.Contains(got, "<!--") {
			t.Errorf("%s: marks are left", topic.Name)
		}
	}
}

// clearance_m was read as "clearance m": the toolkit cuts underscores off monospaced
// letters.
func TestUnderscoresOfTheManualAreSeen(t *testing.T) {
	got := boldCode("a `clearance_m` and `*.earline`\n```\n`x`\n```\n`y`")
	if want := "a **clearance_m** and `*.earline`\n```\n`x`\n```\n**y**"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
