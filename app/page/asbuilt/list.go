// SPDX-License-Identifier: MIT

package asbuilt

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
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
	l.CreateItem = func() fyne.CanvasObject { return newRow() }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(p.sheet.Items) {
			it := &p.sheet.Items[i]
			o.(*row).show(it, p.stand(it), it.ID == p.item)
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

// Sizes of a row.
const (
	rowHeight = 24
	plateWide = 20
)

// row shows an item.
type row struct {
	widget.BaseWidget
	back, plate          *canvas.Rectangle
	letter, name, detail *canvas.Text
	full, more           string
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

func (r *row) show(it *built.Item, s stand, chosen bool) {
	r.full, r.more = it.Name, s.words
	r.plate.FillColor, r.letter.Color, _ = theme.Verdict(s.verdict)
	r.letter.Text = s.letter
	r.back.FillColor, r.name.TextStyle.Bold = color.Transparent, chosen
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

// Layout gives the name what the words leave, and at least two thirds.
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
	const left, gap = plateWide + 12, 8
	room := s.Width - left - gap
	r.name.Text = r.full
	name := min(r.name.MinSize().Width, room*0.68)
	r.detail.Text = field.Shorten(r.more, room-name-gap, r.detail)
	put(r.detail, s.Width-r.detail.MinSize().Width-gap)
	r.name.Text = field.Shorten(r.full, room-r.detail.MinSize().Width-gap, r.name)
	put(r.name, left)
}
