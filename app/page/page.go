// SPDX-License-Identifier: MIT

// Package page says what a page is: one way to look at the open design, under the
// picture of the room. UI goroutine only.
//
// Each page is a package below this one that exports New and imports no other
// page. To add one, write its package and name it in the window's list of pages.
package page

import (
	"fyne.io/fyne/v2"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/session"
	"earline/project"
	"earline/project/practice"
	"earline/scene"
)

// Page is one way to look at the open design.
type Page interface {
	// Title is the name on the tab: "Sight". It names the page in Proposal.Page too.
	Title() string
	// Says is what the page shows, in one line: "Shows the table of seats ...".
	Says() string
	// Body is the page itself; Head stands beside the tabs and may be nil.
	Body() fyne.CanvasObject
	Head() fyne.CanvasObject
	// Update brings the page up to date: the design, the selection, an answer or a
	// proposal changed. It is called before the picture is drawn, and only while the
	// page is on top.
	Update()
	// Overlay says what the page lays over the room, while it is on top.
	Overlay(*scene.Options)
	// Commands are what can be done on the page. They may be chosen while it is not on
	// top.
	Commands() []command.Command
}

// What only some pages have.
type (
	// Transient is a page that has a tab only while Open reports true. It comes to
	// the top when it opens.
	Transient interface{ Open() bool }
	// Sized is a page that begins with another share of the height than most:
	// PictureShare is what is left to the picture, 0 to 1.
	Sized interface{ PictureShare() float64 }
	// Worker is a page that shows how far work is: Progress is called when it has gone
	// on, which may be often.
	Worker interface{ Progress() }
	// Keyed is a page that the keyboard can go to: First is where it goes first.
	Keyed interface{ First() fyne.Focusable }
	// Pointed is a page that says in words what is pointed at on it; empty for
	// nothing.
	Pointed interface{ Sentence() string }
	// Forgetful is a page that keeps choices which another document begins without:
	// Forget takes them back.
	Forgetful interface{ Forget() }
	// Rules is the page of the placement rules: ShowRemark chooses one of their remarks,
	// as a click on its line does.
	Rules interface{ ShowRemark(*practice.Remark) }
)

// Frame is what the window does for its pages.
type Frame struct {
	Ask    *ask.Asker
	Raise  func(Page) // brings a page to the top
	Redraw func()     // draws the picture again: what the page lays over it changed
	Status func()     // shows the status line again: something else is pointed at
	Commit func()     // takes in what is still being typed in some entry
	// Leave goes on with then once the user agrees to leave the document on show. Begin
	// shows what make returns in its place; make runs on another goroutine.
	Leave func(then func())
	Begin func(make func() (*project.Design, error))
	// Run runs the command of the window with that ID, as if it were chosen in the menu.
	Run func(id string)
	// Key and Rune take the keys that mean nothing to the page.
	Key  func(*fyne.KeyEvent)
	Rune func(rune)
}

// Busy reports whether a dialog or menu is open.
func (f *Frame) Busy() bool { return f.Ask.Busy() }

// Accept makes what is proposed the design: one step of undo. What cannot be accepted
// is refused, and the user told why.
func (f *Frame) Accept(s *session.Session) {
	if err := s.Accept(); err != nil {
		s.Refuse()
		f.Ask.Report("The proposal cannot be accepted", err)
	}
}
