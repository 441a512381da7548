// SPDX-License-Identifier: MIT

package practice

import (
	"earline/app/document"
	"earline/app/page/pagetest"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/project/settle"
	"earline/project/sight"
)

// chooseCause takes the line of a cause.
func chooseCause(t *testing.T, p *practicePage, id string) *settle.Cause {
	t.Helper()
	for i := range p.panel.lines {
		if c := p.panel.lines[i].cause; c != nil && c.ID == id {
			p.panel.choose(i)
			return c
		}
	}
	t.Fatalf("no cause %q is listed", id)
	return nil
}

// onManyFaults is onPractice with the large room made worse: narrow models, and wides,
// rears and heights out of their directions.
func onManyFaults(t *testing.T) (*pagetest.Bench, *practicePage) {
	t.Helper()
	b, p := onPractice(t, "")
	d := b.Session.Doc.Design().Clone()
	for i := range d.Models {
		d.Models[i].CoverageH = min(d.Models[i].CoverageH, 90)
	}
	for i, l := range d.Speakers {
		switch l.Name() {
		case "M+060", "M-060":
			d.Speakers[i].At.Z = 2.4
		case "M+135":
			d.Speakers[i].At.X = 7.4
		}
	}
	b.Session.Open(document.New(d, ""))
	b.Queue.Until(t, func() bool { return b.Session.Result() != nil })
	p.Update()
	return b, p
}

// Seen: the page of the large room began with fifty lines. It begins with three, what is
// about people's safety, and lines that open the rest.
func TestThePageLeadsWithThreeCauses(t *testing.T) {
	_, p := onManyFaults(t)
	ls := p.panel.lines
	if len(ls) > 10 || ls[0].cause == nil || ls[0].cause.ID != "line of sight side" || ls[3].fold != moreFold || ls[len(ls)-1].fold != notesFold {
		t.Fatalf("%d lines", len(ls))
	}
	p.panel.choose(3)
	p.panel.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if got := len(p.panel.lines); got != len(ls)+ls[3].all {
		t.Errorf("%d lines after opening the rest of %d, %d more", got, len(ls), ls[3].all)
	}
	p.panel.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if len(p.panel.lines) != len(ls) {
		t.Error("it is not folded away again")
	}
}

// A cause opens its remarks, each with its reason and its source; another closes them.
func TestACauseOpensItsRemarks(t *testing.T) {
	b, p := onManyFaults(t)
	n := len(p.panel.lines)
	c := chooseCause(t, p, "line of sight side")
	if len(p.panel.lines) != n+c.Lines() || b.Session.Marked() != c.Remarks[0] || p.panel.side.buttons.Visible() {
		t.Fatalf("%d lines, %d before and %d in the cause", len(p.panel.lines), n, c.Lines())
	}
	p.panel.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if rule, ok := p.panel.Rule(); !ok || rule.ID != c.Remarks[0].Rule || p.panel.side.title.Text != rule.Title || !p.panel.side.buttons.Visible() {
		t.Error("the remark is not shown with its rule")
	}
	chooseCause(t, p, "coverage")
	if got := p.panel.lines[1].cause; got == nil || got.ID != "coverage" {
		t.Error("the first is still open")
	}
}

// The rules and their remarks, by must, should and note, are still to be had.
func TestTheRulesAreListedWhenAskedFor(t *testing.T) {
	_, p := onPractice(t, "")
	p.panel.ListRules(true)
	n := 0
	for _, l := range p.panel.lines {
		if l.cause != nil || l.fold != noFold {
			t.Fatal("a cause is among the rules")
		}
		if l.remark != nil {
			n++
		}
	}
	if n != len(p.found.Failing()) {
		t.Errorf("%d remarks, %d fall short", n, len(p.found.Failing()))
	}
	p.panel.ListRules(false)
	if p.panel.lines[0].cause == nil {
		t.Error("the causes are not back")
	}
}

// A cure stands in the picture until it is accepted, and is one step of undo.
func TestACureIsShownAndAccepted(t *testing.T) {
	b, p := onPractice(t, "")
	before := b.Session.Doc.Design()
	c := chooseCause(t, p, "line of sight side")
	p.showCure(c)
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	if b.Session.Offer.Page != title || !p.panel.side.accept.Visible() || b.Session.Doc.Design() != before {
		t.Fatal("the cure is not offered")
	}
	said := ""
	for _, s := range p.panel.side.facts.Segments {
		said += s.Textual() + "\n"
	}
	for _, want := range []string{"Paths blocked: 8 before, 0 after.", "up from the main position"} {
		if !strings.Contains(said, want) {
			t.Errorf("does not say %q:\n%s", want, said)
		}
	}
	p.panel.OnAccept()
	r := b.Session.Result()
	if b.Session.Offer != nil || r.Count[sight.Blocked] != 0 {
		t.Errorf("%d are blocked", r.Count[sight.Blocked])
	}
	b.Session.Undo()
	if b.Session.Doc.Design() != before {
		t.Error("one undo does not take it back")
	}
}

func TestARefusedCureIsGone(t *testing.T) {
	b, p := onPractice(t, "")
	p.showCure(chooseCause(t, p, "line of sight side"))
	b.Queue.Until(t, func() bool { return b.Session.Offer != nil })
	p.panel.OnRefuse()
	if b.Session.Offer != nil || p.panel.side.accept.Visible() || !p.panel.side.cure.Visible() {
		t.Error("it is still offered")
	}
}
