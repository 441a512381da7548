// SPDX-License-Identifier: MIT

package asbuilt

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/project/built"
	"earline/project/sight"
)

// list is the things that can be measured.
type list struct {
	widget.List
	page *asBuiltPage
	ring *field.Ring
}

func newList(p *asBuiltPage) *list {
	l := &list{page: p, ring: field.NewRing()}
	l.Length = func() int {
		if p.sheet == nil {
			return 0
		}
		return len(p.sheet.Items)
	}
	l.CreateItem = func() fyne.CanvasObject { return field.NewRow() }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(p.sheet.Items) {
			it := &p.sheet.Items[i]
			o.(*field.Row).Set(look(it, p.stand(it), it.ID == p.item))
		}
	}
	l.OnSelected = func(i widget.ListItemID) {
		l.Unselect(i) // the row itself shows what is chosen
		p.choose(p.sheet.Items[i].ID)
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

// index is that of the chosen item; -1 for none.
func (l *list) index() int {
	if l.page.sheet != nil {
		for i := range l.page.sheet.Items {
			if l.page.sheet.Items[i].ID == l.page.item {
				return i
			}
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

// TypedRune implements fyne.Focusable: what begins a figure begins the first of the
// chosen item, all else is not meant for the list.
func (l *list) TypedRune(r rune) {
	if (r >= '0' && r <= '9' || r == '-') && l.page.figures.begin(r) {
		return
	}
	l.page.frame.Rune(r)
}

// TypedKey implements fyne.Focusable: the arrows choose, Enter goes to the figures.
func (l *list) TypedKey(ev *fyne.KeyEvent) {
	const linesAPage = 8
	at, last := l.index(), l.Length()-1
	switch ev.Name {
	case fyne.KeyDown:
		at++
	case fyne.KeyUp:
		at--
	case fyne.KeyPageDown:
		at += linesAPage
	case fyne.KeyPageUp:
		at -= linesAPage
	case fyne.KeyHome:
		at = 0
	case fyne.KeyEnd:
		at = last
	case fyne.KeyReturn, fyne.KeyEnter:
		l.page.figures.focus()
		return
	default:
		l.page.frame.Key(ev)
		return
	}
	if at = max(min(at, last), 0); at <= last {
		l.page.choose(l.page.sheet.Items[at].ID)
	}
}

// stand is how an item stands: colour, letter, words.
type stand struct {
	verdict sight.Verdict
	letter  string
	words   string
}

// stand returns how an item stands.
func (p *asBuiltPage) stand(it *built.Item) stand {
	if !it.Measured() {
		return stand{sight.NotJudged, "", "not measured"}
	}
	known := p.known(it.ID)
	if known == nil {
		return stand{sight.NotJudged, "", "…"}
	}
	words, far := "as planned", -1.0
	beyond := false
	for i := range known.Measures {
		m := &known.Measures[i]
		if !m.Known {
			continue
		}
		beyond = beyond || !m.Within()
		off, allowed := m.Off(), m.More
		if off < 0 {
			off, allowed = -off, m.Less
		}
		if share := off / math.Max(allowed, 1e-4); share > far && m.Words(p.design.Units) != "as planned" {
			far, words = share, m.Words(p.design.Units)
		}
	}
	for i := range p.result.Move {
		if p.result.Move[i].ID == it.ID {
			return stand{sight.Blocked, "!", words + ": move"}
		}
	}
	if beyond {
		return stand{sight.Tight, "~", words + ": may stay"}
	}
	return stand{sight.Clear, "✓", words}
}

// look returns what the row of an item shows.
func look(it *built.Item, s stand, chosen bool) field.RowLook {
	plate, ink, _ := theme.Verdict(s.verdict)
	return field.RowLook{Letter: s.letter, Name: it.Name, Words: s.words, Plate: plate, Ink: ink, Chosen: chosen, NameShare: 0.68}
}
