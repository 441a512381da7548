// SPDX-License-Identifier: MIT

package app

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/page"
	"earline/app/theme"
	"earline/project/sight"
)

// status is the foot of the window: a sentence about what is pointed at or what
// is worst, how many pairs are clear, tight and blocked, the view, and whether
// all is saved.
type status struct {
	object   fyne.CanvasObject
	counts   [3]*tally
	picture  *canvas.Text
	practice *canvas.Text
	sentence *widget.Label
	state    *canvas.Text
}

// tally is a count with its verdict.
type tally struct {
	verdict sight.Verdict
	plate   *canvas.Rectangle
	text    *canvas.Text
	box     fyne.CanvasObject
}

func newTally(v sight.Verdict) *tally {
	t := &tally{verdict: v, plate: canvas.NewRectangle(theme.Panel), text: canvas.NewText("", theme.Ink)}
	t.plate.CornerRadius = 3
	t.text.TextSize = 11.5
	t.box = container.NewStack(t.plate, container.New(layout.NewCustomPaddedLayout(2, 2, 6, 6), t.text))
	return t
}

// show shows how many there are, and reports whether the text has changed. Where there
// are none the verdict's colours would be a false alarm.
func (t *tally) show(n int) bool {
	plate, ink, letter := theme.Verdict(t.verdict)
	if n == 0 {
		plate, ink, _ = theme.Verdict(sight.NotJudged)
	}
	t.plate.FillColor, t.text.Color = plate, ink
	changed := setText(t.text, fmt.Sprintf("%s  %d %s", letter, n, t.verdict))
	if changed {
		t.plate.Refresh()
	}
	return changed
}

func newStatus(link func(command string, what fyne.CanvasObject) fyne.CanvasObject) *status {
	s := &status{sentence: widget.NewLabel(""), picture: canvas.NewText("", theme.Ink),
		practice: canvas.NewText("", theme.Ink), state: canvas.NewText("", theme.Faint)}
	s.sentence.Truncation = fyne.TextTruncateEllipsis
	s.picture.TextSize, s.practice.TextSize, s.state.TextSize = 11.5, 11.5, 11.5
	left := container.New(layout.NewCustomPaddedHBoxLayout(5))
	for i, v := range []sight.Verdict{sight.Clear, sight.Tight, sight.Blocked} {
		s.counts[i] = newTally(v)
		left.Add(link("view.sight-page", s.counts[i].box))
	}
	left.Add(link("view.sight-page", container.New(layout.NewCustomPaddedLayout(2, 2, 6, 0), s.picture)))
	left.Add(link("view.practice-page", container.New(layout.NewCustomPaddedLayout(2, 2, 12, 0), s.practice)))
	// Two lines: the sentence is long, and a cut one says nothing.
	s.object = container.NewStack(canvas.NewRectangle(theme.Back),
		container.New(layout.NewCustomPaddedVBoxLayout(0),
			container.New(layout.NewCustomPaddedLayout(0, 0, 2, 2), s.sentence),
			container.New(layout.NewCustomPaddedLayout(0, 4, 6, 8), container.NewBorder(nil, nil, left, s.state))))
	return s
}

func setText(t *canvas.Text, text string) bool {
	if t.Text == text {
		return false
	}
	t.Text = text
	t.Refresh()
	return true
}

// showStatus brings the status line up to date.
func (w *Window) showStatus() {
	s, r := w.status, w.session.Result()
	if r == nil {
		return
	}
	wider := false
	for _, t := range s.counts {
		wider = t.show(r.Count[t.verdict]) || wider
	}
	seen := r.PictureCount[sight.Clear] + r.PictureCount[sight.Tight]
	wider = setText(s.picture, fmt.Sprintf("Picture: %d of %d see all", seen, len(r.Seats))) || wider
	rules := "-" // not known yet
	if found, _ := w.session.Known.Practice.Get(); found != nil {
		rules = found.Short()
	}
	wider = setText(s.practice, "Practice: "+rules) || wider
	saved := "saved"
	switch {
	case w.session.Doc.Dirty():
		saved = "not saved"
	case w.session.Doc.Path() == "":
		saved = "new"
	}
	wider = setText(s.state, w.room.Name()+"  |  "+saved) || wider
	if t := w.sentence(); t != s.sentence.Text {
		s.sentence.SetText(t)
	}
	if wider {
		s.object.Refresh()
	}
}

// sentence says what is pointed at, else what is chosen, else what is worst.
func (w *Window) sentence() string {
	if t := w.room.Dragging(); t != "" {
		return t
	}
	units := w.session.Design().Units
	if m := w.session.Marked(); m != nil {
		return m.Text
	}
	if p, ok := w.drawer.top.Page.(page.Pointed); ok {
		if t := p.Sentence(); t != "" {
			return t
		}
	}
	if c := w.session.Chosen; c.Path {
		if t := w.session.PathSentence(c.Seat, c.Speaker); t != "" {
			return t
		}
	}
	if w.session.Hint != "" {
		return w.session.Hint
	}
	if i, k, ok := w.session.Result().Worst(); ok {
		return "Worst: " + w.session.Result().Sentence(i, k, units)
	}
	return "Every ear sees every loudspeaker."
}

func (w *Window) showTitle() {
	t := "Earline - " + w.session.Doc.Title()
	if w.session.Doc.Dirty() {
		t += " *"
	}
	if t != w.win.Title() {
		w.win.SetTitle(t)
	}
}
