// SPDX-License-Identifier: MIT

package session

import (
	"time"

	"earline/app/document"
	"earline/project"
	"earline/project/pair"
	"earline/project/practice"
)

// Session is one open design. Make one with New. UI goroutine only.
type Session struct {
	Doc    *document.Document // its file, its history and its recovery copy
	Known  Known              // what is known about it
	Chosen Selection          // what is selected; see Choose
	Offer  *Proposal          // on show; nil for none. See Propose
	Hint   string             // what was said last, until something else happens

	// Show is told what has changed, so that the window draws it; Report of what
	// failed that the user asked for. Either may be nil.
	Show   func(Change)
	Report func(title string, err error)
	// Autosave is how long after an edit the recovery copy is written.
	Autosave time.Duration

	links    pair.Links
	host     host
	standard *practice.Standard // replaced, never changed: it is part of a key
	trial    *trial             // see Tried
	draft    *project.Design    // nil while nothing is dragged
	attempt  *attempt           // at a proposal; nil when none is under way
	autosave *time.Timer
}

// Change says what has changed, so that not everything is drawn each time.
type Change uint8

// The changes.
const (
	DesignChanged    Change = iota // an edit, a step of a drag
	DocumentChanged                // another document is open
	AnswerChanged                  // an answer arrived
	ProgressMade                   // work has gone on
	SelectionChanged               // something else is chosen
	ProposalChanged                // a proposal, or work on one, came or went
	HintChanged                    // see Session.Hint
)

// New returns a session on a document. post runs a function on the UI goroutine
// soon.
func New(doc *document.Document, post func(func())) *Session {
	s := &Session{Doc: doc, Chosen: Nothing(), Autosave: 3 * time.Second, standard: &practice.Standard{}}
	s.host = host{post: post, changed: s.changed, every: 50 * time.Millisecond}
	s.know()
	return s
}

func (s *Session) changed(c Change) {
	if s.Show != nil && !s.host.closed {
		s.Show(c)
	}
}

// Open shows another document from its beginning. What was known and proposed of
// the one before is forgotten, nothing is selected.
func (s *Session) Open(doc *document.Document) {
	s.dropAutosave()
	s.withdraw()
	s.Known.each(answer.forget)
	s.Doc, s.draft, s.trial, s.Chosen, s.Hint, s.links = doc, nil, nil, Nothing(), "", pair.Links{}
	s.changed(DocumentChanged)
}

// Close ends all work and writes what was to be written as the recovery copy.
// Nothing is told any more.
func (s *Session) Close() {
	s.host.closed = true
	s.withdraw()
	s.Known.each(answer.forget)
	if s.autosave != nil {
		s.dropAutosave()
		s.WriteRecovery()
	}
}

// Design returns the present design, which must not be changed. What is being
// dragged is where it is now.
func (s *Session) Design() *project.Design {
	if s.draft != nil {
		return s.draft
	}
	return s.Doc.Design()
}

// Do edits the design, as of project.History.Do: the one way in which it changes.
// It ends a drag.
func (s *Session) Do(label, merge string, edit func(*project.Design)) error {
	before := s.Doc.Design()
	err := s.Doc.Do(label, merge, edit)
	if s.Doc.Design() != before {
		s.edited()
	} else {
		s.Draft(nil)
	}
	return err
}

// Undo takes back the last edit, or else what is being dragged; false when there
// is neither.
func (s *Session) Undo() bool { return s.step(s.Doc.Undo) }

// Redo makes the last edit that was taken back again, or ends a drag; false when
// there is neither.
func (s *Session) Redo() bool { return s.step(s.Doc.Redo) }

func (s *Session) step(back func() bool) bool {
	if s.Dragging() {
		s.Draft(nil)
		return true
	}
	if !back() {
		return false
	}
	s.edited()
	return true
}

// edited shows the design after an edit and sees to its recovery copy.
func (s *Session) edited() {
	s.draft = nil
	s.withdraw() // a proposal is for the design it was made for
	s.Hint = ""
	s.keepChosen()
	s.startAutosave()
	s.changed(DesignChanged)
}

// Draft shows a design, which Validate accepts and nobody changes any more, in
// place of the document's while something is dragged; nil shows the document's
// again.
func (s *Session) Draft(d *project.Design) {
	if d == s.draft {
		return
	}
	s.draft, s.Hint = d, ""
	s.keepChosen()
	s.changed(DesignChanged)
}

// Links returns which pairs, left and right, are edited as pairs.
func (s *Session) Links() *pair.Links { return &s.links }

// Dragging reports whether a draft is on show.
func (s *Session) Dragging() bool { return s.draft != nil }

// Standard returns the house standard that the rules of placement are held to. It
// must not be changed.
func (s *Session) Standard() practice.Standard { return *s.standard }

// SetStandard puts another house standard in force.
func (s *Session) SetStandard(std practice.Standard) {
	s.standard = &std
	s.changed(AnswerChanged)
}

// Say shows a sentence until something else happens.
func (s *Session) Say(text string) {
	s.Hint = text
	s.changed(HintChanged)
}
