// SPDX-License-Identifier: MIT

package app

import (
	"context"
	"errors"
	"iter"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/solve"
)

// dialogEntries returns the entries of the dialog that is open.
func dialogEntries(w *Window) (found []*formEntry) {
	for e := range objects[*formEntry](w.win.Canvas().Overlays().Top()) {
		found = append(found, e)
	}
	return found
}

// objects returns everything of one kind in what is shown of root.
func objects[T fyne.CanvasObject](root fyne.CanvasObject) iter.Seq[T] {
	return func(yield func(T) bool) {
		more := true
		walk(root, func(o fyne.CanvasObject) {
			if v, ok := o.(T); ok && more {
				more = yield(v)
			}
		})
	}
}

func demoNamed(t *testing.T, name string) assets.Demo {
	t.Helper()
	d, ok := assets.DemoNamed(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

// lifted is work that proposes to raise the first loudspeaker by half a metre.
func lifted(_ context.Context, d *project.Design, p solve.Progress) (*solve.Proposal, solverExtras, error) {
	p(0.5, "half way")
	to := d.Clone()
	to.Speakers[0].At.Z += 0.5
	return &solve.Proposal{Design: to,
		Changes: []solve.Change{{What: "M+030 height", From: 1, To: 1.5}},
		Before:  solve.Counts{Blocked: 7}, After: solve.Counts{Blocked: 3},
		Proof: []solve.Obstacle{{Text: "The ceiling is in the way."}},
	}, solverExtras{words: "more words"}, nil
}

func shownText(w *Window) string {
	var b strings.Builder
	for l := range objects[*widget.Label](w.sheet.object) {
		b.WriteString(l.Text + "\n")
	}
	return b.String()
}

func TestAProposalIsShownAndAcceptedInOneStep(t *testing.T) {
	q := &queue{}
	w, f := testWindow(t, Config{Demo: "large", Post: q.post})
	before := w.session.Doc.Design()
	w.solve("Lift", lifted)
	if w.drawer.top != proposalPage || !w.sheet.cancel.Visible() || !w.sheet.bar.Visible() {
		t.Error("nothing says that work is under way, or it cannot be cancelled")
	}
	q.until(t, func() bool { return w.session.Offer != nil })
	if !drawn(f, "proposed moves") {
		t.Error("the proposal is not in the picture")
	}
	for _, want := range []string{"M+030 height: 1.000 m to 1.500 m", "The ceiling is in the way.", "more words"} {
		if !strings.Contains(shownText(w), want) {
			t.Errorf("%q is not shown in\n%s", want, shownText(w))
		}
	}
	if w.session.Doc.Design() != before {
		t.Fatal("the design changed before it was accepted")
	}
	press(t, w, "Accept")
	if got := w.session.Doc.Design().Speakers[0].At.Z - before.Speakers[0].At.Z; got < 0.499 || got > 0.501 {
		t.Errorf("raised by %v, want 0.5 m", got)
	}
	if w.session.Doc.UndoLabel() != "Lift" || w.session.Offer != nil || drawn(f, "proposed moves") || w.drawer.tabs[proposalPage].Visible() {
		t.Error("the proposal is still there")
	}
	w.undo()
	if w.session.Doc.Design() != before {
		t.Error("one undo does not take it back")
	}
}

func TestARefusedProposalIsGone(t *testing.T) {
	q := &queue{}
	w, f := testWindow(t, Config{Demo: "large", Post: q.post})
	before := w.session.Doc.Design()
	for _, end := range []func(){
		func() { press(t, w, "Refuse") },
		func() { raise(t, w, 0.1); w.undo() }, // it is no longer about this design
		func() { w.openDemo(demoNamed(t, "small")) },
	} {
		w.solve("Lift", lifted)
		q.until(t, func() bool { return w.session.Offer != nil })
		end()
		if w.session.Offer != nil || drawn(f, "proposed moves") || w.drawer.top == proposalPage {
			t.Error("the proposal is still there")
		}
	}
	if before.Speakers[0].At != w.session.Doc.Design().Speakers[0].At && w.session.Doc.Design().Name == before.Name {
		t.Error("a refused proposal changed the design")
	}
}

func TestACancelledSolverEnds(t *testing.T) {
	q := &queue{}
	w, _ := testWindow(t, Config{Demo: "large", Post: q.post})
	stopped := make(chan struct{})
	w.solve("Lift", func(ctx context.Context, _ *project.Design, _ solve.Progress) (*solve.Proposal, solverExtras, error) {
		<-ctx.Done()
		close(stopped)
		return nil, solverExtras{}, ctx.Err()
	})
	press(t, w, "Cancel")
	<-stopped
	if w.drawer.top == proposalPage || w.busy() {
		t.Error("cancelled, and yet something is shown")
	}
}

func TestASolverThatFailsIsTold(t *testing.T) {
	q := &queue{}
	w, _ := testWindow(t, Config{Demo: "large", Post: q.post})
	w.solve("Lift", func(context.Context, *project.Design, solve.Progress) (*solve.Proposal, solverExtras, error) {
		return nil, solverExtras{}, errors.New("no seats")
	})
	q.until(t, w.busy)
	if w.session.Offer != nil || w.drawer.tabs[proposalPage].Visible() {
		t.Error("a proposal is offered all the same")
	}
}

// The proposal for rows shows, in a table, which risers go with which lower edge
// of the picture, and which of them cannot be had.
func TestRowsShowTheirTradeOff(t *testing.T) {
	q := &queue{}
	w, _ := testWindow(t, Config{Demo: "large", Post: q.post})
	if w.sheet.tradeBox.Visible() {
		t.Error("there is a table before there is a proposal")
	}
	d := w.session.Doc.Design()
	r, err := solve.Rows(context.Background(), d, solve.RowsOptions{Curve: 7})
	if err != nil {
		t.Fatal(err)
	}
	w.solve("Rows", solvers()[2].wish(&optionsForm{units: d.Units}))
	q.until(t, func() bool { return w.session.Offer != nil })
	var shown []string
	for c := range objects[*canvas.Text](w.sheet.tradeBox) {
		shown = append(shown, c.Text)
	}
	all := strings.Join(shown, "|")
	if len(r.Curve) != 7 || !strings.Contains(all, "Lower edge|Row 2|Row 3") {
		t.Errorf("the table says %s", all)
	}
	for _, c := range r.Curve {
		line := unit.Length(c.Bottom).Format(true) + "|" + unit.Length(c.Risers[1]).Format(true) + "|" + unit.Length(c.Risers[2]).Format(true) + "|"
		if !c.OK {
			line += "not enough"
		}
		if !strings.Contains(all, line) {
			t.Errorf("%q is not in %s", line, all)
		}
	}
	if r.Curve[0].OK || !r.Curve[6].OK {
		t.Error("the demo no longer has both kinds of line")
	}
	press(t, w, "Refuse")
	w.solve("Lift", lifted)
	q.until(t, func() bool { return w.session.Offer != nil })
	if w.sheet.tradeBox.Visible() {
		t.Error("the table of another solver is left on the page")
	}
}

// Every entry of the menu Solve asks, works on the demo, and can be accepted.
func TestEverySolverOfTheMenuWorks(t *testing.T) {
	for _, s := range solvers() {
		t.Run(s.name, func(t *testing.T) {
			q := &queue{}
			w, _ := testWindow(t, Config{Demo: "two-row", Post: q.post})
			w.wish(s)
			if !w.busy() {
				t.Fatal("it asks for nothing")
			}
			press(t, w, "Propose")
			q.until(t, func() bool { return w.session.Offer != nil || w.busy() })
			if w.session.Offer == nil {
				t.Fatal("no proposal")
			}
			if len(w.session.Offer.Details.(*solution).Changes) == 0 {
				return
			}
			press(t, w, "Accept")
			if w.busy() || w.session.Doc.UndoLabel() != s.name {
				t.Errorf("not accepted; undo is %q", w.session.Doc.UndoLabel())
			}
		})
	}
}

// Lift, Rows and First layout can be asked for everyone; they say for whom.
func TestSolversForEveryone(t *testing.T) {
	d, _ := file.Demo("small")
	asked := 0
	for _, s := range solvers() {
		f := &optionsForm{seats: 3}
		run := s.wish(f)
		for _, i := range f.items {
			c, ok := i.Widget.(*widget.Check)
			if !ok || c.Text != forEveryone {
				continue
			}
			asked++
			c.SetChecked(true)
			if err := f.read(); err != nil {
				t.Fatal(err)
			}
			p, _, err := run(t.Context(), d, nil)
			if err != nil {
				t.Fatal(err)
			}
			said := p.Note
			for _, o := range p.Proof {
				said += o.Text
			}
			if !strings.Contains(said, "P5 to P95 at every recline") {
				t.Errorf("%s does not say for whom: %s", s.name, said)
			}
		}
	}
	if asked != 3 {
		t.Errorf("%d solvers can be asked for everyone", asked)
	}
}

func TestWishesAreReadInTheirUnits(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	var o solve.LiftOptions
	f := &optionsForm{units: project.Imperial}
	f.degrees("Elevation", &o.Elevation)
	f.length("Shift", &o.Shift)
	w.askForm("x", "y", "Go", f.items, f.first, f.read)
	e := dialogEntries(w)
	e[0].SetText("25")
	e[1].SetText("20")
	press(t, w, "Go")
	if w.busy() || o.Elevation != 25 || o.Shift < 0.5079 || o.Shift > 0.5081 {
		t.Errorf("read %+v", o)
	}
	w.askForm("x", "y", "Go", f.items, f.first, f.read)
	e[1].SetText("some")
	press(t, w, "Go")
	if !w.busy() || o.Elevation != 25 {
		t.Error("what is no length was taken")
	}
	e[1].TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.busy() {
		t.Error("Escape does not close the form")
	}
}
