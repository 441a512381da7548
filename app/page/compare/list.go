// SPDX-License-Identifier: MIT

package compare

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/project/sight"
)

// list is what becomes of each thing, cut-out and cable.
type list struct {
	widget.List
	page *comparePage
	ring *field.Ring
}

func newList(p *comparePage) *list {
	l := &list{page: p, ring: field.NewRing()}
	l.Length = func() int { return len(p.lines) }
	l.CreateItem = func() fyne.CanvasObject { return field.NewRow() }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(p.lines) {
			o.(*field.Row).Set(look(&p.lines[i], p.lines[i].key == p.chosen && p.chosen != "", p.fresh))
		}
	}
	l.OnSelected = func(i widget.ListItemID) {
		l.Unselect(i) // the row itself shows what is chosen
		p.choose(i)
		field.Focus(l)
	}
	l.HideSeparators = true
	l.ExtendBaseWidget(l)
	return l
}

func (l *list) update() {
	l.Refresh()
	if i := l.index(); i >= 0 && field.Painted(l) {
		l.ScrollTo(i)
	}
}

// index is that of the chosen line; -1 for none.
func (l *list) index() int {
	for i := range l.page.lines {
		if l.page.lines[i].key == l.page.chosen && l.page.chosen != "" {
			return i
		}
	}
	return -1
}

// FocusGained implements fyne.Focusable.
func (l *list) FocusGained() { l.ring.Show(true) }

// FocusLost implements fyne.Focusable.
func (l *list) FocusLost() { l.ring.Show(false) }

// CreateRenderer implements fyne.Widget.
func (l *list) CreateRenderer() fyne.WidgetRenderer {
	return field.Ringed(l.List.CreateRenderer(), l.ring)
}

// TypedShortcut implements fyne.Shortcutable: all go on.
func (l *list) TypedShortcut(s fyne.Shortcut) {
	if up, ok := fyne.CurrentApp().Driver().CanvasForObject(l).(fyne.Shortcutable); ok {
		up.TypedShortcut(s)
	}
}

// TypedRune implements fyne.Focusable: characters are not meant for the list.
func (l *list) TypedRune(r rune) { l.page.frame.Rune(r) }

// TypedKey implements fyne.Focusable: the arrows choose.
func (l *list) TypedKey(ev *fyne.KeyEvent) {
	const linesAPage = 8
	at, last, by := l.index(), l.Length()-1, 1
	switch ev.Name {
	case fyne.KeyDown:
		at++
	case fyne.KeyUp:
		at, by = at-1, -1
	case fyne.KeyPageDown:
		at += linesAPage
	case fyne.KeyPageUp:
		at, by = at-linesAPage, -1
	case fyne.KeyHome:
		at = 0
	case fyne.KeyEnd:
		at, by = last, -1
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if c := l.page.line(); c != nil && c.fold {
			l.page.choose(at)
		}
		return
	default:
		l.page.frame.Key(ev)
		return
	}
	at = max(min(at, last), 0)
	for _, way := range [2]int{by, -by} { // past headings
		for i := at; i >= 0 && i <= last; i += way {
			if !l.page.lines[i].heading {
				l.page.point(i)
				return
			}
		}
	}
}

// look returns what the row of a line shows.
func look(l *line, chosen, fresh bool) field.RowLook {
	out := field.RowLook{Letter: l.mark, Name: l.name, Words: l.words, Plate: theme.Button, Ink: theme.Ink,
		Chosen: chosen, Faint: !fresh, Heading: l.heading, NameShare: 0.5}
	switch {
	case l.heading:
		out.Plate = color.Transparent
	case l.care:
		out.Plate, out.Ink, _ = theme.Verdict(sight.Tight)
	}
	return out
}
