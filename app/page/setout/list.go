// SPDX-License-Identifier: MIT

package setout

import (
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
)

// list is the set-out list. Every row is as high as its words need; the chosen one says
// all.
type list struct {
	widget.List
	page *setOutPage
	ring *field.Ring

	rows    []entry
	wide    float32           // what the rows are wrapped for
	wrapped map[string][]line // texts, wrapped for that
}

// entry is a row of the list.
type entry struct {
	item  int    // of the set-out list; -1 for a heading or a note
	name  string // bold, over the rest
	value string // beside name, at the right
	lines []line
	head  bool
}

// line is a line of an entry; one that goes on with a sentence hangs.
type line struct {
	text  string
	hangs bool
}

const (
	lineHeight = 16
	rowPad     = 4
	indent     = 8
	hang       = 10 // of a line that goes on
	textSize   = 12
)

func (e *entry) height() float32 {
	n := len(e.lines)
	if e.name != "" {
		n++
	}
	return float32(n)*lineHeight + 2*rowPad
}

func newList(p *setOutPage) *list {
	l := &list{page: p, ring: field.NewRing(), wrapped: map[string][]line{}}
	l.Length = func() int { return len(l.rows) }
	l.CreateItem = func() fyne.CanvasObject { return newRow() }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(l.rows) {
			o.(*row).show(&l.rows[i], l.rows[i].item >= 0 && l.rows[i].item == p.index())
		}
	}
	l.OnSelected = func(i widget.ListItemID) {
		l.Unselect(i) // the row itself shows what is chosen
		if l.rows[i].item >= 0 {
			p.choose(l.rows[i].item)
		}
		field.Focus(l)
	}
	l.HideSeparators = true
	l.ExtendBaseWidget(l)
	return l
}

// fill makes the rows of the list as it is now.
func (l *list) fill() {
	out := l.page.out
	l.rows = nil
	const most = 1000 // texts that are worth keeping
	if w := l.Size().Width; w != l.wide || len(l.wrapped) > most {
		l.wide, l.wrapped = w, map[string][]line{}
	}
	if out == nil {
		l.Refresh()
		return
	}
	l.add(entry{item: -1, lines: l.wrap(strings.Join(out.Datum.Words(out.Units), " "))})
	chosen, place := l.page.index(), ""
	for i := range out.Items {
		it := &out.Items[i]
		if it.Place != place {
			place = it.Place
			l.add(entry{item: -1, name: strings.ToUpper(place[:1]) + place[1:], head: true})
		}
		e := entry{item: i, name: it.Name, value: out.ShowHeight(it.Height), lines: slices.Clip(l.wrap(out.Across(it)))}
		if i == chosen {
			for _, text := range out.More(it) {
				e.lines = append(e.lines, l.wrap(text)...)
			}
		}
		l.add(e)
	}
	l.Refresh()
}

func (l *list) add(e entry) {
	l.SetItemHeight(len(l.rows), e.height())
	l.rows = append(l.rows, e)
}

// wrap breaks a text into lines of the list.
func (l *list) wrap(text string) []line {
	lines, ok := l.wrapped[text]
	if !ok {
		const bar = 10 // of scrolling
		lines = wrapped(words.Of(text), l.wide-2*indent-bar)
		l.wrapped[text] = lines
	}
	return lines
}

// wrapped breaks text between words into lines no wider than room; where the room is not
// known yet, into one.
func wrapped(text string, room float32) (lines []line) {
	now := line{}
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(now.text + " " + word)
		left := room
		if now.hangs {
			left -= hang
		}
		if now.text != "" && room > 0 && fyne.MeasureText(longer, textSize, fyne.TextStyle{}).Width > left {
			lines = append(lines, now)
			now, longer = line{hangs: true}, word
		}
		now.text = longer
	}
	if now.text == "" {
		return lines
	}
	return append(lines, now)
}

// update shows what is chosen.
func (l *list) update() {
	l.Refresh()
	if i := l.index(); i >= 0 && field.Painted(l) {
		l.ScrollTo(i)
	}
}

// index returns the row of the chosen item; -1 for none.
func (l *list) index() int {
	if at := l.page.index(); at >= 0 {
		for i := range l.rows {
			if l.rows[i].item == at {
				return i
			}
		}
	}
	return -1
}

// Resize wraps the rows anew for another width.
func (l *list) Resize(s fyne.Size) {
	l.List.Resize(s)
	if s.Width != l.wide {
		l.fill()
	}
}

// FocusGained implements fyne.Focusable.
func (l *list) FocusGained() { l.ring.Show(true) }

// FocusLost implements fyne.Focusable.
func (l *list) FocusLost() { l.ring.Show(false) }

// CreateRenderer implements fyne.Widget.
func (l *list) CreateRenderer() fyne.WidgetRenderer {
	return field.Ringed(l.List.CreateRenderer(), l.ring)
}

// TypedShortcut implements fyne.Shortcutable: copy takes the chosen line, all else goes
// on.
func (l *list) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*fyne.ShortcutCopy); ok {
		if i := l.page.index(); i >= 0 && c.Clipboard != nil {
			out := l.page.out
			it := &out.Items[i]
			c.Clipboard.SetContent(strings.Join(append([]string{it.Name + ": " + out.Where(it)}, out.More(it)...), "\n"))
		}
		return
	}
	if up, ok := fyne.CurrentApp().Driver().CanvasForObject(l).(fyne.Shortcutable); ok {
		up.TypedShortcut(s)
	}
}

// TypedRune implements fyne.Focusable: characters are not meant for the list.
func (l *list) TypedRune(r rune) { l.page.frame.Rune(r) }

// TypedKey implements fyne.Focusable: the arrows choose, Enter looks at the drawing.
func (l *list) TypedKey(ev *fyne.KeyEvent) {
	if l.page.out == nil {
		l.page.frame.Key(ev)
		return
	}
	const linesAPage = 8
	at, last := l.page.index(), len(l.page.out.Items)-1
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
		l.page.viewer.closer()
		field.Focus(l.page.viewer)
		return
	default:
		l.page.frame.Key(ev)
		return
	}
	l.page.choose(max(min(at, last), 0))
}

// row shows an entry.
type row struct {
	widget.BaseWidget
	back        *canvas.Rectangle
	name, value *canvas.Text
	lines       []*canvas.Text
	entry       *entry
}

func newRow() *row {
	r := &row{back: canvas.NewRectangle(color.Transparent), name: canvas.NewText("", theme.Ink), value: canvas.NewText("", theme.Ink), entry: &entry{}}
	r.name.TextSize, r.value.TextSize = textSize, textSize
	r.name.TextStyle.Bold, r.value.TextStyle.Bold = true, true
	r.back.CornerRadius = 2
	r.ExtendBaseWidget(r)
	return r
}

func (r *row) show(e *entry, chosen bool) {
	r.entry = e
	r.value.Text = words.Of(e.value)
	r.name.Color, r.value.Color = theme.Ink, theme.Accent
	if e.head {
		r.name.Color = theme.Accent
	}
	r.back.FillColor = color.Transparent
	switch {
	case chosen:
		r.back.FillColor = theme.Head
	case e.head:
		r.back.FillColor = theme.Well
	}
	for len(r.lines) < len(e.lines) {
		t := canvas.NewText("", theme.Faint)
		t.TextSize = textSize
		r.lines = append(r.lines, t)
	}
	for i, t := range r.lines {
		t.Hidden = i >= len(e.lines)
		t.Color = theme.Faint
		if chosen {
			t.Color = theme.Ink
		}
		if !t.Hidden {
			t.Text = e.lines[i].text
		}
	}
	r.Refresh()
}

// MinSize implements fyne.CanvasObject.
func (r *row) MinSize() fyne.Size {
	r.ExtendBaseWidget(r)
	return fyne.NewSize(160, max(r.entry.height(), lineHeight+2*rowPad))
}

// CreateRenderer implements fyne.Widget.
func (r *row) CreateRenderer() fyne.WidgetRenderer { return &rowRenderer{r} }

type rowRenderer struct{ *row }

func (r *rowRenderer) Destroy() {}
func (r *rowRenderer) Refresh() { r.Layout(r.Size()); canvas.Refresh(r.row) }
func (r *rowRenderer) MinSize() fyne.Size {
	return r.row.MinSize()
}
func (r *rowRenderer) Objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{r.back, r.name, r.value}
	for _, t := range r.lines {
		all = append(all, t)
	}
	return all
}

// Layout puts the height at the right, the name before it and the lines below.
func (r *rowRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	y := float32(rowPad)
	put := func(t *canvas.Text, x float32) {
		m := t.MinSize()
		t.Move(fyne.NewPos(x, y+(lineHeight-m.Height)/2))
		t.Resize(m)
	}
	r.name.Text = ""
	if r.entry.name != "" {
		wide := r.value.MinSize().Width
		put(r.value, s.Width-indent-wide)
		r.name.Text = field.Shorten(r.entry.name, s.Width-3*indent-wide, r.name)
		put(r.name, indent)
		y += lineHeight
	}
	for i, t := range r.lines {
		if !t.Hidden {
			x := float32(indent)
			if i < len(r.entry.lines) && r.entry.lines[i].hangs && r.entry.name != "" {
				x += hang
			}
			put(t, x)
			y += lineHeight
		}
	}
}
