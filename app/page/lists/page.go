// SPDX-License-Identifier: MIT

// Package lists is the page of what a room is built with: equipment, cables, masses,
// outlets, air, panels, lights and the stages of the work, each to be kept as a table;
// and of what they need to know: where the rack stands, where something is plugged in.
// UI goroutine only.
package lists

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/ask"
	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/geometry"
	"earline/project"
	"earline/project/disk"
	"earline/project/lists"
	"earline/scene"
)

// listsPage shows one list of the session's design, and what it is made from.
type listsPage struct {
	session *session.Session
	frame   page.Frame

	head    *widget.Label
	body    fyne.CanvasObject
	topics  []*field.Button
	keep    *field.Button
	grid    *field.GridList
	scroll  *container.Scroll
	forms   map[string]*services // by list; nil for what is told elsewhere
	beside  *fyne.Container
	content *fyne.Container

	design *project.Design
	table  lists.Table
	name   string // of the list on show
	chosen int    // the row of the grid that is chosen, of cables and outlets; -1 for none
	outlet int    // the one whose fields are shown
}

// title is the name on the tab.
const title = "Lists"

// New returns the page.
func New(s *session.Session, f page.Frame) page.Page { return newPage(s, f) }

func newPage(s *session.Session, f page.Frame) *listsPage {
	p := &listsPage{session: s, frame: f, head: widget.NewLabel(""), grid: field.NewGridList(), name: lists.Names()[0], chosen: -1}
	p.head.Truncation = fyne.TextTruncateEllipsis
	p.grid.OnChoose, p.grid.OnMove = p.choose, p.move
	p.scroll = container.NewVScroll(p.grid)
	row := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for _, name := range lists.Names() {
		b := field.NewButton(strings.ToUpper(name[:1])+name[1:], func() { p.show(name) })
		b.Importance = widget.LowImportance
		p.topics = append(p.topics, b)
		row.Add(b)
	}
	p.keep = field.NewButton("Save as CSV…", p.save)
	p.keep.Tip = "Save this list as a table that spreadsheets open"
	bar := container.New(layout.NewCustomPaddedLayout(4, 2, 8, 8), field.Bordered(nil, nil, nil, p.keep, row))
	p.forms = p.newForms()
	p.beside = container.NewStack()
	p.content = container.New(beside{}, p.scroll, p.beside)
	p.body = field.Bordered(bar, nil, nil, nil, p.content)
	return p
}

// Title implements page.Page, as do the methods below.
func (p *listsPage) Title() string { return title }

// Says says what the page shows.
func (p *listsPage) Says() string {
	return "Lists equipment, cables, masses, outlets, air, panels, lights and the stages of the work."
}

// Body returns the list, and the fields that it is made from.
func (p *listsPage) Body() fyne.CanvasObject { return p.body }

// Head returns the title of the list.
func (p *listsPage) Head() fyne.CanvasObject { return p.head }

// First returns the list that is on show. It implements page.Keyed.
func (p *listsPage) First() fyne.Focusable {
	for i, name := range lists.Names() {
		if name == p.name {
			return p.topics[i]
		}
	}
	return p.topics[0]
}

// PictureShare leaves more to the page than most do. It implements page.Sized.
func (p *listsPage) PictureShare() float64 { return 0.52 }

// Forget begins another document with nothing chosen. It implements page.Forgetful.
func (p *listsPage) Forget() { p.design, p.chosen, p.outlet = nil, -1, 0 }

// Update shows the list of the design as it is now.
func (p *listsPage) Update() {
	if d := p.session.Design(); d != p.design {
		p.design = d
		p.outlet = max(min(p.outlet, len(d.Services.Outlets)-1), 0)
		p.relist()
	}
	for _, f := range p.forms {
		f.update()
	}
}

// show brings a list up.
func (p *listsPage) show(name string) {
	if name != p.name {
		p.name, p.chosen = name, -1
		p.scroll.ScrollToTop()
		p.relist()
		p.frame.Redraw()
	}
}

// relist makes the list again.
func (p *listsPage) relist() {
	d := p.session.Design()
	p.table, _ = lists.Find(d, p.name)
	p.head.SetText(words.Of(p.table.Title))
	for i, name := range lists.Names() {
		importance := widget.LowImportance
		if name == p.name {
			importance = widget.HighImportance
		}
		if p.topics[i].Importance != importance {
			p.topics[i].Importance = importance
			p.topics[i].Refresh()
		}
	}
	rows := rowsOf(&p.table, d)
	if p.name == outletList && len(d.Services.Outlets) > 0 {
		p.chosen = p.outlet + 1 // after the heading
	} else if p.chosen >= len(p.table.Rows)+1 {
		p.chosen = -1
	}
	p.grid.Set(rows, p.chosen)
	var form fyne.CanvasObject
	if f := p.forms[p.name]; f != nil {
		f.update()
		form = f.object
	}
	if p.beside.Objects = nil; form != nil {
		p.beside.Objects = []fyne.CanvasObject{form}
	}
	p.beside.Refresh()
	p.content.Refresh()
	p.scroll.Refresh()
}

// rowsOf returns a list with its sums, notes and caution.
func rowsOf(t *lists.Table, d *project.Design) []field.GridRow {
	var rows []field.GridRow
	whole := func(look field.Look, text string) {
		rows = append(rows, field.GridRow{Cells: []string{text}, Look: look})
	}
	if t.Name == stageList {
		rows = stageRows(d)
	} else {
		if len(t.Rows) > 0 {
			rows = append(rows, field.GridRow{Cells: t.Columns, Look: field.Heading})
		}
		for _, r := range t.Rows {
			rows = append(rows, field.GridRow{Cells: r})
		}
		if t.Sums != nil {
			rows = append(rows, field.GridRow{Cells: t.Sums, Look: field.Strong})
		}
		withoutEmpty(rows, len(t.Columns))
		if len(t.Rows) == 0 && len(t.Notes) == 0 {
			whole(field.Body, "Nothing in the plan belongs to this list.")
		}
	}
	if t.Caution != "" {
		whole(field.Strong, t.Caution)
	}
	for _, n := range t.Notes {
		whole(field.Pale, n)
	}
	return rows
}

// withoutEmpty leaves out the columns in which nothing but their name stands: the room
// is wanted by the others.
func withoutEmpty(rows []field.GridRow, columns int) {
	for c := columns - 1; c >= 0; c-- {
		if slices.ContainsFunc(rows, func(r field.GridRow) bool { return r.Look != field.Heading && r.Cells[c] != "" }) {
			continue
		}
		for i := range rows {
			rows[i].Cells = slices.Delete(slices.Clone(rows[i].Cells), c, c+1)
		}
	}
}

// stageRows are the stages of the work as a list to be ticked.
func stageRows(d *project.Design) []field.GridRow {
	var rows []field.GridRow
	for _, s := range lists.Stages(d) {
		rows = append(rows, field.GridRow{Cells: []string{s.Name}, Look: field.Heading})
		for _, x := range s.Do {
			rows = append(rows, field.GridRow{Cells: []string{x}, Box: true})
		}
		for _, x := range s.Check {
			rows = append(rows, field.GridRow{Cells: []string{"check: " + x}, Box: true})
		}
	}
	return rows
}

// Lists of which a line can be chosen, or that look otherwise.
const (
	cableList  = "cables"
	outletList = "outlets"
	airList    = "air"
	stageList  = "stages"
)

// choose takes a row: an outlet to be edited, or a loudspeaker, which is selected.
func (p *listsPage) choose(row int) {
	d, i := p.session.Design(), row-1 // under the heading
	switch {
	case p.name == outletList && i >= 0 && i < len(d.Services.Outlets):
		p.outlet = i
	case p.name == cableList && i >= 0 && i < len(d.Speakers) && len(p.table.Rows) == len(d.Speakers):
		p.chosen = row
		p.session.ChooseSpeaker(i)
	default:
		return
	}
	p.relist()
	p.frame.Redraw()
}

// move goes so many rows on: to another line, where one can be chosen, or scrolls.
func (p *listsPage) move(by int) {
	const line = 22 // of the list's height
	if n := p.rows(); n > 0 {
		row := min(max(p.chosen+by, 1), n)
		p.choose(row)
		top, foot := p.grid.RowAt(row)
		if p.scroll.Offset.Y > top {
			p.scroll.ScrollToOffset(fyne.NewPos(0, top))
		} else if last := foot - p.scroll.Size().Height; p.scroll.Offset.Y < last {
			p.scroll.ScrollToOffset(fyne.NewPos(0, last))
		}
		return
	}
	last := max(p.grid.MinSize().Height-p.scroll.Size().Height, 0)
	p.scroll.ScrollToOffset(fyne.NewPos(0, min(max(p.scroll.Offset.Y+float32(by)*line, 0), last)))
}

// rows returns how many rows of the list can be chosen: the first under the heading.
func (p *listsPage) rows() int {
	d := p.session.Design()
	switch p.name {
	case outletList:
		return len(d.Services.Outlets)
	case cableList:
		return len(p.table.Rows)
	}
	return 0
}

// Overlay draws the ways of the cables, and where something is plugged in.
func (p *listsPage) Overlay(o *scene.Options) {
	d := p.session.Design()
	switch p.name {
	case cableList:
		for i, c := range lists.Cables(d) {
			t := scene.Trace{Points: c.Route, Strong: p.chosen == i+1}
			if i == 0 && len(c.Route) > 1 { // the label stands at the second point
				o.Traces = append(o.Traces, scene.Trace{Points: []geometry.Vec{c.Route[0], c.Route[0]}, Text: "rack"})
			}
			o.Traces = append(o.Traces, t)
		}
	case outletList:
		for i, x := range d.Services.Outlets {
			const stem = 0.25 // m, from the outlet up to its name
			at := x.At.Vec()
			o.Traces = append(o.Traces, scene.Trace{Points: []geometry.Vec{at, at.Add(geometry.Vec{Z: stem})}, Text: outletName(x), Strong: i == p.outlet})
		}
	default:
		return
	}
	o.Rays = scene.NoRays // those are of sight
}

// save keeps the list on show as CSV.
func (p *listsPage) save() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	t, ok := lists.Find(p.session.Design(), p.name)
	if !ok {
		return
	}
	name := strings.TrimSuffix(p.session.Doc.Title(), filepath.Ext(p.session.Doc.Title()))
	p.frame.Ask.Save("Save the "+strings.ToLower(t.Title)+" as", ask.FileName(name+" "+t.Name)+ext, ext, "", func(path string) {
		if err := disk.Replace(path, t.CSV()); err != nil {
			p.frame.Ask.Report("The list is not saved", err)
			return
		}
		p.session.Say(t.Title + " saved as " + path)
	})
}

// ext is that of a list.
const ext = ".csv"

// open brings the page up at a list.
func (p *listsPage) open(name string) {
	p.frame.Commit() // what is typed belongs to the outlet that is still chosen
	if !p.body.Visible() {
		p.frame.Raise(p)
	}
	p.show(name)
}

// Commands returns the lists, and what can be done with them.
func (p *listsPage) Commands() []command.Command {
	var all []command.Command
	for _, name := range lists.Names() {
		all = append(all, command.Command{ID: "lists." + name, Name: strings.ToUpper(name[:1]) + name[1:], Menu: title,
			Says: "Shows the list of that name, as the plan makes it.",
			Do:   func() { p.open(name) },
			On:   func() bool { return p.body.Visible() && p.name == name }})
	}
	return append(all,
		command.Command{ID: "lists.save", Name: "Save the list as CSV…", Menu: title, LineAbove: true,
			Says: "Saves the list on show as a table that spreadsheets open.",
			Do:   p.save},
		command.Command{ID: "lists.add-outlet", Name: "Add outlet", Menu: title, LineAbove: true,
			Says: "Adds a place where something is plugged in.",
			Can: func() error {
				if len(p.session.Design().Services.Outlets) >= project.MaxOutlets {
					return errors.New("there are as many outlets as a room can have")
				}
				return nil
			},
			Do: func() { p.open(outletList); p.addOutlet() }},
		command.Command{ID: "lists.remove-outlet", Name: "Remove outlet", Menu: title,
			Says: "Removes the outlet that is chosen on the page.",
			Can: func() error {
				if len(p.session.Design().Services.Outlets) == 0 {
					return errors.New("there is no outlet")
				}
				return nil
			},
			Do: func() { p.open(outletList); p.removeOutlet() }})
}

// beside lays a form of some width beside what is read, where there is a form.
type beside struct{}

// MinSize implements fyne.Layout.
func (beside) MinSize(o []fyne.CanvasObject) fyne.Size {
	m := o[0].MinSize()
	if form := o[1].MinSize(); form.Width > 0 {
		m = fyne.NewSize(m.Width+max(form.Width, formWide), max(m.Height, form.Height))
	}
	return m
}

// Layout implements fyne.Layout.
func (beside) Layout(o []fyne.CanvasObject, s fyne.Size) {
	wide := float32(0)
	if o[1].MinSize().Width > 0 {
		wide = formWide
	}
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(s.Width-wide, s.Height))
	o[1].Move(fyne.NewPos(s.Width-wide, 0))
	o[1].Resize(fyne.NewSize(wide, s.Height))
}

// formWide is the width of the fields beside a list.
const formWide = 236

var _ interface {
	page.Keyed
	page.Sized
	page.Forgetful
} = (*listsPage)(nil)
