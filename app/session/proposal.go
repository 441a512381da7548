// SPDX-License-Identifier: MIT

package session

import (
	"context"
	"errors"
	"time"

	"earline/project"
)

// Proposal is another design on show beside the present one, whoever made it.
type Proposal struct {
	Name   string          // of what made it; accepting it is undone under this name
	Page   string          // that asked for it and shows it
	Design *project.Design // what is proposed
	// OnPage is whether it is drawn only while its page is on top; else it is drawn
	// until it is accepted or refused.
	OnPage bool
	// Details is what its page says about it.
	Details any

	of *project.Design // what it was made for
}

// Proposing is how far the work on a proposal is.
type Proposing struct {
	Name, Page string
	Share      float64 // done
	What       string  // is being done; empty at first
}

// attempt is the work on a proposal.
type attempt struct {
	Proposing
	cancel context.CancelFunc
}

// Propose works a proposal out in the background, in place of any other, and
// offers it on the page that asks. Show is told as it goes on. An edit ends it.
// When it fails Report is told, unless it was refused.
func (s *Session) Propose(page, name string, work func(ctx context.Context, d *project.Design, tell func(share float64, what string)) (*Proposal, error)) {
	s.Draft(nil)
	s.withdraw()
	ctx, cancel := context.WithCancel(context.Background())
	a := &attempt{Proposing{Name: name, Page: page}, cancel}
	s.attempt = a
	d, post, every := s.Doc.Design(), s.host.post, s.host.every
	var said time.Time
	s.host.background(func() {
		defer cancel()
		p, err := work(ctx, d, func(share float64, what string) {
			now := time.Now()
			if now.Sub(said) < every {
				return
			}
			said = now
			post(func() {
				if s.attempt == a {
					a.Share, a.What = share, what
					s.changed(ProgressMade)
				}
			})
		})
		post(func() {
			if s.attempt != a {
				return // refused, or of an earlier design
			}
			s.attempt = nil
			if err == nil {
				p.Name, p.Page, p.of = name, page, d
				s.Offer = p
			}
			s.changed(ProposalChanged)
			if err != nil && !errors.Is(err, context.Canceled) && s.Report != nil {
				s.Report(name+" cannot be done", err)
			}
		})
	})
	s.changed(ProposalChanged)
}

// Proposing returns how far the work on a proposal is; ok is false when there is
// none under way.
func (s *Session) Proposing() (p Proposing, ok bool) {
	if s.attempt == nil {
		return Proposing{}, false
	}
	return s.attempt.Proposing, true
}

// OfferOf returns the proposal that a page asked for; nil for none.
func (s *Session) OfferOf(page string) *Proposal {
	if p := s.Offer; p != nil && p.Page == page {
		return p
	}
	return nil
}

// ProposingFor is Proposing for one page: ok is false too when another one asked.
func (s *Session) ProposingFor(page string) (p Proposing, ok bool) {
	p, ok = s.Proposing()
	return p, ok && p.Page == page
}

// Accept makes the proposal the design: one step of undo. The error is as of Do,
// and the proposal stays.
func (s *Session) Accept() error {
	p := s.Offer
	if p == nil {
		return nil
	}
	if err := s.Do(p.Name, "", func(d *project.Design) { *d = *p.Design }); err != nil {
		return err
	}
	s.Refuse() // one that changes nothing is no edit
	return nil
}

// Instead puts another design in the place of the one on offer: another choice of the
// same page. Without an offer it does nothing.
func (s *Session) Instead(d *project.Design, details any) {
	if s.Offer == nil {
		return
	}
	p := *s.Offer
	p.Design, p.Details = d, details
	s.Offer = &p
	s.changed(ProposalChanged)
}

// Refuse drops the proposal, or the work on one.
func (s *Session) Refuse() {
	if s.withdraw() {
		s.changed(ProposalChanged)
	}
}

// withdraw is Refuse, but tells nobody; false when there was nothing.
func (s *Session) withdraw() bool {
	had := s.Offer != nil || s.attempt != nil
	s.Offer = nil
	if s.attempt != nil {
		s.attempt.cancel()
		s.attempt = nil
	}
	return had
}
