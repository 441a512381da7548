// SPDX-License-Identifier: MIT

package lesson

import (
	"strings"
	"testing"

	"earline/app/document"
	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
	"earline/project/lesson"
)

// ran is the command of the window that was run last.
var ran string

// opened shows the page of a lesson.
func opened(t *testing.T, seed, level int) (*pagetest.Bench, *lessonPage, *lesson.Lesson) {
	t.Helper()
	l, err := lesson.Make(seed, level)
	if err != nil {
		t.Fatal(err)
	}
	b := pagetest.Open(t, "small")
	b.Frame.Run = func(id string) { ran = id }
	p := newPage(b.Session, b.Frame)
	if p.Open() {
		t.Error("a room that is no lesson has the page")
	}
	b.Session.Open(document.New(l.Start, t.TempDir()))
	b.Show(p)
	if !p.Open() {
		t.Fatal("a lesson has no page")
	}
	return b, p, l
}

// settled waits for what was asked for.
func settled(t *testing.T, b *pagetest.Bench, p *lessonPage) {
	t.Helper()
	b.Queue.Until(t, func() bool { return p.then == nil })
}

func texts(p *lessonPage) string {
	var all []string
	for _, r := range p.grid.Rows() {
		all = append(all, strings.Join(r.Cells, " "))
	}
	return strings.Join(all, "\n")
}

// A lesson in the window: a hint, the mark, mended, marked again, kept as a table.
func TestALessonIsMarkedInTheWindow(t *testing.T) {
	b, p, l := opened(t, 7, 2)
	if strings.Contains(texts(p), l.Faults[0].Text) {
		t.Error("the page gives the faults away")
	}
	b.Press(t, "Hint")
	settled(t, b, p)
	if !strings.Contains(texts(p), "Look at: "+l.Faults[0].Subject) || strings.Contains(texts(p), l.Faults[0].Rule.Why) {
		t.Error(texts(p))
	}
	b.Press(t, "Mark")
	settled(t, b, p)
	if !strings.HasPrefix(p.head.Text, "0 of 4 points") || !strings.Contains(texts(p), l.Faults[1].Rule.Why) {
		t.Error(p.head.Text, texts(p))
	}
	if err := b.Session.Do("mend", "", func(d *project.Design) { *d = *l.Best.Clone() }); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(p.head.Text, "The room was changed since.") {
		t.Error(p.head.Text)
	}
	b.Press(t, "Mark")
	settled(t, b, p)
	if !strings.HasPrefix(p.head.Text, "4 of 4 points") {
		t.Error(p.head.Text)
	}
	if b.Press(t, "Result as CSV…"); ran != "file.export.lesson-table" {
		t.Errorf("ran %q", ran)
	}
}

func TestANewLessonIsBegunFromItsNumber(t *testing.T) {
	b, p, _ := opened(t, 3, 1)
	pagetest.Run(t, p, "lesson.new")
	b.Press(t, "Make the lesson")
	if got := b.Session.Design().Lesson; got.Level != 1 || got.Seed < 1 {
		t.Errorf("%+v", got)
	}
	if _, state := b.Session.Known.Audit.Get(); state != session.Fresh {
		t.Error(state)
	}
}
