// SPDX-License-Identifier: MIT

package practice

import (
	"context"
	"fmt"
	"strings"

	"earline/app/session"
	"earline/app/words"
	"earline/project"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/solve"
)

// showCause shows a cause: what is wrong, what cures it and, once that is worked out,
// how far and at what cost.
func (s *side) showCause(l *listRow) {
	c := l.in()
	cure := c.Cure()
	s.buttons.Hide()
	s.title.SetText(words.Of(c.Subject))
	text := c.Text
	if l.finding != nil {
		text = l.finding.String()
	}
	s.text.SetText(words.Of(text))
	var segs facts
	segs.add("Cure", cure.Says)
	for _, f := range c.Folded {
		segs.add("With it", f.Text)
	}
	if len(c.Remarks) > 0 {
		segs.add("Shows in", ruleNames(c))
	}
	s.facts.Segments = segs
	s.facts.Refresh()
	s.remedyGone(cure.Can())
}

// ruleNames names the rules that a cause breaks.
func ruleNames(c *settle.Cause) string {
	var names []string
	seen := map[string]bool{}
	for _, m := range c.Everything() {
		if rule, _ := practice.Find(m.Rule); !seen[rule.ID] {
			seen[rule.ID] = true
			names = append(names, rule.Title)
		}
	}
	return strings.Join(names, "; ")
}

// remedyGone shows the button that asks for the cure; can is whether a solver works it
// out.
func (s *side) remedyGone(can bool) {
	s.accept.Hide()
	s.refuse.Hide()
	s.cure.SetText("Show the cure")
	if can {
		s.cure.Show()
		s.cures.Show()
		enable(s.cure, true)
	} else {
		s.cures.Hide()
	}
}

// remedyWorking shows that the cure is being worked out.
func (s *side) remedyWorking(share float64) {
	s.cures.Show()
	s.cure.Show()
	s.cure.SetText(fmt.Sprintf("Working… %.0f %%", 100*share))
	enable(s.cure, false)
	s.accept.Hide()
	s.refuse.SetText("Cancel")
	s.refuse.Show()
}

// remedyShown shows a cure that stands in the picture.
func (s *side) remedyShown(r *settle.Remedy, u project.Units) {
	var segs facts
	segs.add("Cure", r.Verdict)
	for _, line := range r.Cost {
		segs.add("Cost", line)
	}
	for _, c := range r.Changes {
		segs.add("Change", c.Sentence(u))
	}
	for _, line := range r.Why {
		segs.add("Why", line)
	}
	s.facts.Segments = segs
	s.facts.Refresh()
	s.cures.Show()
	s.cure.Hide()
	s.refuse.SetText("Refuse")
	s.refuse.Show()
	s.accept.Show()
	enable(s.accept, len(r.Changes) > 0)
}

// remedy is the cure of a cause, as a proposal carries it.
type remedy struct {
	of string // the ID of the cause
	*settle.Remedy
}

// showCure works out what cures a cause and draws it in the picture.
func (p *practicePage) showCure(c *settle.Cause) {
	p.frame.Commit()
	p.session.Draft(nil)
	std := p.session.Standard()
	p.curing = c.ID
	p.session.Propose(title, c.Cure().Solver, func(ctx context.Context, d *project.Design, tell func(float64, string)) (*session.Proposal, error) {
		r, err := c.Remedy(ctx, d, std, solve.Progress(tell))
		if err != nil {
			return nil, err
		}
		return &session.Proposal{Design: r.Design, OnPage: true, Details: remedy{c.ID, r}}, nil
	})
}

// updateCure shows how far the cure of the chosen cause is, or what it comes to.
func (p *practicePage) updateCure() {
	c := p.panel.Cause()
	if c == nil || p.panel.chosen.remark != nil {
		return
	}
	if on, busy := p.session.ProposingFor(title); busy && p.curing == c.ID {
		p.panel.side.remedyWorking(on.Share)
		return
	}
	if offer := p.session.OfferOf(title); offer != nil {
		if r := offer.Details.(remedy); r.of == c.ID {
			p.panel.side.remedyShown(r.Remedy, p.session.Design().Units)
			return
		}
	}
	p.panel.side.showCause(p.panel.chosen)
}
