// SPDX-License-Identifier: MIT

// Package asbuilt is the page of what was measured on site: the things to measure,
// figures to type in, the room as built beside the plan, and what must be moved. UI
// goroutine only.
package asbuilt

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"earline/app/command"
	"earline/app/field"
	"earline/app/page"
	"earline/app/session"
	"earline/app/words"
	"earline/project"
	"earline/project/built"
	"earline/project/place"
	"earline/scene"
)

// asBuiltPage shows what can be measured of the session's design, and enters it.
type asBuiltPage struct {
	session *session.Session
	frame   page.Frame

	head    *widget.Label
	body    fyne.CanvasObject
	list    *list
	figures *figures
	outcome *outcome

	design *project.Design // of sheet
	sheet  *built.Sheet
	result *built.Result // fresh or of the design before; nil for none
	fresh  bool
	item   string // the ID of the item whose figures are shown
}

// title is the name on the tab.
const title = "As built"

// New returns the page.
func New(s *session.Session, f page.Frame) page.Page { return newPage(s, f) }

func newPage(s *session.Session, f page.Frame) *asBuiltPage {
	p := &asBuiltPage{session: s, frame: f, head: widget.NewLabel("")}
	p.head.Truncation = fyne.TextTruncateEllipsis
	p.list = newList(p)
	p.figures = newFigures(p)
	p.outcome = newOutcome(p)
	right := container.NewHSplit(p.figures.object, p.outcome.object)
	right.Offset = 0.62
	all := container.NewHSplit(p.list, right)
	all.Offset = 0.26
	p.body = all
	return p
}

// Title implements page.Page, as do the methods below.
func (p *asBuiltPage) Title() string { return title }

// Says says what the page shows.
func (p *asBuiltPage) Says() string {
	return "Takes in what was measured on site, and shows what must be moved."
}

// Body returns the list, the figures of what is chosen in it, and the outcome.
func (p *asBuiltPage) Body() fyne.CanvasObject { return p.body }

// Head returns how the room as built stands.
func (p *asBuiltPage) Head() fyne.CanvasObject { return p.head }

// First returns the list. It implements page.Keyed.
func (p *asBuiltPage) First() fyne.Focusable { return p.list }

// PictureShare leaves more to the page than most do: figures are typed in on site. It
// implements page.Sized.
func (p *asBuiltPage) PictureShare() float64 { return 0.56 }

// Update shows the design and what is known of it as built.
func (p *asBuiltPage) Update() {
	if d := p.session.Design(); d != p.design {
		p.design, p.sheet = d, built.NewSheet(d)
	}
	r, state := p.session.Known.AsBuilt.Get()
	p.fresh = state == session.Fresh
	if state == session.Failed {
		p.head.SetText(words.Of(field.OneLine(p.session.Known.AsBuilt.Err())))
	} else if p.fresh {
		p.head.SetText(words.Of(r.Headline()))
	} else {
		p.head.SetText(words.Of("Checking…"))
	}
	p.result = r
	if p.shown() == nil {
		p.item = p.sheet.Items[0].ID
	}
	p.list.update()
	p.figures.update()
	p.outcome.update()
}

// Overlay lays what was built over the plan, wherever it differs.
func (p *asBuiltPage) Overlay(o *scene.Options) {
	if r := p.result; p.fresh && r != nil && len(r.Move)+len(r.Stay) > 0 {
		o.Ghost = r.Built.Design
	}
}

// shown returns the item whose figures are shown; nil for none.
func (p *asBuiltPage) shown() *built.Item { return p.find(p.item) }

// find returns the item with that ID, with the exact tolerances where they are known.
func (p *asBuiltPage) find(id string) *built.Item {
	if p.sheet == nil {
		return nil
	}
	for i := range p.sheet.Items {
		if p.sheet.Items[i].ID == id {
			return &p.sheet.Items[i]
		}
	}
	return nil
}

// known returns an item as the comparison has it; nil while that is not known.
func (p *asBuiltPage) known(id string) *built.Item {
	if p.result == nil || !p.fresh {
		return nil
	}
	for i := range p.result.Items {
		if p.result.Items[i].ID == id {
			return &p.result.Items[i]
		}
	}
	return nil
}

// choose shows the figures of an item, and the item in the picture.
func (p *asBuiltPage) choose(id string) {
	it := p.find(id)
	if it == nil {
		return
	}
	p.item = id
	c := session.Nothing()
	c.Item = it.Place
	if it.Place.Kind == place.SpeakerItem {
		c.Speaker = it.Place.Index
	}
	p.session.Choose(c)
	p.list.update()
	p.figures.update()
}

// next goes from one item to the one after it; false at the end.
func (p *asBuiltPage) next() bool {
	for i := range p.sheet.Items {
		if p.sheet.Items[i].ID == p.item && i+1 < len(p.sheet.Items) {
			p.choose(p.sheet.Items[i+1].ID)
			return true
		}
	}
	return false
}

// Commands returns what can be done with site lists.
func (p *asBuiltPage) Commands() []command.Command {
	return []command.Command{
		{ID: "asbuilt.write", Name: "Write site list…", Menu: "File", LineAbove: true,
			Says: "Writes the list of figures to be measured on site, as CSV.",
			Do:   p.writeList},
		{ID: "asbuilt.read", Name: "Read site list…", Menu: "File",
			Says: "Reads a site list that was filled in, wholly or in part.",
			Do:   p.readList},
	}
}

var _ interface {
	page.Keyed
	page.Sized
} = (*asBuiltPage)(nil)
