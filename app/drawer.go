// SPDX-License-Identifier: MIT

package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

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
	leaves []*leaf // in the order of the tabs
	top    *leaf
	turned func(from, to *leaf) // told when another page comes to the top
}

// leaf is a page with its tab.
type leaf struct {
	page.Page
	tab   *widget.Button
	share float64 // of the height of the window that is the picture's
}

func newDrawer(pages []page.Page, turned func(from, to *leaf)) *drawer {
	d := &drawer{turned: turned}
	strip, stack, beside := container.New(layout.NewCustomPaddedHBoxLayout(2)), container.NewStack(), container.NewStack()
	for _, p := range pages {
		l := &leaf{Page: p, tab: widget.NewButton(p.Title(), func() { d.show(p) }), share: pictureShare}
		if s, ok := p.(page.Sized); ok {
			l.share = s.PictureShare()
		}
		d.leaves = append(d.leaves, l)
		strip.Add(l.tab)
		stack.Add(p.Body())
		if p.Head() != nil {
			beside.Add(p.Head())
		}
		l.setVisible(false)
	}
	d.top = d.leaves[0]
	d.top.setVisible(true)
	d.updateTabs()
	head := container.NewStack(canvas.NewRectangle(theme.Back),
		container.New(layout.NewCustomPaddedLayout(2, 1, 2, 4), container.NewBorder(nil, nil, strip, nil, beside)))
	d.object = container.NewBorder(head, nil, nil, nil, stack)
	return d
}

func (l *leaf) setVisible(on bool) {
	for _, o := range []fyne.CanvasObject{l.Body(), l.Head()} {
		switch {
		case o == nil:
		case on:
			o.Show()
		default:
			o.Hide()
		}
	}
}

// open reports whether the page has a tab now.
func (l *leaf) open() bool {
	t, ok := l.Page.(page.Transient)
	return !ok || t.Open()
}

// show brings a page to the top.
func (d *drawer) show(p page.Page) {
	i := slices.IndexFunc(d.leaves, func(l *leaf) bool { return l.Page == p })
	if i < 0 || p == d.top.Page {
		return
	}
	from := d.top
	from.setVisible(false)
	d.top = d.leaves[i]
	d.top.setVisible(true)
	d.updateTabs()
	d.turned(from, d.top)
}

// updateTabs shows which pages there are, and which is on top.
func (d *drawer) updateTabs() {
	for _, l := range d.leaves {
		importance := widget.LowImportance
		if l == d.top {
			importance = widget.HighImportance
		}
		if l.tab.Importance != importance {
			l.tab.Importance = importance
			l.tab.Refresh()
		}
		if l.open() {
			l.tab.Show()
		} else {
			l.tab.Hide()
		}
	}
}

// openTransient brings up a page that has just something to show. One that has no
// more is left for the first page.
func (d *drawer) openTransient() {
	for _, l := range d.leaves {
		if _, ok := l.Page.(page.Transient); ok && l.open() {
			d.show(l.Page)
		}
	}
	d.leaveClosed()
}

// leaveClosed leaves a page that has nothing to show any more.
func (d *drawer) leaveClosed() {
	if !d.top.open() {
		d.show(d.leaves[0].Page)
	}
	d.updateTabs()
}
