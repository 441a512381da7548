// SPDX-License-Identifier: MIT

package chart

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/scene/chart"
)

// reach is how near the pointer must be to a point, in Fyne's points.
const reach = 24

// surface is the picture of a chart with what marks the point under the pointer.
type surface struct {
	widget.BaseWidget
	owner   *Chart
	theme   *theme.Palette // that style is of
	style   chart.Style
	chart   *chart.Chart // without the title, which the head has
	raster  *canvas.Raster
	across  *canvas.Line
	dot     *canvas.Circle
	layout  *chart.Layout
	picture *image.RGBA
	// marked is picture with one series standing out.
	marked       *image.RGBA
	markedSeries int
	w, h         int
	scale        float32
	drawn        int // how often, for tests
	hit          chart.Hit
	found        bool
	pointer      *fyne.Position // nil while it is elsewhere
}

func newSurface(c *Chart) *surface {
	s := &surface{owner: c, theme: theme.Now(), style: Style(), chart: &chart.Chart{}}
	s.raster = canvas.NewRaster(s.paint)
	s.raster.ScaleMode = canvas.ImageScaleFastest
	s.across = canvas.NewLine(theme.Accent)
	s.across.StrokeWidth = 1
	s.dot = canvas.NewCircle(theme.Back)
	s.dot.StrokeColor, s.dot.StrokeWidth = theme.Ink, 2
	s.across.Hide()
	s.dot.Hide()
	s.ExtendBaseWidget(s)
	return s
}

var (
	_ desktop.Hoverable  = (*surface)(nil)
	_ fyne.Tappable      = (*surface)(nil)
	_ desktop.Cursorable = (*surface)(nil)
)

// set takes a chart and draws it at once, when it is known how large.
func (s *surface) set(p *chart.Chart) {
	s.chart = spoken(p)
	s.chart.Title = ""
	s.layout, s.picture, s.marked = nil, nil, nil
	if s.w > 0 {
		s.layOut(s.w, s.h, s.scale)
	}
	s.raster.Refresh()
	if s.pointer != nil { // it has not moved, what is under it has
		s.point(*s.pointer)
		return
	}
	s.leave()
}

// layOut lays the chart out for a picture of w by h pixels.
func (s *surface) layOut(w, h int, scale float32) {
	s.w, s.h, s.scale = w, h, scale
	s.layout = s.chart.Layout(chart.Paper{W: w, H: h, Scale: float64(scale), Style: s.style})
	s.picture, s.marked = nil, nil
}

// paint is the raster's generator: it is told the size in pixels.
func (s *surface) paint(w, h int) image.Image {
	scale := float32(1)
	if s.Size().Width > 0 {
		scale = float32(w) / s.Size().Width
	}
	if s.layout == nil || s.w != w || s.h != h || s.scale != scale {
		s.layOut(w, h, scale)
	}
	if s.picture == nil {
		s.picture = s.layout.Image()
		s.drawn++
	}
	if !s.found {
		return s.picture
	}
	if s.marked == nil || s.markedSeries != s.hit.Series {
		s.marked, s.markedSeries = s.layout.Marked(s.picture, s.hit.Series), s.hit.Series
	}
	return s.marked
}

// MouseIn implements desktop.Hoverable.
func (s *surface) MouseIn(ev *desktop.MouseEvent) { s.MouseMoved(ev) }

// MouseMoved implements desktop.Hoverable.
func (s *surface) MouseMoved(ev *desktop.MouseEvent) { s.point(ev.Position) }

// MouseOut implements desktop.Hoverable.
func (s *surface) MouseOut() {
	s.pointer = nil
	s.leave()
}

// leave marks nothing.
func (s *surface) leave() {
	s.tell(chart.Hit{}, false)
	s.across.Hide()
	s.dot.Hide()
	s.owner.rest()
}

// Tapped implements fyne.Tappable.
func (s *surface) Tapped(ev *fyne.PointEvent) {
	s.point(ev.Position)
	if s.found && s.owner.OnChoose != nil {
		s.owner.OnChoose(s.hit)
	}
}

// Cursor implements desktop.Cursorable.
func (s *surface) Cursor() desktop.Cursor { return desktop.CrosshairCursor }

// point marks and says what is at p.
func (s *surface) point(p fyne.Position) {
	d := s.layout
	s.pointer = &p
	if d == nil || !(s.scale > 0) {
		return
	}
	px, py := float64(p.X*s.scale), float64(p.Y*s.scale)
	if _, _, ok := d.At(px, py); !ok {
		s.leave()
		return
	}
	hit, found := d.Nearest(px, py, reach*float64(s.scale))
	x, line := px, d.SayAt(px, py)
	if found {
		x, line = hit.PX, d.Say(hit)
	}
	f := d.Field()
	at := float32(x) / s.scale
	s.across.Position1 = fyne.NewPos(at, float32(f.Min.Y)/s.scale)
	s.across.Position2 = fyne.NewPos(at, float32(f.Max.Y)/s.scale)
	s.across.Show()
	s.across.Refresh()
	if found {
		const r = 4
		s.dot.Resize(fyne.NewSize(2*r, 2*r))
		s.dot.Move(fyne.NewPos(float32(hit.PX)/s.scale-r, float32(hit.PY)/s.scale-r))
		s.dot.Show()
		s.dot.Refresh()
	} else {
		s.dot.Hide()
	}
	s.owner.say(line, true)
	s.tell(hit, found)
}

// tell reports a change of the point under the pointer.
func (s *surface) tell(hit chart.Hit, found bool) {
	if found != s.found || found && hit.Series != s.hit.Series {
		s.raster.Refresh()
	}
	changed := found != s.found || found && (hit.Series != s.hit.Series || hit.Index != s.hit.Index)
	s.hit, s.found = hit, found
	if changed && s.owner.OnHover != nil {
		s.owner.OnHover(hit, found)
	}
}

// MinSize implements fyne.CanvasObject.
func (s *surface) MinSize() fyne.Size { return fyne.NewSize(120, 60) }

// CreateRenderer implements fyne.Widget.
func (s *surface) CreateRenderer() fyne.WidgetRenderer {
	return &surfaceRenderer{s, []fyne.CanvasObject{s.raster, s.across, s.dot}}
}

type surfaceRenderer struct {
	s       *surface
	objects []fyne.CanvasObject
}

func (r *surfaceRenderer) Layout(size fyne.Size) {
	r.s.raster.Resize(size)
	r.s.MouseOut() // the point is elsewhere now
}
func (r *surfaceRenderer) MinSize() fyne.Size { return r.s.MinSize() }

// Refresh draws the chart anew where the theme has become another one.
func (r *surfaceRenderer) Refresh() {
	if p := theme.Now(); p != r.s.theme {
		r.s.theme, r.s.style = p, Style()
		r.s.layout = nil
	}
	r.s.raster.Refresh()
}
func (r *surfaceRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *surfaceRenderer) Destroy()                     {}
