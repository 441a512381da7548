// SPDX-License-Identifier: MIT

package setout

import (
	"image"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/app/theme"
	"earline/project"
	"earline/project/place"
	"earline/project/setout"
)

// opened returns the page of a demo, with list and drawings on show.
func opened(t *testing.T, demo string) (*pagetest.Bench, *setOutPage) {
	t.Helper()
	b := pagetest.Open(t, demo)
	p := newPage(b.Session, b.Frame)
	b.Show(p)
	wait(t, b, p)
	return b, p
}

// wait waits until all that is on show is of the design as it is now.
func wait(t *testing.T, b *pagetest.Bench, p *setOutPage) {
	t.Helper()
	b.Queue.Until(t, func() bool {
		_, list := b.Session.Known.SetOut.Get()
		_, sheets := p.sheets.Get()
		_, seen := p.viewer.picture.Get()
		return list == session.Fresh && sheets == session.Fresh && seen == session.Fresh
	})
}

func (p *setOutPage) press(o fyne.Focusable, names ...fyne.KeyName) {
	for _, n := range names {
		o.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

// A line chosen is selected in the picture, and its sheet is turned to; what is selected
// in the picture shows its line.
func TestALineLeadsToTheThingAndTheThingToItsLine(t *testing.T) {
	b, p := opened(t, "large")
	if !strings.Contains(p.says.Text, "items to set out") {
		t.Fatalf("the head says %q", p.says.Text)
	}
	for i := range p.out.Items {
		p.choose(i)
		it := &p.out.Items[i]
		want := thingOf(p.of, it.ID)
		if want == (place.Item{}) || b.Session.Chosen.Item != want {
			t.Errorf("%s selects %+v, want %+v", it.Name, b.Session.Chosen.Item, want)
		}
		spot := p.drawn.Spots[i]
		if p.viewer.at != spot.Sheet {
			t.Errorf("%s: sheet %d is on show, want %d", it.Name, p.viewer.at, spot.Sheet)
		}
		title := p.drawn.Sheets[spot.Sheet].Title
		if it.On == setout.OnCeiling && !strings.HasPrefix(title, "Ceiling") || it.On == setout.OnFloor && title != "Plan" ||
			it.On == setout.OnWall && !strings.HasPrefix(title, "Walls") {
			t.Errorf("%s is on the %s, but %q is on show", it.Name, it.On, title)
		}
		paper := p.drawn.Sheets[spot.Sheet].Paper
		if spot.Box.X0 < 0 || spot.Box.Y0 < 0 || spot.Box.X1 > paper.Width || spot.Box.Y1 > paper.Height {
			t.Errorf("%s is marked beside the paper: %+v", it.Name, spot.Box)
		}
	}
	for k, l := range b.Session.Design().Speakers {
		b.Session.ChooseSpeaker(k)
		if i := p.index(); i < 0 || p.out.Items[i].ID != l.ID {
			t.Errorf("%s is selected, its line is not", l.Name())
		}
	}
	b.Session.ChooseSeat(0)
	if i := p.index(); i < 0 || p.out.Items[i].ID != b.Session.Design().Seating.Rows[0].ID {
		t.Error("a seat is selected, the line of its row is not")
	}
}

// The mark is round the thing: where it is drawn, a click chooses it.
func TestAClickOnTheDrawingChoosesWhatIsThere(t *testing.T) {
	b, p := opened(t, "small")
	for i := range p.out.Items {
		if p.out.Items[i].Kind != setout.Speaker {
			continue
		}
		b.Session.Choose(session.Nothing())
		s := p.drawn.Spots[i]
		p.viewer.turnTo(s)
		sheet := p.viewer.sheet()
		x, y, scale := p.viewer.origin(sheet)
		p.viewer.Tapped(&fyne.PointEvent{Position: fyne.NewPos(float32(x+scale*(s.Box.X0+s.Box.X1)/2), float32(y+scale*(s.Box.Y0+s.Box.Y1)/2))})
		if got := p.index(); got < 0 || p.drawn.Spots[got].Sheet != s.Sheet {
			t.Errorf("%s: a click on it chooses nothing", p.out.Items[i].Name)
		}
	}
}

// Sheets turn with the keyboard, come nearer and fit again; the list goes from line to
// line, never off its end.
func TestListAndSheetsWithTheKeyboard(t *testing.T) {
	b, p := opened(t, "small")
	b.Window.Canvas().Focus(p.list)
	p.press(p.list, fyne.KeyDown, fyne.KeyDown, fyne.KeyUp)
	if p.index() != 0 {
		t.Errorf("line %d is chosen", p.index())
	}
	p.press(p.list, fyne.KeyEnd, fyne.KeyDown, fyne.KeyPageDown)
	if p.index() != len(p.out.Items)-1 {
		t.Errorf("line %d is chosen, the last is %d", p.index(), len(p.out.Items)-1)
	}
	p.press(p.list, fyne.KeyReturn)
	if p.viewer.zoom <= 1 || b.Window.Canvas().Focused() != p.viewer {
		t.Errorf("Enter does not look at the drawing: zoom %v", p.viewer.zoom)
	}
	for range 20 {
		p.viewer.TypedRune('+')
	}
	if k, ok := p.viewer.wanted(); !ok || k.wide > widest {
		t.Errorf("a picture %d pixels wide is wanted", k.wide)
	}
	p.viewer.TypedRune('0')
	if p.viewer.zoom != 1 {
		t.Error("0 does not show the whole sheet")
	}
	p.press(p.viewer, fyne.KeyHome, fyne.KeyPageUp)
	if p.viewer.at != 0 || !strings.HasPrefix(p.viewer.name.Text, "S1") {
		t.Errorf("Home turns to sheet %d, %q", p.viewer.at, p.viewer.name.Text)
	}
	p.press(p.viewer, fyne.KeyEnd, fyne.KeyPageDown)
	if p.viewer.at != p.viewer.count()-1 || !p.viewer.next.Disabled() {
		t.Errorf("End turns to sheet %d of %d", p.viewer.at, p.viewer.count())
	}
}

// Every word of the list can be read: nothing is cut, and the chosen line says all.
func TestNoLineOfTheListIsCut(t *testing.T) {
	b, p := opened(t, "large")
	for _, wide := range []float32{760, 960} {
		b.Window.Resize(fyne.NewSize(wide, 380))
		p.choose(4)
		said := strings.Builder{}
		for _, e := range p.list.rows {
			words := []string{e.name + " " + e.value}
			for _, l := range e.lines {
				words = append(words, l.text)
			}
			for _, line := range words {
				if w := fyne.MeasureText(line, textSize, fyne.TextStyle{Bold: e.name != ""}).Width; w > p.list.Size().Width && len(strings.Fields(line)) > 1 && !strings.HasPrefix(line, e.name) {
					t.Errorf("%q is %v wide, the list %v", line, w, p.list.Size().Width)
				}
				said.WriteString(line + " ")
			}
		}
		it := &p.out.Items[4]
		for _, text := range append(p.out.More(it), it.Name, p.out.Across(it)) {
			if !strings.Contains(said.String(), text) {
				t.Errorf("the list leaves out %q", text)
			}
		}
	}
}

// The picture of a sheet is not empty, and the mark is drawn on it.
func TestTheSheetIsDrawnAndMarked(t *testing.T) {
	b, p := opened(t, "small")
	inks := func() (dark, red int) {
		img := p.viewer.paint(500, 320).(*image.RGBA)
		for i := 0; i < len(img.Pix); i += 4 {
			switch r, g, b := img.Pix[i], img.Pix[i+1], img.Pix[i+2]; {
			case r == theme.PaperMark.R && g == theme.PaperMark.G && b == theme.PaperMark.B:
				red++
			case r < 80 && g < 80 && b < 80:
				dark++
			}
		}
		return dark, red
	}
	before, none := inks()
	p.choose(0)
	wait(t, b, p)
	if dark, red := inks(); before == 0 || dark == 0 || none != 0 || red == 0 {
		t.Errorf("dark %d, red %d before; %d and %d with a mark", before, none, dark, red)
	}
}

// The laser line, what it is above and the title block are edited, each one step of undo,
// and a line 10 times too high is asked about.
func TestDatumAndJobAreEdited(t *testing.T) {
	b, p := opened(t, "small")
	was := b.Session.Design()
	p.showForm(true)
	line := p.form.form.Line("Laser line").Entry
	typed := func(name, text string) {
		e := p.form.form.Line(name).Entry
		e.FocusGained()
		e.SetText(text)
		e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		e.FocusLost()
	}
	if !strings.Contains(line.Text, "(usual)") {
		t.Errorf("without a line the entry says %q", line.Text)
	}
	typed("Laser line", "1200")
	if got := b.Session.Design().Datum.Height; got < 1.1999 || got > 1.2001 {
		t.Errorf("the line is at %v", got)
	}
	wait(t, b, p)
	if p.out.Datum.Height != 1.2 {
		t.Errorf("the list is from a line at %v", p.out.Datum.Height)
	}
	if err := setChoice(p, "Above the", 1); err != nil || b.Session.Design().Datum.From != project.StructuralFloor {
		t.Error("not above the structural floor:", err)
	}
	if err := setChoice(p, "Across from", 1); err != nil || b.Session.Design().Datum.Across == project.CentreLine {
		t.Error("not from a wall:", err)
	}
	typed("Job", "K-14")
	typed("Revised on", "tomorrow")
	if why := p.form.form.Line("Revised on").Fault(); !strings.Contains(why, "year-month-day") {
		t.Errorf("a day that is none: %q", why)
	}
	typed("Revised on", "2026-11-29")
	p.form.form.Line("Revised on").Entry.FocusGained()
	p.form.form.Line("Revised on").Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if j := b.Session.Design().Job; j.Reference != "K-14" || j.RevisedOn != "2026-11-30" {
		t.Errorf("the job is %+v", j)
	}
	for range 6 {
		b.Session.Undo()
	}
	if d := b.Session.Design(); d.Datum.Given() || d.Job != was.Job {
		t.Errorf("six steps of undo leave %+v %+v", d.Datum, d.Job)
	}
}

func setChoice(p *setOutPage, name string, i int) error {
	c := p.form.form.Line(name).Choice
	c.SetSelectedIndex(i)
	return nil
}

// Of a room that is opened next nothing of the last is chosen or shown.
func TestAnotherRoomBeginsAtItsFirstSheet(t *testing.T) {
	b, p := opened(t, "large")
	p.choose(len(p.out.Items) - 1)
	b.Session.Open(pagetest.Demo(t, "small"))
	p.Forget()
	p.Update()
	wait(t, b, p)
	if p.index() >= 0 || p.viewer.at != 0 || len(p.out.Items) == 0 {
		t.Errorf("line %d, sheet %d", p.index(), p.viewer.at)
	}
}

// The preview shows every sheet, turned by the keyboard, and ends with Escape.
func TestThePreviewShowsEverySheet(t *testing.T) {
	b, p := opened(t, "small")
	pagetest.Run(t, p, "setout.preview")
	if !b.Frame.Busy() || b.Window.Canvas().Focused() != p.large {
		t.Fatal("no preview has the keyboard")
	}
	for n := range p.large.count() {
		if p.large.at != n {
			t.Errorf("sheet %d is on show, want %d", p.large.at, n)
		}
		b.Queue.Until(t, func() bool { _, state := p.large.picture.Get(); return state == session.Fresh })
		p.press(p.large, fyne.KeyPageDown)
	}
	b.Frame.Ask.Escape()
	if b.Frame.Busy() || p.previewing {
		t.Error("Escape does not end it")
	}
	test.WidgetRenderer(p.viewer).Refresh()
}

// A list that somebody scrolls stays where it is when an answer arrives or a loudspeaker
// is dragged, and nothing is painted for either.
func TestWhoScrollsTheListIsNotLedBack(t *testing.T) {
	b, p := opened(t, "large")
	p.choose(0)
	wait(t, b, p)
	p.list.ScrollToBottom()
	at, was := p.list.GetScrollOffset(), p.viewer.look
	for range 3 {
		p.Update()
	}
	if now := p.list.GetScrollOffset(); at == 0 || now != at || p.viewer.look != was {
		t.Errorf("scrolled to %v, then it is at %v", at, now)
	}
}
