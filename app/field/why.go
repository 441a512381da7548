// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Why has a tip say, while the pointer rests on the name or the field of l or the
// keyboard has come to it, why the value matters.
func (l *Line) Why(text string) *Line {
	switch {
	case l.Entry != nil:
		l.Entry.Tip = text
	case l.Choice != nil:
		l.Choice.Tip = text
	case l.Check != nil:
		l.Check.Tip = text
	}
	pair := l.whole.Objects[0].(*fyne.Container)
	pair.Add(newNamed(pair, text))
	return l
}

// Tip returns what Why was given.
func (l *Line) Tip() string {
	switch {
	case l.Entry != nil:
		return l.Entry.Tip
	case l.Choice != nil:
		return l.Choice.Tip
	case l.Check != nil:
		return l.Check.Tip
	}
	return ""
}

// named lies over the name of a field and has the tip of the field. There is nothing to
// see of it.
type named struct {
	widget.BaseWidget
	pair *fyne.Container // the name and its field
	tip  string
}

func newNamed(pair *fyne.Container, tip string) *named {
	n := &named{pair: pair, tip: tip}
	n.ExtendBaseWidget(n)
	return n
}

// CreateRenderer implements fyne.Widget.
func (n *named) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout())
}

// MouseIn implements desktop.Hoverable.
func (n *named) MouseIn(*desktop.MouseEvent) { TipSoon(n, n.tip, beside(n.pair)) }

// MouseMoved implements desktop.Hoverable.
func (n *named) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (n *named) MouseOut() { TipGone(n) }

// beside returns where a tip stands that leaves free what lies under o: the fields that
// come next.
func beside(o fyne.CanvasObject) fyne.Position {
	const gap = 14 // past the bar that scrolls; Fyne's points
	return fyne.NewPos(o.Size().Width+gap, -tipPad)
}
