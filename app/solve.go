// SPDX-License-Identifier: MIT

package app

import (
	"context"

	"earline/app/remarks"
	"earline/app/session"
	"earline/project"
	"earline/project/practice"
)

// wish asks for the options of a solver and begins it.
func (w *Window) wish(s solver) {
	if w.busy() {
		return
	}
	d := w.session.Doc.Design()
	f := &optionsForm{units: d.Units, seats: seatsOf(d)}
	do := s.wish(f)
	w.askForm(s.name, s.does, "Propose", f.items, f.first, func() error {
		if err := f.read(); err != nil {
			return err
		}
		w.solve(s.name, do)
		return nil
	})
}

// solve works a proposal out in the background and then shows it.
func (w *Window) solve(name string, do solverFunc) {
	w.commit()
	w.cancelDrag()
	std := w.session.Standard()
	now, state := w.session.Known.Practice.Get()
	w.session.Propose(proposalPage.String(), name, func(ctx context.Context, d *project.Design, tell func(float64, string)) (*session.Proposal, error) {
		p, more, err := do(ctx, d, tell)
		if err != nil {
			return nil, err
		}
		if state != session.Fresh {
			now = practice.Check(d, nil, std)
		}
		return &session.Proposal{Design: p.Design, Details: &solution{Proposal: p, solverExtras: more,
			remarksNow: remarks.Count(now), remarksThen: remarks.Count(practice.Check(p.Design, nil, std))}}, nil
	})
}

// offered returns the proposal that a page asked for; nil for none.
func (w *Window) offered(p page) *session.Proposal {
	if o := w.session.Offer; o != nil && o.Page == p.String() {
		return o
	}
	return nil
}

// working returns how far the proposal is that a page asked for; ok is false when
// none is under way.
func (w *Window) working(p page) (on session.Proposing, ok bool) {
	on, ok = w.session.Proposing()
	return on, ok && on.Page == p.String()
}

// showProposal shows that a proposal, or the work on one, has come or gone.
func (w *Window) showProposal() {
	on, busy := w.working(proposalPage)
	switch o := w.offered(proposalPage); {
	case busy:
		w.sheet.working(on.Name)
		w.drawer.offer(true)
	case o != nil:
		w.sheet.show(o.Name, o.Details.(*solution), w.session.Design().Units)
		w.drawer.offer(true)
		w.unmark()
	default:
		w.drawer.offer(false)
	}
	w.updateSound()
	w.redraw()
	w.showStatus()
}

// dropProposal takes the page of a proposal away that an edit has ended.
func (w *Window) dropProposal() {
	_, busy := w.working(proposalPage)
	if !busy && w.offered(proposalPage) == nil {
		w.drawer.offer(false)
	}
}

// accept makes the proposal the design: one step of undo.
func (w *Window) accept() {
	if err := w.session.Accept(); err != nil {
		w.session.Refuse()
		w.report("The proposal cannot be accepted", err)
	}
}
