// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/settle"
	"earline/project/sight"
)

func pointer(leads bool) desktop.Cursor {
	if leads {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// sentence is the sentence of the status line. About what is to be settled it leads
// there, and what cannot be built or is unsafe is in red.
type sentence struct {
	widget.Label
	tapped func()
	about  *settle.Cause // nil for something else
}

func newSentence(tapped func()) *sentence {
	s := &sentence{tapped: tapped}
	s.Truncation = fyne.TextTruncateEllipsis
	s.ExtendBaseWidget(s)
	return s
}

func (s *sentence) show(text string, about *settle.Cause) {
	importance := widget.MediumImportance
	if about != nil && about.Family <= settle.Safety && about.Severity == practice.Must {
		importance = widget.DangerImportance
	}
	s.about = about
	if text = words.Of(text); text == s.Text && importance == s.Importance {
		return
	}
	s.Importance = importance
	s.SetText(text)
}

// Tapped implements fyne.Tappable.
func (s *sentence) Tapped(*fyne.PointEvent) {
	if s.about != nil {
		s.tapped()
	}
}

// Cursor implements desktop.Cursorable.
func (s *sentence) Cursor() desktop.Cursor { return pointer(s.about != nil) }

// unbuildable returns how many things of the design cannot be built.
func (w *Window) unbuildable() int { return len(fit.Findings(w.session.Design())) }

// causes returns what is to be settled in the design as it is now; nil where that is
// not known yet.
func (w *Window) causes() *settle.List {
	if l, state := w.session.Known.Causes.Get(); state == session.Fresh {
		return l
	}
	return nil
}

// leadToFirst goes to what is to be settled first.
func (w *Window) leadToFirst() {
	if l := w.causes(); l != nil && l.First() != nil {
		w.leadTo(l.First())
	}
}

// leadToFamily goes to the most harmful cause of a family, if there is one.
func (w *Window) leadToFamily(f settle.Family) {
	if l := w.causes(); l != nil {
		for _, c := range l.All() {
			if c.Family == f {
				w.leadTo(c)
				return
			}
		}
	}
}

// leadToPath looks along a path, if there is one.
func (w *Window) leadToPath(find func(*sight.Result) (seat, speaker int, ok bool)) {
	r, state := w.session.Known.Audit.Get()
	if state != session.Fresh || w.ask.Busy() {
		return
	}
	if seat, speaker, ok := find(r); ok {
		w.session.Hint = ""
		w.session.LookAlong(seat, speaker)
	}
}

// leadTo goes to a cause: a thing is opened in the inspector, a path looked along, a
// rule shown on its page.
func (w *Window) leadTo(c *settle.Cause) {
	if w.ask.Busy() {
		return
	}
	w.session.Hint = ""
	switch {
	case len(c.Findings) > 0:
		s := session.Selection{Item: c.Findings[0].Item(), Seat: session.None, Speaker: session.None}
		if s.Item.Kind == place.SpeakerItem {
			s.Speaker = s.Item.Index
		}
		w.session.Choose(s)
	case c.Seat != session.None:
		w.session.LookAlong(c.Seat, c.Speaker)
	case len(c.Remarks) > 0:
		w.showRules(c.Remarks[0])
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
