// SPDX-License-Identifier: MIT

// Package sight is the page of who hears and sees what: the table of seats by
// loudspeakers. UI goroutine only.
package sight

import (
	"fyne.io/fyne/v2"

	"earline/app/command"
	"earline/app/page"
	"earline/app/session"
	"earline/project"
	"earline/project/bs2051"
	"earline/project/sight"
	"earline/scene"
)

// sightPage shows the session's audit in a matrix and selects what is clicked
// there.
type sightPage struct {
	session *session.Session
	matrix  *matrix
	sitter  *sitter

	// What the matrix shows.
	result *sight.Result
	units  project.Units
}

// New returns the page. sit shows the view from a seat.
func New(s *session.Session, f page.Frame, sit func(seat int)) page.Page {
	return newPage(s, f, sit)
}

func newPage(s *session.Session, f page.Frame, sit func(seat int)) *sightPage {
	p := &sightPage{session: s, matrix: newMatrix(), sitter: newSitter(s)}
	p.matrix.OnChoose = func(c cell) { s.LookAlong(c.Seat, c.Speaker) }
	p.matrix.OnHover = func(cell, bool) { f.Status() }
	p.matrix.OnSpeaker, p.matrix.OnSeat = s.ChooseSpeaker, sit
	p.matrix.Means = func(k int) string {
		name := p.matrix.result.Speakers[k].Name()
		if means := bs2051.Means(name); means != "" {
			return name + ": " + means + ". A click edits it."
		}
		return name + ". A click edits it."
	}
	p.matrix.OnKey, p.matrix.OnRune = f.Key, f.Rune
	return p
}

// Title implements page.Page, as do the methods below.
func (p *sightPage) Title() string { return "Sight" }

// Says says what the page shows.
func (p *sightPage) Says() string { return "Shows the table of seats by loudspeakers." }

// Body returns the table.
func (p *sightPage) Body() fyne.CanvasObject { return p.matrix }

// Head returns what tries another sitter in the selected seat.
func (p *sightPage) Head() fyne.CanvasObject { return p.sitter.object }

// First returns the table. It implements page.Keyed.
func (p *sightPage) First() fyne.Focusable { return p.matrix }

// Update shows the audit, and which path is looked along.
func (p *sightPage) Update() {
	p.sitter.update()
	if r, u := p.session.Tried(), p.session.Design().Units; r != p.result || u != p.units {
		p.result, p.units = r, u
		p.matrix.Set(r, u)
	}
	chosen := p.matrix.Chosen()
	switch c := p.session.Chosen; {
	case c.Path && (chosen == nil || *chosen != cell{c.Seat, c.Speaker}):
		p.matrix.Choose(&cell{c.Seat, c.Speaker})
	case !c.Path && chosen != nil:
		p.matrix.Choose(nil)
	}
}

// Overlay adds nothing: rays are drawn on every page.
func (p *sightPage) Overlay(*scene.Options) {}

// Commands returns none: all that the table does is done by pointing at it.
func (p *sightPage) Commands() []command.Command { return nil }

// Sentence says what the audit found for the cell under the pointer. It
// implements page.Pointed.
func (p *sightPage) Sentence() string {
	if c, ok := p.matrix.Hovered(); ok {
		return p.session.PathSentence(c.Seat, c.Speaker)
	}
	return ""
}

var _ page.Pointed = (*sightPage)(nil)
