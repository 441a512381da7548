// SPDX-License-Identifier: MIT

package app

import "fyne.io/fyne/v2"

// strip lays the two toolbars over the picture out: at the two ends of one line, or on
// two lines where that is too narrow. The first left of the objects are at the left.
type strip struct{ left int }

// stripGap is between controls, and the least between the two toolbars.
const stripGap = 1

// line returns the size of objects side by side.
func (strip) line(objects []fyne.CanvasObject) (s fyne.Size) {
	for _, o := range objects {
		m := o.MinSize()
		s = fyne.NewSize(s.Width+m.Width+stripGap, max(s.Height, m.Height))
	}
	return s
}

// height returns how high the strip is at a width.
func (l strip) height(objects []fyne.CanvasObject, width float32) float32 {
	a, b := l.line(objects[:l.left]), l.line(objects[l.left:])
	if a.Width+b.Width <= width {
		return max(a.Height, b.Height)
	}
	return a.Height + stripGap + b.Height
}

// MinSize implements fyne.Layout. The height is that of one line.
func (l strip) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return l.line(objects[:l.left]).Max(l.line(objects[l.left:]))
}

// Layout implements fyne.Layout.
func (l strip) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	a, b := l.line(objects[:l.left]), l.line(objects[l.left:])
	put := func(objects []fyne.CanvasObject, x, y, high float32) {
		for _, o := range objects {
			m := o.MinSize()
			o.Resize(fyne.NewSize(m.Width, high))
			o.Move(fyne.NewPos(x, y))
			x += m.Width + stripGap
		}
	}
	put(objects[:l.left], 0, 0, a.Height)
	if a.Width+b.Width <= size.Width {
		put(objects[l.left:], size.Width-b.Width, 0, b.Height)
	} else {
		put(objects[l.left:], 0, a.Height+stripGap, b.Height)
	}
}

// underStrip lays a strip over what is below it, and gives it the lines that it needs.
type underStrip struct{}

// MinSize implements fyne.Layout.
func (l underStrip) MinSize(o []fyne.CanvasObject) fyne.Size {
	least := o[1].MinSize()
	if o[0].Visible() {
		s := o[0].MinSize()
		least = fyne.NewSize(max(least.Width, s.Width), least.Height+2*s.Height)
	}
	return least
}

// Layout implements fyne.Layout.
func (l underStrip) Layout(o []fyne.CanvasObject, size fyne.Size) {
	var high float32
	if o[0].Visible() {
		s := o[0].(*fyne.Container)
		high = s.Layout.(strip).height(s.Objects, size.Width)
		o[0].Resize(fyne.NewSize(size.Width, high))
	}
	o[1].Move(fyne.NewPos(0, high))
	o[1].Resize(fyne.NewSize(size.Width, size.Height-high))
}
