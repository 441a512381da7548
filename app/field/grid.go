// SPDX-License-Identifier: MIT

package field

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// Grid is a table to be read: its columns share the width that there is, and what is
// longer than its column goes on in the next line. It is as high as that takes: put
// it where it can scroll.
type Grid struct {
	widget.BaseWidget
	rows   []GridRow
	chosen int
}

// GridRow is a row of a Grid.
type GridRow struct {
	Cells []string
	Look  Look
	// Box draws an empty box before the first cell, to be ticked on paper.
	Box bool
}

// Look is what a row of a Grid looks like.
type Look uint8

// The looks.
const (
	Body    Look = iota
	Heading      // names of columns, on a ground of their own
	Strong       // sums
	Pale         // notes
	Failing      // what falls short
)

// NewGrid returns an empty grid.
func NewGrid() *Grid {
	g := &Grid{chosen: -1}
	g.ExtendBaseWidget(g)
	return g
}

// Set shows rows, in the language of the window; one of a single cell takes the whole
// width. chosen is marked, -1 is none.
func (g *Grid) Set(rows []GridRow, chosen int) {
	g.rows, g.chosen = make([]GridRow, len(rows)), chosen
	for i, r := range rows {
		g.rows[i] = r
		g.rows[i].Cells = words.All(r.Cells)
	}
	g.Refresh()
}

// Rows returns what is shown.
func (g *Grid) Rows() []GridRow { return g.rows }

// CreateRenderer implements fyne.Widget.
func (g *Grid) CreateRenderer() fyne.WidgetRenderer { return &gridRenderer{grid: g} }

// rowAt returns the row at a height, -1 for none.
func (g *Grid) rowAt(y float32) int {
	widths := g.widths(g.Size().Width)
	for i := range g.rows {
		if y -= g.high(i, widths); y < 0 {
			return i
		}
	}
	return -1
}

// RowAt returns from where to where row i goes.
func (g *Grid) RowAt(i int) (top, foot float32) {
	widths := g.widths(g.Size().Width)
	for k := range min(i, len(g.rows)) {
		top += g.high(k, widths)
	}
	if i < 0 || i >= len(g.rows) {
		return top, top
	}
	return top, top + g.high(i, widths)
}

// The measures of a grid, in Fyne's points.
const (
	gridText = 12
	gridLine = 17 // from one line to the next
	gridRow  = 5  // more for a row
	gridGap  = 10 // between columns
	gridPad  = 6  // at the sides
	gridBox  = 18 // taken by a box
	gridLong = 170
)

func (r *GridRow) style() fyne.TextStyle {
	return fyne.TextStyle{Bold: r.Look == Heading || r.Look == Strong}
}

func gridWidth(text string, style fyne.TextStyle) float32 {
	return fyne.MeasureText(text, gridText, style).Width
}

// widths returns the width of each column: what it needs if there is room, else every
// column gives of what it has beyond its longest word.
func (g *Grid) widths(room float32) []float32 {
	var want, least []float32
	for i := range g.rows {
		r := &g.rows[i]
		if len(r.Cells) < 2 {
			continue
		}
		for c, text := range r.Cells {
			if c == len(want) {
				want, least = append(want, 0), append(least, 0)
			}
			box := float32(0)
			if r.Box && c == 0 {
				box = gridBox
			}
			want[c] = max(want[c], gridWidth(text, r.style())+box)
			for _, word := range strings.Fields(text) {
				least[c] = max(least[c], min(gridWidth(word, r.style())+box, gridLong))
			}
		}
	}
	room -= 2 * gridPad
	sum, bare := float32(0), float32(0)
	for c := range want {
		room -= gridGap
		sum, bare = sum+want[c], bare+least[c]
	}
	if sum <= room || sum <= bare {
		return want
	}
	share := max(room-bare, 0) / (sum - bare)
	for c := range want {
		want[c] = least[c] + (want[c]-least[c])*share
	}
	return want
}

// high returns the height of row i.
func (g *Grid) high(i int, widths []float32) float32 {
	most := 1
	for c := range g.rows[i].Cells {
		most = max(most, len(g.lines(i, c, widths)))
	}
	return gridLine*float32(most) + gridRow
}

// lines returns the lines of a cell.
func (g *Grid) lines(i, c int, widths []float32) []string {
	r := &g.rows[i]
	width := g.Size().Width - 2*gridPad
	if len(r.Cells) > 1 {
		width = widths[c]
	}
	if r.Box && c == 0 {
		width -= gridBox
	}
	style := r.style()
	if gridWidth(r.Cells[c], style) <= width+1 {
		return []string{r.Cells[c]}
	}
	var out []string
	line := ""
	for _, word := range strings.Fields(r.Cells[c]) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && gridWidth(longer, style) > width+1 {
			out = append(out, line)
			longer = word
		}
		line = longer
	}
	return append(out, line)
}

// figures reports whether a column holds figures, which stand at its right.
func (g *Grid) figures(c int) bool {
	some := false
	for i := range g.rows {
		r := &g.rows[i]
		if len(r.Cells) < 2 || c >= len(r.Cells) || r.Look == Heading || r.Cells[c] == "" {
			continue
		}
		if t := r.Cells[c]; len(t) > 12 || !strings.Contains("-−.0123456789", t[:1]) && t != words.Of("not known") {
			return false
		}
		some = true
	}
	return some
}

type gridRenderer struct {
	grid    *Grid
	wide    float32
	high    float32
	objects []fyne.CanvasObject
}

func (r *gridRenderer) Destroy()                     {}
func (r *gridRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *gridRenderer) MinSize() fyne.Size           { return fyne.NewSize(100, max(r.high, gridLine)) }

// Refresh makes all lines anew.
func (r *gridRenderer) Refresh() {
	r.wide = 0
	r.Layout(r.grid.Size())
	canvas.Refresh(r.grid)
}

// Layout makes the lines for a width.
func (r *gridRenderer) Layout(s fyne.Size) {
	if s.Width == r.wide || s.Width == 0 {
		return
	}
	g := r.grid
	r.wide, r.objects = s.Width, nil
	widths := g.widths(s.Width)
	figures := make([]bool, len(widths))
	for c := range figures {
		figures[c] = g.figures(c)
	}
	y := float32(0)
	for i := range g.rows {
		row := &g.rows[i]
		high := g.high(i, widths)
		if row.Look == Heading || i == g.chosen {
			ground := canvas.NewRectangle(theme.Head)
			ground.Move(fyne.NewPos(0, y))
			ground.Resize(fyne.NewSize(s.Width, high))
			r.objects = append(r.objects, ground)
		}
		x := float32(gridPad)
		for c := range row.Cells {
			left := x
			if row.Box && c == 0 {
				box := canvas.NewRectangle(color.Transparent)
				box.StrokeColor, box.StrokeWidth = theme.Edge, 1
				box.Move(fyne.NewPos(x, y+gridRow/2+2))
				box.Resize(fyne.NewSize(gridBox-6, gridBox-6))
				r.objects = append(r.objects, box)
				left += gridBox
			}
			ink := theme.Ink
			switch row.Look {
			case Pale:
				ink = theme.Faint
			case Failing:
				ink = theme.Fault
			}
			for n, text := range g.lines(i, c, widths) {
				t := canvas.NewText(text, ink)
				t.TextSize, t.TextStyle = gridText, row.style()
				if i == g.chosen {
					t.TextStyle.Bold = true
				}
				at := left
				if len(row.Cells) > 1 && figures[c] {
					at = x + widths[c] - t.MinSize().Width
				}
				t.Move(fyne.NewPos(at, y+gridRow/2+float32(n)*gridLine))
				t.Resize(t.MinSize())
				r.objects = append(r.objects, t)
			}
			if len(row.Cells) > 1 {
				x += widths[c] + gridGap
			}
		}
		y += high
	}
	r.high = y
}
