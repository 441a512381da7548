// SPDX-License-Identifier: MIT

package proposal

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/geometry/unit"
	plans "earline/project/layout"
	"earline/project/practice"
)

// showOptions shows plans side by side, a column each with a button that puts it on
// show, and why one might rather have it.
func (s *sheet) showOptions(o *solution, metric bool) {
	if len(o.options) < 2 {
		return
	}
	s.trade.Objects = nil
	s.limit.Hide()
	columns := table{130}
	for range o.options {
		columns = append(columns, 120)
	}
	lines := plans.Table(o.options, func(v float64) string { return unit.Length(v).Format(metric) })
	for _, line := range lines[1:] {
		cells := make([]fyne.CanvasObject, len(line))
		for i, text := range line {
			ink := color.Color(theme.Faint)
			if i == o.chosen+1 {
				ink = theme.Ink
			}
			cells[i] = smallText(text, ink, fyne.TextAlignLeading)
		}
		s.trade.Add(container.New(columns, cells...))
	}
	for i, option := range o.options {
		b := field.NewButton(fmt.Sprintf("%d", i+1), func() { s.choose(i) })
		b.Importance = widget.LowImportance
		if i == o.chosen {
			b.Importance = widget.HighImportance
		}
		text := option.Name
		if option.Why != "" {
			text += ". " + option.Why
		}
		l := widget.NewLabel(words.Of(text))
		l.Wrapping = fyne.TextWrapWord
		s.trade.Add(container.NewBorder(nil, nil, container.New(layout.NewCustomPaddedVBoxLayout(0), b), nil, l))
	}
	s.trade.Refresh()
	s.tradeBox.Show()
}

// choose puts another of the plans that were offered on show.
func (p *proposalPage) choose(option int) {
	offer := p.session.OfferOf(title)
	if offer == nil {
		return
	}
	was := offer.Details.(*solution)
	if option < 0 || option >= len(was.options) || option == was.chosen {
		return
	}
	to := *was
	to.chosen, to.Proposal = option, was.options[option].Proposal
	to.remarksThen = practice.Check(to.Design, nil, p.session.Standard()).Counts()
	p.session.Instead(to.Design, &to)
}
