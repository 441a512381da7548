// SPDX-License-Identifier: MIT

// Package practice is the page of what the rules of placement find: a list, and
// beside it the reason, the source and the limits of what is chosen. It keeps the
// house standard, which switches rules off or gives them other limits. UI goroutine
// only.
package practice

import (
	"errors"
	"math"
	"reflect"

	"fyne.io/fyne/v2"

	"earline/app/command"
	"earline/app/page"
	"earline/app/session"
	"earline/geometry"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/settle"
	"earline/scene"
)

// practicePage shows what the rules find of the session's design and draws what is
// chosen in the picture.
type practicePage struct {
	session *session.Session
	frame   page.Frame
	panel   *panel
	kept    string // the file of the house standard; empty for none

	curing string // the ID of the cause whose cure was asked for last

	// What the panel shows.
	found  *practice.Result
	causes *settle.List
	std    practice.Standard
	units  project.Units
}

// title is the name on the tab.
const title = "Rules"

// New returns the page. kept is the file that keeps the house standard from one start
// to the next, which it reads; empty for none.
func New(s *session.Session, f page.Frame, kept string) page.Page { return newPage(s, f, kept) }

func newPage(s *session.Session, f page.Frame, kept string) *practicePage {
	p := &practicePage{session: s, frame: f, panel: newPanel(), kept: kept}
	p.panel.OnChoose = p.chooseRemark
	p.panel.OnFinding, p.panel.OnCure = p.chooseFinding, p.showCure
	p.panel.OnAccept, p.panel.OnRefuse = func() { f.Accept(s) }, s.Refuse
	p.panel.OnSwitch, p.panel.OnLimits, p.panel.OnReset = p.switchRule, p.limitRule, p.resetRule
	p.panel.OnKey, p.panel.OnRune = f.Key, f.Rune
	p.readStandard()
	return p
}

// Title implements page.Page, as do the methods below.
func (p *practicePage) Title() string { return title }

// Says says what the page shows.
func (p *practicePage) Says() string {
	return "Shows what is to be settled, the most harmful first, and what the rules of placement find."
}

// Body returns the list and the box beside it.
func (p *practicePage) Body() fyne.CanvasObject { return p.panel.Object() }

// Head returns how much was found.
func (p *practicePage) Head() fyne.CanvasObject { return p.panel.Head() }

// First returns the list. It implements page.Keyed.
func (p *practicePage) First() fyne.Focusable { return p.panel.list }

// Update shows what the rules find. A chosen remark that is mended, or whose rule is
// off, is no longer drawn.
func (p *practicePage) Update() {
	r, _ := p.session.Known.Practice.Get()
	std, u := p.session.Standard(), p.session.Design().Units
	causes, state := p.session.Known.Causes.Get()
	if state != session.Fresh { // its remarks are those of an earlier result
		causes = p.causes
	}
	if r != p.found || causes != p.causes || u != p.units || !reflect.DeepEqual(std, p.std) {
		p.found, p.causes, p.std, p.units = r, causes, std, u
		p.panel.Set(r, causes, std, u)
	}
	switch c := p.session.Chosen; {
	case c.Remark == nil && p.panel.Chosen() != nil:
		p.panel.Unchoose()
	case c.Remark != nil && p.panel.Chosen() == nil:
		p.session.Choose(session.Selection{Seat: c.Seat, Speaker: c.Speaker})
	}
	p.updateCure()
}

// Progress shows how far a cure is. It implements page.Worker.
func (p *practicePage) Progress() { p.updateCure() }

// ShowRemark chooses a remark, as a click on its line does.
func (p *practicePage) ShowRemark(m *practice.Remark) { p.panel.Choose(m) }

// Overlay adds nothing: what is chosen is drawn by the picture.
func (p *practicePage) Overlay(*scene.Options) {}

// Commands returns what can be done about rules.
func (p *practicePage) Commands() []command.Command {
	// of returns a command about the rule that is chosen.
	of := func(id, name, says string, do func(practice.Rule)) command.Command {
		return command.Command{ID: "practice." + id, Name: name, Menu: "Rules", Says: says,
			Can: p.needRule,
			Do: func() {
				if r, ok := p.panel.Rule(); ok {
					do(r)
				}
			}}
	}
	limits := of("limits", "Other limits…", "Gives the chosen rule other limits, for a reason.", p.limitRule)
	limits.LineAbove = true
	return []command.Command{
		{ID: "practice.open-standard", Name: "Open house standard…", Menu: "Rules",
			Says: "Applies the limits of a house standard from a file.",
			Do:   p.openStandard},
		{ID: "practice.save-standard", Name: "Save house standard…", Menu: "Rules",
			Says: "Saves the house standard to a file, to pass on.",
			Do:   p.saveStandard},
		{ID: "practice.reset", Name: "Reset all limits", Menu: "Rules",
			Says: "Puts every rule back to its own limits.",
			Can: func() error {
				if len(p.session.Standard().Changes) == 0 {
					return errors.New("all rules have their own limits already")
				}
				return nil
			},
			Do: func() { p.setStandard(practice.Standard{}) }},
		limits,
		of("own-limits", "Reset limits", "Puts the chosen rule back to its own limits.", p.resetRule),
		of("switch", "Switch rule off or on…", "Switches the chosen rule off, for a reason, or on again.", p.switchRule),
		{ID: "practice.cure", Name: "Show the cure", Menu: "Rules", LineAbove: true,
			Says: "Works out what cures the chosen cause, and draws it in the picture.",
			Can: func() error {
				if c := p.panel.Cause(); c == nil || !c.Cure().Can() {
					return errors.New("no cause that a solver can cure is chosen on the practice page")
				}
				return nil
			},
			Do: func() { p.showCure(p.panel.Cause()) }},
		{ID: "practice.rules", Name: "Rule by rule", Menu: "Rules", LineAbove: true,
			Says: "Lists the rules and what each finds, in place of the causes.",
			Do:   func() { p.panel.ListRules(!p.panel.byRule) },
			On:   func() bool { return p.panel.byRule }},
		{ID: "practice.met", Name: "Show passed rules", Menu: "Rules",
			Says: "Lists the rules that are kept as well.",
			Do:   func() { p.panel.ListMet(!p.panel.all) },
			On:   func() bool { return p.panel.all }},
	}
}

func (p *practicePage) needRule() error {
	if _, ok := p.panel.Rule(); !ok {
		return errors.New("no rule is chosen on the Rules page")
	}
	return nil
}

// chooseRemark draws a remark in the picture and selects what it is about; nil
// draws none.
func (p *practicePage) chooseRemark(m *practice.Remark) {
	c := session.Nothing()
	c.Remark = m
	if m != nil {
		c.Seat = p.markedSeat(m)
		switch {
		case len(m.Speakers) > 0:
			c.Speaker = m.Speakers[0]
			c.Item = place.Item{Kind: place.SpeakerItem, Index: c.Speaker}
		case len(m.Rows) > 0:
			c.Item = place.Item{Kind: place.RowItem, Index: m.Rows[0]}
		case c.Seat != session.None:
			c.Item = p.session.RowOf(c.Seat)
		}
	}
	p.session.Choose(c)
}

// chooseFinding opens what cannot be built in the inspector.
func (p *practicePage) chooseFinding(f *fit.Finding) {
	c := session.Nothing()
	c.Item = f.Item()
	if c.Item.Kind == place.SpeakerItem {
		c.Speaker = c.Item.Index
	}
	p.session.Choose(c)
}

// markedSeat returns the one of a remark's seats at which its mark is drawn, or
// session.None.
func (p *practicePage) markedSeat(m *practice.Remark) int {
	best, at := math.Inf(1), session.None
	for _, i := range m.Seats {
		if p.session.Result() == nil || i < 0 || i >= len(p.session.Result().Bodies) {
			continue
		}
		head := p.session.Result().Bodies[i].Ear()
		places := [3]geometry.Vec{m.Mark.From, m.Mark.To, m.Mark.At}
		if m.Mark.Kind == practice.DistanceMark {
			places[2] = m.Mark.From // its At is where something stands in between
		}
		for _, p := range places {
			if d := p.Dist(head); d < best {
				best, at = d, i
			}
		}
	}
	return at
}
