// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/page"
	"earline/app/session"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/settle"
)

// nothing is the kind of a sentence that is not about what is to be settled.
const nothing settle.Kind = 255

func pointer(leads bool) desktop.Cursor {
	if leads {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// sentence is the sentence of the status line. About what is to be settled it leads to
// the worst of it, and what cannot be built or is unsafe is in red.
type sentence struct {
	widget.Label
	tapped func()
	kind   settle.Kind
}

func newSentence(tapped func()) *sentence {
	s := &sentence{tapped: tapped, kind: nothing}
	s.Truncation = fyne.TextTruncateEllipsis
	s.ExtendBaseWidget(s)
	return s
}

func (s *sentence) show(text string, kind settle.Kind) {
	importance := widget.MediumImportance
	if kind <= settle.Rule {
		importance = widget.DangerImportance
	}
	if text == s.Text && importance == s.Importance && kind == s.kind {
		return
	}
	s.kind, s.Importance = kind, importance
	s.SetText(text)
}

// Tapped implements fyne.Tappable.
func (s *sentence) Tapped(*fyne.PointEvent) {
	if s.kind != nothing {
		s.tapped()
	}
}

// Cursor implements desktop.Cursorable.
func (s *sentence) Cursor() desktop.Cursor { return pointer(s.kind != nothing) }

// unbuildable returns how many things of the design cannot be built.
func (w *Window) unbuildable() int { return len(fit.Findings(w.session.Design())) }

// matters returns what is to be settled in the design.
func (w *Window) matters() []settle.Matter {
	r := w.session.Result()
	if r == nil {
		return nil
	}
	kept, _ := w.session.Known.Practice.Get()
	return settle.Matters(r, kept)
}

// leadToFirst goes to what is to be settled first.
func (w *Window) leadToFirst() {
	if all := w.matters(); len(all) > 0 {
		w.leadTo(all[0].Kind)
	}
}

// leadTo goes to the worst of a kind of what is to be settled, if there is any: a thing
// is opened in the inspector, a rule shown on its page, a path looked along.
func (w *Window) leadTo(k settle.Kind) {
	if w.ask.Busy() {
		return
	}
	for _, m := range w.matters() {
		if m.Kind != k {
			continue
		}
		w.session.Hint = ""
		switch {
		case m.Finding != nil:
			c := session.Selection{Item: m.Finding.Item(), Seat: session.None, Speaker: session.None}
			if c.Item.Kind == place.SpeakerItem {
				c.Speaker = c.Item.Index
			}
			w.session.Choose(c)
		case m.Remark != nil:
			w.showRules(m.Remark)
		default:
			w.session.LookAlong(m.Seat, m.Speaker)
		}
		return
	}
}

// showRules brings up the page of the placement rules, and chooses a remark there; nil
// for none.
func (w *Window) showRules(m *practice.Remark) {
	for _, t := range w.drawer.tabs {
		if p, ok := t.Page.(page.Rules); ok {
			w.drawer.show(t.Page)
			if m != nil {
				p.ShowRemark(m)
			}
		}
	}
}
