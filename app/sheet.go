// SPDX-License-Identifier: MIT

package app

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/project"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/solve"
)

// sheet is the page on which a solver's work and its proposal are shown.
type sheet struct {
	object fyne.CanvasObject
	head   fyne.CanvasObject // for the line over it

	title                  *widget.Label
	bar                    *widget.ProgressBar
	counts                 *fyne.Container
	changes, proof         *widget.Label
	verdict                *canvas.Text
	body                   *fyne.Container
	cancel, refuse, accept *widget.Button
}

func newSheet(cancel, refuse, accept func()) *sheet {
	s := &sheet{
		title: widget.NewLabel(""), bar: widget.NewProgressBar(), counts: container.New(layout.NewCustomPaddedVBoxLayout(1)),
		changes: widget.NewLabel(""), proof: widget.NewLabel(""), verdict: canvas.NewText("", theme.Ink),
		cancel: widget.NewButton("Cancel", cancel), refuse: widget.NewButton("Refuse", refuse), accept: widget.NewButton("Accept", accept),
	}
	s.title.TextStyle.Bold = true
	s.title.Truncation = fyne.TextTruncateEllipsis
	s.accept.Importance = widget.HighImportance
	s.changes.Wrapping, s.proof.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	s.verdict.TextSize = 12
	s.verdict.TextStyle.Bold = true
	column := func(head fyne.CanvasObject, l *widget.Label) fyne.CanvasObject {
		return container.NewBorder(container.New(layout.NewCustomPaddedLayout(3, 0, 4, 4), head), nil, nil, nil, container.NewVScroll(l))
	}
	heading := canvas.NewText("Changes, drawn in green", theme.Faint)
	heading.TextSize = 12
	right := container.NewHSplit(column(heading, s.changes), column(s.verdict, s.proof))
	right.Offset = 0.4
	s.body = container.NewBorder(nil, nil, container.New(layout.NewCustomPaddedLayout(4, 4, 8, 12), s.counts), nil, right)
	s.head = container.NewBorder(nil, nil, nil, container.NewHBox(s.cancel, s.refuse, s.accept), s.title)
	s.object = container.NewStack(container.NewVBox(container.New(layout.NewCustomPaddedLayout(12, 0, 8, 8), s.bar)), s.body)
	return s
}

// working shows that a solver is under way.
func (s *sheet) working(name string) {
	s.title.SetText(name + " …")
	s.bar.SetValue(0)
	s.bar.Show()
	s.body.Hide()
	s.cancel.Show()
	s.refuse.Hide()
	s.accept.Hide()
}

// tell shows how far it is.
func (s *sheet) tell(name string, share float64, what string) {
	s.title.SetText(name + ": " + what)
	s.bar.SetValue(share)
}

// show shows a proposal.
func (s *sheet) show(o *offer, u project.Units) {
	s.bar.Hide()
	s.cancel.Hide()
	s.body.Show()
	s.refuse.Show()
	s.accept.Show()
	s.title.SetText(o.name + ": the proposal stands in the picture")
	enable(s.accept, len(o.Changes) > 0)
	s.counts.Objects = []fyne.CanvasObject{compare("", "now", "then", nil)}
	plate := func(v sight.Verdict) color.Color { c, _, _ := theme.Verdict(v); return c }
	number := func(name string, a, b int, mark color.Color) {
		s.counts.Add(compare(name, fmt.Sprint(a), fmt.Sprint(b), mark))
	}
	number("clear", o.Before.Clear, o.After.Clear, plate(sight.Clear))
	number("tight", o.Before.Tight, o.After.Tight, plate(sight.Tight))
	number("blocked", o.Before.Blocked, o.After.Blocked, plate(sight.Blocked))
	number("picture blocked", o.Before.PictureBlocked, o.After.PictureBlocked, nil)
	number("must remarks", o.remarksNow[practice.Must], o.remarksThen[practice.Must], nil)
	number("should remarks", o.remarksNow[practice.Should], o.remarksThen[practice.Should], nil)
	s.counts.Refresh()
	var lines []string
	for _, c := range o.Changes {
		lines = append(lines, c.Sentence(u))
	}
	if len(lines) == 0 {
		lines = []string{"Nothing: what is there is best already."}
	}
	s.changes.SetText(strings.Join(lines, "\n"))
	lines = nil
	s.verdict.Text, s.verdict.Color = "All that was asked for is had", theme.Accent
	if !o.Solved() {
		s.verdict.Text, s.verdict.Color = "Not all can be had; this stands against it", theme.Fault
	}
	for _, p := range o.Proof {
		lines = append(lines, p.Text)
	}
	for _, more := range []string{o.Note, o.words} {
		if more != "" {
			lines = append(lines, more)
		}
	}
	s.proof.SetText(strings.Join(lines, "\n\n"))
	s.verdict.Refresh()
	s.head.Refresh()
	s.object.Refresh()
}

// compare is a line of the table of counts.
func compare(name, now, then string, mark color.Color) fyne.CanvasObject {
	text := func(t string, c color.Color, align fyne.TextAlign) *canvas.Text {
		x := canvas.NewText(t, c)
		x.TextSize, x.Alignment = 12, align
		return x
	}
	if mark == nil {
		mark = color.Transparent
	}
	swatch := canvas.NewRectangle(mark)
	swatch.CornerRadius = 2
	return container.New(table{12, 110, 42, 42}, swatch,
		text(name, theme.Faint, fyne.TextAlignLeading), text(now, theme.Faint, fyne.TextAlignTrailing), text(then, theme.Ink, fyne.TextAlignTrailing))
}

// table sets objects side by side in columns of those widths.
type table []float32

// MinSize implements fyne.Layout.
func (t table) MinSize([]fyne.CanvasObject) fyne.Size {
	w := float32(0)
	for _, c := range t {
		w += c + 6
	}
	return fyne.NewSize(w, 18)
}

// Layout implements fyne.Layout.
func (t table) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	x := float32(0)
	for i, o := range objects {
		h := min(o.MinSize().Height, s.Height)
		if _, ok := o.(*canvas.Rectangle); ok {
			h = 12
		}
		o.Resize(fyne.NewSize(t[i], h))
		o.Move(fyne.NewPos(x, (s.Height-h)/2))
		x += t[i] + 6
	}
}

// offer is a proposal on show, and what it was made from.
type offer struct {
	name  string
	words string // what else the solver found
	*solve.Proposal
	remarksNow, remarksThen [practice.Must + 1]int
}
