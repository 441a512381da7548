// SPDX-License-Identifier: MIT

package field

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// wheel lies over an Entry and catches the wheel alone, which the Entry's inner
// scroller would swallow: a focused entry steps, any other lets the inspector
// scroll, so that scrolling past an entry never changes it.
type wheel struct {
	widget.BaseWidget
	entry *Entry
	outer fyne.Scrollable
}

var _ fyne.Scrollable = (*wheel)(nil)

func newWheel(e *Entry, outer fyne.Scrollable) *wheel {
	w := &wheel{entry: e, outer: outer}
	w.ExtendBaseWidget(w)
	return w
}

// CreateRenderer implements fyne.Widget; there is nothing to see.
func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewWithoutLayout())
}

// Scrolled implements fyne.Scrollable.
func (w *wheel) Scrolled(ev *fyne.ScrollEvent) {
	TipGone(w.entry) // which moves away from it
	switch {
	case !w.entry.focused || w.entry.bind.Step == nil:
		if w.outer != nil {
			w.outer.Scrolled(ev)
		}
	case ev.Scrolled.DY > 0:
		w.entry.step(1)
	case ev.Scrolled.DY < 0:
		w.entry.step(-1)
	}
}
