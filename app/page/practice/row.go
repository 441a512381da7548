// SPDX-License-Identifier: MIT

package practice

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/project/practice"
	"earline/project/sight"
)

// badge returns how the severity of what falls short is shown, as the table of
// sight shows its verdicts: by colour, and by letter.
func badge(s practice.Severity, met bool) (plate, ink theme.Color, letter string) {
	switch {
	case met:
		plate, ink, _ = theme.Verdict(sight.Clear)
		return plate, ink, "ok"
	case s == practice.Must:
		plate, ink, _ = theme.Verdict(sight.Blocked)
		return plate, ink, "M"
	case s == practice.Should:
		plate, ink, _ = theme.Verdict(sight.Tight)
		return plate, ink, "S"
	}
	plate, _, _ = theme.Verdict(sight.NotJudged)
	return plate, theme.Ink, "N"
}

// Sizes of a row, in Fyne's points.
const (
	rowHeight = 20
	plateWide = 24
	indent    = 20
)

// row shows a line.
type row struct {
	widget.BaseWidget
	back, plate  *canvas.Rectangle
	letter, text *canvas.Text
	detail       *canvas.Text
	indent       float32
	full         string
	why          string // of a rule
}

func newRow() *row {
	r := &row{back: canvas.NewRectangle(color.Transparent), plate: canvas.NewRectangle(color.Transparent),
		letter: canvas.NewText("", theme.Ink), text: canvas.NewText("", theme.Ink), detail: canvas.NewText("", theme.Faint)}
	for _, t := range []*canvas.Text{r.letter, r.text, r.detail} {
		t.TextSize = 11.5
	}
	r.letter.TextStyle.Bold = true
	r.plate.CornerRadius = 2
	r.ExtendBaseWidget(r)
	return r
}

func (r *row) show(l listRow) {
	r.text.Color, r.text.TextStyle.Bold = theme.Ink, false
	r.back.FillColor = color.Transparent
	r.why = ""
	switch {
	case l.cause != nil:
		r.full, r.detail.Text = l.cause.Text, words.Of(l.cause.Family.String())
		r.plate.FillColor, r.letter.Color, r.letter.Text = badge(l.cause.Severity, false)
		r.text.TextStyle.Bold = true
		r.back.FillColor = theme.Head
		r.indent = 0
	case l.fold != noFold:
		r.full, r.detail.Text, r.letter.Text = l.foldWords(), "", ""
		r.plate.FillColor = color.Transparent
		r.indent = 0
	case l.finding != nil:
		r.full, r.detail.Text = l.finding.String(), ""
		r.plate.FillColor, r.letter.Color, r.letter.Text = badge(practice.Must, false)
		r.indent = indent
	case l.remark == nil:
		r.why = l.rule.Why
		r.full, r.detail.Text = l.rule.Title, words.Of(l.count())
		r.plate.FillColor, r.letter.Color, r.letter.Text = badge(l.worst, l.short == 0)
		r.text.TextStyle.Bold = true
		r.back.FillColor = theme.Head
		if l.off {
			r.plate.FillColor, r.letter.Color, r.letter.Text = badge(practice.Note, false)
			r.letter.Text, r.text.Color = words.Of("off"), theme.Faint
			r.full += ": " + l.reason
		}
		r.indent = 0
	default:
		r.full, r.detail.Text = l.remark.Text, words.Of(gradeWords(l.remark))
		r.plate.FillColor, r.letter.Color, r.letter.Text = badge(l.remark.Severity, l.remark.OK)
		r.indent = indent
	}
	r.Refresh()
}

// MouseIn implements desktop.Hoverable: a text that is cut stands whole in a tip, and a
// rule says why.
func (r *row) MouseIn(*desktop.MouseEvent) {
	field.TipSoon(r, r.tip(), fyne.NewPos(r.text.Position().X, rowHeight))
}

func (r *row) tip() string {
	var lines []string
	if r.text.Text != words.Of(r.full) || r.why != "" {
		lines = append(lines, r.full)
	}
	if r.why != "" {
		lines = append(lines, r.why)
	}
	return strings.Join(lines, "\n")
}

// MouseMoved implements desktop.Hoverable.
func (r *row) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (r *row) MouseOut() { field.TipGone(r) }

// gradeWords says how good what a remark measured is, where there is more to it than met
// or not.
func gradeWords(m *practice.Remark) string {
	switch {
	case m.Settled != "":
		return "settled"
	case m.Grade == practice.Accepted:
		return "accepted"
	}
	return ""
}

// MinSize implements fyne.CanvasObject.
func (r *row) MinSize() fyne.Size {
	r.ExtendBaseWidget(r)
	return fyne.NewSize(120, rowHeight)
}

// CreateRenderer implements fyne.Widget.
func (r *row) CreateRenderer() fyne.WidgetRenderer { return &rowRenderer{r} }

type rowRenderer struct{ *row }

func (r *rowRenderer) Destroy()           {}
func (r *rowRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.row) }
func (r *rowRenderer) MinSize() fyne.Size { return fyne.NewSize(120, rowHeight) }
func (r *rowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.plate, r.letter, r.text, r.detail}
}

// Layout cuts the text where the row ends: the whole of it stands beside the
// list when the row is chosen.
func (r *rowRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.plate.Move(fyne.NewPos(4+r.indent, 2))
	r.plate.Resize(fyne.NewSize(plateWide, s.Height-4))
	put := func(t *canvas.Text, x float32) {
		m := t.MinSize()
		t.Move(fyne.NewPos(x, (s.Height-m.Height)/2))
		t.Resize(m)
	}
	put(r.letter, 4+r.indent+(plateWide-r.letter.MinSize().Width)/2)
	detail := r.detail.MinSize().Width
	put(r.detail, s.Width-detail-10)
	left := r.indent + plateWide + 12
	r.text.Text = field.Shorten(r.full, s.Width-left-detail-20, r.text)
	put(r.text, left)
}
