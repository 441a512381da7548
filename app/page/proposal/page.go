// SPDX-License-Identifier: MIT

// Package proposal is the page of what a solver works on or proposes: what it would
// change, what it gains and what stands against it. It is there only meanwhile. UI
// goroutine only.
package proposal

import (
	"context"
	"errors"

	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/page"
	"earline/app/session"
	"earline/project"
	"earline/project/practice"
	"earline/project/solve"
	"earline/scene"
)

// proposalPage asks solvers for proposals and shows them.
type proposalPage struct {
	session *session.Session
	frame   page.Frame
	sheet   *sheet
	shown   *session.Proposal // on the sheet; nil while work is under way
}

// New returns the page.
func New(s *session.Session, f page.Frame) page.Page { return newPage(s, f) }

func newPage(s *session.Session, f page.Frame) *proposalPage {
	p := &proposalPage{session: s, frame: f}
	p.sheet = newSheet(s.Refuse, s.Refuse, p.accept, p.choose)
	p.sheet.pick = p.pick
	return p
}

const title = "Proposal"

// Title implements page.Page, as do the methods below.
func (p *proposalPage) Title() string { return title }

// Says says what the page shows.
func (p *proposalPage) Says() string { return "Shows what a solver proposes." }

// Body returns the sheet.
func (p *proposalPage) Body() fyne.CanvasObject { return p.sheet.object }

// Head returns the name of the proposal and what can be done about it.
func (p *proposalPage) Head() fyne.CanvasObject { return p.sheet.head }

// Open reports whether a solver is at work or its proposal on show. It implements
// page.Transient.
func (p *proposalPage) Open() bool {
	_, busy := p.session.ProposingFor(title)
	return busy || p.session.OfferOf(title) != nil
}

// First returns what ends the work, or takes the proposal. It implements page.Keyed.
func (p *proposalPage) First() fyne.Focusable {
	if p.sheet.cancel.Visible() {
		return p.sheet.cancel
	}
	if p.sheet.accept.Disabled() {
		return p.sheet.refuse
	}
	return p.sheet.accept
}

// Update shows how far the work is, or its proposal.
func (p *proposalPage) Update() {
	on, busy := p.session.ProposingFor(title)
	offer := p.session.OfferOf(title)
	switch {
	case busy:
		p.shown = nil
		p.sheet.working(on.Name, on.Share, on.What)
	case offer != nil && offer != p.shown:
		p.shown = offer
		p.sheet.show(offer.Name, offer.Details.(*solution), p.session.Design().Units)
	}
}

// Progress shows how far the work is. It implements page.Worker.
func (p *proposalPage) Progress() { p.Update() }

// Overlay adds nothing: the picture draws what is proposed.
func (p *proposalPage) Overlay(*scene.Options) {}

// Commands returns the solvers, and what can be done about a proposal.
func (p *proposalPage) Commands() []command.Command {
	var all []command.Command
	for i, s := range solvers() { // below those of the bass
		all = append(all, command.Command{ID: "solve." + s.id, Name: s.name + "…", Menu: "Solve", LineAbove: i == 0, Says: s.does,
			Do: func() { p.askFor(s) }})
	}
	need := func() error {
		if p.session.Offer == nil {
			return errors.New("there is no proposal")
		}
		return nil
	}
	return append(all,
		command.Command{ID: "proposal.accept", Name: "Accept the proposal", Menu: "Solve", LineAbove: true,
			Says: "Makes what is proposed the design, in one step of undo.",
			Can:  need,
			Do:   p.accept},
		command.Command{ID: "proposal.refuse", Name: "Refuse the proposal", Menu: "Solve",
			Says: "Drops what is proposed, or what is being worked out.",
			Can: func() error {
				if _, busy := p.session.Proposing(); busy {
					return nil
				}
				return need()
			},
			Do: p.session.Refuse})
}

// askFor asks for the options of a solver and begins it.
func (p *proposalPage) askFor(s solver) {
	if p.frame.Busy() {
		return
	}
	d := p.session.Doc.Design()
	seats := 0
	for _, r := range d.Seating.Rows {
		seats += r.Seats
	}
	f := &ask.Options{Units: d.Units}
	work := s.ask(f, seats)
	p.frame.Ask.Options(s.name, s.does, "Propose", f, func() { p.solve(s.name, work) })
}

// solve works a proposal out in the background and then shows it.
func (p *proposalPage) solve(name string, work solverFunc) {
	p.frame.Commit()
	p.session.Draft(nil)
	std := p.session.Standard()
	now, state := p.session.Known.Practice.Get()
	p.session.Propose(title, name, func(ctx context.Context, d *project.Design, tell func(float64, string)) (*session.Proposal, error) {
		to, more, err := work(ctx, d, std, tell)
		if err != nil {
			return nil, err
		}
		if state != session.Fresh {
			now = practice.Check(d, nil, std)
		}
		return &session.Proposal{Design: to.Design, Details: &solution{Proposal: to, solverExtras: more,
			remarksNow: now.Counts(), remarksThen: practice.Check(to.Design, nil, std).Counts()}}, nil
	})
	p.frame.Raise(p)
}

// pick proposes what another limit of elevation comes to.
func (p *proposalPage) pick(t solve.LiftPoint) {
	offer := p.session.OfferOf(title)
	if offer == nil {
		return
	}
	more := offer.Details.(*solution).solverExtras
	more.picked = t.Limit
	p.solve(offer.Name, func(context.Context, *project.Design, practice.Standard, solve.Progress) (*solve.Proposal, solverExtras, error) {
		return t.Proposal, more, nil
	})
}

// accept makes the proposal the design: one step of undo.
func (p *proposalPage) accept() { p.frame.Accept(p.session) }

var _ interface {
	page.Transient
	page.Worker
} = (*proposalPage)(nil)
