// SPDX-License-Identifier: MIT

package setout

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	xdraw "golang.org/x/image/draw"

	"earline/app/field"
	"earline/app/session"
	"earline/app/theme"
	"earline/app/words"
	"earline/scene/drawing"
	"earline/scene/drawing/raster"
	"earline/scene/sheet"
)

// viewer shows one sheet at a time: whole, or nearer and moved about. What is on show is
// drawn in the background for just that size; until then the last is shown, stretched.
type viewer struct {
	widget.BaseWidget
	page   *setOutPage
	clean  bool // as it is printed: without the mark
	ring   *field.Ring
	raster *canvas.Raster
	name   *widget.Label
	// The buttons over the sheet; nil where there is none.
	back, next, nearer, farther, whole *field.Button

	picture session.Answer[pictureKey, *image.RGBA]
	drawn   *sheet.Drawings
	at      int           // the sheet, counted from 0
	look    look          // what was painted last
	zoom    float64       // of what fits
	centre  drawing.Point // of what is on show, mm of the sheet; what fits ignores it
}

// look is all that what is painted depends on, but for the theme.
type look struct {
	drawn   *sheet.Drawings
	at      int
	zoom    float64
	centre  drawing.Point
	size    fyne.Size
	picture *image.RGBA
	marked  key
}

// pictureKey is a sheet at a size.
type pictureKey struct {
	drawn *sheet.Drawings
	sheet int
	wide  int // pixels
}

const (
	widest  = 3000 // pixels of a sheet: its smallest letters are then read with ease
	margin  = 8    // round a sheet that fits
	zoomBy  = 1.5
	panStep = 0.15 // of what is on show
)

func newViewer(p *setOutPage) *viewer {
	v := &viewer{page: p, ring: field.NewRing(), zoom: 1, name: widget.NewLabel("")}
	v.name.Truncation = fyne.TextTruncateEllipsis
	v.raster = canvas.NewRaster(v.paint)
	v.raster.ScaleMode = canvas.ImageScaleFastest
	face := drawing.NewTypeface(nil) // of one work at a time
	v.picture = session.Answer[pictureKey, *image.RGBA]{
		Key: v.wanted,
		Work: func(_ context.Context, k pictureKey, _ session.Last[pictureKey, *image.RGBA], _ func(float64)) (*image.RGBA, error) {
			return picture(&k.drawn.Sheets[k.sheet], k.wide, face), nil
		},
	}
	session.Join(p.session, &v.picture)
	v.ExtendBaseWidget(v)
	return v
}

// picture draws a sheet that many pixels wide, on white.
func picture(s *drawing.Sheet, wide int, face *drawing.Typeface) *image.RGBA {
	scale := float64(wide) / s.Paper.Width
	img := image.NewRGBA(image.Rect(0, 0, wide, int(math.Ceil(scale*s.Paper.Height))))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	s.Draw(drawing.Scaled(raster.On(img, face), scale), face)
	return img
}

// pane returns the viewer under its buttons; whether one of them opens the preview.
func (v *viewer) pane(preview bool) fyne.CanvasObject {
	icon := func(of fyne.Resource, tip string, do func()) *field.Button {
		b := field.NewButtonWithIcon("", of, do)
		b.Tip, b.Importance = tip, widget.LowImportance
		return b
	}
	v.back = icon(base.NavigateBackIcon(), "Previous sheet (Page Up)", func() { v.step(-1) })
	v.next = icon(base.NavigateNextIcon(), "Next sheet (Page Down)", func() { v.step(1) })
	v.farther = icon(base.ZoomOutIcon(), "Farther (-)", func() { v.zoomTo(v.zoom/zoomBy, nil) })
	v.nearer = icon(base.ZoomInIcon(), "Nearer (+)", v.closer)
	v.whole = icon(base.ZoomFitIcon(), "The whole sheet (0)", func() { v.zoomTo(1, nil) })
	right := container.New(layout.NewCustomPaddedHBoxLayout(2), v.farther, v.nearer, v.whole)
	if preview {
		b := icon(base.DocumentPrintIcon(), "Shows every sheet as it is printed, large", v.page.openPreview)
		right.Add(b)
	}
	left := container.New(layout.NewCustomPaddedHBoxLayout(2), v.back, v.next)
	return field.Bordered(container.New(layout.NewCustomPaddedLayout(1, 1, 4, 4), field.Bordered(nil, nil, left, right, v.name)), nil, nil, nil, v)
}

// set shows drawings, which may be nil, at the sheet that is on show.
func (v *viewer) set(d *sheet.Drawings) {
	v.drawn = d
	v.show()
}

// forget begins at the first sheet.
func (v *viewer) forget() { v.at, v.zoom, v.centre = 0, 1, drawing.Point{} }

// count is how many sheets there are.
func (v *viewer) count() int {
	if v.drawn == nil {
		return 0
	}
	return len(v.drawn.Sheets)
}

// sheet returns the sheet on show; nil for none.
func (v *viewer) sheet() *drawing.Sheet {
	if n := v.count(); n > 0 {
		v.at = max(min(v.at, n-1), 0)
		return &v.drawn.Sheets[v.at]
	}
	return nil
}

// step turns on by n sheets.
func (v *viewer) step(n int) {
	v.at = max(min(v.at+n, v.count()-1), 0)
	v.centre = drawing.Point{}
	v.show()
}

// turnTo turns to where something is drawn.
func (v *viewer) turnTo(s sheet.Spot) {
	v.at = s.Sheet
	v.centre = drawing.Pt((s.Box.X0+s.Box.X1)/2, (s.Box.Y0+s.Box.Y1)/2)
	v.show()
}

// closer comes nearer, to what is marked where that is on the sheet.
func (v *viewer) closer() {
	if s, ok := v.page.spot(); ok && s.Sheet == v.at && v.zoom == 1 {
		v.centre = drawing.Pt((s.Box.X0+s.Box.X1)/2, (s.Box.Y0+s.Box.Y1)/2)
	}
	v.zoomTo(v.zoom*zoomBy, nil)
}

// zoomTo shows the sheet so many times as large as it fits; what is at a place of the
// viewer stays there, nil for its middle.
func (v *viewer) zoomTo(zoom float64, at *fyne.Position) {
	s := v.sheet()
	if s == nil {
		return
	}
	fits := v.fit(s)
	most := max(float64(widest)/(s.Paper.Width*fits*v.pixels()), 1)
	zoom = min(max(zoom, 1), most)
	if at != nil {
		under := v.under(*at)
		v.zoom = zoom
		now := v.under(*at)
		v.centre = drawing.Pt(v.centre.X+under.X-now.X, v.centre.Y+under.Y-now.Y)
	}
	v.zoom = zoom
	v.show()
}

// show shows what there is, and asks for the picture where it is another.
func (v *viewer) show() {
	s := v.sheet()
	text := "No drawings yet"
	if s != nil {
		v.keepIn(s)
		text = fmt.Sprintf("%s   (%d of %d)", s.Name(), v.at+1, v.count())
	}
	if text = words.Of(text); v.name.Text != text {
		v.name.SetText(text)
	}
	enable := func(b *field.Button, on bool) {
		if b != nil && b.Disabled() == on {
			if on {
				b.Enable()
			} else {
				b.Disable()
			}
		}
	}
	enable(v.back, s != nil && v.at > 0)
	enable(v.next, s != nil && v.at < v.count()-1)
	enable(v.farther, v.zoom > 1)
	enable(v.whole, v.zoom > 1)
	enable(v.nearer, s != nil)
	img, _ := v.picture.Get()
	if now := (look{v.drawn, v.at, v.zoom, v.centre, v.Size(), img, v.page.chosen}); now != v.look {
		v.look = now
		v.raster.Refresh()
	}
}

// fit returns how many points a millimetre is when the sheet fits.
func (v *viewer) fit(s *drawing.Sheet) float64 {
	size := v.Size()
	return max(min((float64(size.Width)-2*margin)/s.Paper.Width, (float64(size.Height)-2*margin)/s.Paper.Height), 0.05)
}

// pixels returns how many there are to a point.
func (v *viewer) pixels() float64 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		return float64(c.Scale())
	}
	return 1
}

// origin returns where the upper left corner of the sheet is, in points, and how many of
// them a millimetre is.
func (v *viewer) origin(s *drawing.Sheet) (x, y, scale float64) {
	size := v.Size()
	scale = v.fit(s) * v.zoom
	along := func(room float32, paper, centre float64) float64 {
		if long := paper * scale; long <= float64(room) {
			return (float64(room) - long) / 2
		}
		return float64(room)/2 - centre*scale
	}
	return along(size.Width, s.Paper.Width, v.centre.X), along(size.Height, s.Paper.Height, v.centre.Y), scale
}

// under returns the point of the sheet under a place of the viewer.
func (v *viewer) under(at fyne.Position) drawing.Point {
	s := v.sheet()
	if s == nil {
		return drawing.Point{}
	}
	x, y, scale := v.origin(s)
	return drawing.Pt((float64(at.X)-x)/scale, (float64(at.Y)-y)/scale)
}

// keepIn keeps the sheet in the viewer as it is moved about.
func (v *viewer) keepIn(s *drawing.Sheet) {
	scale := v.fit(s) * v.zoom
	along := func(room float32, paper, centre float64) float64 {
		half := float64(room) / 2 / scale
		const over = 6 // mm of the desk round the sheet
		if 2*half >= paper {
			return paper / 2
		}
		return min(max(centre, half-over), paper-half+over)
	}
	if v.centre == (drawing.Point{}) {
		v.centre = drawing.Pt(s.Paper.Width/2, s.Paper.Height/2)
	}
	v.centre = drawing.Pt(along(v.Size().Width, s.Paper.Width, v.centre.X), along(v.Size().Height, s.Paper.Height, v.centre.Y))
}

// wanted is the picture that is to be shown.
func (v *viewer) wanted() (pictureKey, bool) {
	s := v.sheet()
	if s == nil || v.Size().Width < 2*margin+1 || !v.Visible() {
		return pictureKey{}, false
	}
	wide := int(s.Paper.Width*v.fit(s)*v.zoom*v.pixels() + 0.5)
	return pictureKey{v.drawn, v.at, max(min(wide, widest), 1)}, true
}

// paint is the raster's generator.
func (v *viewer) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.NewUniform(theme.Line), image.Point{}, draw.Src)
	s := v.sheet()
	if s == nil || v.Size().Width <= 0 {
		return img
	}
	px := float64(w) / float64(v.Size().Width)
	x, y, scale := v.origin(s)
	x, y, scale = math.Round(x*px), math.Round(y*px), scale*px
	paper := image.Rect(int(x), int(y), int(x+s.Paper.Width*scale+0.5), int(y+s.Paper.Height*scale+0.5))
	draw.Draw(img, paper.Add(image.Pt(2, 3)), image.NewUniform(theme.PaperShadow), image.Point{}, draw.Over) // its shadow
	draw.Draw(img, paper, image.White, image.Point{}, draw.Src)
	if last := v.picture.Last(); last.OK && last.Key.drawn == v.drawn && last.Key.sheet == v.at {
		if last.Value.Rect.Dx() == paper.Dx() {
			draw.Draw(img, paper, last.Value, image.Point{}, draw.Src)
		} else {
			xdraw.ApproxBiLinear.Scale(img, paper, last.Value, last.Value.Rect, draw.Src, nil)
		}
	}
	if spot, ok := v.page.spot(); ok && spot.Sheet == v.at && !v.clean {
		b := spot.Box
		ring(img, image.Rect(int(x+b.X0*scale), int(y+b.Y0*scale), int(x+b.X1*scale), int(y+b.Y1*scale)), max(int(math.Round(px)), 1))
	}
	return img
}

// ring draws a mark round a box that is seen on paper and lines alike.
func ring(img *image.RGBA, b image.Rectangle, px int) {
	const gap, least = 3, 12
	if grow := (least*px - min(b.Dx(), b.Dy())) / 2; grow > 0 {
		b = b.Inset(-grow)
	}
	frame := func(b image.Rectangle, wide int, ink color.Color) {
		u := image.NewUniform(ink)
		for _, side := range []image.Rectangle{
			image.Rect(b.Min.X, b.Min.Y, b.Max.X, b.Min.Y+wide), image.Rect(b.Min.X, b.Max.Y-wide, b.Max.X, b.Max.Y),
			image.Rect(b.Min.X, b.Min.Y, b.Min.X+wide, b.Max.Y), image.Rect(b.Max.X-wide, b.Min.Y, b.Max.X, b.Max.Y),
		} {
			draw.Draw(img, side, u, image.Point{}, draw.Over)
		}
	}
	b = b.Inset(-gap * px)
	frame(b.Inset(-3*px), 4*px, theme.PaperHalo)
	frame(b.Inset(-2*px), 2*px, theme.PaperMark)
}

// Scrolled implements fyne.Scrollable: the wheel comes nearer and goes farther.
func (v *viewer) Scrolled(ev *fyne.ScrollEvent) {
	if ev.Scrolled.DY == 0 {
		return
	}
	by := 1.2
	if ev.Scrolled.DY < 0 {
		by = 1 / by
	}
	v.zoomTo(v.zoom*by, &ev.Position)
}

// Dragged implements fyne.Draggable: it moves the sheet.
func (v *viewer) Dragged(ev *fyne.DragEvent) {
	if s := v.sheet(); s != nil {
		scale := v.fit(s) * v.zoom
		v.move(-float64(ev.Dragged.DX)/scale, -float64(ev.Dragged.DY)/scale)
	}
}

// DragEnd implements fyne.Draggable.
func (v *viewer) DragEnd() {}

// move moves what is on show, mm of the sheet.
func (v *viewer) move(x, y float64) {
	v.centre = drawing.Pt(v.centre.X+x, v.centre.Y+y)
	v.show()
}

// Tapped implements fyne.Tappable: it chooses what is drawn there.
func (v *viewer) Tapped(ev *fyne.PointEvent) {
	field.Focus(v)
	if v.drawn != nil {
		v.page.at(v.at, v.under(ev.Position))
	}
}

// Cursor implements desktop.Cursorable.
func (v *viewer) Cursor() desktop.Cursor { return desktop.PointerCursor }

// FocusGained implements fyne.Focusable, as do the methods below.
func (v *viewer) FocusGained() { v.ring.Show(true) }

// FocusLost hides the ring.
func (v *viewer) FocusLost() { v.ring.Show(false) }

// TypedRune comes nearer, goes farther, shows all.
func (v *viewer) TypedRune(r rune) {
	switch r {
	case '+', '=':
		v.closer()
	case '-', '−':
		v.zoomTo(v.zoom/zoomBy, nil)
	case '0':
		v.zoomTo(1, nil)
	default:
		v.page.frame.Rune(r)
	}
}

// TypedKey turns the sheets and moves about on them.
func (v *viewer) TypedKey(ev *fyne.KeyEvent) {
	s := v.sheet()
	pan := func(x, y float64) {
		scale := v.fit(s) * v.zoom
		v.move(x*panStep*float64(v.Size().Width)/scale, y*panStep*float64(v.Size().Height)/scale)
	}
	switch {
	case s == nil:
		v.page.frame.Key(ev)
	case ev.Name == fyne.KeyPageDown, v.zoom == 1 && (ev.Name == fyne.KeyRight || ev.Name == fyne.KeyDown):
		v.step(1)
	case ev.Name == fyne.KeyPageUp, v.zoom == 1 && (ev.Name == fyne.KeyLeft || ev.Name == fyne.KeyUp):
		v.step(-1)
	case ev.Name == fyne.KeyHome:
		v.step(-v.count())
	case ev.Name == fyne.KeyEnd:
		v.step(v.count())
	case ev.Name == fyne.KeyLeft:
		pan(-1, 0)
	case ev.Name == fyne.KeyRight:
		pan(1, 0)
	case ev.Name == fyne.KeyUp:
		pan(0, -1)
	case ev.Name == fyne.KeyDown:
		pan(0, 1)
	default:
		v.page.frame.Key(ev)
	}
}

// MinSize implements fyne.CanvasObject.
func (v *viewer) MinSize() fyne.Size { return fyne.NewSize(200, 100) }

// CreateRenderer implements fyne.Widget.
func (v *viewer) CreateRenderer() fyne.WidgetRenderer {
	return field.Ringed(&viewerRenderer{v}, v.ring)
}

type viewerRenderer struct{ v *viewer }

func (r *viewerRenderer) Destroy()                     {}
func (r *viewerRenderer) MinSize() fyne.Size           { return r.v.MinSize() }
func (r *viewerRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.v.raster} }

// Refresh paints anew: the theme may be another.
func (r *viewerRenderer) Refresh() {
	r.v.look = look{}
	r.v.show()
}

// Layout shows the sheet in another size.
func (r *viewerRenderer) Layout(s fyne.Size) {
	r.v.raster.Resize(s)
	r.v.show()
}

var _ interface {
	fyne.Focusable
	fyne.Scrollable
	fyne.Draggable
	fyne.Tappable
} = (*viewer)(nil)
