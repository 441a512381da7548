// SPDX-License-Identifier: MIT

package proposal

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/practice"
	"earline/project/sight"
	"earline/project/solve"
)

// sheet shows how far a solver is, and then its proposal.
type sheet struct {
	object fyne.CanvasObject
	head   fyne.CanvasObject // for the line over it

	title                  *widget.Label
	bar                    *field.Progress
	counts                 *fyne.Container
	changes, proof         *widget.Label
	verdict                *widget.Label // over the proof
	body                   *fyne.Container
	trade                  *fyne.Container   // lines of the table of lower edge and risers, or of limits
	limit                  *field.Select     // of elevation, over the table
	limits                 []solve.LiftPoint // by option of limit
	pick                   func(solve.LiftPoint)
	tradeBox               fyne.CanvasObject // all of it
	choose                 func(option int)  // shows another plan of those that were offered
	cancel, refuse, accept *field.Button
}

func newSheet(cancel, refuse, accept func(), choose func(option int)) *sheet {
	s := &sheet{
		choose: choose,
		title:  widget.NewLabel(""), bar: field.NewProgress(), counts: container.New(layout.NewCustomPaddedVBoxLayout(1)),
		trade:   container.New(layout.NewCustomPaddedVBoxLayout(1)),
		changes: widget.NewLabel(""), proof: widget.NewLabel(""), verdict: heading(""),
		cancel: field.NewButton("Cancel", cancel), refuse: field.NewButton("Refuse", refuse), accept: field.NewButton("Accept", accept),
	}
	s.title.TextStyle.Bold = true
	s.title.Truncation = fyne.TextTruncateEllipsis
	s.accept.Importance = widget.HighImportance
	s.changes.Wrapping, s.proof.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	s.verdict.TextStyle.Bold = true
	column := func(head, l *widget.Label) fyne.CanvasObject {
		return container.NewBorder(head, nil, nil, nil, container.NewVScroll(l))
	}
	words := container.NewHSplit(column(heading("Changes, drawn in green"), s.changes), column(s.verdict, s.proof))
	words.Offset = 0.4
	s.limit = field.NewSelect(nil, func(string) {
		if n := s.limit.SelectedIndex(); n >= 0 && n < len(s.limits) && s.pick != nil {
			s.pick(s.limits[n])
		}
	})
	s.tradeBox = container.New(layout.NewCustomPaddedLayout(4, 4, 8, 8), container.NewBorder(s.limit, nil, nil, nil, container.NewScroll(s.trade)))
	s.tradeBox.Hide()
	right := container.NewHSplit(words, s.tradeBox) // in a narrow window the table scrolls
	right.Offset = 0.54
	s.body = container.NewBorder(nil, nil, container.New(layout.NewCustomPaddedLayout(4, 4, 8, 12), s.counts), nil, right)
	s.head = container.NewBorder(nil, nil, nil, container.NewHBox(s.cancel, s.refuse, s.accept), s.title)
	s.object = container.NewStack(container.NewVBox(container.New(layout.NewCustomPaddedLayout(12, 0, 8, 8), s.bar)), s.body)
	return s
}

// working shows how far a solver is, and what it does.
func (s *sheet) working(name string, share float64, what string) {
	if what == "" {
		what = " …"
	} else {
		what = ": " + what
	}
	s.title.SetText(words.Of(name + what))
	s.bar.SetValue(share)
	s.bar.Show()
	s.body.Hide()
	s.cancel.Show()
	s.refuse.Hide()
	s.accept.Hide()
}

// show shows a proposal.
func (s *sheet) show(name string, o *solution, u project.Units) {
	s.bar.Hide()
	s.cancel.Hide()
	s.body.Show()
	s.refuse.Show()
	s.accept.Show()
	s.title.SetText(words.Of(name + ": the proposal stands in the picture"))
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
	number("clashes", o.Before.Findings, o.After.Findings, nil)
	number("must remarks", o.remarksNow[practice.Must], o.remarksThen[practice.Must], nil)
	number("should remarks", o.remarksNow[practice.Should], o.remarksThen[practice.Should], nil)
	s.counts.Refresh()
	s.showTrade(o.trade, u != project.Imperial)
	s.showLimits(o.limits, o.picked)
	s.showOptions(o, u != project.Imperial)
	var lines []string
	for _, c := range o.Changes {
		lines = append(lines, c.Sentence(u))
	}
	if len(lines) == 0 {
		lines = []string{"No change needed."}
		if !o.Solved() {
			lines = []string{"Nothing is changed."}
		}
	}
	s.changes.SetText(words.Of(strings.Join(lines, "\n")))
	lines = nil
	s.verdict.Text, s.verdict.Importance = words.Of(o.Verdict()), widget.HighImportance
	if !o.Solved() {
		s.verdict.Importance = widget.DangerImportance
	}
	for _, p := range o.Obstacles() {
		lines = append(lines, p.Text)
	}
	for _, text := range []string{o.Note, o.words} {
		if text != "" {
			lines = append(lines, text)
		}
	}
	s.proof.SetText(words.Of(strings.Join(lines, "\n\n")))
	s.verdict.Refresh()
	s.head.Refresh()
	s.object.Refresh()
}

// showTrade shows which risers go with which lower edge of the picture: a line
// an edge, a column a row that is ever raised. Beyond three rows only the last
// has room.
func (s *sheet) showTrade(trade []solve.TradeOff, metric bool) {
	s.trade.Objects = nil
	s.tradeBox.Hide()
	if len(trade) == 0 {
		return
	}
	s.limit.Hide()
	var rows []int
	for i := range trade[0].Risers {
		for _, t := range trade {
			if t.Risers[i] > 0 {
				rows = append(rows, i)
				break
			}
		}
	}
	const most = 3
	last := len(rows) > most
	if last {
		rows = nil
	}
	columns := table{74}
	for range max(len(rows), 1) {
		columns = append(columns, 66)
	}
	columns = append(columns, 68)
	show := func(v float64) string { return unit.Length(v).Format(metric) }
	line := func(ink color.Color, words ...string) { s.line(columns, ink, words...) }
	head := []string{"Lower edge"}
	for _, i := range rows {
		head = append(head, fmt.Sprintf("Row %d", i+1))
	}
	if len(rows) == 0 {
		head = append(head, "Last row")
	}
	line(theme.Faint, append(head, "")...)
	for _, t := range trade {
		words, ink := []string{show(t.Bottom)}, color.Color(theme.Ink)
		for _, i := range rows {
			words = append(words, show(t.Risers[i]))
		}
		if len(rows) == 0 {
			words = append(words, show(t.LastRiser))
		}
		state := ""
		if !t.OK {
			state, ink = "not enough", theme.Faint
		}
		line(ink, append(words, state)...)
	}
	s.tradeBox.Show()
}

// line adds a line to the table: the last word to the left, the others to the right.
func (s *sheet) line(columns table, ink color.Color, words ...string) {
	o := make([]fyne.CanvasObject, len(words))
	for i, w := range words {
		align := fyne.TextAlignTrailing
		if i == len(words)-1 {
			align = fyne.TextAlignLeading
		}
		o[i] = smallText(w, ink, align)
	}
	s.trade.Add(container.New(columns, o...))
}

// showLimits shows what each limit of elevation comes to, and lets one be picked of
// those that the standard has.
func (s *sheet) showLimits(points []solve.LiftPoint, picked unit.Degrees) {
	s.limits = points
	if len(points) == 0 {
		return
	}
	columns := table{40, 38, 36, 52, 66, 56, 0}
	s.line(columns, theme.Faint, "Up to", "clear", "tight", "blocked", "to heights", "too near", "")
	var options []string
	now, beyond := -1, false
	for i, t := range points {
		apart, near, ink := "", "", color.Color(theme.Ink)
		if t.Apart <= 180 {
			apart, near = fmt.Sprintf("%.1f°", t.Apart), fmt.Sprint(t.Near)
		}
		if beyond = beyond || t.Beyond; t.Beyond {
			ink = theme.Faint
		} else {
			options = append(options, fmt.Sprintf("Elevation at most %g°", float64(t.Limit)))
		}
		if t.Limit == picked {
			now = i
		}
		s.line(columns, ink, fmt.Sprintf("%g°", float64(t.Limit)), fmt.Sprint(t.After.Clear), fmt.Sprint(t.After.Tight), fmt.Sprint(t.After.Blocked), apart, near, "")
	}
	if beyond {
		s.line(table{280}, theme.Faint, "Faint: beyond the standard's limit")
	}
	s.limit.SetOptions(options)
	s.limit.ShowIndex(now)
	s.limit.Show()
	s.limit.Refresh()
	s.tradeBox.Show()
}

// heading returns a small line over a column, which wraps where that is narrow.
func heading(text string) *widget.Label {
	l := widget.NewLabel(words.Of(text))
	l.Wrapping, l.Importance, l.SizeName = fyne.TextWrapWord, widget.LowImportance, base.SizeNameCaptionText
	return l
}

func smallText(t string, c color.Color, align fyne.TextAlign) *canvas.Text {
	x := canvas.NewText(words.Of(t), c)
	x.TextSize, x.Alignment = 12, align
	return x
}

// compare is a line of the table of counts.
func compare(name, now, then string, mark color.Color) fyne.CanvasObject {
	if mark == nil {
		mark = color.Transparent
	}
	swatch := canvas.NewRectangle(mark)
	swatch.CornerRadius = 2
	return container.New(table{12, 110, 42, 42}, swatch,
		smallText(name, theme.Faint, fyne.TextAlignLeading), smallText(now, theme.Faint, fyne.TextAlignTrailing), smallText(then, theme.Ink, fyne.TextAlignTrailing))
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

// solution is what a solver says about its proposal.
type solution struct {
	solverExtras
	*solve.Proposal
	remarksNow, remarksThen [practice.Must + 1]int
}

func enable(b *field.Button, on bool) {
	switch {
	case on && b.Disabled():
		b.Enable()
	case !on && !b.Disabled():
		b.Disable()
	}
}
