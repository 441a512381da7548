// SPDX-License-Identifier: MIT

package app

import (
	"fmt"
	"image/color"
	"math/rand/v2"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/app/view"
	"earline/project/file"
)

// visible calls f with everything that is on show, from the back to the front and in
// the order of Tab.
func visible(root fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if root == nil || !root.Visible() {
		return
	}
	f(root)
	switch o := root.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			visible(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			visible(c, f)
		}
	}
}

// everywhere calls f with the window at every page and with all groups open.
func everywhere(t *testing.T, w *Window, f func(where string)) {
	t.Helper()
	w.inspector.OpenAll()
	for _, l := range w.drawer.tabs {
		w.drawer.show(l.Page)
		f(l.Title())
		for _, c := range l.Commands() {
			if c.On != nil && c.Menu == "Sound" && c.ID != "sound.map" {
				c.Do()
				f(l.Title() + ", " + c.Name)
			}
		}
	}
}

// typeKeys types keys to what has the keyboard.
func typeKeys(w *Window, names ...fyne.KeyName) {
	for _, n := range names {
		ev := &fyne.KeyEvent{Name: n}
		if f := w.win.Canvas().Focused(); f != nil {
			f.TypedKey(ev)
		} else {
			w.win.Canvas().OnTypedKey()(ev)
		}
	}
}

// The groups of the inspector and the plates of the loudspeakers could be clicked only.
// WCAG 2.2, success criterion 2.1.1.
func TestWhatCanBeClickedHasTheKeyboardToo(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	everywhere(t, w, func(where string) {
		seen := map[string]bool{}
		visible(w.win.Content(), func(o fyne.CanvasObject) {
			_, tap := o.(fyne.Tappable)
			_, keys := o.(fyne.Focusable)
			kind := fmt.Sprintf("%T", o)
			switch {
			case !tap || keys || seen[kind]:
			case kind == "*widget.listItem", kind == "*widget.scrollBarArea": // the list has the keyboard
			case kind == "*field.Link", kind == "*app.sentence": // their commands have keys
			case kind == "*chart.surface": // a read-out follows the pointer; the table of the chart is exported
			default:
				seen[kind] = true
				t.Errorf("%s: a %s can be clicked and not be typed to", where, kind)
			}
		})
	})
}

// ringed reports whether o has a ring around it.
func ringed(o fyne.CanvasObject) bool {
	for _, c := range test.WidgetRenderer(o.(fyne.Widget)).Objects() {
		if r, ok := c.(*canvas.Rectangle); ok && r.Visible() && r.StrokeColor == color.White && r.StrokeWidth >= 2 {
			return true
		}
	}
	return false
}

// Focus was a change of fill, and none at all on the chosen button, the picture, the
// table and the list of remarks. WCAG 2.2, success criterion 2.4.7.
func TestARingShowsWhereTheKeyboardIs(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	c := w.win.Canvas()
	checked := map[string]bool{}
	everywhere(t, w, func(where string) {
		var all []fyne.Focusable
		visible(w.win.Content(), func(o fyne.CanvasObject) {
			if f, ok := o.(fyne.Focusable); ok {
				if d, ok := o.(fyne.Disableable); !ok || !d.Disabled() {
					all = append(all, f)
				}
			}
		})
		for _, f := range all {
			kind := fmt.Sprintf("%T", f)
			if kind == "*sight.matrix" { // has a cursor: see its package
				continue
			}
			c.Focus(f)
			if k, ok := f.(desktop.Keyable); ok {
				k.KeyUp(&fyne.KeyEvent{Name: fyne.KeyTab}) // by which it was reached
			}
			if !ringed(f.(fyne.CanvasObject)) {
				t.Errorf("%s: a %s has the keyboard and no ring", where, kind)
			}
			c.Unfocus()
			if ringed(f.(fyne.CanvasObject)) {
				t.Errorf("%s: a %s keeps its ring", where, kind)
			}
			checked[kind] = true
		}
	})
	if len(checked) < 8 {
		t.Errorf("only these were checked: %v", checked)
	}
}

// Tab went from the inspector to its own toolbar, and to the table before its tabs.
func TestTabGoesAsOneReads(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	c := w.win.Canvas()
	c.Unfocus()
	at := func(o fyne.CanvasObject) string {
		for _, part := range []struct {
			name string
			root fyne.CanvasObject
		}{{"files", w.controls.files}, {"inspector", w.inspector.Object()}, {"views", w.controls.views}, {"picture", w.room.View}, {"page", w.drawer.top.Body()}, {"tabs", w.drawer.object}} {
			if field.Holds(part.root, o) {
				return part.name
			}
		}
		return "elsewhere"
	}
	var order []string
	first := fyne.Focusable(nil)
	for range 400 {
		c.FocusNext()
		f := c.Focused()
		if f == first {
			break
		}
		if first == nil {
			first = f
		}
		if p := at(f.(fyne.CanvasObject)); len(order) == 0 || order[len(order)-1] != p {
			order = append(order, p)
		}
	}
	if got, want := strings.Join(order, " "), "files inspector views picture tabs page"; got != want {
		t.Errorf("Tab goes %s, want %s", got, want)
	}
}

// F1 and F11 alone worked while a field had the keyboard.
func TestFunctionKeysWorkInAField(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	entry := func() *field.Entry {
		for e := range pagetest.Objects[*field.Entry](w.inspector.Object()) {
			return e
		}
		return nil
	}
	for key, want := range map[fyne.KeyName]string{fyne.KeyF2: "Sight", fyne.KeyF3: "Practice", fyne.KeyF4: "Sound"} {
		w.win.Canvas().Focus(entry())
		typeKeys(w, key)
		if got := w.drawer.top.Title(); got != want {
			t.Errorf("%s brings up %s, want %s", key, got, want)
		}
		if f, _ := w.win.Canvas().Focused().(fyne.CanvasObject); f == nil || !field.Holds(w.drawer.object, f) {
			t.Errorf("after %s the keyboard is with %T, want the page", key, f)
		}
	}
	w.win.Canvas().Focus(entry())
	var parts []string
	for range 4 {
		typeKeys(w, fyne.KeyF6)
		f := w.win.Canvas().Focused().(fyne.CanvasObject)
		switch {
		case f == fyne.CanvasObject(w.room.View):
			parts = append(parts, "picture")
		case field.Holds(w.side, f):
			parts = append(parts, "inspector")
		default:
			parts = append(parts, "page")
		}
	}
	if got := strings.Join(parts, " "); got != "picture page inspector picture" {
		t.Errorf("F6 goes %s", got)
	}
}

// Opening Loudspeakers at the foot showed two of six rows of plates.
func TestAGroupThatIsOpenedScrollsIntoView(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.win.Resize(fyne.NewSize(1280, 800))
	scroll := w.inspector.Object().(*container.Scroll)
	w.win.Canvas().Focus(w.inspector.First())
	for range 200 {
		f := w.win.Canvas().Focused()
		if fmt.Sprintf("%T", f) == "*inspector.heading" {
			title := ""
			for text := range pagetest.Objects[*canvas.Text](f.(fyne.CanvasObject)) {
				if text.Text == "Loudspeakers" {
					title = text.Text
				}
			}
			if title != "" {
				typeKeys(w, fyne.KeyReturn)
				d := fyne.CurrentApp().Driver()
				top := d.AbsolutePositionForObject(f.(fyne.CanvasObject)).Y - d.AbsolutePositionForObject(scroll).Y
				var foot float32 // of the last line of the group
				for b := range pagetest.Objects[*canvas.Text](scroll.Content) {
					if b.Text == "May be off" {
						foot = d.AbsolutePositionForObject(b).Y - d.AbsolutePositionForObject(scroll).Y
					}
				}
				if top < -1 || top > 1 && foot > scroll.Size().Height {
					t.Errorf("the heading is at %v and the last line at %v of %v", top, foot, scroll.Size().Height)
				}
				// The plates: one stop of Tab, arrows within.
				for range 4 { // past Add, Duplicate and Remove
					w.win.Canvas().FocusNext()
				}
				before := w.win.Canvas().Focused()
				typeKeys(w, fyne.KeyRight, fyne.KeyDown, fyne.KeyReturn)
				if got := w.inspector.Speaker(); got != 5 {
					t.Errorf("right, down and Enter choose loudspeaker %d, want 5", got)
				}
				if before == w.win.Canvas().Focused() {
					t.Error("the arrows do not move the keyboard")
				}
				w.win.Canvas().FocusPrevious()
				if b, ok := w.win.Canvas().Focused().(*field.Button); !ok || b.Text != "Remove" {
					t.Errorf("Shift+Tab goes from the plates to %T, want to Remove", w.win.Canvas().Focused())
				}
				return
			}
		}
		w.win.Canvas().FocusNext()
	}
	t.Fatal("Tab never came to Loudspeakers")
}

func TestArrowsTurnThePictureAndPlusComesNearer(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	w.win.Canvas().Focus(w.room.View)
	rig := &w.room.View.Rig
	before := *rig
	typeKeys(w, fyne.KeyRight, fyne.KeyUp)
	if rig.Turn == before.Turn || rig.Tilt <= before.Tilt {
		t.Error("the arrows do not turn the room")
	}
	w.room.View.TypedRune('+')
	if rig.Dist >= before.Dist {
		t.Error("+ does not come nearer")
	}
	w.room.View.TypedRune('-')
	w.room.View.TypedRune('2')
	before = *rig
	typeKeys(w, fyne.KeyLeft)
	if rig.Target == before.Target {
		t.Error("an arrow does not move the plan")
	}
}

// Escape did nothing while Name had the keyboard, and closed two dialogs at once.
func TestEscapeGivesUpOneThing(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	open := func() int { return len(w.win.Canvas().Overlays().List()) }
	w.saveAs(nil)
	if _, ok := w.win.Canvas().Focused().(*ask.Entry); !ok {
		t.Fatalf("the name does not have the keyboard: %T", w.win.Canvas().Focused())
	}
	typeKeys(w, fyne.KeyEscape)
	if open() != 0 {
		t.Error("Escape in Name does not close the dialog")
	}
	// A walk is left, and the room is seen as before.
	before := w.room.View.Rig
	w.room.View.TypedRune('6')
	typeKeys(w, fyne.KeyEscape)
	if w.room.View.Rig.Kind != view.Overview {
		t.Error("Escape does not end a walk")
	}
	if w.room.View.Rig.Target != before.Target || w.room.View.Rig.Dist != before.Dist {
		t.Error("after a walk the room is not seen as before")
	}
	// What is typed goes before the seat one sits in.
	w.room.View.TypedRune('5')
	for e := range pagetest.Objects[*field.Entry](w.inspector.Object()) {
		w.win.Canvas().Focus(e)
		test.Type(e, "something")
		typeKeys(w, fyne.KeyEscape)
		if e.Pending() || w.room.View.Rig.Kind != view.Seat {
			t.Error("Escape in a field does not take back what is typed, or more than that")
		}
		break
	}
	typeKeys(w, fyne.KeyEscape)
	if w.room.View.Rig.Kind != view.Overview {
		t.Error("a second Escape does not leave the seat")
	}
	// A list within a dialog closes alone.
	runID(t, w, "solve.layout")
	for s := range pagetest.Objects[*field.Select](w.win.Canvas().Overlays().Top()) {
		s.Tapped(&fyne.PointEvent{})
		break
	}
	if open() != 2 {
		t.Fatalf("%d things are open, want the dialog and a list", open())
	}
	w.ask.Escape()
	if open() != 1 {
		t.Error("Escape closes more than the list")
	}
	w.ask.Escape()
	if open() != 0 {
		t.Error("Escape does not close the dialog")
	}
}

// Enter on a tick of a solver's form did nothing; the main button stood now first, now
// last.
func TestEnterDoesWhatADialogIsFor(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "two-row", Post: q.Post})
	runID(t, w, "solve.rows")
	for tick := range pagetest.Objects[*field.Tick](w.win.Canvas().Overlays().Top()) {
		w.win.Canvas().Focus(tick)
		break
	}
	typeKeys(w, fyne.KeyReturn)
	q.Until(t, func() bool { return w.session.Offer != nil })
	runID(t, w, "proposal.refuse")

	raise(t, w, 0.1)
	w.newRoom()
	var buttons []string
	for b := range pagetest.Objects[*field.Button](w.win.Canvas().Overlays().Top()) {
		buttons = append(buttons, b.Text)
	}
	if got := strings.Join(buttons, ", "); got != "Cancel, Don't save, Save" {
		t.Errorf("the buttons are %s", got)
	}
	if b, ok := w.win.Canvas().Focused().(*field.Button); !ok || b.Text != "Save" {
		t.Error("the main button does not have the keyboard")
	}
	typeKeys(w, fyne.KeyReturn)
	if _, ok := w.win.Canvas().Focused().(*ask.Entry); !ok {
		t.Error("Enter does not save")
	}
}

func TestACellIsCopied(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	runID(t, w, "view.sight-page")
	typeKeys(w, fyne.KeyRight)
	menuItem(w, "Edit", "Copy").Action()
	if got := w.fyne.Clipboard().Content(); !strings.HasPrefix(got, "1.1\tM+") {
		t.Errorf("copied %q", got)
	}
}

// The badges of the status line could not be clicked.
func TestTheStatusLineLeadsToThePages(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	for l := range pagetest.Objects[*field.Link](w.status.object) {
		l.Tapped(&fyne.PointEvent{})
	}
	if got := w.drawer.top.Title(); got != "Practice" {
		t.Errorf("the last of them leads to %s", got)
	}
}

// "Picture saved as ..." stood in the status line until the next edit.
func TestAMessageGoesWithTheNextCommand(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	w.session.Say("Picture saved as x.png")
	runID(t, w, "view.plan")
	if w.session.Hint != "" {
		t.Errorf("after another command it still says %q", w.session.Hint)
	}
}

// At 1920 by 1080 with a scale of 2 the window wanted 1984 pixels.
func TestNothingWantsMoreThanHalfAScreen(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	everywhere(t, w, func(where string) {
		if least := w.win.Content().MinSize(); least.Width > 960 || least.Height > 510 { // and the menu
			t.Errorf("%s needs %v", where, least)
		}
	})
	w.win.Resize(fyne.NewSize(960, 540))
	visible(w.controls.views, func(o fyne.CanvasObject) {
		if x := o.Position().X + o.Size().Width; o != w.controls.views && x > w.controls.views.Size().Width+0.5 {
			if _, ok := o.(fyne.Focusable); ok {
				t.Errorf("a %T of the toolbar ends at %v, the toolbar at %v", o, x, w.controls.views.Size().Width)
			}
		}
	})
}

// The menu View ended below a window of 1024 by 700.
func TestEveryMenuFitsTheWindow(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	for _, m := range w.controls.menu.Fyne.Items {
		if high := widget.NewMenu(m).MinSize().Height; high > 540-24 { // below the bar
			t.Errorf("%s is %v high", m.Label, high)
		}
	}
}

// The window opened at 1280 by 800 at its first page every time.
func TestTheWindowOpensAsItWasClosed(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	w.win.Resize(fyne.NewSize(1100, 720))
	w.across.SetOffset(0.4)
	runID(t, w, "view.practice-page")
	w.down.SetOffset(0.5)
	w.keepLook()

	p := w.fyne.Preferences()
	w.win.Resize(fyne.NewSize(900, 600))
	w.across.SetOffset(0.25)
	runID(t, w, "view.sight-page")
	w.recall()
	if got := w.win.Canvas().Size(); got.Width != 1100 || got.Height != 720 {
		t.Errorf("the window is %v", got)
	}
	if w.drawer.top.Title() != "Practice" || w.across.Offset != 0.4 || w.down.Offset != 0.5 {
		t.Errorf("the page is %s, the splits %v and %v", w.drawer.top.Title(), w.across.Offset, w.down.Offset)
	}
	// Broken preferences are passed over.
	for _, v := range []float64{-1, 0, 1e9} {
		p.SetFloat(widthKey, v)
		p.SetFloat(acrossKey, v)
		p.SetString(pageKey, "Nonsense")
		w.across.Offset = 0.25
		w.recall()
		if got := w.win.Canvas().Size(); got != usual || w.across.Offset != 0.25 {
			t.Errorf("width %v: the window is %v, split at %v", v, got, w.across.Offset)
		}
	}
	// It is no larger than the screen.
	w.cfg.screen = func() (int, int, bool) { return 1024, 700, true }
	w.fitScreen()
	if got := w.win.Canvas().Size(); got.Width > 1024 || got.Height > 700 {
		t.Errorf("on a screen of 1024 by 700 the window is %v", got)
	}
}

// Of a picture and a room together only the first was looked at; with a dialog open
// nothing was said.
func TestWhatIsDroppedIsOpenedOrSaid(t *testing.T) {
	dir := t.TempDir()
	room := filepath.Join(dir, "mine.earline")
	if err := file.Write(room, file.New()); err != nil {
		t.Fatal(err)
	}
	w, _ := testWindow(t, Config{Demo: "two-row"})
	drop := func(paths ...string) {
		var uris []fyne.URI
		for _, p := range paths {
			uris = append(uris, storage.NewFileURI(p))
		}
		w.drop(fyne.Position{}, uris)
	}
	for _, c := range []struct {
		paths []string
		says  string
	}{
		{[]string{dir}, "is a folder: drop a room"},
		{[]string{filepath.Join(dir, "a.png")}, "a.png is no room: those end in .earline."},
	} {
		drop(c.paths...)
		if !strings.Contains(w.session.Hint, c.says) || strings.Contains(w.session.Hint, "\n") || w.ask.Busy() {
			t.Errorf("%v: it says %q", c.paths, w.session.Hint)
		}
	}
	w.showAbout()
	drop(room)
	if w.session.Doc.Path() != "" || !strings.Contains(w.session.Hint, "Close the dialog first") {
		t.Errorf("with a dialog open it says %q", w.session.Hint)
	}
	w.ask.Escape()
	drop(filepath.Join(dir, "a.png"), room)
	if w.session.Doc.Path() != room {
		t.Errorf("open is %q", w.session.Doc.Path())
	}
	if want := "Opened mine.earline, not a.png: one room at a time."; w.session.Hint != want {
		t.Errorf("it says %q, want %q", w.session.Hint, want)
	}
}

// unpainted is an app none of whose objects has been painted.
type unpainted struct{ fyne.App }

func (a unpainted) Driver() fyne.Driver { return unpaintedDriver{a.App.Driver()} }

type unpaintedDriver struct{ fyne.Driver }

func (unpaintedDriver) CanvasForObject(fyne.CanvasObject) fyne.Canvas { return nil }

// A click on a control that was made visible since the last picture ended the program.
// Here everything of every page is clicked and typed to before the first picture.
func TestNoClickBeforeTheFirstPictureEndsTheProgram(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	a := fyne.CurrentApp()
	keys := []fyne.KeyName{fyne.KeySpace, fyne.KeyReturn, fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight, fyne.KeyEscape, fyne.KeyDelete, fyne.KeyHome, fyne.KeyF6}
	tried := 0
	// hit does to o all that one can; what opens is shut again.
	hit := func(where string, o fyne.CanvasObject) {
		defer func() {
			if p := recover(); p != nil {
				if b, ok := o.(*field.Button); ok {
					where += ", " + b.Text
				}
				t.Errorf("%s: a %T: %v\n%s", where, o, p, debug.Stack())
			}
			for top := w.win.Canvas().Overlays().Top(); top != nil; top = w.win.Canvas().Overlays().Top() {
				w.win.Canvas().Overlays().Remove(top)
			}
		}()
		tried++
		if f, ok := o.(fyne.Focusable); ok {
			f.FocusGained()
			for range 3 {
				f.TypedKey(&fyne.KeyEvent{Name: keys[r.IntN(len(keys))]})
			}
			f.TypedRune([]rune(" x5+\u00e9")[r.IntN(5)])
			f.FocusLost()
		}
		if s, ok := o.(fyne.SecondaryTappable); ok {
			s.TappedSecondary(&fyne.PointEvent{})
		}
		if h, ok := o.(desktop.Hoverable); ok {
			h.MouseIn(&desktop.MouseEvent{})
			h.MouseMoved(&desktop.MouseEvent{})
			h.MouseOut()
		}
		if s, ok := o.(fyne.Shortcutable); ok {
			s.TypedShortcut(&fyne.ShortcutSelectAll{})
		}
		if s, ok := o.(fyne.Tappable); ok {
			s.Tapped(&fyne.PointEvent{Position: fyne.NewPos(3, 3)})
		}
	}
	everywhere(t, w, func(where string) {
		var all []fyne.CanvasObject
		visible(w.win.Content(), func(o fyne.CanvasObject) { all = append(all, o) })
		all = slices.DeleteFunc(all, func(o fyne.CanvasObject) bool { // which ends the window, or opens another
			b, ok := o.(*field.Button)
			_, inner := o.(*widget.Button)
			return inner || ok && b.Text == "" && field.Holds(w.controls.files, o)
		})
		fyne.SetCurrentApp(unpainted{a})
		defer fyne.SetCurrentApp(a)
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		for _, o := range all[:min(len(all), 150)] {
			hit(where, o)
		}
	})
	for _, id := range []string{"solve.layout", "solve.rows", "help.find", "file.save-as"} {
		runID(t, w, id)
		var all []fyne.CanvasObject
		visible(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) { all = append(all, o) })
		func() {
			fyne.SetCurrentApp(unpainted{a})
			defer fyne.SetCurrentApp(a)
			for _, o := range all {
				hit(id, o)
			}
		}()
		for top := w.win.Canvas().Overlays().Top(); top != nil; top = w.win.Canvas().Overlays().Top() {
			w.win.Canvas().Overlays().Remove(top)
		}
	}
	if tried < 300 {
		t.Errorf("only %d things were tried", tried)
	}
}
