// SPDX-License-Identifier: MIT

package field

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Ring is drawn around what has the keyboard. It is white with a black edge, so that
// one of the two stands out from whatever is behind by 3 to 1, as WCAG 2.2 asks
// (success criteria 1.4.11 and 2.4.7), in every theme and over the picture.
type Ring struct {
	edge, line *canvas.Rectangle
}

// The widths of a ring's edge and line, in Fyne's points.
const (
	ringEdge = 1
	ringLine = 2
)

// NewRing returns a ring that is hidden.
func NewRing() *Ring {
	r := &Ring{edge: canvas.NewRectangle(color.Transparent), line: canvas.NewRectangle(color.Transparent)}
	r.edge.StrokeColor, r.edge.StrokeWidth = color.Black, ringEdge+ringLine+1
	r.line.StrokeColor, r.line.StrokeWidth = color.White, ringLine
	r.edge.CornerRadius, r.line.CornerRadius = 4, 3
	r.Show(false)
	return r
}

// Show shows or hides the ring.
func (r *Ring) Show(on bool) {
	for _, o := range r.Objects() {
		if on {
			o.Show()
			o.Refresh() // which Show alone does not
		} else {
			o.Hide()
		}
	}
}

// Shown reports whether the ring is shown.
func (r *Ring) Shown() bool { return r.line.Visible() }

// Resize lays the ring just within the edge of what is that large.
func (r *Ring) Resize(s fyne.Size) {
	r.edge.Resize(s)
	r.line.Move(fyne.NewPos(ringEdge, ringEdge))
	r.line.Resize(s.SubtractWidthHeight(2*ringEdge, 2*ringEdge))
}

// Objects returns what is drawn, on top of all else of what has the ring.
func (r *Ring) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.edge, r.line} }

// Ringed returns r with a ring around it.
func Ringed(r fyne.WidgetRenderer, ring *Ring) fyne.WidgetRenderer { return ringed{r, ring} }

// ringed draws a widget and a ring around it.
type ringed struct {
	fyne.WidgetRenderer
	ring *Ring
}

// Layout implements fyne.WidgetRenderer.
func (r ringed) Layout(s fyne.Size) {
	r.WidgetRenderer.Layout(s)
	r.ring.Resize(s)
}

// Objects implements fyne.WidgetRenderer.
func (r ringed) Objects() []fyne.CanvasObject {
	return append(slices.Clip(r.WidgetRenderer.Objects()), r.ring.Objects()...)
}
