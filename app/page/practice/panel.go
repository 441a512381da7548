// SPDX-License-Identifier: MIT

package practice

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/project"
	"earline/project/practice"
)

// panel is the list and the box beside it.
type panel struct {
	// OnChoose is told of the remark that is chosen; nil for a rule.
	OnChoose func(*practice.Remark)
	// OnSwitch asks to switch a rule off, or on again; OnLimits to set other
	// limits; OnReset to go back to its own.
	OnSwitch, OnLimits, OnReset func(practice.Rule)
	// OnKey and OnRune get the keys that mean nothing here.
	OnKey  func(*fyne.KeyEvent)
	OnRune func(rune)

	result *practice.Result
	std    practice.Standard
	units  project.Units
	all    bool
	lines  []listRow
	chosen *listRow
	quiet  bool // while the list is brought up to date

	object fyne.CanvasObject
	split  *container.Split
	head   fyne.CanvasObject
	list   *list
	count  *widget.Label
	more   *field.Tick
	side   *side
}

// The list's shares of the width: while nothing is chosen the box beside it says one
// sentence, and the remarks need the width; a chosen one stands whole in the box.
const (
	listAlone  = 0.78
	listBeside = 0.6
)

// share gives the list the share that goes with what is chosen, unless the user gave
// it another.
func (p *panel) share() {
	from, to := listAlone, listBeside
	if p.chosen == nil {
		from, to = to, from
	}
	if p.split.Offset == from {
		p.split.SetOffset(to)
	}
}

// newPanel returns an empty panel.
func newPanel() *panel {
	p := &panel{}
	p.list = newList(p)
	p.count = widget.NewLabel("")
	p.count.Truncation = fyne.TextTruncateEllipsis
	p.more = field.NewTick("also what is met", func(on bool) {
		p.all = on
		p.update()
	})
	p.side = newSide(p)
	p.head = field.Bordered(nil, nil, nil, p.more, p.count)
	p.split = container.NewHSplit(p.list, p.side.object)
	p.split.Offset = listAlone
	p.object = p.split
	return p
}

// Object returns what is to be placed in the window.
func (p *panel) Object() fyne.CanvasObject { return p.object }

// Head returns what is to be placed in the line over the panel: how much was
// found, and whether all of it is listed.
func (p *panel) Head() fyne.CanvasObject { return p.head }

// Set shows what was found under a house standard. What was chosen stays chosen
// where it is found again.
func (p *panel) Set(r *practice.Result, std practice.Standard, u project.Units) {
	p.result, p.std, p.units = r, std, u
	p.update()
}

// ListMet lists also what is met, or only what falls short.
func (p *panel) ListMet(on bool) { p.more.SetChecked(on) }

// Chosen returns the remark that is chosen; nil for none.
func (p *panel) Chosen() *practice.Remark {
	if p.chosen == nil {
		return nil
	}
	return p.chosen.remark
}

// Choose chooses a remark of what was set, as a click on its line does. One that
// is not listed is left.
func (p *panel) Choose(m *practice.Remark) {
	for i := range p.lines {
		if p.lines[i].remark == m && m != nil {
			p.choose(i)
			return
		}
	}
}

// Unchoose chooses nothing, without telling OnChoose.
func (p *panel) Unchoose() {
	p.chosen = nil
	p.mark()
}

func (p *panel) update() {
	p.lines = lines(p.result, p.std, p.all)
	if p.result != nil {
		p.count.SetText(p.result.Summary() + "; " + p.result.By())
	}
	if c := p.chosen; c != nil {
		p.chosen = p.find(c)
	}
	p.mark()
	p.list.Refresh()
}

// find returns the line of the same rule, or of the remark about the same thing;
// nil when there is none.
func (p *panel) find(l *listRow) *listRow {
	remark := l.remark
	if remark != nil {
		if remark = p.result.Find(remark); remark == nil {
			return nil
		}
	}
	for i := range p.lines {
		if o := &p.lines[i]; o.rule.ID == l.rule.ID && o.remark == remark {
			return o
		}
	}
	return nil
}

// mark shows in the list and beside it what is chosen.
func (p *panel) mark() {
	p.quiet = true
	defer func() { p.quiet = false }()
	at := p.index()
	if at < 0 {
		p.list.UnselectAll()
	} else {
		p.list.Select(at)
	}
	p.side.show(p.chosen, p.std, p.units)
	p.share()
}

func (p *panel) index() int {
	for i := range p.lines {
		if &p.lines[i] == p.chosen {
			return i
		}
	}
	return -1
}

// choose takes line i.
func (p *panel) choose(i int) {
	if p.quiet || i < 0 || i >= len(p.lines) {
		return
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(p.list); c != nil {
		c.Focus(p.list)
	}
	p.chosen = &p.lines[i]
	p.mark()
	if p.OnChoose != nil {
		p.OnChoose(p.chosen.remark)
	}
}

// list is Fyne's, in which the arrows choose and other keys go on, with a ring while
// it has the keyboard.
type list struct {
	widget.List
	panel *panel
	ring  *field.Ring
}

func newList(p *panel) *list {
	l := &list{panel: p, ring: field.NewRing()}
	l.Length = func() int { return len(p.lines) }
	l.CreateItem = func() fyne.CanvasObject { return newRow() }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(p.lines) {
			o.(*row).show(p.lines[i])
		}
	}
	l.OnSelected = func(i widget.ListItemID) { p.choose(i) }
	l.HideSeparators = true
	l.ExtendBaseWidget(l)
	return l
}

// FocusGained implements fyne.Focusable. Fyne's own would mark a line that is
// not the chosen one.
func (l *list) FocusGained() { l.ring.Show(true) }

// FocusLost implements fyne.Focusable.
func (l *list) FocusLost() { l.ring.Show(false) }

// CreateRenderer implements fyne.Widget.
func (l *list) CreateRenderer() fyne.WidgetRenderer {
	return field.Ringed(l.List.CreateRenderer(), l.ring)
}

// TypedShortcut implements fyne.Shortcutable: the chosen line is copied. All else goes
// on.
func (l *list) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*fyne.ShortcutCopy); ok {
		if at := l.panel.chosen; at != nil && c.Clipboard != nil {
			c.Clipboard.SetContent(at.words())
		}
		return
	}
	if up, ok := fyne.CurrentApp().Driver().CanvasForObject(l).(fyne.Shortcutable); ok {
		up.TypedShortcut(s)
	}
}

// linesAPage is how far Page Up and Page Down go.
const linesAPage = 8

// TypedKey implements fyne.Focusable.
func (l *list) TypedKey(ev *fyne.KeyEvent) {
	p := l.panel
	at := p.index()
	switch ev.Name {
	case fyne.KeyDown:
		p.choose(min(at+1, len(p.lines)-1))
	case fyne.KeyUp:
		p.choose(max(at-1, 0))
	case fyne.KeyPageDown:
		p.choose(min(at+linesAPage, len(p.lines)-1))
	case fyne.KeyPageUp:
		p.choose(max(at-linesAPage, 0))
	case fyne.KeyHome:
		p.choose(0)
	case fyne.KeyEnd:
		p.choose(len(p.lines) - 1)
	default:
		if p.OnKey != nil {
			p.OnKey(ev)
		}
	}
}

// TypedRune implements fyne.Focusable.
func (l *list) TypedRune(r rune) {
	if l.panel.OnRune != nil {
		l.panel.OnRune(r)
	}
}

// Rule returns the rule that is chosen, or that the chosen remark is of; ok is false
// for none.
func (p *panel) Rule() (r practice.Rule, ok bool) {
	if p.chosen == nil {
		return practice.Rule{}, false
	}
	return p.chosen.rule, true
}

// side is the box beside the list.
type side struct {
	object                fyne.CanvasObject
	title, text           *widget.Label
	facts                 *widget.RichText
	toggle, limits, reset *field.Button
	buttons               *fyne.Container
}

func newSide(p *panel) *side {
	s := &side{title: widget.NewLabel(""), text: widget.NewLabel(""), facts: widget.NewRichText()}
	s.title.TextStyle.Bold = true
	s.title.Truncation = fyne.TextTruncateEllipsis
	s.text.Wrapping, s.facts.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	ask := func(what *func(practice.Rule)) func() {
		return func() {
			if p.chosen != nil && *what != nil {
				(*what)(p.chosen.rule)
			}
		}
	}
	s.toggle = field.NewButton("Switch off…", ask(&p.OnSwitch))
	s.limits = field.NewButton("Other limits…", ask(&p.OnLimits))
	s.reset = field.NewButton("Its own limits", ask(&p.OnReset))
	s.buttons = container.NewGridWithColumns(3, s.toggle, s.limits, s.reset)
	body := container.New(layout.NewCustomPaddedVBoxLayout(0), s.text, s.facts)
	s.object = field.Bordered(s.title, s.buttons, nil, nil, container.NewVScroll(body))
	s.show(nil, practice.Standard{}, project.Metric)
	return s
}

func (s *side) show(l *listRow, std practice.Standard, u project.Units) {
	if l == nil {
		s.title.SetText("")
		s.text.SetText("Choose a line: it is drawn in the picture, with the reason and the source here.")
		s.facts.Segments = nil
		s.facts.Refresh()
		s.buttons.Hide()
		return
	}
	s.buttons.Show()
	change := std.Changes[l.rule.ID]
	s.title.SetText(l.rule.Title)
	text := "Measured: " + l.rule.Measures + "."
	if l.remark != nil {
		text = l.remark.Text
	}
	s.text.SetText(text)
	var segs []widget.RichTextSegment
	fact := func(name, text string) {
		if text == "" {
			return
		}
		segs = append(segs,
			&widget.TextSegment{Text: name + "  ", Style: widget.RichTextStyle{ColorName: base.ColorNamePrimary, Inline: true, SizeName: base.SizeNameCaptionText, TextStyle: fyne.TextStyle{Bold: true}}},
			&widget.TextSegment{Text: text, Style: widget.RichTextStyle{SizeName: base.SizeNameCaptionText}})
	}
	limits := limitWords(l.rule.Limits, l.rule.Unit, u)
	if l.remark != nil {
		limits = limitWords(l.remark.Limits, l.rule.Unit, u)
	}
	if change.Min != nil || change.Max != nil {
		limits += ", by the house standard (its own: " + limitWords(l.rule.Limits, l.rule.Unit, u) + ")"
	}
	source := l.rule.Source
	fact("Why", l.rule.Why)
	fact("Limit", limits)
	if m := l.remark; m != nil {
		source = m.Source
		grade := m.Grade.String()
		if m.Settled != "" {
			grade += ", settled: " + m.Settled
		}
		fact("Grade", grade)
	}
	fact("Source", source.String())
	fact("House", change.Reason)
	if l.remark != nil {
		fact("Measured", l.rule.Measures)
	}
	s.facts.Segments = segs
	s.facts.Refresh()
	s.toggle.SetText("Switch off…")
	if change.Off {
		s.toggle.SetText("Switch on")
	}
	enable(s.limits, !change.Off)
	enable(s.reset, change.Min != nil || change.Max != nil)
}

func enable(b *field.Button, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}
