// SPDX-License-Identifier: MIT

package sight

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
)

// onSight opens the page on a demo; sat gets the seats that are to be sat in.
func onSight(t *testing.T, demo string, sat *int) (*pagetest.Bench, *sightPage) {
	t.Helper()
	b := pagetest.Open(t, demo)
	p := newPage(b.Session, b.Frame, func(seat int) { *sat = seat })
	b.Show(p)
	return b, p
}

// A click on a cell looks along its path, one on a heading opens the loudspeaker or
// sits in the seat.
func TestClicksSelect(t *testing.T) {
	sat := session.None
	b, p := onSight(t, "small", &sat)
	x, y, _ := p.matrix.cell(cell{1, 2})
	click(p.matrix, x+5, y+5)
	if c := b.Session.Chosen; !c.Path || c.Seat != 1 || c.Speaker != 2 {
		t.Errorf("%+v", c)
	}
	click(p.matrix, x+5, 5)
	if c := b.Session.Chosen; c.Path || c.Speaker != 2 || p.matrix.Chosen() != nil {
		t.Errorf("%+v, marked %v", c, p.matrix.Chosen())
	}
	click(p.matrix, 5, y+5)
	if sat != 1 {
		t.Errorf("sat in %d", sat)
	}
}

// The table marks the path that is looked along, whoever chose it, until it is gone.
func TestTheTableFollowsTheSelection(t *testing.T) {
	sat := session.None
	b, p := onSight(t, "large", &sat)
	b.Session.LookAlong(13, session.None)
	if c := p.matrix.Chosen(); c == nil || *c != (cell{13, picture}) {
		t.Errorf("marked %v", c)
	}
	if err := b.Session.Do("remove row 3", "", func(d *project.Design) { d.Seating.Rows = d.Seating.Rows[:2] }); err != nil {
		t.Fatal(err)
	}
	if p.matrix.Chosen() != nil || len(p.matrix.result.Seats) != 10 {
		t.Errorf("marked %v of %d seats", p.matrix.Chosen(), len(p.matrix.result.Seats))
	}
}

// What is pointed at is said in words, and what does not change the table leaves it.
func TestWhatIsPointedAtIsSaid(t *testing.T) {
	sat := session.None
	b, p := onSight(t, "small", &sat)
	x, y, _ := p.matrix.cell(cell{0, 1})
	ev := &desktop.MouseEvent{}
	ev.Position = fyne.NewPos(x+5, y+5)
	p.matrix.MouseMoved(ev)
	want := b.Session.PathSentence(0, 1)
	if got := p.Sentence(); got != want || got == "" {
		t.Errorf("says %q, want %q", got, want)
	}
	b.Session.Say("something else")
	if p.Sentence() != want {
		t.Error("it forgets what is pointed at")
	}
	p.matrix.MouseOut()
	if got := p.Sentence(); got != "" {
		t.Errorf("nothing is pointed at and it says %q", got)
	}
}
