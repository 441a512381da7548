// SPDX-License-Identifier: MIT

package field

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// Tips is the layer over the content of a window in which tips stand. The pointer
// goes through it.
type Tips struct {
	widget.BaseWidget
	// Post runs a function on the UI goroutine soon; NewTips makes it fyne.Do.
	Post func(func())

	owner fyne.CanvasObject // of the tip that is shown or awaited; nil for none
	due   *time.Timer
	lines []string
	box   fyne.Position
}

// NewTips returns a layer without a tip.
func NewTips() *Tips {
	t := &Tips{Post: fyne.Do}
	t.ExtendBaseWidget(t)
	return t
}

// Over lays the tips over content. What returns is to be the content of the window.
func (t *Tips) Over(content fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(content, t)
}

// tipRest is how long the pointer rests before a tip is shown.
const tipRest = 600 * time.Millisecond

// tipsOf returns the layer of the window that o is in; nil for none.
func tipsOf(o fyne.CanvasObject) *Tips {
	c := canvasOf(o)
	if c == nil {
		return nil
	}
	content, ok := c.Content().(*fyne.Container)
	if !ok || len(content.Objects) == 0 {
		return nil
	}
	t, _ := content.Objects[len(content.Objects)-1].(*Tips)
	return t
}

// under returns where the tip of a control stands.
func under(o fyne.CanvasObject) fyne.Position { return fyne.NewPos(0, o.Size().Height) }

// TipSoon shows text beside the place at in o, once the pointer or the keyboard has
// rested on o. An empty text shows nothing.
func TipSoon(o fyne.CanvasObject, text string, at fyne.Position) {
	t := tipsOf(o)
	if t == nil {
		return
	}
	t.Dismiss()
	if text == "" {
		return
	}
	t.owner = o
	var due *time.Timer
	due = time.AfterFunc(tipRest, func() {
		t.Post(func() {
			if t.due == due && t.owner == o {
				t.show(o, text, at)
			}
		})
	})
	t.due = due
}

// TipGone hides the tip of o.
func TipGone(o fyne.CanvasObject) {
	if t := tipsOf(o); t != nil && t.owner == o {
		t.Dismiss()
	}
}

// Shown returns the text of the tip that is shown; empty for none.
func (t *Tips) Shown() string { return strings.Join(t.lines, " ") }

// Dismiss takes away the tip that is shown or awaited.
func (t *Tips) Dismiss() {
	if t.due != nil {
		t.due.Stop()
		t.due = nil
	}
	t.owner = nil
	if t.lines != nil {
		t.lines = nil
		t.Refresh()
	}
}

func (t *Tips) show(o fyne.CanvasObject, text string, at fyne.Position) {
	if c := canvasOf(o); c == nil || c.Overlays().Top() != nil || !o.Visible() {
		return // a tip would lie under what is open
	}
	d := fyne.CurrentApp().Driver()
	t.lines = wrap(words.Of(text), min(tipWidest, t.Size().Width-4*tipPad))
	t.box = d.AbsolutePositionForObject(o).Subtract(d.AbsolutePositionForObject(t)).Add(at).AddXY(0, tipPad)
	t.Refresh()
}

// The measures of a tip, in Fyne's points.
const (
	tipPad    = 5
	tipWidest = 380
)

func tipText(s string) *canvas.Text {
	x := canvas.NewText(s, theme.Ink)
	x.TextSize = base.Size(base.SizeNameCaptionText)
	return x
}

// wrap breaks text into lines of a width.
func wrap(text string, width float32) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(part) {
			longer := strings.TrimSpace(line + " " + word)
			if line != "" && tipText(longer).MinSize().Width > width {
				lines = append(lines, line)
				longer = word
			}
			line = longer
		}
		lines = append(lines, line)
	}
	return lines
}

// CreateRenderer implements fyne.Widget.
func (t *Tips) CreateRenderer() fyne.WidgetRenderer {
	r := &tipsRenderer{tips: t, back: canvas.NewRectangle(theme.Well)}
	r.back.CornerRadius = 3
	r.back.StrokeWidth = 1
	return r
}

type tipsRenderer struct {
	tips  *Tips
	back  *canvas.Rectangle
	texts []fyne.CanvasObject
}

func (r *tipsRenderer) Destroy()           {}
func (r *tipsRenderer) MinSize() fyne.Size { return fyne.Size{} }

// Objects returns the plate and the lines; nothing while there is no tip.
func (r *tipsRenderer) Objects() []fyne.CanvasObject {
	if len(r.texts) == 0 {
		return nil
	}
	return append([]fyne.CanvasObject{r.back}, r.texts...)
}

// Refresh makes the lines anew.
func (r *tipsRenderer) Refresh() {
	r.back.FillColor, r.back.StrokeColor = theme.Well, theme.Faint
	r.texts = nil
	for _, line := range r.tips.lines {
		r.texts = append(r.texts, tipText(line))
	}
	r.Layout(r.tips.Size())
	canvas.Refresh(r.tips)
}

// Layout keeps the plate within the window: over what it is about where there is no
// room below.
func (r *tipsRenderer) Layout(s fyne.Size) {
	var width, high float32
	for _, o := range r.texts {
		m := o.MinSize()
		width, high = max(width, m.Width), high+m.Height
	}
	size := fyne.NewSize(width+2*tipPad, high+2*tipPad)
	at := r.tips.box
	if at.Y+size.Height > s.Height {
		at.Y -= size.Height + 2*tipPad + aboutHeight
	}
	at = fyne.NewPos(max(min(at.X, s.Width-size.Width), 0), max(at.Y, 0))
	r.back.Move(at)
	r.back.Resize(size)
	y := at.Y + tipPad
	for _, o := range r.texts {
		m := o.MinSize()
		o.Move(fyne.NewPos(at.X+tipPad, y))
		o.Resize(m)
		y += m.Height
	}
}

// aboutHeight is about the height of what has a tip.
const aboutHeight = 24
