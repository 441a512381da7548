// SPDX-License-Identifier: MIT

package app

import (
	"context"

	"earline/app/remarks"
	"earline/project"
	"earline/project/practice"
)

// wish asks for the options of a solver and begins it.
func (w *Window) wish(s solver) {
	if w.busy() {
		return
	}
	d := w.session.Doc.Design()
	f := &wishes{units: d.Units, seats: seatsOf(d)}
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
func (w *Window) solve(name string, do work) {
	w.commit()
	w.cancelDrag()
	w.refuse()
	w.dropBass()
	d, std := w.session.Doc.Design(), w.session.Standard() // neither changes once made
	w.sheet.working(name)
	w.drawer.offer(true)
	w.solving.Start(func(ctx context.Context, tell func(float64, string)) (*offer, error) {
		p, more, err := do(ctx, d, tell)
		if err != nil {
			return nil, err
		}
		o := &offer{name: name, more: more, Proposal: p}
		o.remarksNow = remarks.Count(practice.Check(d, nil, std))
		o.remarksThen = remarks.Count(practice.Check(p.Design, nil, std))
		return o, nil
	}, func(share float64, what string) { w.sheet.tell(name, share, what) },
		func(o *offer, err error) {
			if err != nil {
				w.refuse()
				w.report(name+" cannot be done", err)
				return
			}
			w.propose(o)
		})
}

// propose shows a proposal: as a ghost in the picture and in words on its page.
func (w *Window) propose(o *offer) {
	w.proposal = o
	w.sheet.show(o, w.session.Doc.Design().Units)
	w.drawer.offer(true)
	w.unmark()
	w.options.Ghost = o.Design
	w.redraw()
	w.showStatus()
}

// refuse drops the proposal, or the work on one.
func (w *Window) refuse() {
	w.solving.Cancel()
	w.proposal = nil
	w.drawer.offer(false)
	if w.options.Ghost != nil {
		w.options.Ghost = nil
		w.redraw()
	}
}

// accept makes the proposal the design: one step of undo.
func (w *Window) accept() {
	o := w.proposal
	if o == nil {
		return
	}
	if err := w.Do(o.name, "", func(d *project.Design) { *d = *o.Design }); err != nil {
		w.report("The proposal cannot be accepted", err)
	}
	w.refuse()
}
