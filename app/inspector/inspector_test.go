// SPDX-License-Identifier: MIT

package inspector

import (
	"context"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/app/field"
	"earline/project"
	"earline/project/file"
	"earline/project/pair"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// bench is a Host without a window.
type bench struct {
	*project.History
	in     *Inspector
	result *sight.Result
	win    fyne.Window

	links pair.Links

	everyone *sight.RangeResult // of design rangeOf
	rangeOf  *project.Design
}

func (b *bench) Links() *pair.Links { return &b.links }

func (b *bench) Standard() practice.Standard { return practice.Standard{} }

func (b *bench) Result() *sight.Result { return b.result }

func (b *bench) Limits(k int) (sight.Tolerances, bool) {
	return sight.Tolerance(b.Design(), b.Result(), k), true
}

func (b *bench) Everyone() *sight.RangeResult {
	if b.rangeOf != b.Design() {
		b.rangeOf = b.Design()
		b.everyone, _ = sight.Range(context.Background(), b.rangeOf)
	}
	return b.everyone
}
func (b *bench) Do(label, merge string, edit func(*project.Design)) error {
	err := b.History.Do(label, merge, edit)
	b.result = sight.Audit(b.Design())
	b.in.Update()
	return err
}

// newBench returns an inspector of a demo with every group open, in a window.
func newBench(t *testing.T, demo string) *bench {
	t.Helper()
	test.NewTempApp(t)
	d, ok := file.Demo(demo)
	if !ok {
		t.Fatalf("no demo %s", demo)
	}
	b := &bench{History: project.NewHistory(d), result: sight.Audit(d)}
	b.in = New(b)
	b.in.OpenAll()
	b.win = test.NewTempWindow(t, b.in.Object())
	b.win.Resize(fyne.NewSize(320, 700))
	return b
}

// line finds the line of that name which is shown in a group.
func (b *bench) line(t *testing.T, group int, name string) *field.Line {
	t.Helper()
	l := b.in.groups[group].form.Line(name)
	if l == nil {
		t.Fatalf("no line %q is shown in %s", name, b.in.groups[group].title)
	}
	return l
}

// enter types text into a line and ends with Enter.
func enter(l *field.Line, text string) {
	c := fyne.CurrentApp().Driver().CanvasForObject(l.Entry)
	c.Focus(l.Entry)
	l.Entry.SetText(text)
	l.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

func TestTypedLengthsEitherWay(t *testing.T) {
	b := newBench(t, "small")
	l := b.line(t, screenGroup, "Picture width")
	for _, c := range []struct {
		text string
		want float64
		show string
	}{
		{"2.5 m", 2.5, "2.500 m"},
		{"2450 mm", 2.45, "2.450 m"},
		{"2,4", 2.4, "2.400 m"},
		{`7' 10 1/2"`, 94.5 * 0.0254, "2.400 m"},
		{"100 in", 2.54, "2.540 m"},
	} {
		enter(l, c.text)
		if got := float64(b.Design().Screen.Width); !near(got, c.want) {
			t.Errorf("typed %q: width %v, want %v", c.text, got, c.want)
		}
		if l.Entry.Text != c.show {
			t.Errorf("typed %q: shows %q, want %q", c.text, l.Entry.Text, c.show)
		}
	}
}

func TestImperialDesignShowsFeetAndInches(t *testing.T) {
	b := newBench(t, "small")
	if err := b.Do("units", "", func(d *project.Design) { d.Units = project.Imperial; d.Screen.Width = 2.4003 }); err != nil {
		t.Fatal(err)
	}
	l := b.line(t, screenGroup, "Picture width")
	if got, want := l.Entry.Text, `7' 10 1/2"`; got != want {
		t.Errorf("shows %q, want %q", got, want)
	}
	enter(l, "90") // a bare number is inches here
	if got := float64(b.Design().Screen.Width); !near(got, 90*0.0254) {
		t.Errorf("90 gave %v m, want %v", got, 90*0.0254)
	}
}

func TestWrongTextIsRefusedWithALine(t *testing.T) {
	b := newBench(t, "small")
	before := b.Design()
	l := b.line(t, screenGroup, "Picture width")
	for _, text := range []string{"wide", "-3 m", "900 m", ""} {
		enter(l, text)
		if b.Design() != before {
			t.Errorf("%q changed the design", text)
		}
		if l.Fault() == "" || strings.Contains(l.Fault(), "\n") {
			t.Errorf("%q: the line under it says %q, want one clear line", text, l.Fault())
		}
		if l.Entry.Text != text {
			t.Errorf("%q was taken away while it can still be mended", text)
		}
		l.Entry.FocusLost()
		if want := before.Screen.Width.Format(true); l.Entry.Text != want {
			t.Errorf("%q, left: shows %q, want %q", text, l.Entry.Text, want)
		}
		if !strings.HasPrefix(l.Fault(), "Not used: ") {
			t.Errorf("%q, left: the line says %q", text, l.Fault())
		}
	}
	enter(l, "2 m")
	if l.Fault() != "" {
		t.Errorf("a good value leaves the line %q", l.Fault())
	}
}

func TestEscapeTakesBackWhatWasTyped(t *testing.T) {
	b := newBench(t, "small")
	before := b.Design()
	l := b.line(t, screenGroup, "Picture width")
	l.Entry.SetText("1 m")
	l.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if want := before.Screen.Width.Format(true); l.Entry.Text != want || b.Design() != before {
		t.Errorf("shows %q, want %q and no edit", l.Entry.Text, want)
	}
}

func TestLeavingAnEntryCommitsOnce(t *testing.T) {
	b := newBench(t, "small")
	l := b.line(t, screenGroup, "Picture width")
	enter(l, "2.2 m")
	l.Entry.FocusLost()
	b.Undo()
	b.in.Update()
	if b.UndoLabel() != "" {
		t.Errorf("one edit made more than one step: %q is left", b.UndoLabel())
	}
}

func TestNudgesJoinInOneStep(t *testing.T) {
	b := newBench(t, "small")
	l := b.line(t, speakersGroup, "Height")
	z := float64(b.Design().Speakers[0].At.Z)
	for range 5 {
		l.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	}
	if got := float64(b.Design().Speakers[0].At.Z); !near(got, z+0.05) {
		t.Errorf("five steps up: %v, want %v", got, z+0.05)
	}
	if got, want := b.UndoLabel(), "raise M+030 and M-030"; got != want {
		t.Errorf("undo would %q, want %q", got, want)
	}
	b.Undo()
	if got := float64(b.Design().Speakers[0].At.Z); !near(got, z) {
		t.Errorf("after one undo: %v, want %v", got, z)
	}
}

func TestTheWheelNeverChangesAnEntryThatIsNotFocused(t *testing.T) {
	b := newBench(t, "small")
	before := b.Design()
	l := b.line(t, screenGroup, "Picture width")
	c := fyne.CurrentApp().Driver().CanvasForObject(l.Entry)
	pos := fyne.CurrentApp().Driver().AbsolutePositionForObject(l.Entry).AddXY(20, 8)
	test.Scroll(c, pos, 0, 25)
	if b.Design() != before {
		t.Error("scrolling past an entry changed it")
	}
	c.Focus(l.Entry)
	pos = fyne.CurrentApp().Driver().AbsolutePositionForObject(l.Entry).AddXY(20, 8)
	test.Scroll(c, pos, 0, 25)
	if got, want := float64(b.Design().Screen.Width), float64(before.Screen.Width)+0.01; !near(got, want) {
		t.Errorf("one notch over the focused entry: %v, want %v", got, want)
	}
}

func TestAspects(t *testing.T) {
	b := newBench(t, "large") // 2.39
	l := b.line(t, screenGroup, "Aspect")
	if got, want := l.Choice.Selected, "2.39 : 1"; got != want {
		t.Errorf("aspect %q, want %q", got, want)
	}
	for i, a := range aspects {
		l.Choice.SetSelectedIndex(i)
		if got := b.Design().Screen.Aspect; got != a.ratio {
			t.Errorf("%s gives %v, want %v", a.name, got, a.ratio)
		}
	}
	l.Choice.SetSelectedIndex(len(aspects))
	enter(b.line(t, screenGroup, "Aspect ratio"), "2.2")
	if got := b.Design().Screen.Aspect; got != 2.2 {
		t.Errorf("free aspect %v, want 2.2", got)
	}
}

func TestRoomSidesAndCorners(t *testing.T) {
	b := newBench(t, "two-row")
	enter(b.line(t, roomGroup, "Length"), "6.5 m")
	lo, hi := b.Design().Room.Polygon().Bounds()
	if !near(hi.X-lo.X, 6.5) {
		t.Errorf("length %v, want 6.5", hi.X-lo.X)
	}
	b.in.outline = true
	b.in.Update()
	if got := len(b.in.corners); got != 4 {
		t.Fatalf("%d corners listed, want 4", got)
	}
	if err := b.Do("corner", "", func(d *project.Design) {
		d.Room.Footprint = append(d.Room.Footprint[:3:3], project.Corner{X: 3, Y: 4.2}, d.Room.Footprint[3])
	}); err != nil {
		t.Fatal(err)
	}
	if got := len(b.in.corners); got != 5 {
		t.Errorf("%d corners listed, want 5", got)
	}
}

func TestRectangle(t *testing.T) {
	for _, c := range []struct {
		name    string
		corners []project.Corner
		want    bool
	}{
		{"rectangle", []project.Corner{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 5, Y: 4}, {X: 0, Y: 4}}, true},
		{"the other way round", []project.Corner{{X: 0, Y: 0}, {X: 0, Y: 4}, {X: 5, Y: 4}, {X: 5, Y: 0}}, true},
		{"skewed", []project.Corner{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 5, Y: 4}, {X: 0, Y: 3}}, false},
		{"triangle", []project.Corner{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 5, Y: 4}}, false},
		{"folded", []project.Corner{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 5, Y: 4}, {X: 5, Y: 2}}, false},
	} {
		if got := rectangle(c.corners); got != c.want {
			t.Errorf("%s: rectangle %v, want %v", c.name, got, c.want)
		}
	}
}

func TestLoudspeakersComeAndGo(t *testing.T) {
	b := newBench(t, "small")
	n := len(b.Design().Speakers)
	b.in.addSpeaker()
	if len(b.Design().Speakers) != n+1 {
		t.Fatalf("%d loudspeakers after adding, want %d", len(b.Design().Speakers), n+1)
	}
	added := b.Design().Speakers[b.in.speaker]
	for i, l := range b.Design().Speakers {
		if i != b.in.speaker && l.Label == added.Label {
			t.Errorf("added %s, which is there already", added.Label)
		}
	}
	b.in.duplicateSpeaker()
	if got, want := b.Design().Speakers[b.in.speaker].Name(), added.Label+" b"; got != want {
		t.Errorf("the duplicate is %q, want %q", got, want)
	}
	b.in.removeSpeaker()
	b.in.removeSpeaker()
	for range n + 2 {
		b.in.removeSpeaker()
	}
	if len(b.Design().Speakers) != 0 {
		t.Errorf("%d loudspeakers left", len(b.Design().Speakers))
	}
	b.in.addSpeaker()
	if len(b.Design().Speakers) != 1 {
		t.Error("no loudspeaker can be added to a room without any")
	}
}

func TestRowsComeAndGo(t *testing.T) {
	b := newBench(t, "two-row")
	if err := b.Do("room", "", func(d *project.Design) { // where there is space for a third
		d.Room.Footprint[1].X, d.Room.Footprint[2].X = 9, 9
		d.Room.Ceiling = project.Ceiling{Slope: project.Flat, Height: 3.4}
	}); err != nil {
		t.Fatal(err)
	}
	b.in.addRow()
	if got := len(b.Design().Seating.Rows); got != 3 || b.in.row != 2 {
		t.Fatalf("%d rows, row %d shown; want 3 and the last", got, b.in.row+1)
	}
	if err := b.Do("main", "", func(d *project.Design) { d.Seating.Main.Row = 3 }); err != nil {
		t.Fatal(err)
	}
	b.in.row = 0
	b.in.removeRow()
	if got := b.Design().Seating.Main.Row; got != 2 {
		t.Errorf("the main position is in row %d, want 2: the same row as before", got)
	}
	b.in.removeRow()
	b.in.removeRow()
	if got := len(b.Design().Seating.Rows); got != 1 {
		t.Errorf("%d rows, want the last one to stay", got)
	}
}

func TestMainPositionBecomesAPointWhereItIs(t *testing.T) {
	b := newBench(t, "two-row")
	before := place.MainPoint(b.Design())
	l := b.line(t, mainGroup, "Where")
	l.Choice.SetSelectedIndex(len(b.Design().Seating.Rows))
	if b.Design().Seating.Main.Row != 0 || place.MainPoint(b.Design()).Dist(before) > 1e-9 {
		t.Errorf("the main position moved from %v to %v", before, place.MainPoint(b.Design()))
	}
	enter(b.line(t, mainGroup, "Height"), "1.2 m")
	if got := place.MainPoint(b.Design()).Z; !near(got, 1.2) {
		t.Errorf("height %v, want 1.2", got)
	}
}

func TestCurveTakesTheWordStraight(t *testing.T) {
	b := newBench(t, "small")
	l := b.line(t, rowsGroup, "Curve radius")
	enter(l, "4 m")
	if got := float64(b.Design().Seating.Rows[0].Curve); !near(got, 4) {
		t.Errorf("radius %v, want 4", got)
	}
	enter(l, "straight")
	if got := b.Design().Seating.Rows[0].Curve; got != 0 || l.Entry.Text != "straight" {
		t.Errorf("radius %v shown as %q, want a straight row", got, l.Entry.Text)
	}
}
