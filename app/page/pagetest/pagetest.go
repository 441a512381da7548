// SPDX-License-Identifier: MIT

// Package pagetest puts a page under test: with a session and a window of Fyne's test
// driver, but without the rest of Earline's window.
package pagetest

import (
	"iter"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/document"
	"earline/app/field"
	_ "earline/app/locale" // before Fyne reads the environment
	"earline/app/page"
	"earline/app/session"
	"earline/app/theme"
	"earline/project"
	"earline/project/file"
)

// Bench is a session and what a page may ask of the window around it.
type Bench struct {
	Session *session.Session
	Frame   page.Frame
	Window  fyne.Window
	Queue   Queue
	// Raised is the page that asked for the top last.
	Raised page.Page
}

// Open opens a demo.
func Open(t *testing.T, demo string) *Bench {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(theme.Theme{})
	b := &Bench{Window: test.NewTempWindow(t, container.NewStack())}
	b.Window.Resize(fyne.NewSize(1000, 420))
	b.Session = session.New(document.New(Demo(t, demo).Design(), t.TempDir()), b.Queue.Post)
	b.Session.Autosave = time.Hour
	folder := t.TempDir()
	asker := ask.New(b.Window, func() string { return folder })
	b.Session.Report = asker.Report
	b.Frame = page.Frame{
		Ask:    asker,
		Raise:  func(p page.Page) { b.Raised = p; p.Body().Show(); p.Update() },
		Redraw: func() {},
		Status: func() {},
		Commit: func() {},
		Leave:  func(then func()) { then() },
		Begin: func(make func() (*project.Design, error)) {
			d, err := make()
			if err != nil {
				t.Error(err)
				return
			}
			b.Session.Open(document.New(d, ""))
		},
		Run:  func(string) {},
		Key:  func(*fyne.KeyEvent) {},
		Rune: func(rune) {},
	}
	t.Cleanup(func() {
		b.Session.Discard()
		b.Session.Close()
		b.Session.Doc.Wait()
	})
	return b
}

// Demo returns a demo as a document that is in no file.
func Demo(t *testing.T, name string) *document.Document {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return document.New(d, "")
}

// Show shows a page, which is on top from then on and told of all that changes.
func (b *Bench) Show(p page.Page) {
	b.Window.SetContent(container.NewBorder(p.Head(), nil, nil, nil, p.Body()))
	b.Session.Show = func(c session.Change) {
		if w, ok := p.(page.Worker); ok && c == session.ProgressMade {
			w.Progress()
			return
		}
		p.Update()
	}
	p.Update()
}

// Press presses the button of that text in the page or in the dialog that is open.
func (b *Bench) Press(t *testing.T, text string) {
	t.Helper()
	for _, root := range append(b.Window.Canvas().Overlays().List(), b.Window.Content()) {
		for button := range Objects[*widget.Button](root) {
			if button.Text == text && button.Visible() {
				test.Tap(button)
				return
			}
		}
	}
	t.Fatalf("no button %q is shown", text)
}

// Run runs the command of a page with that ID.
func Run(t *testing.T, p page.Page, id string) {
	t.Helper()
	for _, c := range p.Commands() {
		if c.ID == id {
			if why := c.Refusal(); why != nil {
				t.Fatalf("%s: %v", id, why)
			}
			c.Do()
			return
		}
	}
	t.Fatalf("no command %s", id)
}

// Walk calls f with root and everything in it.
func Walk(root fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(root)
	switch o := root.(type) { // the toolkit's own, under ours
	case *field.Button:
		f(&o.Button)
	case *field.Tick:
		f(&o.Check)
	case *field.Select:
		f(&o.Select)
	}
	switch o := root.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			Walk(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			Walk(c, f)
		}
	}
}

// Objects returns everything of one kind in root.
func Objects[T fyne.CanvasObject](root fyne.CanvasObject) iter.Seq[T] {
	return func(yield func(T) bool) {
		more := true
		Walk(root, func(o fyne.CanvasObject) {
			if v, ok := o.(T); ok && more {
				more = yield(v)
			}
		})
	}
}

// Queue is the UI goroutine of a test: what is posted runs when the test says so.
type Queue struct {
	mu   sync.Mutex
	todo []func()
}

// Post queues f. Safe from any goroutine.
func (q *Queue) Post(f func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.todo = append(q.todo, f)
}

// Run runs what was posted.
func (q *Queue) Run() {
	q.mu.Lock()
	todo := q.todo
	q.todo = nil
	q.mu.Unlock()
	for _, f := range todo {
		f()
	}
}

// Until runs what is posted until done, or fails the test after five minutes: the
// race detector on a busy machine makes many of a second.
func (q *Queue) Until(t *testing.T, done func() bool) {
	t.Helper()
	for late := time.Now().Add(5 * time.Minute); time.Now().Before(late); {
		if q.Run(); done() {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatal("it did not happen")
}
