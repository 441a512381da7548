// SPDX-License-Identifier: MIT

package compare

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/scene"
)

// opened shows the page of a demo.
func opened(t *testing.T, demo string) (*pagetest.Bench, *comparePage) {
	t.Helper()
	b := pagetest.Open(t, demo)
	p := newPage(b.Session, b.Frame)
	b.Show(p)
	return b, p
}

// keep keeps the plan as found, as the dialog offers it.
func keep(t *testing.T, b *pagetest.Bench, p *comparePage) {
	t.Helper()
	pagetest.Run(t, p, "compare.keep")
	b.Press(t, "Keep")
}

// known waits for the comparison of the design as it is now.
func known(t *testing.T, b *pagetest.Bench, p *comparePage) {
	t.Helper()
	b.Queue.Until(t, func() bool { return p.fresh })
}

func raise(d *project.Design) { d.Speakers[3].At.Z += 0.2 }

// The usual way: keep the room as found, change the plan, and see what becomes of each
// thing.
func TestThePlanIsComparedWithTheRoomAsFound(t *testing.T) {
	b, p := opened(t, "large")
	if !p.empty.Visible() || p.split.Visible() {
		t.Fatal("nothing is kept, and yet there is something to compare")
	}
	keep(t, b, p)
	d := b.Session.Design()
	if len(d.Variants) != 1 || d.Variants[0].Variant != (project.Variant{Name: "As found", Role: project.Existing}) {
		t.Fatalf("%+v", d.Variants)
	}
	if b.Session.Doc.UndoLabel() != `keep the plan as "As found"` {
		t.Errorf("undo says %q", b.Session.Doc.UndoLabel())
	}
	if err := b.Session.Do("raise", "", raise); err != nil {
		t.Fatal(err)
	}
	known(t, b, p)
	if !strings.HasPrefix(p.head.Text, "1 moves") || p.empty.Visible() {
		t.Errorf("head says %q", p.head.Text)
	}
	i := slices.IndexFunc(p.lines, func(l line) bool { return strings.Contains(l.words, "0.200 m up") })
	if i < 0 || p.lines[i].mark != ">" {
		t.Fatalf("%+v", p.lines)
	}
	p.choose(i)
	if b.Session.Chosen.Speaker != 3 {
		t.Error("the loudspeaker is not selected in the picture")
	}
	facts := p.side.grid.Rows()
	if !strings.Contains(facts[0].Cells[0], "0.200 m up") {
		t.Errorf("beside the list: %q", facts[0].Cells)
	}
}

// With the slider the picture goes from one room to the other; on another page it is the
// plan's, whatever the slider says.
func TestThePictureFades(t *testing.T) {
	b, p := opened(t, "large")
	redrawn := 0
	p.frame.Redraw = func() { redrawn++ }
	o := scene.Default()
	if p.Overlay(&o); o.Fade != nil {
		t.Error("there is nothing to fade to")
	}
	keep(t, b, p)
	if p.Overlay(&o); o.Fade != nil {
		t.Error("the plan alone is not on show at first")
	}
	p.bar.fade.SetValue(0.5)
	if p.Overlay(&o); o.Fade == nil || o.Fade.Share != 0.5 || o.Fade.Was != &b.Session.Design().Variants[0] || redrawn != 1 {
		t.Fatalf("%+v, drawn %d times", o.Fade, redrawn)
	}
	p.bar.fade.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if p.share != 0 {
		t.Error("Home does not go to the room as found")
	}
	pagetest.Run(t, p, "compare.fade")
	if p.share != 1 {
		t.Error("it does not fade back to the plan")
	}
	b.Press(t, "As found")
	if p.share != 0 {
		t.Error("the end of the slider is not a button")
	}
	pagetest.Run(t, p, "compare.after")
	if p.share != 1 || p.bar.fade.Value != 1 {
		t.Error("the slider does not follow the command")
	}
}

// A loudspeaker that is dragged is the plan's: it must be seen while it is.
func TestWhatIsDraggedIsSeen(t *testing.T) {
	b, p := opened(t, "small")
	keep(t, b, p)
	p.fade(0)
	d := b.Session.Design().Clone()
	raise(d)
	b.Session.Draft(d)
	o := scene.Default()
	if p.Overlay(&o); o.Fade != nil {
		t.Error("the room before is on show")
	}
}

// What is chosen is outlined where it was and where it is, also where the lists of both
// rooms are in another order.
func TestWhatIsChosenIsFoundInBothRooms(t *testing.T) {
	b, p := opened(t, "large")
	keep(t, b, p)
	if err := b.Session.Do("reorder", "", func(d *project.Design) {
		slices.Reverse(d.Speakers)
		d.Speakers[2].At.Z += 0.2
	}); err != nil {
		t.Fatal(err)
	}
	known(t, b, p)
	i := slices.IndexFunc(p.lines, func(l line) bool { return strings.Contains(l.words, "0.200 m up") })
	p.choose(i)
	o := scene.Default()
	p.Overlay(&o)
	n := len(b.Session.Design().Speakers)
	if o.Fade == nil || o.Fade.To != (place.Item{Kind: place.SpeakerItem, Index: 2}) || o.Fade.From != (place.Item{Kind: place.SpeakerItem, Index: n - 3}) {
		t.Errorf("%+v", o.Fade)
	}
}

// Swapping loses nothing: what was the plan is kept, and one undo brings all back.
func TestSwappingKeepsThePlan(t *testing.T) {
	b, p := opened(t, "small")
	keep(t, b, p)
	if err := b.Session.Do("raise", "", raise); err != nil {
		t.Fatal(err)
	}
	z := b.Session.Design().Speakers[3].At.Z
	pagetest.Run(t, p, "compare.swap")
	b.Press(t, "Swap")
	d := b.Session.Design()
	if d.Variant.Name != "As found" || d.Speakers[3].At.Z == z || len(d.Variants) != 1 || d.Variants[0].Variant.Name != "Plan" || d.Variants[0].Speakers[3].At.Z != z {
		t.Fatalf("the plan is %+v, beside it %+v", d.Variant, d.Variants[0].Variant)
	}
	if p.with != "Plan" {
		t.Errorf("compared with %q", p.with)
	}
	b.Session.Undo()
	if d := b.Session.Design(); d.Speakers[3].At.Z != z || d.Variants[0].Variant.Name != "As found" {
		t.Error("one undo does not swap them back")
	}
}

// A room of another file is kept beside the plan under a name that can be typed.
func TestARoomIsBroughtIn(t *testing.T) {
	b, p := opened(t, "small")
	other := b.Session.Design().Clone()
	raise(other)
	path := filepath.Join(t.TempDir(), "found.earline")
	if err := file.Write(path, other); err != nil {
		t.Fatal(err)
	}
	p.bringIn(path)
	name := slices.Collect(pagetest.Objects[*ask.Entry](b.Window.Canvas().Overlays().Top()))[0]
	name.SetText("  Before ")
	b.Press(t, "Bring in")
	d := b.Session.Design()
	if len(d.Variants) != 1 || d.Variants[0].Variant.Name != "Before" {
		t.Fatalf("%+v", d.Variants)
	}
	known(t, b, p)
	if !strings.HasPrefix(p.head.Text, "1 moves") {
		t.Errorf("head says %q", p.head.Text)
	}
	p.bringIn(filepath.Join(t.TempDir(), "none.earline"))
	if !b.Frame.Busy() {
		t.Error("a file that is not there is not reported")
	}
}

// A name that is taken is refused in the dialog, which stays open.
func TestEachNameOnce(t *testing.T) {
	b, p := opened(t, "small")
	keep(t, b, p)
	pagetest.Run(t, p, "compare.keep")
	name := slices.Collect(pagetest.Objects[*ask.Entry](b.Window.Canvas().Overlays().Top()))[0]
	for _, text := range []string{"As found", " "} {
		name.SetText(text)
		b.Press(t, "Keep")
		if !b.Frame.Busy() || len(b.Session.Design().Variants) != 1 {
			t.Fatalf("%q was taken", text)
		}
	}
	b.Press(t, "Cancel")
	pagetest.Run(t, p, "compare.rename")
	name = slices.Collect(pagetest.Objects[*ask.Entry](b.Window.Canvas().Overlays().Top()))[0]
	name.SetText("Old room")
	b.Press(t, "Rename")
	if v := b.Session.Design().Variants[0].Variant; v.Name != "Old room" || p.other() == nil {
		t.Errorf("%+v", v)
	}
	pagetest.Run(t, p, "compare.drop")
	b.Press(t, "Drop")
	if len(b.Session.Design().Variants) != 0 || !p.empty.Visible() {
		t.Error("it is still there")
	}
	if pagetest.Run(t, p, "compare.keep"); !b.Frame.Busy() {
		t.Error("nothing can be kept any more")
	}
}

// With the keyboard alone: the arrows go past headings, Enter lists what stays.
func TestTheListIsReadWithTheKeyboard(t *testing.T) {
	b, p := opened(t, "large")
	keep(t, b, p)
	if err := b.Session.Do("raise", "", raise); err != nil {
		t.Fatal(err)
	}
	known(t, b, p)
	key := func(name fyne.KeyName) { p.list.TypedKey(&fyne.KeyEvent{Name: name}) }
	key(fyne.KeyHome)
	if l := p.line(); l == nil || l.heading {
		t.Fatal("Home does not choose the first thing")
	}
	short := len(p.lines)
	for range short {
		if l := p.line(); l.fold {
			break
		}
		key(fyne.KeyDown)
	}
	if l := p.line(); !l.fold {
		t.Fatal("what stays is not reached")
	}
	key(fyne.KeyReturn)
	if len(p.lines) <= short || p.line() == nil {
		t.Errorf("%d lines, had %d", len(p.lines), short)
	}
}

// While the page is not on top nothing is compared.
func TestNobodyComparesWhatNobodySees(t *testing.T) {
	b, p := opened(t, "small")
	keep(t, b, p)
	known(t, b, p)
	b.Session.Show = func(session.Change) {}
	if err := b.Session.Do("raise", "", raise); err != nil {
		t.Fatal(err)
	}
	b.Queue.Run()
	if r := p.result; r.Is.Design == b.Session.Design() {
		t.Error("it was compared unseen")
	}
	if _, state := b.Session.Compare(0); state != session.Stale {
		t.Errorf("it is %v", state)
	}
}
