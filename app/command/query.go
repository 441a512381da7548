// SPDX-License-Identifier: MIT

package command

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/words"
)

// Query is an entry in which is typed what to find. It first offers each key to OnKey.
type Query struct {
	widget.Entry
	OnKey func(fyne.KeyName) bool

	ring *field.Ring
}

// NewQuery returns an empty query that says what to type.
func NewQuery(hint string) *Query {
	q := &Query{ring: field.NewRing(), OnKey: func(fyne.KeyName) bool { return false }}
	q.ExtendBaseWidget(q)
	q.SetPlaceHolder(words.Of(hint))
	return q
}

// CreateRenderer implements fyne.Widget.
func (e *Query) CreateRenderer() fyne.WidgetRenderer {
	return field.Ringed(e.Entry.CreateRenderer(), e.ring)
}

// FocusGained implements fyne.Focusable, as do the methods below.
func (e *Query) FocusGained() {
	e.ring.Show(true)
	e.Entry.FocusGained()
}

// FocusLost hides the ring.
func (e *Query) FocusLost() {
	e.ring.Show(false)
	e.Entry.FocusLost()
}

// TappedSecondary implements fyne.SecondaryTappable.
func (e *Query) TappedSecondary(at *fyne.PointEvent) {
	if field.Painted(e) {
		e.Entry.TappedSecondary(at)
	}
}

// TypedKey implements fyne.Focusable.
func (e *Query) TypedKey(ev *fyne.KeyEvent) {
	if !e.OnKey(ev.Name) {
		e.Entry.TypedKey(ev)
	}
}
