// SPDX-License-Identifier: MIT

package practice

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/project"
	"earline/project/fit"
	"earline/project/practice"
	"earline/project/settle"
)

// panel is the list and the box beside it.
type panel struct {
	// OnChoose is told of the remark that is chosen; nil for a rule.
	OnChoose func(*practice.Remark)
	// OnSwitch asks to switch a rule off, or on again; OnLimits to set other
	// limits; OnReset to go back to its own.
	OnSwitch, OnLimits, OnReset func(practice.Rule)
	// OnFinding is told of something chosen that cannot be built.
	OnFinding func(*fit.Finding)
	// OnCure asks for what cures a cause; OnAccept and OnRefuse answer what is shown.
	OnCure             func(*settle.Cause)
	OnAccept, OnRefuse func()
	// OnKey and OnRune get the keys that mean nothing here.
	OnKey  func(*fyne.KeyEvent)
	OnRune func(rune)

	result *practice.Result
	causes *settle.List
	std    practice.Standard
	units  project.Units
	byRule bool // lists the rules and what they find; else causes
	all    bool // and what is met
	part   part // of the causes
	lines  []listRow
	chosen *listRow
	quiet  bool // while the list is brought up to date

	object fyne.CanvasObject
	split  *container.Split
	head   fyne.CanvasObject
	list   *list
	count  *widget.Label
	rules  *field.Tick
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
	p.more = field.NewTick("show passed rules", func(on bool) {
		p.all = on
		p.update()
	})
	p.rules = field.NewTick("rule by rule", func(on bool) {
		p.byRule = on
		p.update()
	})
	p.side = newSide(p)
	p.head = field.Bordered(nil, nil, nil, container.NewHBox(p.rules, p.more), p.count)
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

// Set shows what was found under a house standard, and its causes. What was chosen
// stays chosen where it is found again.
func (p *panel) Set(r *practice.Result, causes *settle.List, std practice.Standard, u project.Units) {
	p.result, p.causes, p.std, p.units = r, causes, std, u
	p.update()
}

// ListRules lists the rules and what they find, or the causes.
func (p *panel) ListRules(on bool) { p.rules.SetChecked(on) }

// ListMet lists passed rules as well, or only what falls short.
func (p *panel) ListMet(on bool) { p.more.SetChecked(on) }

// Chosen returns the remark that is chosen; nil for none.
func (p *panel) Chosen() *practice.Remark {
	if p.chosen == nil {
		return nil
	}
	return p.chosen.lead()
}

// Cause returns the cause that is chosen, or under which something is; nil for none.
func (p *panel) Cause() *settle.Cause {
	if p.chosen == nil {
		return nil
	}
	return p.chosen.in()
}

// Choose chooses a remark of what was set, as a click on its line does. One that
// is not listed is left.
func (p *panel) Choose(m *practice.Remark) {
	if m != nil && p.causes != nil && !p.byRule && !p.all {
		if c := p.causes.Of(m); c != nil {
			p.part.open = c.ID
			top, _ := p.causes.Lead()
			p.part.more = p.part.more || slices.Contains(p.causes.Settle[len(top):], c)
			p.part.notes = p.part.notes || slices.Contains(p.causes.Notes, c)
			p.update()
		}
	}
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
	was := p.chosen
	if p.byRule || p.all {
		p.lines = lines(p.result, p.std, p.all)
	} else {
		p.lines = causeLines(p.causes, p.std, p.part)
	}
	switch {
	case p.byRule || p.all:
		if p.result != nil {
			p.count.SetText(words.Of(p.result.Summary() + "; " + p.result.By()))
		}
	case p.causes != nil:
		p.count.SetText(words.Of(upper(p.causes.Short()) + p.by()))
	}
	if was != nil {
		p.chosen = p.find(was)
	}
	p.mark()
	p.list.Refresh()
}

// find returns the line of the same rule, or of the remark about the same thing;
// nil when there is none.
func (p *panel) find(l *listRow) *listRow {
	if c := l.cause; c != nil {
		return p.line(func(o *listRow) bool { return o.cause != nil && o.cause.ID == c.ID })
	}
	if f := l.finding; f != nil {
		return p.line(func(o *listRow) bool { return o.finding != nil && o.finding.Field == f.Field && o.of.ID == l.of.ID })
	}
	if l.fold != noFold {
		return p.line(func(o *listRow) bool { return o.fold == l.fold })
	}
	remark := l.remark
	if remark != nil {
		if remark = p.result.Find(remark); remark == nil {
			return nil
		}
	}
	return p.line(func(o *listRow) bool {
		return o.cause == nil && o.finding == nil && o.fold == noFold && o.rule.ID == l.rule.ID && o.remark == remark
	})
}

// line returns the first line of which is is true; nil for none.
func (p *panel) line(is func(*listRow) bool) *listRow {
	for i := range p.lines {
		if is(&p.lines[i]) {
			return &p.lines[i]
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
	if c := p.chosen.in(); c != nil && p.part.open != c.ID && !p.byRule && !p.all {
		p.part.open = c.ID // one cause at a time is open
		p.update()
	} else {
		p.mark()
	}
	if p.chosen == nil {
		return
	}
	if f := p.chosen.item(); f != nil && p.OnFinding != nil {
		p.OnFinding(f)
	} else if p.OnChoose != nil {
		p.OnChoose(p.chosen.lead())
	}
}

// unfold lists what a line stands for, or folds it away again. It reports whether the
// line stands for anything.
func (p *panel) unfold() bool {
	if p.chosen == nil {
		return false
	}
	switch p.chosen.fold {
	case moreFold:
		p.part.more = !p.part.more
	case notesFold:
		p.part.notes = !p.part.notes
	default:
		return false
	}
	p.update()
	return true
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
	l.OnSelected = func(i widget.ListItemID) { // by a click, or by mark
		if p.quiet {
			return
		}
		p.choose(i)
		if p.unfold() { // the next click on it is one again
			p.chosen = nil
			p.mark()
		}
	}
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
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if !p.unfold() && p.OnKey != nil {
			p.OnKey(ev)
		}
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
	if p.chosen == nil || p.chosen.rule.ID == "" {
		return practice.Rule{}, false
	}
	return p.chosen.rule, true
}

// by says what it was judged by, after a semicolon; empty where nothing was.
func (p *panel) by() string {
	if p.result == nil {
		return ""
	}
	return "; " + p.result.By()
}

// upper returns s with its first letter large.
func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
