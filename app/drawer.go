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
	head := container.NewStack(canvas.NewRectangle(theme.Back),
		container.New(layout.NewCustomPaddedLayout(2, 1, 2, 4), container.New(besideTabs{}, strip, beside)))
	d.object = container.New(underTabs{}, head, stack)
	return d
}

// besideTabs lays what a page has beside the tabs out there, or on a line of its own
// where that is too narrow.
type besideTabs struct{}

// MinSize implements fyne.Layout. The height is that of one line.
func (besideTabs) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize().Max(o[1].MinSize()) }

// height returns how high both are at a width.
func (besideTabs) height(o []fyne.CanvasObject, width float32) float32 {
	a, b := o[0].MinSize(), o[1].MinSize()
	if a.Width+tabGap+b.Width <= width {
		return max(a.Height, b.Height)
	}
	return a.Height + b.Height
}

// Layout implements fyne.Layout.
func (l besideTabs) Layout(o []fyne.CanvasObject, size fyne.Size) {
	a, b := o[0].MinSize(), o[1].MinSize()
	if a.Width+tabGap+b.Width <= size.Width {
		o[0].Resize(fyne.NewSize(a.Width, size.Height))
		o[1].Move(fyne.NewPos(a.Width+tabGap, 0))
		o[1].Resize(fyne.NewSize(size.Width-a.Width-tabGap, size.Height))
		return
	}
	o[0].Resize(fyne.NewSize(size.Width, a.Height))
	o[1].Move(fyne.NewPos(0, a.Height))
	o[1].Resize(fyne.NewSize(size.Width, b.Height))
}

const tabGap = 4

// underTabs lays a page under the tabs, which get the lines that they need.
type underTabs struct{}

// lines returns how high the head is at a width.
func (underTabs) lines(head fyne.CanvasObject, width float32) float32 {
	padded := head.(*fyne.Container).Objects[1].(*fyne.Container)
	both := padded.Objects[0].(*fyne.Container)
	pad := padded.MinSize().Subtract(both.MinSize())
	return besideTabs{}.height(both.Objects, width-pad.Width) + pad.Height
}

// MinSize implements fyne.Layout: of the page and one line.
func (underTabs) MinSize(o []fyne.CanvasObject) fyne.Size {
	head, page := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(max(head.Width, page.Width), head.Height+page.Height)
}

// Layout implements fyne.Layout.
func (l underTabs) Layout(o []fyne.CanvasObject, size fyne.Size) {
	high := l.lines(o[0], size.Width)
	o[0].Resize(fyne.NewSize(size.Width, high))
	o[1].Move(fyne.NewPos(0, high))
	o[1].Resize(fyne.NewSize(size.Width, max(size.Height-high, 0)))
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
	d.object.Layout.Layout(d.object.Objects, d.object.Size()) // its head may need another line
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
