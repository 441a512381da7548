// SPDX-License-Identifier: MIT

package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/page"
	"earline/app/theme"
)

// pictureShare is the share of the height that the picture has over the drawer,
// unless a page wants another.
const pictureShare = 0.71

// drawer is what lies under the picture: pages, of which one is on top, with a
// strip of tabs.
type drawer struct {
	object fyne.CanvasObject
	tabs   []*tab // in the order of the tabs
	top    *tab
	turned func(from, to *tab) // told when another page comes to the top
}

// tab is a page with the button that brings it up.
type tab struct {
	page.Page
	button *field.Button
	share  float64 // of the height of the window that is the picture's
}

func newDrawer(pages []page.Page, turned func(from, to *tab)) *drawer {
	d := &drawer{turned: turned}
	strip, stack, beside := container.New(layout.NewCustomPaddedHBoxLayout(2)), container.NewStack(), container.NewStack()
	for _, p := range pages {
		t := &tab{Page: p, button: field.NewButton(p.Title(), func() { d.show(p) }), share: pictureShare}
		t.button.Tip = p.Says()
		if s, ok := p.(page.Sized); ok {
			t.share = s.PictureShare()
		}
		d.tabs = append(d.tabs, t)
		strip.Add(t.button)
		stack.Add(p.Body())
		if p.Head() != nil {
			beside.Add(p.Head())
		}
		t.setVisible(false)
	}
	d.top = d.tabs[0]
	d.top.setVisible(true)
	d.updateTabs()
	head := container.NewStack(canvas.NewRectangle(theme.Back),
		container.New(layout.NewCustomPaddedLayout(2, 1, 2, 4), field.Bordered(nil, nil, strip, nil, beside)))
	d.object = field.Bordered(head, nil, nil, nil, stack)
	return d
}

func (t *tab) setVisible(on bool) {
	for _, o := range []fyne.CanvasObject{t.Body(), t.Head()} {
		switch {
		case o == nil:
		case on:
			o.Show()
		default:
			o.Hide()
		}
	}
}

// open reports whether the page is there now.
func (t *tab) open() bool {
	p, ok := t.Page.(page.Transient)
	return !ok || p.Open()
}

// show brings a page to the top.
func (d *drawer) show(p page.Page) {
	i := slices.IndexFunc(d.tabs, func(t *tab) bool { return t.Page == p })
	if i < 0 || p == d.top.Page {
		return
	}
	from := d.top
	from.setVisible(false)
	d.top = d.tabs[i]
	d.top.setVisible(true)
	d.updateTabs()
	d.turned(from, d.top)
}

// updateTabs shows which pages there are, and which is on top.
func (d *drawer) updateTabs() {
	for _, t := range d.tabs {
		importance := widget.LowImportance
		if t == d.top {
			importance = widget.HighImportance
		}
		if t.button.Importance != importance {
			t.button.Importance = importance
			t.button.Refresh()
		}
		if t.open() {
			t.button.Show()
		} else {
			t.button.Hide()
		}
	}
}

// openTransient brings up a page that has just something to show. One that has no
// more is left for the first page.
func (d *drawer) openTransient() {
	for _, t := range d.tabs {
		if _, ok := t.Page.(page.Transient); ok && t.open() {
			d.show(t.Page)
		}
	}
	d.leaveClosed()
}

// leaveClosed leaves a page that has nothing to show any more.
func (d *drawer) leaveClosed() {
	if !d.top.open() {
		d.show(d.tabs[0].Page)
	}
	d.updateTabs()
}
