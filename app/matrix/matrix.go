// SPDX-License-Identifier: MIT

// Package matrix is the table of seats by loudspeakers: one cell a pair, with
// its verdict as colour and letter and its clearance as number, and one column
// for what each seat sees of the picture. UI goroutine only.
package matrix

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/project"
	"earline/project/sight"
)

// Picture stands in Cell.Speaker for the column of the picture.
const Picture = -1

// Cell is a pair: the index of a seat, and of a loudspeaker or Picture.
type Cell struct{ Seat, Speaker int }

// Matrix is the table. It is painted as one image: a thousand text objects
// would slow down every frame of the picture above it.
type Matrix struct {
	widget.BaseWidget
	// OnChoose is told of a cell chosen by click or key.
	OnChoose func(Cell)
	// OnHover is told of the cell under the pointer; false when there is none.
	OnHover func(Cell, bool)
	// OnSpeaker and OnSeat are told of a click on a heading.
	OnSpeaker, OnSeat func(int)
	// OnKey gets the keys that mean nothing here.
	OnKey  func(*fyne.KeyEvent)
	OnRune func(rune)

	result   *sight.Result
	units    project.Units
	chosen   *Cell
	hovered  *Cell
	focused  bool
	offset   fyne.Position // of what is scrolled out at the left and top
	raster   *canvas.Raster
	paper    *paper
	pressed  bool
	traveled float32
}

// New returns an empty matrix.
func New() *Matrix {
	m := &Matrix{}
	m.raster = canvas.NewRaster(m.paint)
	m.raster.ScaleMode = canvas.ImageScaleFastest
	m.ExtendBaseWidget(m)
	return m
}

// Set shows an audit. A chosen cell stays chosen if it still exists.
func (m *Matrix) Set(r *sight.Result, u project.Units) {
	m.result, m.units, m.hovered = r, u, nil
	if m.chosen != nil && !m.exists(*m.chosen) {
		m.chosen = nil
	}
	m.scroll(0, 0)
	m.raster.Refresh()
}

// Chosen returns the chosen cell, nil when there is none.
func (m *Matrix) Chosen() *Cell { return m.chosen }

// Choose marks a cell and brings it into view, without telling OnChoose; nil
// unmarks.
func (m *Matrix) Choose(c *Cell) {
	m.chosen, m.hovered = nil, nil
	if c != nil && m.exists(*c) {
		m.chosen = &Cell{c.Seat, c.Speaker}
		m.reveal(*c)
	}
	m.raster.Refresh()
}

func (m *Matrix) exists(c Cell) bool {
	return m.result != nil && c.Seat >= 0 && c.Seat < len(m.result.Seats) &&
		c.Speaker >= Picture && c.Speaker < len(m.result.Speakers)
}

func (m *Matrix) choose(c Cell) {
	m.Choose(&c)
	if m.chosen != nil && m.OnChoose != nil {
		m.OnChoose(c)
	}
}

// MinSize implements fyne.CanvasObject.
func (m *Matrix) MinSize() fyne.Size {
	m.ExtendBaseWidget(m)
	return fyne.NewSize(200, headHeight+2*cellHeight)
}

// CreateRenderer implements fyne.Widget.
func (m *Matrix) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.raster) }

// Resize implements fyne.CanvasObject.
func (m *Matrix) Resize(s fyne.Size) {
	m.BaseWidget.Resize(s)
	m.scroll(0, 0)
}

// MouseDown implements desktop.Mouseable.
func (m *Matrix) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(m); c != nil {
		c.Focus(m)
	}
	m.pressed, m.traveled = ev.Button == desktop.MouseButtonPrimary, 0
}

// MouseUp implements desktop.Mouseable.
func (m *Matrix) MouseUp(ev *desktop.MouseEvent) {
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
func (m *Matrix) Dragged(ev *fyne.DragEvent) {
	m.traveled += abs(ev.Dragged.DX) + abs(ev.Dragged.DY)
	if m.traveled > 4 {
		m.scroll(-ev.Dragged.DX, -ev.Dragged.DY)
	}
}

// DragEnd implements fyne.Draggable.
func (m *Matrix) DragEnd() { m.pressed = false }

// Scrolled implements fyne.Scrollable: down, or across when nothing is below.
func (m *Matrix) Scrolled(ev *fyne.ScrollEvent) {
	dx, dy := -ev.Scrolled.DX, -ev.Scrolled.DY
	if m.content().Height <= m.room().Height {
		dx, dy = dx+dy, 0
	}
	m.scroll(dx, dy)
}

// MouseIn implements desktop.Hoverable.
func (m *Matrix) MouseIn(ev *desktop.MouseEvent) { m.MouseMoved(ev) }

// MouseMoved implements desktop.Hoverable.
func (m *Matrix) MouseMoved(ev *desktop.MouseEvent) {
	at, where := m.at(ev.Position)
	if where != onCell {
		m.MouseOut()
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

// MouseOut implements desktop.Hoverable.
func (m *Matrix) MouseOut() {
	if m.hovered == nil {
		return
	}
	m.hovered = nil
	m.raster.Refresh()
	if m.OnHover != nil {
		m.OnHover(Cell{}, false)
	}
}

// FocusGained implements fyne.Focusable.
func (m *Matrix) FocusGained() { m.focused = true; m.raster.Refresh() }

// FocusLost implements fyne.Focusable.
func (m *Matrix) FocusLost() { m.focused = false; m.raster.Refresh() }

// TypedRune implements fyne.Focusable.
func (m *Matrix) TypedRune(r rune) {
	if m.OnRune != nil {
		m.OnRune(r)
	}
}

// TypedKey implements fyne.Focusable: the arrows move the choice.
func (m *Matrix) TypedKey(ev *fyne.KeyEvent) {
	c := Cell{0, Picture}
	if m.chosen != nil {
		c = *m.chosen
		switch ev.Name {
		case fyne.KeyUp:
			c.Seat--
		case fyne.KeyDown:
			c.Seat++
		case fyne.KeyLeft:
			c.Speaker--
		case fyne.KeyRight:
			c.Speaker++
		}
	}
	switch ev.Name {
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight, fyne.KeyReturn, fyne.KeyEnter:
		if m.exists(c) {
			m.choose(c)
		}
	default:
		if m.OnKey != nil {
			m.OnKey(ev)
		}
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
} = (*Matrix)(nil)

// Hovered returns the cell under the pointer; false when there is none.
func (m *Matrix) Hovered() (Cell, bool) {
	if m.hovered == nil {
		return Cell{}, false
	}
	return *m.hovered, true
}
