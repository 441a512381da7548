// SPDX-License-Identifier: MIT

// Package setout is the page for who builds the room: the set-out list, beside it the
// drawings, with a mark round what is chosen, and what both are measured from. UI
// goroutine only.
package setout

import (
	"context"
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/export"
	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/project"
	"earline/project/setout"
	"earline/project/sight"
	"earline/scene"
	"earline/scene/drawing"
	"earline/scene/sheet"
)

// setOutPage shows where everything of the session's design goes.
type setOutPage struct {
	session *session.Session
	frame   page.Frame

	says    *widget.Label
	head    fyne.CanvasObject
	body    fyne.CanvasObject
	list    *list
	form    *form
	left    *fyne.Container // list or form
	listTab *field.Button
	formTab *field.Button
	viewer  *viewer

	large      *viewer // of the print preview
	largePane  fyne.CanvasObject
	previewing bool // its dialog is open

	sheets session.Answer[sheetsKey, *sheet.Drawings]
	out    *setout.List    // fresh or of the design before; nil for none
	of     *project.Design // what out is of, for finding things in it
	drawn  *sheet.Drawings // fresh or of the design before; nil for none

	chosen key
	shown  shown             // in the list, as of the last update
	seen   session.Selection // what was selected when the page looked last
}

// shown is what the list shows.
type shown struct {
	out    *setout.List
	chosen key
}

// sheetsKey is what the drawings are made of.
type sheetsKey struct {
	list  *setout.List
	audit *sight.Result
	path  string // of the design's file
}

// key tells the items of a list apart.
type key struct{ id, part string }

func keyOf(it *setout.Item) key { return key{it.ID, it.Part} }

// title is the name on the tab.
const title = "Set-out"

// New returns the page.
func New(s *session.Session, f page.Frame) page.Page { return newPage(s, f) }

func newPage(s *session.Session, f page.Frame) *setOutPage {
	p := &setOutPage{session: s, frame: f, says: widget.NewLabel("")}
	p.says.Truncation = fyne.TextTruncateEllipsis
	files := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for _, k := range []struct{ name, id, tip string }{
		{"PDF", "file.export.drawings-pdf", "Writes the drawings as pages to print"},
		{"SVG", "file.export.drawings-svg", "Writes every sheet as an SVG drawing"},
		{"DXF", "file.export.drawings-dxf", "Writes the drawings for a drawing program"},
		{"CSV", "file.export.setout", "Writes the list as a table"},
	} {
		b := field.NewButton(k.name, func() { f.Run(k.id) })
		b.Tip, b.Importance = k.tip, widget.LowImportance
		files.Add(b)
	}
	p.head = field.Bordered(nil, nil, nil, files, p.says)
	face := drawing.NewTypeface(nil) // of one work at a time
	p.sheets = session.Answer[sheetsKey, *sheet.Drawings]{
		Key: func() (sheetsKey, bool) {
			l, state := s.Known.SetOut.Get()
			return sheetsKey{l, s.Result(), s.Doc.Path()}, state == session.Fresh
		},
		Work: func(_ context.Context, k sheetsKey, _ session.Last[sheetsKey, *sheet.Drawings], _ func(float64)) (*sheet.Drawings, error) {
			return export.Sheets(&k.audit.Room, k.list, drawing.Paper{}, k.path, face)
		},
	}
	session.Join(s, &p.sheets)
	p.viewer, p.large = newViewer(p), newViewer(p)
	p.large.clean = true
	p.largePane = p.large.pane(false)
	p.list = newList(p)
	p.form = newForm(p)
	p.listTab = field.NewButton("List", func() { p.showForm(false) })
	p.formTab = field.NewButton("Datum and job", func() { p.showForm(true) })
	p.listTab.Tip = "Shows what is to be set out, in the order of the walk round the room."
	p.formTab.Tip = "Edits what everything is measured from, and what stands in the title block."
	tabs := container.New(layout.NewCustomPaddedHBoxLayout(2), p.listTab, p.formTab)
	p.left = container.NewStack(p.list, p.form.object)
	p.showForm(false)
	all := container.NewHSplit(field.Bordered(container.New(layout.NewCustomPaddedLayout(1, 1, 4, 4), tabs), nil, nil, nil, p.left), p.viewer.pane(true))
	all.Offset = 0.4
	p.body = all
	return p
}

// showForm shows the form in place of the list, or the list again.
func (p *setOutPage) showForm(on bool) {
	if on {
		p.list.Hide()
		p.form.object.Show()
	} else {
		p.form.object.Hide()
		p.list.Show()
	}
	for b, lit := range map[*field.Button]bool{p.formTab: on, p.listTab: !on} {
		b.Importance = widget.LowImportance
		if lit {
			b.Importance = widget.HighImportance
		}
		b.Refresh()
	}
	p.form.update()
	p.left.Refresh()
}

// Title implements page.Page, as do the methods below.
func (p *setOutPage) Title() string { return title }

// Says says what the page shows.
func (p *setOutPage) Says() string {
	return "Lists and draws where on walls, ceiling and floor everything goes."
}

// Body returns the list beside the drawings.
func (p *setOutPage) Body() fyne.CanvasObject { return p.body }

// Head returns how much there is to set out, and what writes it.
func (p *setOutPage) Head() fyne.CanvasObject { return p.head }

// First returns the list. It implements page.Keyed.
func (p *setOutPage) First() fyne.Focusable {
	p.showForm(false)
	return p.list
}

// PictureShare leaves more to the page than most do: drawings are read on it. It
// implements page.Sized.
func (p *setOutPage) PictureShare() float64 { return 0.4 }

// Overlay adds nothing: what is chosen is selected.
func (p *setOutPage) Overlay(*scene.Options) {}

// Update shows the list, the drawings and what is selected.
func (p *setOutPage) Update() {
	l, state := p.session.Known.SetOut.Get()
	if l != p.out {
		p.out = l
		p.of = p.session.Known.SetOut.Last().Key.Design
		p.list.fill()
	}
	d, drawnState := p.sheets.Get()
	switch {
	case state == session.Failed:
		p.says.SetText(words.Of(field.OneLine(p.session.Known.SetOut.Err())))
	case drawnState == session.Failed:
		p.says.SetText(words.Of(field.OneLine(p.sheets.Err())))
	case state != session.Fresh || drawnState != session.Fresh:
		p.says.SetText(words.Of("Working it out…"))
	default:
		p.says.SetText(words.Of(fmt.Sprintf("%d items to set out, %d sheets", len(l.Items), len(d.Sheets))))
	}
	p.drawn = d
	p.follow()
	p.form.update()
	for _, v := range p.viewers() {
		v.set(d)
	}
	if now := (shown{p.out, p.chosen}); now != p.shown { // else who scrolls would be led back
		p.shown = now
		p.list.update()
	}
}

// viewers returns where drawings are on show.
func (p *setOutPage) viewers() []*viewer {
	if p.previewing {
		return []*viewer{p.viewer, p.large}
	}
	return []*viewer{p.viewer}
}

// Forget begins another document with nothing chosen, at the first sheet. It implements
// page.Forgetful.
func (p *setOutPage) Forget() {
	p.chosen, p.seen = key{}, session.Nothing()
	p.showForm(false)
	p.viewer.forget()
}

// follow chooses the line of what was selected elsewhere.
func (p *setOutPage) follow() {
	now := p.session.Chosen
	if now == p.seen || p.out == nil {
		return
	}
	p.seen = now
	thing, ok := selected(p.session, now)
	if !ok {
		return
	}
	if i := p.index(); i >= 0 && thingOf(p.of, p.out.Items[i].ID) == thing {
		return // another part of it is chosen
	}
	for i := range p.out.Items {
		if thingOf(p.of, p.out.Items[i].ID) == thing {
			p.chosen = keyOf(&p.out.Items[i])
			p.list.fill()
			p.turn(i)
			return
		}
	}
}

// index returns which item is chosen; -1 for none.
func (p *setOutPage) index() int {
	if p.out != nil && p.chosen != (key{}) {
		for i := range p.out.Items {
			if keyOf(&p.out.Items[i]) == p.chosen {
				return i
			}
		}
	}
	return -1
}

// choose chooses an item: its line, the thing in the picture, the sheet.
func (p *setOutPage) choose(i int) {
	if p.out == nil || i < 0 || i >= len(p.out.Items) {
		return
	}
	it := &p.out.Items[i]
	p.chosen = keyOf(it)
	p.list.fill()
	p.turn(i)
	p.seen = selection(thingOf(p.of, it.ID))
	p.session.Choose(p.seen)
	p.seen = p.session.Chosen
}

// turn turns to the sheet on which an item is drawn.
func (p *setOutPage) turn(i int) {
	if p.drawn == nil || i >= len(p.drawn.Spots) {
		return
	}
	for _, v := range p.viewers() {
		v.turnTo(p.drawn.Spots[i])
	}
}

// spot returns where the chosen item is drawn.
func (p *setOutPage) spot() (sheet.Spot, bool) {
	i := p.index()
	if i < 0 || p.drawn == nil || i >= len(p.drawn.Spots) {
		return sheet.Spot{}, false
	}
	return p.drawn.Spots[i], true
}

// at chooses what is drawn at a point of a sheet, the smallest where things overlap;
// false for nothing.
func (p *setOutPage) at(n int, q drawing.Point) bool {
	best, size := -1, 0.0
	for i, s := range p.drawn.Spots {
		if area := s.Box.Dx() * s.Box.Dy(); s.Sheet == n && q.X >= s.Box.X0 && q.X <= s.Box.X1 && q.Y >= s.Box.Y0 && q.Y <= s.Box.Y1 && (best < 0 || area < size) {
			best, size = i, area
		}
	}
	p.choose(best)
	return best >= 0
}

// Commands returns what can be done with the drawings.
func (p *setOutPage) Commands() []command.Command {
	shown := func() error {
		if p.drawn == nil {
			return errors.New("nothing is drawn yet: open the Set-out page")
		}
		return nil
	}
	return []command.Command{
		{ID: "setout.preview", Name: "Print preview…", Menu: "File",
			Says: "Shows every sheet of the drawings as it is printed.",
			Do:   p.openPreview},
		{ID: "setout.datum", Name: "Datum and job", Menu: "Set-out",
			Says: "Edits the laser line that heights are measured from, and the title block.",
			Do: func() {
				p.frame.Raise(p)
				p.showForm(true)
				p.form.focus()
			}},
		{ID: "setout.next-sheet", Name: "Next sheet", Menu: "Set-out", Can: shown,
			Says: "Turns to the next sheet of the drawings.",
			Do:   func() { p.frame.Raise(p); p.viewer.step(1) }},
		{ID: "setout.previous-sheet", Name: "Previous sheet", Menu: "Set-out", Can: shown,
			Says: "Turns to the sheet before.",
			Do:   func() { p.frame.Raise(p); p.viewer.step(-1) }},
	}
}

var _ interface {
	page.Keyed
	page.Sized
	page.Forgetful
} = (*setOutPage)(nil)
