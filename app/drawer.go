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
	object *fyne.Container
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
	d.object = container.New(drawerLayout{}, canvas.NewRectangle(theme.Back), strip, beside, stack)
	return d
}

// drawerLayout lays the tabs and what stands beside them over the page: in one line, or
// in two where the window is too narrow for that.
type drawerLayout struct{}

// The edges of the line of tabs, in Fyne's points.
const (
	headTop, headFoot  = 2, 1
	headLeft, headGap  = 2, 4
	headRight          = 4
	headSides, headEnd = headLeft + headGap + headRight, headTop + headFoot
)

// MinSize implements fyne.Layout: that of one line, as high as that of two lines is not
// known before the width is.
func (drawerLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	strip, beside, page := o[1].MinSize(), o[2].MinSize(), o[3].MinSize()
	return fyne.NewSize(max(strip.Width+headSides, beside.Width+headSides, page.Width),
		max(strip.Height, beside.Height)+headEnd+page.Height)
}

// Layout implements fyne.Layout.
func (drawerLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	ground, strip, beside, page := o[0], o[1], o[2], o[3]
	tabs, more := strip.MinSize(), beside.MinSize()
	high := max(tabs.Height, more.Height)
	strip.Move(fyne.NewPos(headLeft, headTop))
	at := fyne.NewPos(headLeft+tabs.Width+headGap, headTop)
	foot := high + headEnd
	if tabs.Width+more.Width+headSides > s.Width {
		at = fyne.NewPos(headLeft, headTop+tabs.Height+headFoot)
		foot = tabs.Height + more.Height + headEnd + headFoot
		high = more.Height
		strip.Resize(tabs)
	} else {
		strip.Resize(fyne.NewSize(tabs.Width, high))
	}
	beside.Move(at)
	beside.Resize(fyne.NewSize(max(s.Width-at.X-headRight, 0), high))
	ground.Move(fyne.NewPos(0, 0))
	ground.Resize(fyne.NewSize(s.Width, foot))
	page.Move(fyne.NewPos(0, foot))
	page.Resize(fyne.NewSize(s.Width, max(s.Height-foot, 0)))
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
	d.object.Layout.Layout(d.object.Objects, d.object.Size()) // it may take another number of lines
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

// first returns the page that a document begins with: one that is there for its sake,
// else the first.
func (d *drawer) first() page.Page {
	for _, t := range d.tabs {
		if _, ok := t.Page.(page.Transient); ok && t.open() {
			return t.Page
		}
	}
	return d.tabs[0].Page
}

// openTransient brings up a page that has just something to show. One that has no
// more is left for the first page.
func (d *drawer) openTransient() {
	for _, t := range d.tabs {
		if _, ok := t.Page.(page.Transient); ok && t.open() && !t.button.Visible() {
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
