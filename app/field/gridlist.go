// SPDX-License-Identifier: MIT

package field

import "fyne.io/fyne/v2"

// GridList is a Grid of which rows can be chosen, by a click or with the arrows.
type GridList struct {
	Grid
	// OnChoose is told of a row that was clicked.
	OnChoose func(row int)
	// OnMove is told of Up and Down, Page Up and Page Down, Home and End, as so many
	// rows.
	OnMove func(by int)
	ring   *Ring
}

// NewGridList returns an empty list.
func NewGridList() *GridList {
	g := &GridList{ring: NewRing()}
	g.chosen = -1
	g.ExtendBaseWidget(g)
	return g
}

// CreateRenderer implements fyne.Widget.
func (g *GridList) CreateRenderer() fyne.WidgetRenderer {
	return ringed{g.Grid.CreateRenderer(), g.ring}
}

// Tapped implements fyne.Tappable.
func (g *GridList) Tapped(ev *fyne.PointEvent) {
	Focus(g)
	if i := g.rowAt(ev.Position.Y); i >= 0 && g.OnChoose != nil {
		g.OnChoose(i)
	}
}

// FocusGained implements fyne.Focusable, as do the methods below.
func (g *GridList) FocusGained() { g.ring.Show(true) }

// FocusLost hides the ring.
func (g *GridList) FocusLost() { g.ring.Show(false) }

// TypedKey moves through the rows, or passes the key on.
func (g *GridList) TypedKey(ev *fyne.KeyEvent) {
	const page, all = 8, 1 << 16
	by, ok := map[fyne.KeyName]int{fyne.KeyUp: -1, fyne.KeyDown: 1, fyne.KeyPageUp: -page, fyne.KeyPageDown: page, fyne.KeyHome: -all, fyne.KeyEnd: all}[ev.Name]
	if !ok || g.OnMove == nil {
		Pass(g, ev)
		return
	}
	g.OnMove(by)
}

// TypedRune passes a character on.
func (g *GridList) TypedRune(r rune) { PassRune(g, r) }
