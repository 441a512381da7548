// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Link is anything that does something when it is clicked. What it does has a key too,
// so that the keyboard need not stop there.
type Link struct {
	widget.BaseWidget
	what   fyne.CanvasObject
	tapped func()
	// Tip returns what is shown when the pointer rests on it; nil for nothing.
	Tip func() string
}

// NewLink returns what as a link; one whose tapped is nil does nothing.
func NewLink(what fyne.CanvasObject, tapped func()) *Link {
	l := &Link{what: what, tapped: tapped}
	l.ExtendBaseWidget(l)
	return l
}

// CreateRenderer implements fyne.Widget.
func (l *Link) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(l.what) }

// Tapped implements fyne.Tappable.
func (l *Link) Tapped(*fyne.PointEvent) {
	TipGone(l)
	if l.tapped != nil {
		l.tapped()
	}
}

// Cursor implements desktop.Cursorable.
func (l *Link) Cursor() desktop.Cursor {
	if l.tapped == nil {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// MouseIn implements desktop.Hoverable.
func (l *Link) MouseIn(*desktop.MouseEvent) {
	if l.Tip != nil {
		TipSoon(l, l.Tip(), under(l))
	}
}

// MouseMoved implements desktop.Hoverable.
func (l *Link) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (l *Link) MouseOut() { TipGone(l) }
