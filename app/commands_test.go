// SPDX-License-Identifier: MIT

package app

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/page/pagetest"
	"earline/app/view"
	"earline/scene"
)

// menuItem finds an item of the main menu by its way there.
func menuItem(w *Window, path ...string) *fyne.MenuItem {
	for _, m := range w.controls.menu.Fyne.Items {
		if m.Label != path[0] {
			continue
		}
		var item *fyne.MenuItem
		for _, label := range path[1:] {
			i := slices.IndexFunc(m.Items, func(i *fyne.MenuItem) bool { return i.Label == label })
			if i < 0 {
				return nil
			}
			if item = m.Items[i]; item.ChildMenu != nil {
				m = item.ChildMenu
			}
		}
		return item
	}
	return nil
}

// openFinder opens the list of commands and returns where one types.
func openFinder(t *testing.T, w *Window) fyne.Focusable {
	t.Helper()
	menuItem(w, "Help", "Find a command…").Action()
	e := w.win.Canvas().Focused()
	if !w.ask.Busy() || e == nil {
		t.Fatal("the list of commands does not wait for letters")
	}
	return e
}

func typeKey(e fyne.Focusable, name fyne.KeyName) { e.TypedKey(&fyne.KeyEvent{Name: name}) }

// finderList returns what lists the commands.
func finderList(w *Window) fyne.CanvasObject {
	var list fyne.CanvasObject
	pagetest.Walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if _, ok := o.(interface{ ScrollToTop() }); ok && list == nil {
			if _, ok := o.(fyne.Focusable); ok {
				list = o
			}
		}
	})
	return list
}

// listed returns the words of the commands that the list shows.
func listed(w *Window) []string {
	var words []string
	for text := range pagetest.Objects[*canvas.Text](finderList(w)) {
		if text.Visible() && text.Text != "" {
			words = append(words, text.Text)
		}
	}
	return words
}

func TestTheCommandTableIsSound(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	if err := w.commands.Check(); err != nil {
		t.Error(err)
	}
	for _, r := range "WASDEQ" { // with which one walks
		if c, ok := w.commands.ForKey(command.RuneKey(r)); ok {
			t.Errorf("%c walks, and runs %s", r, c.ID)
		}
	}
}

// The keys that users have learnt.
func TestKeysStayWhatTheyWere(t *testing.T) {
	w, _ := testWindow(t, Config{})
	for key, id := range map[string]string{
		"Ctrl+N": "file.new", "Ctrl+O": "file.open", "Ctrl+S": "file.save", "Ctrl+Shift+S": "file.save-as",
		"Ctrl+E": "file.save-picture", "Ctrl+Q": "file.quit",
		"Ctrl+Z": "edit.undo", "Ctrl+Shift+Z": "edit.redo", "Ctrl+Y": "edit.redo",
		"1": "view.overview", "2": "view.plan", "3": "view.long-section", "4": "view.cross-section", "5": "view.seat", "6": "view.walk",
		"F": "view.fit", "R": "view.next-rays", "P": "view.people", "L": "view.labels", "K": "view.cones",
		"C": "view.client", "F11": "view.around", "Escape": "view.back",
		"F1": "help.keys", "F2": "view.sight-page", "F3": "view.rules-page", "F4": "view.sound-page",
		"Ctrl+K": "help.find",
	} {
		parts := strings.Split(key, "+")
		k := command.Key{Name: parts[len(parts)-1], Ctrl: slices.Contains(parts, "Ctrl"), Shift: slices.Contains(parts, "Shift")}
		if c, _ := w.commands.ForKey(k); c.ID != id {
			t.Errorf("%s runs %q, want %q", key, c.ID, id)
		}
	}
	raise(t, w, 0.1)
	w.undo()
	w.win.Canvas().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutRedo{}) // as which Ctrl+Y comes
	if w.session.Doc.UndoLabel() == "" {
		t.Error("Ctrl+Y redoes nothing")
	}
}

func TestSheetMenuAndListNameTheSameCommands(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	inList := map[string]bool{}
	for _, c := range w.commands.Find("") {
		inList[c.Menu+"/"+c.Label()] = true
	}
	var inMenu func(at string, items []*fyne.MenuItem)
	menus := 0
	inMenu = func(at string, items []*fyne.MenuItem) {
		for _, i := range items {
			switch {
			case i.IsSeparator:
			case i.ChildMenu != nil && len(i.ChildMenu.Items) > 0:
				inMenu(at+"/"+i.Label, i.ChildMenu.Items)
			case !inList[at+"/"+i.Label]:
				t.Errorf("the menu has %s/%s, which the list has not", at, i.Label)
			default:
				menus++
			}
		}
	}
	for _, m := range w.controls.menu.Fyne.Items {
		inMenu(m.Label, m.Items)
	}
	if menus != len(inList) {
		t.Errorf("%d commands in the menu, %d in the list", menus, len(inList))
	}
	keys := 0
	for _, s := range w.commands.Sheet() {
		for _, l := range s.Lines {
			keys++
			if menuItem(w, s.Name, l.Name) == nil {
				t.Errorf("the sheet of keys has %s/%s, which the menu has not", s.Name, l.Name)
			}
		}
	}
	for _, c := range w.commands {
		if c.Key != (command.Key{}) {
			keys--
		}
	}
	if keys != 0 {
		t.Errorf("%d commands too many on the sheet of keys", keys)
	}
}

func TestTypingAFewLettersAndEnterRunsACommand(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	e := openFinder(t, w)
	for _, r := range "pla" {
		e.TypedRune(r)
	}
	if words := listed(w); len(words) == 0 || words[0] != "Plan" {
		t.Errorf("the list shows %q, want Plan first", words)
	}
	typeKey(e, fyne.KeyReturn)
	if w.ask.Busy() || w.room.View.Rig.Kind != view.Plan {
		t.Errorf("Enter left the list open (%v) in view %v", w.ask.Busy(), w.room.View.Rig.Kind)
	}

	e = openFinder(t, w)
	for _, r := range "section" {
		e.TypedRune(r)
	}
	typeKey(e, fyne.KeyDown)
	typeKey(e, fyne.KeyReturn)
	if w.room.View.Rig.Kind != view.Cross {
		t.Errorf("the second one shows %v, want the cross section", w.room.View.Rig.Kind)
	}

	e = openFinder(t, w)
	typeKey(e, fyne.KeyEscape)
	if w.ask.Busy() || w.room.View.Rig.Kind != view.Cross {
		t.Error("Escape did not close the list, or did more")
	}
	w.room.View.TypedRune('1') // the keys are the picture's again
	if w.room.View.Rig.Kind != view.Overview {
		t.Error("after the list the keys go nowhere")
	}
}

func TestAClickInTheListRunsTheCommand(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	e := openFinder(t, w)
	for _, r := range "walk" {
		e.TypedRune(r)
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(finderList(w))
	test.TapCanvas(w.win.Canvas(), at.AddXY(40, 15))
	if w.ask.Busy() || w.room.View.Rig.Kind != view.Walk {
		t.Errorf("a click left the list open (%v) in view %v", w.ask.Busy(), w.room.View.Rig.Kind)
	}
}

func TestAClickBesideTheCommandsLeavesTheKeyboardToTheList(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	openFinder(t, w)
	list := finderList(w).(fyne.Focusable)
	w.win.Canvas().Focus(list)
	for _, r := range "walk" {
		list.TypedRune(r)
	}
	typeKey(list, fyne.KeyReturn)
	if w.ask.Busy() || w.room.View.Rig.Kind != view.Walk {
		t.Errorf("the keys left the list open (%v) in view %v", w.ask.Busy(), w.room.View.Rig.Kind)
	}
	openFinder(t, w)
	list = finderList(w).(fyne.Focusable)
	w.win.Canvas().Focus(list)
	typeKey(list, fyne.KeyEscape)
	if w.ask.Busy() {
		t.Error("Escape does not close the list")
	}
}

func TestWhatCannotBeDoneSaysWhy(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	e := openFinder(t, w)
	for _, r := range "undo" {
		e.TypedRune(r)
	}
	if words := listed(w); !slices.Contains(words, "Not now: there is nothing to undo.") || !slices.Contains(words, "Ctrl+Z") {
		t.Errorf("the list says %q", words)
	}
	typeKey(e, fyne.KeyReturn)
	if !w.ask.Busy() {
		t.Error("the list closed and nothing happened")
	}
	typeKey(e, fyne.KeyEscape)
	if i := menuItem(w, "Edit", "Undo"); i == nil || !i.Disabled {
		t.Error("the menu offers to undo nothing")
	}
	menuItem(w, "Edit", "Undo").Action() // which Ctrl+Z reaches although it is dimmed
	if got, want := w.status.sentence.Text, "Not done: there is nothing to undo."; got != want {
		t.Errorf("the status line says %q, want %q", got, want)
	}
}

func TestNoWordsSayWhatNoCommandHas(t *testing.T) {
	w, _ := testWindow(t, Config{})
	e := openFinder(t, w)
	for _, r := range "xyzzy" {
		e.TypedRune(r)
	}
	typeKey(e, fyne.KeyDown)
	typeKey(e, fyne.KeyReturn)
	if !w.ask.Busy() || len(listed(w)) != 0 {
		t.Errorf("the list shows %q", listed(w))
	}
}

func TestNothingInTheListIsCutOff(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.win.Resize(fyne.NewSize(1024, 700))
	query := openFinder(t, w).(interface{ SetText(string) })
	for _, c := range w.commands.All() {
		says := c.Says
		if why := c.Refusal(); why != nil {
			says = "Not now: " + why.Error() + "."
		} else if c.IsOn() {
			says = "On. " + says
		}
		query.SetText(c.Name)
		words := listed(w)
		for _, want := range []string{c.Label(), says, strings.ReplaceAll(c.Menu, "/", " / ")} {
			if !slices.Contains(words, want) {
				t.Errorf("%s: the list has no %q", c.ID, want)
			}
		}
	}
}

func TestToolbarsAreTheSameCommands(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	for tick := range pagetest.Objects[*widget.Check](w.controls.views) {
		before := tick.Checked
		tick.SetChecked(!before)
		if i := menuItem(w, "View", tick.Text); i != nil && i.Checked == before {
			t.Errorf("%s is ticked in the toolbar and not in the menu", tick.Text)
		}
	}
	if w.room.Options().People || w.room.Options().Labels || !w.room.Options().Cones {
		t.Errorf("the ticks made %+v", w.room.Options())
	}
	w.room.View.TypedRune('p')
	choices := slices.Collect(pagetest.Objects[*widget.Select](w.controls.views))
	if len(choices) != 2 {
		t.Fatalf("%d drop-downs, want seats and rays", len(choices))
	}
	for tick := range pagetest.Objects[*widget.Check](w.controls.views) {
		if tick.Text == "People" && !tick.Checked {
			t.Error("P did not tick People")
		}
	}
	choices[1].SetSelected("No rays")
	if w.room.Options().Rays != scene.NoRays || !menuItem(w, "View", "Rays", "No rays").Checked {
		t.Error("No rays was chosen and there are some")
	}
	w.room.View.TypedRune('r')
	if choices[1].Selected != "Problem rays" {
		t.Errorf("after R the toolbar says %q", choices[1].Selected)
	}
	choices[0].SetSelected("2.3")
	if w.room.View.Rig.Kind != view.Seat || w.session.Result().Seats[w.room.Options().FromSeat].Row != 2 || w.session.Result().Seats[w.room.Options().FromSeat].Number != 3 {
		t.Error("the seat that was chosen is not sat in")
	}
	if !menuItem(w, "View", "Sit in", "Row 2", "Seat 2.3").Checked {
		t.Error("the menu does not tick the seat that is sat in")
	}
	w.room.View.TypedRune('1')
	if choices[0].Selected != "" {
		t.Errorf("from outside the toolbar names seat %s", choices[0].Selected)
	}
	if undo := menuItem(w, "Edit", "Undo"); undo == nil {
		t.Error("looking about can be undone")
	}
}

func TestCtrlSDoesNotReachThroughADialog(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	w.showKeys()
	menuItem(w, "View", "Plan").Action()
	menuItem(w, "File", "Save").Action()
	w.room.View.TypedRune('3')
	if w.room.View.Rig.Kind != view.Overview || len(w.win.Canvas().Overlays().List()) != 1 {
		t.Error("a command ran behind a dialog")
	}
}
