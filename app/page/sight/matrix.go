// SPDX-License-Identifier: MIT

package sight

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/session"
	"earline/project"
	"earline/project/sight"
)

// picture stands in cell.Speaker for the column of the picture, as it does in a
// session.Selection.
const picture = session.None

// cell is a pair: the index of a seat, and of a loudspeaker or picture.
type cell struct{ Seat, Speaker int }

// matrix is the table: one cell a pair, with its verdict as colour and letter and
// its clearance as number, and one column for what each seat sees of the picture.
// It is painted as one image: a thousand text objects would slow down every frame
// of the picture above it.
type matrix struct {
	widget.BaseWidget
	// OnChoose is told of a cell chosen by click or key.
	OnChoose func(cell)
	// OnHover is told of the cell under the pointer; false when there is none.
	OnHover func(cell, bool)
	// OnSpeaker and OnSeat are told of a click on a heading.
	OnSpeaker, OnSeat func(int)
	// Means says what a loudspeaker's heading means.
	Means func(speaker int) string
	// OnKey gets the keys that mean nothing here.
	OnKey  func(*fyne.KeyEvent)
	OnRune func(rune)

	result   *sight.Result
	units    project.Units
	chosen   *cell
	hovered  *cell
	cursor   cell // where the keyboard is, while nothing is chosen
	focused  bool
	offset   fyne.Position // of what is scrolled out at the left and top
	tip      string        // of the heading under the pointer
	raster   *canvas.Raster
	paper    *paper
	pressed  bool
	traveled float32
}

// New returns an empty matrix.
func newMatrix() *matrix {
	m := &matrix{cursor: cell{0, picture}}
	m.Means = func(k int) string { return m.result.Speakers[k].Name() }
	m.raster = canvas.NewRaster(m.paint)
	m.raster.ScaleMode = canvas.ImageScaleFastest
	m.ExtendBaseWidget(m)
	return m
}

// Set shows an audit. A chosen cell stays chosen if it still exists.
func (m *matrix) Set(r *sight.Result, u project.Units) {
	m.result, m.units, m.hovered = r, u, nil
	if m.chosen != nil && !m.exists(*m.chosen) {
		m.chosen = nil
	}
	m.scroll(0, 0)
	m.raster.Refresh()
}

// Chosen returns the chosen cell, nil when there is none.
func (m *matrix) Chosen() *cell { return m.chosen }

// Choose marks a cell and brings it into view, without telling OnChoose; nil
// unmarks.
func (m *matrix) Choose(c *cell) {
	if m.chosen != nil {
		m.cursor = *m.chosen
	}
	m.chosen, m.hovered = nil, nil
	if c != nil && m.exists(*c) {
		m.chosen = &cell{c.Seat, c.Speaker}
		m.reveal(*c)
	}
	m.raster.Refresh()
}

func (m *matrix) exists(c cell) bool {
	return m.result != nil && c.Seat >= 0 && c.Seat < len(m.result.Seats) &&
		c.Speaker >= picture && c.Speaker < len(m.result.Speakers)
}

func (m *matrix) choose(c cell) {
	m.Choose(&c)
	if m.chosen != nil && m.OnChoose != nil {
		m.OnChoose(c)
	}
}

// MinSize implements fyne.CanvasObject.
func (m *matrix) MinSize() fyne.Size {
	m.ExtendBaseWidget(m)
	return fyne.NewSize(200, headHeight+2*cellHeight)
}

// CreateRenderer implements fyne.Widget.
func (m *matrix) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.raster) }

// Resize implements fyne.CanvasObject.
func (m *matrix) Resize(s fyne.Size) {
	m.BaseWidget.Resize(s)
	m.scroll(0, 0)
}

// MouseDown implements desktop.Mouseable.
func (m *matrix) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(m); c != nil {
		c.Focus(m)
	}
	m.pressed, m.traveled = ev.Button == desktop.MouseButtonPrimary, 0
}

// MouseUp implements desktop.Mouseable.
func (m *matrix) MouseUp(ev *desktop.MouseEvent) {
	if !m.pressed || m.traveled > 4 {
		return
	}
	m.pressed = false
	switch at, where := m.at(ev.Position); where {
	case onCell:
		m.choose(at)
	case onSpeaker:
		if m.OnSpeaker != nil {
			m.OnSpeaker(at.Speaker)
		}
	case onSeat:
		if m.OnSeat != nil {
			m.OnSeat(at.Seat)
		}
	}
}

// Dragged implements fyne.Draggable: the table is pulled about.
func (m *matrix) Dragged(ev *fyne.DragEvent) {
	m.traveled += abs(ev.Dragged.DX) + abs(ev.Dragged.DY)
	if m.traveled > 4 {
		m.scroll(-ev.Dragged.DX, -ev.Dragged.DY)
	}
}

// DragEnd implements fyne.Draggable.
func (m *matrix) DragEnd() { m.pressed = false }

// Scrolled implements fyne.Scrollable: down, or across when nothing is below.
func (m *matrix) Scrolled(ev *fyne.ScrollEvent) {
	dx, dy := -ev.Scrolled.DX, -ev.Scrolled.DY
	if m.content().Height <= m.room().Height {
		dx, dy = dx+dy, 0
	}
	m.scroll(dx, dy)
}

// MouseIn implements desktop.Hoverable.
func (m *matrix) MouseIn(ev *desktop.MouseEvent) { m.MouseMoved(ev) }

// MouseMoved implements desktop.Hoverable.
func (m *matrix) MouseMoved(ev *desktop.MouseEvent) {
	at, where := m.at(ev.Position)
	m.explainHead(at, where)
	if where != onCell {
		m.unhover()
		return
	}
	if m.hovered != nil && *m.hovered == at {
		return
	}
	m.hovered = &at
	m.raster.Refresh()
	if m.OnHover != nil {
		m.OnHover(at, true)
	}
}

// explainHead shows the tip of the heading under the pointer.
func (m *matrix) explainHead(at cell, where spot) {
	text := ""
	switch where {
	case onSpeaker:
		text = m.Means(at.Speaker)
	case onSeat:
		text = "Seat " + m.result.Seats[at.Seat].Name() + ": a click sits there."
	}
	if text == m.tip {
		return
	}
	m.tip = text
	x, y, _ := m.cell(at)
	if where == onSpeaker {
		y = headHeight
	} else {
		x, y = 0, y+cellHeight
	}
	field.TipSoon(m, text, fyne.NewPos(x, y))
}

// MouseOut implements desktop.Hoverable.
func (m *matrix) MouseOut() {
	m.tip = ""
	field.TipGone(m)
	m.unhover()
}

func (m *matrix) unhover() {
	if m.hovered == nil {
		return
	}
	m.hovered = nil
	m.raster.Refresh()
	if m.OnHover != nil {
		m.OnHover(cell{}, false)
	}
}

// FocusGained implements fyne.Focusable: the cursor is seen at once.
func (m *matrix) FocusGained() {
	m.focused = true
	if at := m.cursorAt(); m.exists(at) {
		m.reveal(at)
	}
	m.raster.Refresh()
}

// cursorAt returns where the keyboard is.
func (m *matrix) cursorAt() cell {
	if m.chosen != nil {
		return *m.chosen
	}
	if !m.exists(m.cursor) {
		m.cursor = cell{0, picture}
	}
	return m.cursor
}

// FocusLost implements fyne.Focusable.
func (m *matrix) FocusLost() { m.focused = false; m.raster.Refresh() }

// TypedRune implements fyne.Focusable.
func (m *matrix) TypedRune(r rune) {
	if m.OnRune != nil {
		m.OnRune(r)
	}
}

// TypedKey implements fyne.Focusable: the arrows move the choice.
func (m *matrix) TypedKey(ev *fyne.KeyEvent) {
	c := m.cursorAt()
	switch ev.Name {
	case fyne.KeyUp:
		c.Seat--
	case fyne.KeyDown:
		c.Seat++
	case fyne.KeyLeft:
		c.Speaker--
	case fyne.KeyRight:
		c.Speaker++
	case fyne.KeyHome:
		c.Speaker = picture
	case fyne.KeyEnd:
		if m.result != nil {
			c.Speaker = len(m.result.Speakers) - 1
		}
	}
	switch ev.Name {
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight, fyne.KeyHome, fyne.KeyEnd, fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if m.exists(c) {
			m.choose(c)
		}
	default:
		if m.OnKey != nil {
			m.OnKey(ev)
		}
	}
}

// TypedShortcut implements fyne.Shortcutable: a cell is copied in words, with tabs
// between them as tables take them. All else goes on.
func (m *matrix) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*fyne.ShortcutCopy); ok {
		if at := m.cursorAt(); m.exists(at) && c.Clipboard != nil {
			c.Clipboard.SetContent(m.words(at))
		}
		return
	}
	if up, ok := fyne.CurrentApp().Driver().CanvasForObject(m).(fyne.Shortcutable); ok {
		up.TypedShortcut(s)
	}
}

func abs(v float32) float32 {
	if v < 0 {
		return -v
	}
	return v
}

var _ interface {
	fyne.Focusable
	fyne.Draggable
	fyne.Scrollable
	desktop.Mouseable
	desktop.Hoverable
} = (*matrix)(nil)

// Hovered returns the cell under the pointer; false when there is none.
func (m *matrix) Hovered() (cell, bool) {
	if m.hovered == nil {
		return cell{}, false
	}
	return *m.hovered, true
}
