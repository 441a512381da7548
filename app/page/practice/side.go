// SPDX-License-Identifier: MIT

package practice

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
	"earline/project"
	"earline/project/practice"
)

// side is the box beside the list.
type side struct {
	object                fyne.CanvasObject
	title, text           *widget.Label
	facts                 *widget.RichText
	toggle, limits, reset *field.Button
	buttons               *fyne.Container // of a rule

	cure, accept, refuse *field.Button
	cures                *fyne.Container // of a cause
}

func newSide(p *panel) *side {
	s := &side{title: widget.NewLabel(""), text: widget.NewLabel(""), facts: widget.NewRichText()}
	s.title.TextStyle.Bold = true
	s.title.Truncation = fyne.TextTruncateEllipsis
	s.text.Wrapping, s.facts.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	ask := func(what *func(practice.Rule)) func() {
		return func() {
			if r, ok := p.Rule(); ok && *what != nil {
				(*what)(r)
			}
		}
	}
	s.toggle = field.NewButton("Switch off…", ask(&p.OnSwitch))
	s.limits = field.NewButton("Other limits…", ask(&p.OnLimits))
	s.reset = field.NewButton("Reset limits", ask(&p.OnReset))
	s.buttons = container.NewGridWithColumns(3, s.toggle, s.limits, s.reset)
	s.cure = field.NewButton("Show the cure", func() {
		if c := p.Cause(); c != nil && p.OnCure != nil {
			p.OnCure(c)
		}
	})
	answer := func(what *func()) func() {
		return func() {
			if *what != nil {
				(*what)()
			}
		}
	}
	s.accept, s.refuse = field.NewButton("Accept", answer(&p.OnAccept)), field.NewButton("Refuse", answer(&p.OnRefuse))
	s.accept.Importance = widget.HighImportance
	s.cures = container.NewGridWithColumns(2, s.cure, s.refuse, s.accept)
	body := container.New(layout.NewCustomPaddedVBoxLayout(0), s.text, s.facts)
	s.object = field.Bordered(s.title, container.NewVBox(s.buttons, s.cures), nil, nil, container.NewVScroll(body))
	s.show(nil, practice.Standard{}, project.Metric)
	return s
}

func (s *side) show(l *listRow, std practice.Standard, u project.Units) {
	s.cures.Hide()
	if l != nil && l.in() != nil && l.remark == nil {
		s.showCause(l)
		return
	}
	if l == nil || l.fold != noFold {
		s.title.SetText("")
		s.text.SetText(words.Of("Choose a line: it is drawn in the picture, with the reason and the source here."))
		s.facts.Segments = nil
		s.facts.Refresh()
		s.buttons.Hide()
		return
	}
	s.buttons.Show()
	change := std.Changes[l.rule.ID]
	s.title.SetText(words.Of(l.rule.Title))
	text := "Measured: " + l.rule.Measures + "."
	if l.remark != nil {
		text = l.remark.Text
	}
	s.text.SetText(words.Of(text))
	var segs facts
	fact := segs.add
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
	fact("House standard", change.Reason)
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

// facts are lines of a name and a text.
type facts []widget.RichTextSegment

func (f *facts) add(name, text string) {
	if text == "" {
		return
	}
	*f = append(*f,
		&widget.TextSegment{Text: words.Of(name + "  "), Style: widget.RichTextStyle{ColorName: base.ColorNamePrimary, Inline: true, SizeName: base.SizeNameCaptionText, TextStyle: fyne.TextStyle{Bold: true}}},
		&widget.TextSegment{Text: words.Of(text), Style: widget.RichTextStyle{SizeName: base.SizeNameCaptionText}})
}

func enable(b *field.Button, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}
