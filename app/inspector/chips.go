// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/field"
	"earline/app/theme"
	"earline/project/sight"
)

// chip is one of a number of small plates, of which one is chosen. Its verdict
// stands as a letter after the name when it falls short.
type chip struct {
	widget.BaseWidget
	tap         func()
	width       float32
	full        string // name in full; shown cut where it does not fit
	back, edge  *canvas.Rectangle
	name, state *canvas.Text
}

func newChip(width float32, tap func()) *chip {
	c := &chip{tap: tap, width: width, back: canvas.NewRectangle(theme.Line), edge: canvas.NewRectangle(nil),
		name: canvas.NewText("", theme.Ink), state: canvas.NewText("", theme.Ink)}
	c.name.TextSize, c.state.TextSize = 11, 11
	c.state.TextStyle.Bold = true
	c.back.CornerRadius, c.edge.CornerRadius = 3, 3
	c.ExtendBaseWidget(c)
	return c
}

func (c *chip) show(name string, v sight.Verdict, chosen bool) {
	c.full, c.state.Text = name, ""
	if v == sight.Tight || v == sight.Blocked {
		_, _, letter := theme.Verdict(v)
		c.state.Text, c.state.Color = letter, theme.VerdictInk(v)
	}
	c.back.FillColor = theme.Well
	c.edge.StrokeColor, c.edge.StrokeWidth = theme.Edge, 1
	c.name.Color = theme.Ink
	if chosen {
		c.back.FillColor, c.edge.StrokeColor, c.edge.StrokeWidth = theme.Button, theme.Accent, 2
	}
	c.Refresh()
}

// Tapped implements fyne.Tappable.
func (c *chip) Tapped(*fyne.PointEvent) { c.tap() }

// Cursor implements desktop.Cursorable.
func (c *chip) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer implements fyne.Widget.
func (c *chip) CreateRenderer() fyne.WidgetRenderer { return &chipRenderer{c} }

type chipRenderer struct{ *chip }

func (r *chipRenderer) Destroy()           {}
func (r *chipRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.chip) }
func (r *chipRenderer) MinSize() fyne.Size { return fyne.NewSize(r.width, 21) }
func (r *chipRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.edge, r.name, r.state}
}
func (r *chipRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.edge.Resize(s)
	t := r.state.MinSize()
	r.name.Text = field.Shorten(r.full, s.Width-t.Width-12, r.name)
	n := r.name.MinSize()
	r.name.Move(fyne.NewPos(6, (s.Height-n.Height)/2))
	r.name.Resize(n)
	r.state.Move(fyne.NewPos(s.Width-t.Width-5, (s.Height-t.Height)/2))
	r.state.Resize(t)
}

// Widths of chips: of short names, such as loudspeakers' labels, four a line,
// and of names of one's own, two a line.
const (
	shortChip = 66
	longChip  = 146
)

// chips is a set of chips that wraps.
type chips struct {
	box    *fyne.Container
	width  float32
	names  []string
	choose func(int)
}

func newChips(width float32, choose func(int)) *chips {
	return &chips{box: container.NewGridWrap(fyne.NewSize(width, 21)), width: width, choose: choose}
}

// show makes as many chips as there are names.
func (c *chips) show(names []string, chosen int, verdict func(int) sight.Verdict) {
	if len(c.box.Objects) != len(names) {
		c.box.Objects = nil
		for i := range names {
			c.box.Objects = append(c.box.Objects, newChip(c.width, func() { c.choose(i) }))
		}
	}
	for i, n := range names {
		c.box.Objects[i].(*chip).show(n, verdict(i), i == chosen)
	}
	if !slices.Equal(c.names, names) {
		c.names = names
		c.box.Refresh()
	}
}
