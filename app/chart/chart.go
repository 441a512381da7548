// SPDX-License-Identifier: MIT

// Package chart shows a chart of scene/chart in the window: a head with its
// title, what is under the pointer and buttons to export it, and the picture
// below. UI goroutine only.
package chart

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"golang.org/x/image/font/opentype"

	"earline/app/field"
	"earline/app/theme"
	"earline/app/words"
	"earline/scene/chart"
)

// Chart is the widget. A picture is drawn when Set is called and when its size in
// pixels changes, not else; it takes a few milliseconds, so it is drawn where it
// is asked for.
type Chart struct {
	widget.BaseWidget
	// OnExport is told which kind of file is wanted.
	OnExport func(kind string)
	// OnHover is told of the point under the pointer; false when there is none.
	OnHover func(chart.Hit, bool)
	// OnChoose is told of the point that is clicked.
	OnChoose func(chart.Hit)

	chart   *chart.Chart // as it was given
	title   *canvas.Text
	says    *canvas.Text
	line    string // what says is cut from
	buttons *fyne.Container
	face    *surface
	head    *fyne.Container
	object  fyne.CanvasObject
}

// New returns a widget with an empty chart.
func New() *Chart {
	c := &Chart{chart: &chart.Chart{}}
	c.title = canvas.NewText("", theme.Ink)
	c.title.TextSize = textSize
	c.title.TextStyle.Bold = true
	c.says = canvas.NewText("", theme.Faint)
	c.says.TextSize = textSize
	c.buttons = container.New(layout.NewCustomPaddedHBoxLayout(2))
	for _, kind := range []struct{ name, kind string }{{"PNG", chart.PNG}, {"SVG", chart.SVG}, {"CSV", chart.CSV}} {
		b := field.NewButton(kind.name, func() {
			if c.OnExport != nil {
				c.OnExport(kind.kind)
			}
		})
		b.Importance = widget.LowImportance
		c.buttons.Add(b)
	}
	c.face = newSurface(c)
	c.head = container.New(&headLayout{c}, c.title, c.says, c.buttons)
	c.object = container.NewBorder(c.head, nil, nil, nil, c.face)
	c.ExtendBaseWidget(c)
	return c
}

const (
	textSize   = 12
	headHeight = 24
)

// Set shows a chart, which must not change from then on.
func (c *Chart) Set(p *chart.Chart) {
	if p == nil {
		p = &chart.Chart{}
	}
	c.chart = p
	c.title.Text = words.Of(p.Title)
	c.title.Refresh()
	c.head.Refresh() // the title may be longer or shorter
	c.face.set(p)
	if len(p.Series) == 0 { // axes without a curve say nothing
		c.face.Hide()
		return
	}
	c.face.Show()
}

// Shown returns the chart that was set.
func (c *Chart) Shown() *chart.Chart { return c.chart }

// say shows a line in the head, cut to its room.
func (c *Chart) say(line string, ink bool) {
	c.line = line
	c.says.Color = theme.Faint
	if ink {
		c.says.Color = theme.Ink
	}
	c.fit()
}

// rest shows what the head says while nothing is under the pointer: the note,
// where the picture has no room for it.
func (c *Chart) rest() {
	line, size := c.face.chart.Note, c.face.Size()
	if line != "" && c.face.chart.Layout(chart.Paper{W: int(size.Width), H: int(size.Height), Style: c.face.style}).Noted() {
		line = ""
	}
	c.say(line, false)
}

// fit cuts the line to the room it has.
func (c *Chart) fit() {
	text := c.line
	room := c.says.Size().Width
	wide := func(s string) float32 { return fyne.MeasureText(s, c.says.TextSize, c.says.TextStyle).Width }
	if r := []rune(text); wide(text) > room {
		for len(r) > 0 && wide(string(r)+"…") > room {
			r = r[:len(r)-1]
		}
		text = ""
		if len(r) > 0 {
			text = string(r) + "…"
		}
	}
	c.says.Text = text
	c.says.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (c *Chart) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(c.object) }

// MinSize implements fyne.CanvasObject.
func (c *Chart) MinSize() fyne.Size {
	c.ExtendBaseWidget(c)
	return fyne.NewSize(240, headHeight+80)
}

// headLayout gives the title what it needs, up to half, the buttons their own,
// and the line between them the rest.
type headLayout struct{ c *Chart }

func (h *headLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(h.c.buttons.MinSize().Width+40, headHeight)
}

func (h *headLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	c := h.c
	const gap = 8
	bw := c.buttons.MinSize().Width
	c.buttons.Resize(fyne.NewSize(bw, s.Height))
	c.buttons.Move(fyne.NewPos(s.Width-bw, 0))
	middle := func(o fyne.CanvasObject, x, w float32) {
		h := o.MinSize().Height
		o.Resize(fyne.NewSize(w, h))
		o.Move(fyne.NewPos(x, (s.Height-h)/2))
	}
	tw := min(c.title.MinSize().Width, max(s.Width-bw-2*gap, 0))
	middle(c.title, gap, tw)
	x := gap + tw + 2*gap
	if tw == 0 {
		x = gap
	}
	room := max(s.Width-bw-gap-x, 0)
	middle(c.says, x, room)
	c.fit()
}

// Style returns the colours and the type of charts in the window.
func Style() chart.Style {
	s := theme.Now().Chart()
	s.Font = windowFont()
	s.Comma = words.Comma()
	return s
}

// windowFont returns the window's font; nil, which is the charts' own, should it
// not parse.
func windowFont() *opentype.Font {
	f, err := opentype.Parse(base.DefaultTheme().Font(fyne.TextStyle{}).Content())
	if err != nil {
		return nil
	}
	return f
}
