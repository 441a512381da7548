// SPDX-License-Identifier: MIT

package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/assets"
	"earline/project/sight"
)

// expectStep compares the title of the first steps.
func expectStep(t *testing.T, w *Window, title string) {
	t.Helper()
	for text := range pagetest.Objects[*canvas.Text](w.guide.Object()) {
		if strings.Contains(text.Text, "Step ") && text.Text != title {
			t.Errorf("%q on show, not %q", text.Text, title)
		}
	}
}

// A newcomer is led from the blocked path to the rules by the buttons alone, and each step
// is told to be done once the window has done it.
func TestNewcomerIsLedThroughTheWindow(t *testing.T) {
	w, _ := testWindow(t, Config{})
	w.fyne.Preferences().SetBool(firstStepsKey, false)
	w.offerFirstSteps()
	press(t, w, "Begin")
	expectStep(t, w, "Step 1 of 8: Look round the room")
	w.room.View.Rig.Az += 0.3
	w.room.View.Moved()
	w.showStatus()
	expectStep(t, w, "Done. Step 1 of 8: Look round the room")
	press(t, w, "Next")
	press(t, w, "Show the worst")
	expectStep(t, w, "Done. Step 2 of 8: Find who is blocked")
	press(t, w, "Next")
	press(t, w, "Back to the room")
	expectStep(t, w, "Done. Step 3 of 8: See what is in the way")
	press(t, w, "Next")
	press(t, w, "Show the rules")
	expectStep(t, w, "Done. Step 4 of 8: Read what falls short")
	press(t, w, "Next")
	press(t, w, "Back")
	expectStep(t, w, "Done. Step 4 of 8: Read what falls short")
	press(t, w, "Next")
	expectStep(t, w, "Step 5 of 8: Mend it")
	press(t, w, "Next")
	w.runNamed("view.around")
	w.runNamed("view.around")
	expectStep(t, w, "Done. Step 6 of 8: Walk a client through")
	press(t, w, "Next")
	press(t, w, "Show the list")
	expectStep(t, w, "Done. Step 7 of 8: Take it to the site")
	press(t, w, "Next")
	press(t, w, "Done")
	if w.guide.Object().Visible() {
		t.Error("still there")
	}
	w.offerFirstSteps()
	if w.guide.Object().Visible() {
		t.Error("it is offered again")
	}
}

// What the first steps show is in their room: something is blocked.
func TestTheRoomOfTheFirstStepsHasSomethingBlocked(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: firstStepsDemo})
	if r := w.session.Result(); r == nil || r.Count[sight.Blocked] == 0 {
		t.Error("nothing is blocked")
	}
}

// The first steps could be gone through with the mouse, and by Tab through every field of
// the inspector; Back at the second step left the keyboard on a button that was gone, and
// Enter there was the end of the program.
func TestFirstStepsAreGoneThroughByKeyboard(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: firstStepsDemo})
	w.runNamed("help.first-steps")
	c := w.win.Canvas()
	toBand := func() {
		t.Helper()
		for range 4 {
			if f, ok := c.Focused().(fyne.CanvasObject); ok && field.Holds(w.guide.Object(), f) {
				return
			}
			w.runNamed("view.next-part")
		}
		t.Fatal("F6 does not come to the first steps")
	}
	toBand()
	typeKeys(w, fyne.KeyReturn)
	expectStep(t, w, "Step 2 of 8: Find who is blocked")
	toBand()
	c.FocusNext()
	if b, ok := c.Focused().(*field.Button); !ok || b.Text != "Back" {
		t.Fatalf("after what the step does comes %T", c.Focused())
	}
	typeKeys(w, fyne.KeyReturn, fyne.KeyReturn)
	expectStep(t, w, "Step 2 of 8: Find who is blocked") // Back, and Next with the same key
	w.runNamed("view.next-part")
	if f, ok := c.Focused().(fyne.CanvasObject); !ok || !field.Holds(w.side, f) {
		t.Errorf("after the first steps F6 goes to %T, not to the inspector", c.Focused())
	}
}

// The first steps of the demo room went on over a room of one's own, and called its first
// picture a step that was done.
func TestAnotherRoomEndsTheFirstSteps(t *testing.T) {
	w, _ := testWindow(t, Config{})
	w.firstSteps()
	if !w.guide.Running() {
		t.Fatal("not begun")
	}
	w.openDemo(assets.Demos()[0])
	if w.guide.Object().Visible() {
		t.Error("they go on over another room")
	}
}
