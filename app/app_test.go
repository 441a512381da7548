// SPDX-License-Identifier: MIT

package app

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/document"
	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/app/view"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/gl"
)

// fakeRenderer answers every job with a plain picture and remembers the jobs.
type fakeRenderer struct {
	mu     sync.Mutex
	jobs   []gl.Job
	sink   func(gl.Frame)
	closed bool
}

func (f *fakeRenderer) Submit(j gl.Job) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.jobs = append(f.jobs, j)
}
func (f *fakeRenderer) OnFrame(sink func(gl.Frame)) { f.sink = sink }
func (f *fakeRenderer) Close()                      { f.closed = true }
func (f *fakeRenderer) Draw(j gl.Job) (*image.RGBA, error) {
	return image.NewRGBA(image.Rect(0, 0, j.W, j.H)), nil
}

// lastList returns the list submitted last.
func (f *fakeRenderer) lastList() *scene.List {
	f.mu.Lock()
	defer f.mu.Unlock()
	for i := len(f.jobs) - 1; i >= 0; i-- {
		if f.jobs[i].List != nil {
			return f.jobs[i].List
		}
	}
	return nil
}

type queue = pagetest.Queue

// testWindow opens a window on cfg without a display.
func testWindow(t *testing.T, cfg Config) (*Window, *fakeRenderer) {
	t.Helper()
	f := &fakeRenderer{}
	if cfg.Dir == "" {
		cfg.Dir = t.TempDir()
	}
	if cfg.Autosave == 0 {
		cfg.Autosave = time.Hour
	}
	if cfg.Post == nil {
		cfg.Post = new(queue).Post
	}
	cfg.Renderer = func() (view.Renderer, error) { return f, nil }
	w := newWindow(test.NewTempApp(t), cfg)
	w.win.Show()
	w.startRenderer()
	t.Cleanup(func() {
		if !w.closed {
			w.stopQuietly()
			w.win.Close()
		}
		w.session.Doc.Wait()
	})
	return w, f
}

func speakerNamed(t *testing.T, d *project.Design, name string) int {
	t.Helper()
	for i, l := range d.Speakers {
		if l.Name() == name {
			return i
		}
	}
	t.Fatalf("no loudspeaker %s", name)
	return 0
}

// buttonNamed finds a button among everything that is shown: in the dialog that is open
// before all else.
func buttonNamed(w *Window, text string) *widget.Button {
	for _, root := range append([]fyne.CanvasObject{w.win.Canvas().Overlays().Top()}, w.win.Content()) {
		if root == nil {
			continue
		}
		for b := range pagetest.Objects[*widget.Button](root) {
			if b.Text == text && b.Visible() {
				return b
			}
		}
	}
	return nil
}

func press(t *testing.T, w *Window, text string) {
	t.Helper()
	b := buttonNamed(w, text)
	if b == nil {
		t.Fatalf("no button %q is shown", text)
	}
	test.Tap(b)
}

func raise(t *testing.T, w *Window, by unit.Length) {
	t.Helper()
	if err := w.session.Do("raise M+030", "", func(d *project.Design) { d.Speakers[0].At.Z += by }); err != nil {
		t.Fatal(err)
	}
}

func TestDemoOpensAudited(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "large"})
	if got, want := len(w.session.Result().Seats), 14; got != want {
		t.Fatalf("%d seats audited, want %d", got, want)
	}
	if l := f.lastList(); l == nil || len(l.Meshes) == 0 {
		t.Fatal("no picture was asked for")
	}
	if w.status.counts[2].text.Text == "B  0 blocked" {
		t.Error("the large demo has a fault to find, and the status line counts none")
	}
	if title := w.win.Title(); !strings.HasPrefix(title, "Earline - ") || strings.HasSuffix(title, "*") {
		t.Errorf("title %q of a document without changes", title)
	}
}

func TestEditChangesDesignPictureAndTitle(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "small"})
	before := f.lastList()
	raise(t, w, 0.1)
	if f.lastList() == before {
		t.Error("the picture was not made anew")
	}
	if !strings.HasSuffix(w.win.Title(), " *") {
		t.Errorf("title %q does not show the change", w.win.Title())
	}
	if menuItem(w, "Edit", "Undo: raise M+030") == nil {
		t.Error("the menu does not say what undo takes back")
	}
	z := w.session.Design().Speakers[0].At.Z
	w.undo()
	if got, want := w.session.Design().Speakers[0].At.Z, z-0.1; got-want > 1e-9 || want-got > 1e-9 {
		t.Errorf("after undo at %v, want %v", got, want)
	}
	if strings.HasSuffix(w.win.Title(), "*") {
		t.Error("back at the saved state and still marked as changed")
	}
	w.redo()
	if got := w.session.Design().Speakers[0].At.Z; got != z {
		t.Errorf("after redo at %v, want %v", got, z)
	}
}

func TestRefusedEditChangesNothing(t *testing.T) {
	w, _ := testWindow(t, Config{})
	before := w.session.Design()
	if err := w.session.Do("x", "", func(d *project.Design) { d.Screen.Width = -1 }); err == nil {
		t.Fatal("a screen of negative width was accepted")
	}
	if w.session.Design() != before {
		t.Error("the design changed all the same")
	}
}

func TestCellLooksAlongItsPathAndEscapeReturns(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	before := w.room.View.Rig
	k := speakerNamed(t, w.session.Design(), "M+090")
	w.session.LookAlong(5, k)
	path := w.session.Result().Pair(5, k).Deciding()
	if w.room.View.Rig.Eye != path.From {
		t.Errorf("the camera is at %v, want the ear at %v", w.room.View.Rig.Eye, path.From)
	}
	cam := w.room.View.Rig.Camera()
	x, y, _, ok := cam.Project(scene.World(path.To), 800, 600)
	if !ok || x < 398 || x > 402 || y < 298 || y > 302 {
		t.Errorf("the driver falls at (%v, %v), want the middle (400, 300)", x, y)
	}
	if o := w.room.Options(); !o.Only || o.Seat != 5 || o.Speaker != k || o.FromSeat != 5 {
		t.Errorf("options %+v do not single the path out", o)
	}
	if got, want := w.status.sentence.Text, w.session.Result().Sentence(5, k, project.Metric); got != want {
		t.Errorf("status says %q, want %q", got, want)
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.room.View.Rig != before || w.room.Options().Only || w.session.Chosen.Path {
		t.Error("Escape did not return to the view before")
	}
}

func TestCellGoesWhenItsSeatGoes(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.session.LookAlong(13, 0)
	err := w.session.Do("remove row 3", "", func(d *project.Design) { d.Seating.Rows = d.Seating.Rows[:2] })
	if err != nil {
		t.Fatal(err)
	}
	if w.session.Chosen.Path || w.room.Options().Only || w.room.View.Rig.Kind == view.Seat {
		t.Error("the camera still sits in a seat that is gone")
	}
}

// Back from a path to the view from a seat, the next edit moved the camera to the
// seat of the path.
func TestAfterAPathTheViewStaysInItsOwnSeat(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "large"})
	w.room.SitIn(3)
	before := w.room.View.Rig
	w.session.LookAlong(8, 0)
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.room.View.Rig != before || w.room.Options().FromSeat != 3 {
		t.Error("Escape did not return to the seat")
	}
	raise(t, w, 0.1)
	if got, want := w.room.View.Rig.Eye, w.session.Result().Views[3].Eye; got != want {
		t.Errorf("after an edit the eye is at %v, want %v", got, want)
	}
}

func TestKeysChangeTheView(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	for i, k := range view.Kinds {
		w.room.View.TypedRune(rune('1' + i))
		if w.room.View.Rig.Kind != k {
			t.Errorf("key %d shows %v, want %v", i+1, w.room.View.Rig.Kind, k)
		}
	}
	w.room.View.TypedRune('5')
	first := w.room.Options().FromSeat
	w.room.View.TypedRune('5')
	if want := (first + 1) % len(w.session.Result().Seats); w.room.Options().FromSeat != want {
		t.Errorf("5 again sits in %d, want %d", w.room.Options().FromSeat, want)
	}
	w.room.View.TypedRune('p')
	if w.room.Options().People {
		t.Error("P did not hide the people")
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyF11})
	if !w.room.Options().Client || w.side.Visible() || w.drawer.object.Visible() || w.status.object.Visible() {
		t.Error("F11 left engineering in the client view")
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.room.Options().Client || !w.side.Visible() {
		t.Error("Escape did not leave the client view")
	}
}

func TestUnsavedChangesAreAskedAbout(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	raise(t, w, 0.1)
	edited := w.session.Design()

	w.newRoom()
	press(t, w, "Cancel")
	if w.session.Design() != edited {
		t.Fatal("Cancel lost the document")
	}

	w.newRoom()
	press(t, w, "Save") // which asks where
	if w.session.Design() != edited {
		t.Fatal("the document went before it was saved")
	}
	dir := t.TempDir()
	typeInto(t, w, "Name   ", "mine")
	typeInto(t, w, "Folder", dir)
	press(t, w, "Save")
	makeRoom(t, w, q)
	saved, err := file.Read(filepath.Join(dir, "mine.earline"))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := saved.Speakers[0].At.Z, edited.Speakers[0].At.Z; got != want {
		t.Errorf("saved height %v, want %v", got, want)
	}
	if w.session.Design().Name == edited.Name {
		t.Error("the new room did not come after saving")
	}

	raise(t, w, 0.1)
	w.newRoom()
	press(t, w, "Don't save")
	makeRoom(t, w, q)
	if w.session.Doc.Dirty() || w.session.Design().Name != "New room" {
		t.Error("Don't save did not go on to the new room")
	}
}

// typeInto sets the entry beside a label in the dialog that is open.
func typeInto(t *testing.T, w *Window, label, text string) {
	t.Helper()
	var entries []*ask.Entry
	pagetest.Walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if e, ok := o.(*ask.Entry); ok {
			entries = append(entries, e)
		}
	})
	if len(entries) != 2 {
		t.Fatalf("%d entries in the dialog, want folder and name", len(entries))
	}
	i := 0
	if label != "Folder" {
		i = 1
	}
	entries[i].SetText(text)
}

func TestUnreadableFileKeepsTheDocument(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	before := w.session.Doc
	path := filepath.Join(t.TempDir(), "bad.earline")
	if err := os.WriteFile(path, []byte(`{"format":"earline","version":1,"name":"x","colour":"red"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	w.open(path)
	if w.session.Doc != before {
		t.Fatal("the document on show is lost")
	}
	if !w.ask.Busy() {
		t.Fatal("nothing says why")
	}
	var text string
	pagetest.Walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			text += l.Text + "\n"
		}
	})
	if !strings.Contains(text, "colour") || !strings.Contains(text, "room") {
		t.Errorf("not all faults are told:\n%s", text)
	}
}

func TestSavingKeepsTheExtensionAndRemembers(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	path := filepath.Join(t.TempDir(), "room.earline")
	w.saveTo(strings.TrimSuffix(path, ".earline"), nil)
	if w.session.Doc.Path() != path {
		t.Fatalf("saved as %s, want %s", w.session.Doc.Path(), path)
	}
	if got := w.recent(); len(got) != 1 || got[0] != path {
		t.Errorf("recent files %v, want %s", got, path)
	}
	if got, want := w.win.Title(), "Earline - room.earline"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
	w.saveTo(filepath.Join(t.TempDir(), "none", "room.earline"), nil)
	if w.session.Doc.Path() != path || !w.ask.Busy() {
		t.Error("a save that failed must be told and change nothing")
	}
}

func TestCrashLeavesARecoveryCopyThatIsOffered(t *testing.T) {
	dir := t.TempDir()
	w, _ := testWindow(t, Config{Demo: "small", Dir: dir})
	raise(t, w, 0.25)
	want := w.session.Design().Speakers[0].At.Z
	w.session.WriteRecovery()
	w.session.Doc.Wait() // and here the power fails

	again, _ := testWindow(t, Config{Dir: dir})
	again.offerRecovery(every)
	press(t, again, "Restore")
	if got := again.session.Design().Speakers[0].At.Z; got != want {
		t.Errorf("restored height %v, want %v", got, want)
	}
	if !again.session.Doc.Dirty() {
		t.Error("restored work counts as saved")
	}
	again.saveTo(filepath.Join(t.TempDir(), "back"), nil)
	if left, _ := filepath.Glob(filepath.Join(dir, "*"+file.RecoveryExt)); len(left) != 0 {
		t.Errorf("after saving these copies are left: %v", left)
	}
}

func TestAutosaveFollowsAnEdit(t *testing.T) {
	dir, q := t.TempDir(), &queue{}
	w, _ := testWindow(t, Config{Demo: "small", Dir: dir, Autosave: time.Millisecond, Post: q.Post})
	raise(t, w, 0.25)
	q.Until(t, func() bool {
		left, _ := document.Copies(dir, dir)
		return len(left) == 1
	})
}

func TestManySeatsAreAuditedInTheBackground(t *testing.T) {
	q := &queue{}
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	const many = 24
	if err := w.session.Do("seats", "", func(d *project.Design) { d.Seating.Rows[0].Seats = many + 6 }); err != nil {
		t.Fatal(err)
	}
	if got := len(w.session.Result().Seats); got == many+6 {
		t.Fatal("a large audit held the window up")
	}
	q.Until(t, func() bool { return len(w.session.Result().Seats) == many+6 })
}

// readout returns the text beside a label of the inspector.
func readout(w *Window, label string) (text string) {
	last := ""
	pagetest.Walk(w.side, func(o fyne.CanvasObject) {
		if l, ok := o.(*canvas.Text); ok {
			if last == label {
				text = l.Text
			}
			last = l.Text
		}
	})
	return text
}

// What takes longer than an edit may is shown once it is known, and not again
// after an edit until it is known anew.
func TestTheInspectorTellsForWhomItHolds(t *testing.T) {
	q := &queue{}
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	w.inspector.OpenAll()
	tells := func() bool { return readout(w, "P5 to P95") != "…" && readout(w, "Tolerance") != "…" }
	if tells() {
		t.Fatal("it is told before it is known")
	}
	q.Until(t, tells)
	if s := readout(w, "P5 to P95"); !strings.Contains(s, "hold") {
		t.Errorf("it says %q", s)
	}
	raise(t, w, 0.1)
	if tells() {
		t.Error("what is told is of the design before")
	}
	q.Until(t, tells)
}

// A large room is on show before it is audited, whatever page is on top, and what
// is told of it is of as many seats as it has.
func TestALargeRoomOpensAtOnce(t *testing.T) {
	d, _ := file.Demo("small")
	d.Seating.Rows[0].Seats = 30
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "large.earline")
	if err := file.Write(path, d); err != nil {
		t.Fatal(err)
	}
	q := &queue{}
	w, f := testWindow(t, Config{Path: path, Post: q.Post})
	if w.session.Result() != nil {
		t.Error("the window waited for the audit")
	}
	if l := f.lastList(); l == nil || len(l.Meshes) == 0 {
		t.Error("no picture was asked for")
	}
	for _, l := range w.drawer.tabs[:3] {
		w.drawer.show(l.Page)
		w.room.SetView(view.Seat)
		w.session.ChooseSpeaker(0)
	}
	runID(t, w, "sound.bass")
	seats := func(n int) func() bool {
		return func() bool {
			r, state := w.session.Known.Audit.Get()
			return state == session.Fresh && len(r.Seats) == n && w.status.counts[0].text.Text != "" && heard(w) != nil
		}
	}
	q.Until(t, seats(30))
	for choice := range pagetest.Objects[*widget.Select](w.drawer.top.Head()) {
		choice.SetSelected("seat 1.30")
	}
	if err := w.session.Do("seats", "", func(d *project.Design) { d.Seating.Rows[0].Seats = 26 }); err != nil {
		t.Fatal(err)
	}
	q.Until(t, seats(26))
}

func TestClosingJoinsTheRenderer(t *testing.T) {
	w, f := testWindow(t, Config{})
	w.quit()
	if !f.closed {
		t.Error("the renderer is still open")
	}
}

func TestNoOpenGLShowsOneLine(t *testing.T) {
	w, _ := testWindow(t, Config{})
	w.attach(nil, errNoPicture)
	var found bool
	pagetest.Walk(w.room.View, func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok && l.Visible() && l.Text == errNoPicture.Error() {
			found = true
		}
	})
	if !found {
		t.Error("nothing says why there is no picture")
	}
	raise(t, w, 0.1) // and everything else works
	if w.session.Result().Count[sight.NotJudged] == len(w.session.Result().Pairs) {
		t.Error("nothing was audited")
	}
}

func TestUndoWhileTypingIsTheEntrys(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	raise(t, w, 0.1)
	edited := w.session.Design()
	var e *field.Entry
	pagetest.Walk(w.side, func(o fyne.CanvasObject) {
		if f, ok := o.(*field.Entry); ok && e == nil {
			e = f
		}
	})
	w.win.Canvas().Focus(e)
	before := e.Text
	e.TypedRune('x')
	if !e.Pending() {
		t.Fatal("nothing is being typed")
	}
	w.undo()
	if w.session.Design() != edited || e.Text != before {
		t.Errorf("undo while typing left %q and touched the design: %v", e.Text, w.session.Design() != edited)
	}
	w.undo()
	if w.session.Design() == edited {
		t.Error("with nothing typed, undo did not undo the edit")
	}
}

func TestDroppedFileOpens(t *testing.T) {
	w, _ := testWindow(t, Config{})
	d, _ := file.Demo("small")
	path := filepath.Join(t.TempDir(), "dropped.earline")
	if err := file.Write(path, d); err != nil {
		t.Fatal(err)
	}
	w.drop(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)})
	if w.session.Doc.Path() != path || w.session.Design().Name != d.Name {
		t.Errorf("open is %s, want the dropped file", w.session.Doc.Title())
	}
}

func TestPictureIsSaved(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	path := filepath.Join(t.TempDir(), "still.png")
	s := w.still()
	s.W, s.H = 1920, 1080
	w.takeStill(s, path)
	if !w.ask.Busy() {
		t.Error("nothing says that the picture is being taken")
	}
	q.Until(t, func() bool { return !w.ask.Busy() })
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, err := png.DecodeConfig(f)
	if err != nil || c.Width != 1920 || c.Height != 1080 {
		t.Errorf("a picture of %d x %d, %v; want 1920 x 1080", c.Width, c.Height, err)
	}
}

// A picture that is given up leaves nothing behind, and the window goes on.
func TestAPictureThatIsGivenUpIsNotWritten(t *testing.T) {
	q := new(queue)
	w, _ := testWindow(t, Config{Demo: "small", Post: q.Post})
	w.runNamed("view.client")
	s := w.still()
	s.W, s.H, s.Fine, s.Light = 1920, 1080, true, project.House
	path := filepath.Join(t.TempDir(), "still.png")
	w.takeStill(s, path)
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	q.Until(t, func() bool { return strings.Contains(w.session.Hint, "nothing is written") })
	if _, err := os.Stat(path); err == nil || w.ask.Busy() {
		t.Errorf("written: %v, still busy: %v", err == nil, w.ask.Busy())
	}
}

// The client view has its light, exposure and curtain at its foot, and nothing else.
func TestTheClientViewHasItsLightAtItsFoot(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	w.runNamed("view.client")
	b := w.client
	if !b.object.Visible() || w.foot.Visible() || b.divided.Visible() || b.light.Selected != "Light of house" {
		t.Errorf("bar %v, status line %v, curtain %v, %s", b.object.Visible(), w.foot.Visible(), b.divided.Visible(), b.light.Selected)
	}
	w.runNamed("view.light.brighter")
	if b.exposure.Value != 0.5 || b.stops.Text != "+0.5 stops" {
		t.Errorf("exposure %v, %s", b.exposure.Value, b.stops.Text)
	}
	b.light.SetSelected("Light of show")
	if s, _, _ := w.room.Light(); s != project.Show {
		t.Errorf("in the light of %s", s)
	}
	b.exposure.SetValue(-1)
	if _, stops, _ := w.room.Light(); stops != -1 {
		t.Errorf("%v stops", stops)
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyF11})
	if b.object.Visible() {
		t.Error("the bar is seen while a client is shown around")
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if !b.object.Visible() {
		t.Error("the bar does not come back")
	}
	w.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.object.Visible() || !w.foot.Visible() {
		t.Error("the bar stays")
	}
}

func TestUnitsSwitch(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	w.setUnits(project.Imperial)
	if c, ok := w.commands.Command("view.imperial"); w.session.Design().Units != project.Imperial || !ok || !c.IsOn() {
		t.Error("imperial lengths are not on")
	}
	var shown bool
	pagetest.Walk(w.side, func(o fyne.CanvasObject) {
		if e, ok := o.(*field.Entry); ok && strings.Contains(e.Text, "' ") {
			shown = true
		}
	})
	if !shown {
		t.Error("no length in the inspector is in feet")
	}
}

func TestCanOpenNeedsADisplay(t *testing.T) {
	t.Setenv("DISPLAY", "")
	t.Setenv("WAYLAND_DISPLAY", "")
	if CanOpen() == nil {
		t.Error("a window without a display")
	}
	t.Setenv("DISPLAY", ":0")
	if err := CanOpen(); err != nil {
		t.Error(err)
	}
}

// BenchmarkEdit is everything that an edit costs the UI goroutine but painting:
// audit, inspector, table, picture's contents, menu, status.
func BenchmarkEdit(b *testing.B) {
	w := newWindow(test.NewTempApp(b), Config{Demo: "large", Dir: b.TempDir(), Autosave: time.Hour,
		Post: new(queue).Post, Renderer: func() (view.Renderer, error) { return &fakeRenderer{}, nil }})
	w.win.Show()
	w.startRenderer()
	w.inspector.OpenAll()
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n++
		by := unit.Length(0.01)
		if n%2 == 0 {
			by = -by
		}
		if err := w.session.Do("raise", "z", func(d *project.Design) { d.Speakers[0].At.Z += by }); err != nil {
			b.Fatal(err)
		}
	}
	w.stopQuietly()
	w.win.Close()
}
