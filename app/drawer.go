// SPDX-License-Identifier: MIT

package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
)

// page is one of the pages of the drawer under the picture.
type page uint8

// The pages.
const (
	sightPage    page = iota // the table of seats by loudspeakers
	practicePage             // what the rules of placement find
	soundPage                // what every seat hears
	proposalPage             // what a solver works on or proposes; only then there
	pageCount
)

// String returns the name of the page, as on its tab.
func (p page) String() string { return [...]string{"Sight", "Practice", "Sound", "Proposal"}[p] }

// pictureShare is the share of the height that the picture has over the drawer.
const pictureShare = 0.71

// drawer is what lies under the picture: pages, of which one is on top, with a
// strip of tabs.
type drawer struct {
	object fyne.CanvasObject
	tabs   [pageCount]*widget.Button
	pages  [pageCount]fyne.CanvasObject
	heads  [pageCount]fyne.CanvasObject // beside the tabs; nil for nothing
	top    page
	height [pageCount]float64  // the share of the window that is the picture's
	turned func(from, to page) // told when another page comes to the top
}

func newDrawer(pages, heads [pageCount]fyne.CanvasObject, turned func(from, to page)) *drawer {
	d := &drawer{pages: pages, heads: heads, turned: turned}
	for i := range d.height {
		d.height[i] = pictureShare
	}
	d.height[soundPage] = 0.58 // charts are read by their height
	strip := container.New(layout.NewCustomPaddedHBoxLayout(2))
	for p := range pageCount {
		d.tabs[p] = widget.NewButton(p.String(), func() { d.show(p) })
		strip.Add(d.tabs[p])
	}
	d.tabs[proposalPage].Hide()
	stack := container.NewStack()
	for i, p := range pages {
		stack.Add(p)
		if i > 0 {
			p.Hide()
		}
	}
	beside := container.NewStack()
	for _, h := range heads {
		if h != nil {
			h.Hide()
			beside.Add(h)
		}
	}
	head := container.NewStack(canvas.NewRectangle(theme.Back),
		container.New(layout.NewCustomPaddedLayout(2, 1, 2, 4), container.NewBorder(nil, nil, strip, nil, beside)))
	d.object = container.NewBorder(head, nil, nil, nil, stack)
	d.mark()
	return d
}

// show brings a page to the top.
func (d *drawer) show(p page) {
	if p == d.top {
		return
	}
	if h := d.heads[d.top]; h != nil {
		h.Hide()
	}
	if h := d.heads[p]; h != nil {
		h.Show()
	}
	d.pages[d.top].Hide()
	d.pages[p].Show()
	from := d.top
	d.top = p
	d.mark()
	d.turned(from, p)
}

func (d *drawer) mark() {
	for i, t := range d.tabs {
		t.Importance = widget.LowImportance
		if page(i) == d.top {
			t.Importance = widget.HighImportance
		}
		t.Refresh()
	}
}

// offer shows or hides the tab of the proposal, and its page with it.
func (d *drawer) offer(on bool) {
	t := d.tabs[proposalPage]
	switch {
	case on:
		t.Show()
		d.show(proposalPage)
	case t.Visible():
		t.Hide()
		if d.top == proposalPage {
			d.show(sightPage)
		}
	}
}
