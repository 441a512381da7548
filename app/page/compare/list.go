// SPDX-License-Identifier: MIT

package compare

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
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
	l.CreateItem = func() fyne.CanvasObject { return newRow() }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(p.lines) {
			o.(*row).show(&p.lines[i], p.lines[i].key == p.chosen && p.chosen != "", p.fresh)
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

// Sizes of a row.
const (
	rowHeight = 24
	plateWide = 20
)

// row shows a line.
type row struct {
	widget.BaseWidget
	back, plate          *canvas.Rectangle
	letter, name, detail *canvas.Text
	full, more           string
	heading              bool
}

func newRow() *row {
	r := &row{back: canvas.NewRectangle(color.Transparent), plate: canvas.NewRectangle(color.Transparent),
		letter: canvas.NewText("", theme.Ink), name: canvas.NewText("", theme.Ink), detail: canvas.NewText("", theme.Faint)}
	for _, t := range []*canvas.Text{r.letter, r.name, r.detail} {
		t.TextSize = 12
	}
	r.letter.TextStyle.Bold = true
	r.plate.CornerRadius = 2
	r.ExtendBaseWidget(r)
	return r
}

func (r *row) show(l *line, chosen, fresh bool) {
	r.full, r.more = l.name, l.words
	r.letter.Text, r.heading = l.mark, l.heading
	r.plate.FillColor, r.letter.Color = theme.Button, theme.Ink
	r.back.FillColor, r.name.Color, r.name.TextStyle.Bold = color.Transparent, theme.Ink, chosen || l.heading
	switch {
	case l.heading:
		r.plate.FillColor = color.Transparent
	case l.care:
		r.plate.FillColor, r.letter.Color, _ = theme.Verdict(sight.Tight)
	}
	if !fresh {
		r.name.Color = theme.Faint
	}
	if chosen {
		r.back.FillColor = theme.Head
	}
	r.Refresh()
}

// MinSize implements fyne.CanvasObject.
func (r *row) MinSize() fyne.Size {
	r.ExtendBaseWidget(r)
	return fyne.NewSize(120, rowHeight)
}

// CreateRenderer implements fyne.Widget.
func (r *row) CreateRenderer() fyne.WidgetRenderer { return &rowRenderer{r} }

type rowRenderer struct{ *row }

func (r *rowRenderer) Destroy()           {}
func (r *rowRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.row) }
func (r *rowRenderer) MinSize() fyne.Size { return fyne.NewSize(120, rowHeight) }
func (r *rowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.plate, r.letter, r.name, r.detail}
}

// Layout gives the name what the words leave, and at least half.
func (r *rowRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.plate.Move(fyne.NewPos(4, 3))
	r.plate.Resize(fyne.NewSize(plateWide, s.Height-6))
	put := func(t *canvas.Text, x float32) {
		m := t.MinSize()
		t.Move(fyne.NewPos(x, (s.Height-m.Height)/2))
		t.Resize(m)
	}
	put(r.letter, 4+(plateWide-r.letter.MinSize().Width)/2)
	const gap = 8
	left := float32(plateWide + 12)
	if r.heading {
		left = 6
	}
	room := s.Width - left - gap
	r.name.Text = r.full
	name := min(r.name.MinSize().Width, room/2)
	r.detail.Text = field.Shorten(r.more, room-name-gap, r.detail)
	put(r.detail, s.Width-r.detail.MinSize().Width-gap)
	r.name.Text = field.Shorten(r.full, room-r.detail.MinSize().Width-gap, r.name)
	put(r.name, left)
}
