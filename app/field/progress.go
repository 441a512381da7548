// SPDX-License-Identifier: MIT

package field

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
)

// Progress shows how far work is. Its figure stands beside the bar: on Fyne's bar it
// lies half on one colour and half on another, and cannot be read on both.
type Progress struct {
	widget.BaseWidget
	Value float64 // 0 to 1

	track, bar *canvas.Rectangle
	figure     *canvas.Text
}

// NewProgress returns a bar at 0.
func NewProgress() *Progress {
	p := &Progress{track: canvas.NewRectangle(theme.Well), bar: canvas.NewRectangle(theme.Accent), figure: canvas.NewText("0 %", theme.Ink)}
	p.track.StrokeColor, p.track.StrokeWidth = theme.Edge, 1
	p.track.CornerRadius, p.bar.CornerRadius = 3, 3
	p.figure.Alignment = fyne.TextAlignTrailing
	p.ExtendBaseWidget(p)
	return p
}

// SetValue shows a share of the work.
func (p *Progress) SetValue(share float64) {
	p.Value = min(max(share, 0), 1)
	p.figure.Text = fmt.Sprintf("%.0f %%", 100*p.Value)
	p.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (p *Progress) CreateRenderer() fyne.WidgetRenderer { return &progressRenderer{p} }

type progressRenderer struct{ *Progress }

func (r *progressRenderer) Destroy()           {}
func (r *progressRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.Progress) }
func (r *progressRenderer) MinSize() fyne.Size { return fyne.NewSize(120, 18) }
func (r *progressRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.track, r.bar, r.figure}
}

func (r *progressRenderer) Layout(s fyne.Size) {
	const figure, high, edge = 46, 12, 2
	wide, top := s.Width-figure, (s.Height-high)/2
	r.track.Move(fyne.NewPos(0, top))
	r.track.Resize(fyne.NewSize(wide, high))
	r.bar.Move(fyne.NewPos(edge, top+edge))
	r.bar.Resize(fyne.NewSize((wide-2*edge)*float32(r.Value), high-2*edge))
	m := r.figure.MinSize()
	r.figure.Move(fyne.NewPos(wide, (s.Height-m.Height)/2))
	r.figure.Resize(fyne.NewSize(figure, m.Height))
}
