// SPDX-License-Identifier: MIT

package asbuilt

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/project/built"
	"earline/project/sight"
)

// outcome is the room as built beside the plan, and what must be moved.
type outcome struct {
	page   *asBuiltPage
	object fyne.CanvasObject
	box    *fyne.Container
	of     *built.Result
	fresh  bool
}

func newOutcome(p *asBuiltPage) *outcome {
	o := &outcome{page: p, box: container.New(layout.NewCustomPaddedVBoxLayout(2))}
	o.object = container.NewVScroll(container.New(layout.NewCustomPaddedLayout(4, 4, 8, 8), o.box))
	return o
}

// update shows the comparison; one of an earlier design is paler.
func (o *outcome) update() {
	r := o.page.result
	if r == o.of && o.page.fresh == o.fresh {
		return
	}
	o.of, o.fresh = r, o.page.fresh
	o.box.Objects = nil
	if r == nil {
		o.box.Refresh()
		return
	}
	ink := color.Color(theme.Ink)
	if !o.fresh {
		ink = theme.Faint
	}
	plan, is := r.Plan.Totals(), r.Built.Totals()
	o.line("", "plan", "as built", theme.Faint, theme.Faint)
	for _, l := range []struct {
		name     string
		was, now int
		bad      bool
	}{
		{"ears: clear", plan.Ears[0], is.Ears[0], is.Ears[0] < plan.Ears[0]}, {"tight", plan.Ears[1], is.Ears[1], is.Ears[1] > plan.Ears[1]},
		{"blocked", plan.Ears[2], is.Ears[2], is.Ears[2] > plan.Ears[2]}, {"whole pictures", plan.Eyes[0] + plan.Eyes[1], is.Eyes[0] + is.Eyes[1], is.Eyes[2] > plan.Eyes[2]},
		{"to settle", plan.Settle, is.Settle, is.Settle > plan.Settle},
	} {
		now := ink
		if l.bad && o.fresh {
			now = theme.VerdictInk(sight.Blocked)
		}
		o.line(l.name, fmt.Sprint(l.was), fmt.Sprint(l.now), theme.Faint, now)
	}
	o.deviations("To be moved, the most harmful first", r.Move)
	o.deviations("May stay", r.Stay)
	o.box.Refresh()
	o.object.Refresh()
}

func (o *outcome) line(name, was, now string, faint, ink color.Color) {
	cell := func(t string, c color.Color, align fyne.TextAlign) fyne.CanvasObject {
		x := canvas.NewText(words.Of(t), c)
		x.TextSize, x.Alignment = 12, align
		return x
	}
	const column = 52 // wide: "as built"
	number := func(t string, c color.Color) fyne.CanvasObject {
		return container.New(layout.NewGridWrapLayout(fyne.NewSize(column, 16)), cell(t, c, fyne.TextAlignTrailing))
	}
	o.box.Add(container.NewBorder(nil, nil, cell(name, faint, fyne.TextAlignLeading), container.NewHBox(number(was, faint), number(now, ink))))
}

// deviations lists things that are off; a click shows one.
func (o *outcome) deviations(head string, all []built.Deviation) {
	if len(all) == 0 {
		return
	}
	title := widget.NewLabel(words.Of(head))
	title.TextStyle.Bold = true
	title.Truncation = fyne.TextTruncateEllipsis
	o.box.Add(title)
	u := o.page.design.Units
	for i := range all {
		d := &all[i]
		name := field.NewButton(fmt.Sprintf("%d. %s", i+1, d.Name), func() { o.page.choose(d.ID) })
		name.Importance, name.Alignment = widget.LowImportance, widget.ButtonAlignLeading
		o.box.Add(name)
		text := d.Words(u)
		if len(d.Losses) > 0 {
			text += ". " + d.Losses[0].Text
			if more := len(d.Losses) - 1; more > 0 {
				text += fmt.Sprintf(", and %d more", more)
			}
		}
		l := widget.NewLabel(words.Of(text))
		l.Wrapping = fyne.TextWrapWord
		o.box.Add(l)
	}
}
