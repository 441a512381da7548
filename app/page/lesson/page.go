// SPDX-License-Identifier: MIT

// Package lesson is the page of a lesson: hints one by one, the mark, and why each fault
// is one. It is there while the open room is a lesson. UI goroutine only.
package lesson

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/project"
	"earline/project/lesson"
	"earline/scene"
)

// lessonPage shows how far the lesson is.
type lessonPage struct {
	session *session.Session
	frame   page.Frame

	head   *widget.Label
	body   fyne.CanvasObject
	hint   *field.Button
	mark   *field.Button
	grid   *field.GridList
	scroll *container.Scroll

	marking session.Answer[*project.Design, *lesson.Mark]
	asked   *project.Design    // of which the mark is asked for
	then    func(*lesson.Mark) // what it is wanted for; nil for nothing
	hints   []string           // that were told
	marked  *lesson.Mark       // that is shown
	of      *project.Design    // of which marked is
}

// title is the name on the tab.
const title = "Lesson"

// New returns the page.
func New(s *session.Session, f page.Frame) page.Page { return newPage(s, f) }

func newPage(s *session.Session, f page.Frame) *lessonPage {
	p := &lessonPage{session: s, frame: f, head: widget.NewLabel(""), grid: field.NewGridList()}
	p.head.Truncation = fyne.TextTruncateEllipsis
	p.marking = session.Answer[*project.Design, *lesson.Mark]{
		Key:  func() (*project.Design, bool) { return p.asked, p.asked != nil },
		Work: markOf,
	}
	session.Join(s, &p.marking)
	p.grid.OnMove = p.move
	p.scroll = container.NewVScroll(p.grid)
	p.hint = field.NewButton("Hint", p.tell)
	p.hint.Tip = "Tell one more hint: where to look, by which rule, what cures it"
	p.mark = field.NewButton("Mark", p.judge)
	p.mark.Importance = widget.HighImportance
	p.mark.Tip = "Tell which faults there are, and which are mended"
	keep := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for _, k := range []struct{ name, id, tip string }{
		{"Result as PDF…", "file.export.lesson", "Write the mark as a page to print"},
		{"Result as CSV…", "file.export.lesson-table", "Write the mark as a table"},
	} {
		b := field.NewButton(k.name, func() { f.Run(k.id) })
		b.Tip = k.tip
		keep.Add(b)
	}
	row := container.New(layout.NewCustomPaddedHBoxLayout(2), p.hint, p.mark)
	bar := container.New(layout.NewCustomPaddedLayout(4, 2, 8, 8), field.Bordered(nil, nil, nil, keep, row))
	p.body = field.Bordered(bar, nil, nil, nil, p.scroll)
	return p
}

// Title implements page.Page, as do the methods below.
func (p *lessonPage) Title() string { return title }

// Says says what the page shows.
func (p *lessonPage) Says() string {
	return "Gives hints on the faults of a lesson, and marks how they are mended."
}

// Body returns what was told and the mark.
func (p *lessonPage) Body() fyne.CanvasObject { return p.body }

// Head returns the mark in a line.
func (p *lessonPage) Head() fyne.CanvasObject { return p.head }

// Open reports whether the room is a lesson. It implements page.Transient.
func (p *lessonPage) Open() bool { return p.session.Design().Lesson.Given() }

// First returns the button for hints. It implements page.Keyed.
func (p *lessonPage) First() fyne.Focusable { return p.hint }

// PictureShare leaves more to the page than most do. It implements page.Sized.
func (p *lessonPage) PictureShare() float64 { return 0.6 }

// Forget begins another lesson with nothing told. It implements page.Forgetful.
func (p *lessonPage) Forget() { p.asked, p.then, p.hints, p.marked, p.of = nil, nil, nil, nil, nil }

// Overlay lays nothing over the room.
func (p *lessonPage) Overlay(*scene.Options) {}

// Update shows what is told and marked.
func (p *lessonPage) Update() {
	if p.then != nil {
		switch m, state := p.marking.Get(); state {
		case session.Fresh:
			then := p.then
			p.then = nil
			then(m)
		case session.Failed:
			p.then = nil
			p.frame.Ask.Report("The lesson cannot be marked", p.marking.Err())
		}
	}
	d := p.session.Design()
	p.grid.Set(rowsOf(d, p.hints, p.marked), -1)
	p.scroll.Refresh()
	switch {
	case p.then != nil:
		p.head.SetText(words.Of("Marking…"))
	case p.marked == nil:
		p.head.SetText(words.Of(d.Name))
	case p.of != d:
		p.head.SetText(words.Of(p.marked.Sentence() + " The room was changed since."))
	default:
		p.head.SetText(words.Of(p.marked.Sentence()))
	}
}

// ask has the room marked as it is now, and goes on with then.
func (p *lessonPage) ask(then func(*lesson.Mark)) {
	if p.frame.Busy() || p.then != nil {
		return
	}
	p.frame.Commit()
	p.asked, p.then = p.session.Design(), then
	p.Update()
}

// tell tells one more hint on what is not mended.
func (p *lessonPage) tell() {
	p.ask(func(m *lesson.Mark) {
		for _, h := range m.Hints() {
			if !told(p.hints, h) {
				p.hints = append(p.hints, h)
				break
			}
		}
		p.scroll.ScrollToTop()
	})
}

// judge shows the mark.
func (p *lessonPage) judge() {
	p.ask(func(m *lesson.Mark) {
		p.marked, p.of = m, p.asked
		p.scroll.ScrollToTop()
	})
}

// move scrolls by so many rows.
func (p *lessonPage) move(by int) {
	const line = 22 // of the list's height
	last := max(p.grid.MinSize().Height-p.scroll.Size().Height, 0)
	p.scroll.ScrollToOffset(fyne.NewPos(0, min(max(p.scroll.Offset.Y+float32(by)*line, 0), last)))
}

// raise brings the page up and does what it is for.
func (p *lessonPage) raise(do func()) func() {
	return func() {
		if !p.body.Visible() {
			p.frame.Raise(p)
		}
		do()
	}
}

// Commands returns what can be done with lessons.
func (p *lessonPage) Commands() []command.Command {
	lessonOnly := func() error {
		if !p.Open() {
			return errors.New("this room is no lesson")
		}
		return nil
	}
	return []command.Command{
		{ID: "lesson.new", Name: "New lesson…", Menu: "File", LineAbove: true,
			Says: "Makes a room with faults to be found and mended, from a number.",
			Do:   p.begin},
		{ID: "lesson.hint", Name: "Hint on the lesson", Menu: "Rules", LineAbove: true,
			Says: "Tells one more hint on the faults of a lesson.",
			Can:  lessonOnly, Do: p.raise(p.tell)},
		{ID: "lesson.mark", Name: "Mark the lesson", Menu: "Rules",
			Says: "Tells which faults of a lesson there are, and which are mended.",
			Can:  lessonOnly, Do: p.raise(p.judge)},
	}
}

var _ interface {
	page.Keyed
	page.Transient
	page.Sized
	page.Forgetful
} = (*lessonPage)(nil)
