// SPDX-License-Identifier: MIT

package app

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/theme"
	"earline/app/words"
	"earline/project/settle"
	"earline/project/sight"
)

// status is the foot of the window: a sentence about what is pointed at or what is to
// be settled first, what cannot be built, how many pairs are clear, tight and blocked,
// who sees the picture, the view, and whether all is saved. Each part that counts
// something leads to the worst of it.
type status struct {
	object      fyne.CanvasObject
	unbuildable *tally
	counts      [3]*tally
	picture     *canvas.Text
	practice    *canvas.Text
	sentence    *sentence
	state       *canvas.Text
}

// tally is a count on a plate.
type tally struct {
	verdict sight.Verdict
	plate   *canvas.Rectangle
	text    *canvas.Text
	box     fyne.CanvasObject
}

func newTally(v sight.Verdict, tapped func()) *tally {
	t := &tally{verdict: v, plate: canvas.NewRectangle(theme.Panel), text: canvas.NewText("", theme.Ink)}
	t.plate.CornerRadius = 3
	t.text.TextSize = 11.5
	t.box = field.NewLink(container.NewStack(t.plate, container.New(layout.NewCustomPaddedLayout(2, 2, 6, 6), t.text)), tapped)
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

// leads are where the parts of the status line lead: to the worst of a family, to the
// path that is blocked or tight at worst, to what is to be settled first, and to the
// placement rules.
type leads struct {
	family                       func(settle.Family)
	blocked, tight, first, rules func()
}

// newStatus returns the foot of the window.
func newStatus(to leads) *status {
	s := &status{sentence: newSentence(to.first), picture: canvas.NewText("", theme.Ink),
		practice: canvas.NewText("", theme.Ink), state: canvas.NewText("", theme.Faint)}
	s.picture.TextSize, s.practice.TextSize, s.state.TextSize = 11.5, 11.5, 11.5
	family := func(f settle.Family) func() { return func() { to.family(f) } }
	left := container.New(layout.NewCustomPaddedHBoxLayout(5))
	s.unbuildable = newTally(sight.Blocked, family(settle.Build))
	s.unbuildable.text.TextStyle.Bold = true
	s.unbuildable.box.Hide()
	left.Add(s.unbuildable.box)
	for i, v := range []sight.Verdict{sight.Clear, sight.Tight, sight.Blocked} {
		var settled func() // of what is clear there is nothing to settle
		switch v {
		case sight.Tight:
			settled = to.tight
		case sight.Blocked:
			settled = to.blocked
		}
		s.counts[i] = newTally(v, settled)
		left.Add(s.counts[i].box)
	}
	left.Add(field.NewLink(container.New(layout.NewCustomPaddedLayout(2, 2, 6, 0), s.picture), family(settle.Picture)))
	left.Add(field.NewLink(container.New(layout.NewCustomPaddedLayout(2, 2, 12, 0), s.practice), to.rules))
	// Two lines: the sentence is long, and a cut one says nothing.
	s.object = container.NewStack(canvas.NewRectangle(theme.Back),
		container.New(layout.NewCustomPaddedVBoxLayout(0),
			container.New(layout.NewCustomPaddedLayout(0, 0, 2, 2), s.sentence),
			container.New(layout.NewCustomPaddedLayout(0, 4, 6, 8), container.NewBorder(nil, nil, left, s.state))))
	return s
}

func setText(t *canvas.Text, text string) bool {
	if text = words.Of(text); t.Text == text {
		return false
	}
	t.Text = text
	t.Refresh()
	return true
}

// showStatus brings the status line up to date.
func (w *Window) showStatus() {
	w.guide.Update()
	s, r := w.status, w.session.Result()
	if r == nil {
		return
	}
	wider := false
	if n := w.unbuildable(); n == 0 && s.unbuildable.box.Visible() {
		s.unbuildable.box.Hide()
		wider = true
	} else if n > 0 {
		wider = !s.unbuildable.box.Visible()
		s.unbuildable.box.Show()
		wider = setText(s.unbuildable.text, fmt.Sprintf("%d cannot be built", n)) || wider
	}
	for _, t := range s.counts {
		wider = t.show(r.Count[t.verdict]) || wider
	}
	seen := r.PictureCount[sight.Clear] + r.PictureCount[sight.Tight]
	wider = setText(s.picture, fmt.Sprintf("Picture: %d of %d see all", seen, len(r.Seats))) || wider
	rules := "-" // not known yet
	if w.lesson() {
		rules = "told when marked"
	} else if found, _ := w.session.Known.Practice.Get(); found != nil {
		if l, state := w.session.Known.Causes.Get(); state != session.Missing {
			rules = l.Short()
		}
	}
	wider = setText(s.practice, "Rules: "+rules) || wider
	saved := "saved"
	switch {
	case w.session.Doc.Dirty():
		saved = "not saved"
	case w.session.Doc.Path() == "":
		saved = "new"
	}
	wider = setText(s.state, w.room.Name()+"  |  "+saved) || wider
	s.sentence.show(w.sentence())
	if wider {
		s.object.Refresh()
	}
}

// sentence says what is pointed at, else what is chosen, else what is to be settled
// first; of that it returns the cause, else nil.
func (w *Window) sentence() (string, *settle.Cause) {
	if t := w.room.Dragging(); t != "" {
		return t, nil
	}
	if m := w.session.Marked(); m != nil {
		return m.Text, nil
	}
	if p, ok := w.drawer.top.Page.(page.Pointed); ok {
		if t := p.Sentence(); t != "" {
			return t, nil
		}
	}
	if c := w.session.Chosen; c.Path {
		if t := w.session.PathSentence(c.Seat, c.Speaker); t != "" {
			return t, nil
		}
	}
	if w.session.Hint != "" {
		return w.session.Hint, nil
	}
	if w.lesson() {
		return "A lesson: look round the room, mend it, and mark it on the page Lesson.", nil
	}
	l, state := w.session.Known.Causes.Get()
	if state == session.Missing {
		return "Looking at the placement rules…", nil
	}
	return l.Sentence(), l.First()
}

// lesson reports whether the room is a lesson, whose faults are not given away.
func (w *Window) lesson() bool { return w.session.Design().Lesson.Given() }

func (w *Window) showTitle() {
	t := "Earline - " + w.session.Doc.Title()
	if w.session.Doc.Dirty() {
		t += " *"
	}
	if t != w.win.Title() {
		w.win.SetTitle(t)
	}
}
