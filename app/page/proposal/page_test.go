// SPDX-License-Identifier: MIT

package proposal

import (
	"context"
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/field"
	"earline/app/page/pagetest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/solve"
)

// onProposal opens the page on a demo.
func onProposal(t *testing.T, demo string) (*pagetest.Bench, *proposalPage) {
	t.Helper()
	b := pagetest.Open(t, demo)
	p := newPage(b.Session, b.Frame)
	b.Show(p)
	return b, p
}

func raise(t *testing.T, b *pagetest.Bench) {
	t.Helper()
	if err := b.Session.Do("raise", "", func(d *project.Design) { d.Speakers[0].At.Z += 0.1 }); err != nil {
		t.Fatal(err)
	}
}

// lifted is work that proposes to raise the first loudspeaker by half a metre.
func lifted(_ context.Context, d *project.Design, _ practice.Standard, p solve.Progress) (*solve.Proposal, solverExtras, error) {
	p(0.5, "half way")
	to := d.Clone()
	to.Speakers[0].At.Z += 0.5
	return &solve.Proposal{Design: to,
		Changes: []solve.Change{{What: "M+030 height", From: 1, To: 1.5}},
		Before:  solve.Counts{Blocked: 7}, After: solve.Counts{Blocked: 3},
		Proof: []solve.Obstacle{{Text: "The ceiling is in the way."}},
	}, solverExtras{words: "more words"}, nil
}

func shownText(p *proposalPage) string {
	var b strings.Builder
	for l := range pagetest.Objects[*widget.Label](p.sheet.object) {
		b.WriteString(l.Text + "\n")
	}
	return b.String()
}

func TestAProposalIsShownAndAcceptedInOneStep(t *testing.T) {
	b, p := onProposal(t, "large")
	before := b.Session.Doc.Design()
	p.solve("Lift", lifted)
	if !p.Open() || !p.sheet.cancel.Visible() || !p.sheet.bar.Visible() {
		t.Error("nothing says that work is under way, or it cannot be cancelled")
	}
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	for _, want := range []string{"M+030 height: 1.000 m to 1.500 m", "The ceiling is in the way.", "more words"} {
		if !strings.Contains(shownText(p), want) {
			t.Errorf("%q is not shown in\n%s", want, shownText(p))
		}
	}
	if b.Session.Doc.Design() != before {
		t.Fatal("the design changed before it was accepted")
	}
	b.Press(t, "Accept")
	if got := b.Session.Doc.Design().Speakers[0].At.Z - before.Speakers[0].At.Z; got < 0.499 || got > 0.501 {
		t.Errorf("raised by %v, want 0.5 m", got)
	}
	if b.Session.Doc.UndoLabel() != "Lift" || b.Session.Offer != nil || p.Open() {
		t.Error("the proposal is still there")
	}
	b.Session.Undo()
	if b.Session.Doc.Design() != before {
		t.Error("one undo does not take it back")
	}
}

func TestARefusedProposalIsGone(t *testing.T) {
	b, p := onProposal(t, "large")
	before := b.Session.Doc.Design()
	for _, end := range []func(){
		func() { b.Press(t, "Refuse") },
		func() { raise(t, b); b.Session.Undo() }, // it is no longer about this design
		func() { b.Session.Open(pagetest.Demo(t, "small")) },
	} {
		p.solve("Lift", lifted)
		b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
		end()
		if b.Session.Offer != nil || p.Open() {
			t.Error("the proposal is still there")
		}
	}
	if before.Speakers[0].At != b.Session.Doc.Design().Speakers[0].At && b.Session.Doc.Design().Name == before.Name {
		t.Error("a refused proposal changed the design")
	}
}

func TestACancelledSolverEnds(t *testing.T) {
	b, p := onProposal(t, "large")
	stopped := make(chan struct{})
	p.solve("Lift", func(ctx context.Context, _ *project.Design, _ practice.Standard, _ solve.Progress) (*solve.Proposal, solverExtras, error) {
		<-ctx.Done()
		close(stopped)
		return nil, solverExtras{}, ctx.Err()
	})
	b.Press(t, "Cancel")
	<-stopped
	if p.Open() || b.Frame.Busy() {
		t.Error("cancelled, and yet something is shown")
	}
}

func TestASolverThatFailsIsTold(t *testing.T) {
	b, p := onProposal(t, "large")
	p.solve("Lift", func(context.Context, *project.Design, practice.Standard, solve.Progress) (*solve.Proposal, solverExtras, error) {
		return nil, solverExtras{}, errors.New("no seats")
	})
	b.Queue.Until(t, b.Frame.Busy)
	if b.Session.Offer != nil || p.Open() {
		t.Error("a proposal is offered all the same")
	}
}

// The proposal for rows shows, in a table, which risers go with which lower edge
// of the picture, and which of them cannot be had.
func TestRowsShowTheirTradeOff(t *testing.T) {
	b, p := onProposal(t, "large")
	if p.sheet.tradeBox.Visible() {
		t.Error("there is a table before there is a proposal")
	}
	d := b.Session.Doc.Design()
	r, err := solve.Rows(context.Background(), d, solve.RowsOptions{Curve: 7})
	if err != nil {
		t.Fatal(err)
	}
	p.solve("Rows", solvers()[2].ask(&ask.Options{Units: d.Units}, 3))
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	var shown []string
	for c := range pagetest.Objects[*canvas.Text](p.sheet.tradeBox) {
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
	b.Press(t, "Refuse")
	p.solve("Lift", lifted)
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if p.sheet.tradeBox.Visible() {
		t.Error("the table of another solver is left on the page")
	}
}

// Every entry of the menu Solve asks, works on the demo, and can be accepted.
func TestEverySolverOfTheMenuWorks(t *testing.T) {
	for _, s := range solvers() {
		t.Run(s.name, func(t *testing.T) {
			room := "two-row"
			if s.id == "projector" {
				room = "large" // the one with a projector
			}
			b, p := onProposal(t, room)
			p.askFor(s)
			if !b.Frame.Busy() {
				t.Fatal("it asks for nothing")
			}
			b.Press(t, "Propose")
			b.Queue.Until(t, func() bool { return b.Session.Offer != nil || b.Frame.Busy() })
			if b.Session.Offer == nil {
				t.Fatal("no proposal")
			}
			if len(b.Session.Offer.Details.(*solution).Changes) == 0 {
				return
			}
			b.Press(t, "Accept")
			if b.Frame.Busy() || b.Session.Doc.UndoLabel() != s.name {
				t.Errorf("not accepted; undo is %q", b.Session.Doc.UndoLabel())
			}
		})
	}
}

// Lift, Rows and First layout can be asked for everyone; they say for whom.
func TestSolversForEveryone(t *testing.T) {
	d, _ := file.Demo("small")
	asked := 0
	for _, s := range solvers() {
		f := &ask.Options{}
		run := s.ask(f, 3)
		for _, i := range f.Items() {
			c, ok := i.Widget.(*field.Tick)
			if !ok || c.Text != forEveryone {
				continue
			}
			asked++
			c.SetChecked(true)
			if err := f.Read(); err != nil {
				t.Fatal(err)
			}
			p, _, err := run(t.Context(), d, practice.Standard{}, nil)
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

// The proposal to lift shows what other limits of elevation come to, and one of them
// can be picked.
func TestLiftShowsItsLimitsToPickFrom(t *testing.T) {
	b, p := onProposal(t, "large")
	d := b.Session.Doc.Design()
	points, err := solve.LiftCurve(t.Context(), d, solve.LiftOptions{})
	if err != nil {
		t.Fatal(err)
	}
	p.solve("Lift", solvers()[0].ask(&ask.Options{Units: d.Units}, 3))
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if len(p.sheet.limit.Options) < 5 {
		t.Fatalf("to pick from: %v", p.sheet.limit.Options)
	}
	at20 := b.Session.Offer.Design.Speakers
	p.sheet.limit.SetSelected(p.sheet.limit.Options[0])
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if got := b.Session.Offer.Details.(*solution).After; got != points[0].After || points[0].Limit != 10 {
		t.Errorf("picked 10 degrees: %+v, want %+v", got, points[0].After)
	}
	b.Press(t, "Accept")
	for k, s := range b.Session.Doc.Design().Speakers {
		if s.At.Z > at20[k].At.Z {
			t.Errorf("%s hangs higher", s.Name())
		}
	}
	p.solve("Lift", lifted)
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if p.sheet.tradeBox.Visible() {
		t.Error("the limits of another proposal are left on the page")
	}
}

// The dialog for lifting showed its tick for the fronts as off, and worked as if on.
func TestTicksShowWhatHoldsWithoutThem(t *testing.T) {
	f := &ask.Options{}
	solvers()[0].ask(f, 3)
	for _, i := range f.Items() {
		if c, ok := i.Widget.(*field.Tick); ok && c.Text == "Raise fronts behind the screen too" && !c.Checked {
			t.Error("it is off")
		}
	}
}
