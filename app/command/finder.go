// SPDX-License-Identifier: MIT

package command

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// Finder is a dialog that lists commands, narrowed by what is typed. UI goroutine
// only.
type Finder struct {
	dialog.Dialog

	table  Table
	run    func(Command)
	focus  func(fyne.Focusable)
	query  *Query
	list   *rowList
	none   *widget.Label
	found  []Command
	chosen int
}

// NewFinder returns the dialog, not yet shown. It closes before it calls run with
// the command that was chosen.
func NewFinder(t Table, w fyne.Window, run func(Command)) *Finder {
	f := &Finder{table: t, run: run, query: NewQuery("Type a few letters of a command")}
	f.query.OnChanged = f.find
	f.query.OnKey = f.key
	f.list = &rowList{query: f.query}
	f.list.Length = func() int { return len(f.found) }
	f.list.CreateItem = func() fyne.CanvasObject { return newFinderRow() }
	f.list.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(f.found) {
			c := f.found[i]
			o.(*finderRow).show(c, i == f.chosen, func() { f.choose(c) })
		}
	}
	f.list.HideSeparators = true
	f.list.ExtendBaseWidget(f.list)
	f.none = widget.NewLabel(words.Of("No command matches."))
	keys := canvas.NewText(words.Of("Up and Down to move, Enter to run, Esc to close"), theme.Faint)
	keys.TextSize = base.Size(base.SizeNameCaptionText)
	f.Dialog = dialog.NewCustomWithoutButtons(words.Of("Find a command"), container.NewBorder(
		f.query, container.NewCenter(keys), nil, nil,
		container.NewStack(f.list, container.NewVBox(f.none))), w)
	f.focus = w.Canvas().Focus
	return f
}

// Show implements dialog.Dialog. It gives the keyboard to the query.
func (f *Finder) Show() {
	f.Dialog.Show()
	f.find(f.query.Text)
	f.focus(f.query)
}

// find lists the commands that match the query and marks the first.
func (f *Finder) find(query string) {
	f.found = f.table.Find(query)
	if len(f.found) == 0 {
		f.none.Show()
	} else {
		f.none.Hide()
	}
	f.chosen = 0
	f.list.Refresh()
	f.list.ScrollToTop()
}

// move marks the command at index to, or the nearest there is.
func (f *Finder) move(to int) {
	from := f.chosen
	f.chosen = max(min(to, len(f.found)-1), 0)
	f.list.ScrollTo(f.chosen)
	f.list.RefreshItem(from)
	f.list.RefreshItem(f.chosen)
}

// page is how many commands Page Up and Page Down move by.
const page = 8

// key handles the keys that are not for the query and reports whether name is
// one of them.
func (f *Finder) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyEscape:
		f.Hide()
	case fyne.KeyReturn, fyne.KeyEnter:
		if len(f.found) > 0 {
			f.choose(f.found[f.chosen])
		}
	case fyne.KeyUp:
		f.move(f.chosen - 1)
	case fyne.KeyDown:
		f.move(f.chosen + 1)
	case fyne.KeyPageUp:
		f.move(f.chosen - page)
	case fyne.KeyPageDown:
		f.move(f.chosen + page)
	default:
		return false
	}
	return true
}

// choose closes the dialog and runs c. If c cannot be done now, its row says why
// and the dialog stays.
func (f *Finder) choose(c Command) {
	if c.Do == nil || c.Refusal() != nil {
		f.focus(f.query) // a click takes the keyboard away
		return
	}
	f.Hide()
	f.run(c)
}

// rowList is a list that passes the keyboard on to the query, should a click or
// Tab give it to the list.
type rowList struct {
	widget.List
	query *Query
}

// TypedKey implements fyne.Focusable.
func (l *rowList) TypedKey(ev *fyne.KeyEvent) { l.query.TypedKey(ev) }

// TypedRune implements fyne.Focusable.
func (l *rowList) TypedRune(r rune) { l.query.TypedRune(r) }

// finderRow is one command in the list: its name and menu, under them what it does
// or why it cannot be done, and its key at the right.
type finderRow struct {
	widget.BaseWidget
	back, edge             *canvas.Rectangle // shown while the row is marked
	name, place, says, key *canvas.Text
	whole                  [3]string // name, place and says before they were shortened
	tapped                 func()
}

func newFinderRow() *finderRow {
	r := &finderRow{back: canvas.NewRectangle(theme.Well), edge: canvas.NewRectangle(theme.Accent),
		name: canvas.NewText("", theme.Ink), place: canvas.NewText("", theme.Faint),
		says: canvas.NewText("", theme.Faint), key: canvas.NewText("", theme.Ink)}
	r.name.TextSize, r.key.TextSize = base.Size(base.SizeNameText), base.Size(base.SizeNameText)
	r.name.TextStyle.Bold = true
	r.place.TextSize, r.says.TextSize = base.Size(base.SizeNameCaptionText), base.Size(base.SizeNameCaptionText)
	r.ExtendBaseWidget(r)
	return r
}

func (r *finderRow) show(c Command, marked bool, tapped func()) {
	r.tapped = tapped
	r.back.Hidden, r.edge.Hidden = !marked, !marked
	says := c.Says
	r.name.Color, r.key.Color = theme.Ink, theme.Ink
	if why := c.Refusal(); why != nil {
		says = "Not now: " + why.Error() + "."
		r.name.Color, r.key.Color = theme.Disabled, theme.Disabled
	}
	if c.IsOn() {
		says = "On. " + says
	}
	r.whole = [3]string{c.Label(), strings.ReplaceAll(c.Menu, "/", " / "), says}
	r.key.Text = words.Of(c.Key.String())
	r.Refresh()
}

// Tapped implements fyne.Tappable.
func (r *finderRow) Tapped(*fyne.PointEvent) { r.tapped() }

// CreateRenderer implements fyne.Widget.
func (r *finderRow) CreateRenderer() fyne.WidgetRenderer { return finderRowRenderer{r} }

type finderRowRenderer struct{ r *finderRow }

// The measures of a row, in Fyne's units.
const (
	rowSide  = 8
	rowEdge  = 3
	rowTop   = 3
	rowGap   = 10 // between the name and what stands beside it
	nameLine = 17 // height of the upper line
	saysLine = 15 // height of the lower line
)

func (d finderRowRenderer) Layout(size fyne.Size) {
	r := d.r
	r.back.Resize(size)
	r.edge.Resize(fyne.NewSize(rowEdge, size.Height))
	key := r.key.MinSize()
	if r.key.Text == "" {
		key.Width = 0
	}
	r.key.Move(fyne.NewPos(size.Width-rowSide-key.Width, rowTop))
	room := size.Width - 2*rowSide
	r.says.Text = shorten(r.whole[2], room, r.says)
	r.says.Move(fyne.NewPos(rowSide, rowTop+nameLine))
	if key.Width > 0 {
		room -= key.Width + rowGap
	}
	r.name.Text = shorten(r.whole[0], room, r.name)
	r.name.Move(fyne.NewPos(rowSide, rowTop))
	name := r.name.MinSize()
	room -= name.Width + rowGap
	r.place.Text = shorten(r.whole[1], room, r.place)
	r.place.Move(fyne.NewPos(rowSide+name.Width+rowGap, rowTop+(name.Height-r.place.MinSize().Height)*0.7))
}

func (d finderRowRenderer) MinSize() fyne.Size {
	return fyne.NewSize(300, 2*rowTop+nameLine+saysLine)
}

func (d finderRowRenderer) Refresh() {
	d.Layout(d.r.Size())
	for _, t := range d.Objects() {
		t.Refresh()
	}
}

func (d finderRowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{d.r.back, d.r.edge, d.r.name, d.r.place, d.r.says, d.r.key}
}

func (d finderRowRenderer) Destroy() {}

// shorten returns text, cut to fit into width with an ellipsis at its end. Size
// and style are those of like.
func shorten(text string, width float32, like *canvas.Text) string {
	text = words.Of(text)
	fits := func(s string) bool {
		return fyne.MeasureText(s, like.TextSize, like.TextStyle).Width <= width
	}
	if fits(text) {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n > 0; n-- {
		if s := strings.TrimRight(string(runes[:n]), " ") + "…"; fits(s) {
			return s
		}
	}
	return ""
}
