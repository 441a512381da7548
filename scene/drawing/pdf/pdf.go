// SPDX-License-Identifier: MIT

// Package pdf keeps drawings and sheets as a PDF document: vectors in real scale, one
// page a sheet, with layers that a reader can switch off. The runes that are used are
// contained, so that a page looks alike everywhere.
//
// The same drawings, typeface and [Info] give the same bytes.
package pdf

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"earline/scene/drawing"
)

// Info is what a document says about itself.
type Info struct {
	Title   string
	Creator string    // the program
	Made    time.Time // said as UTC; zero says nothing
}

// Canvas is a document that is drawn on, in millimetres, on the page that was begun
// last. Nothing may be drawn before there is one.
type Canvas struct {
	f        *fpdf.Fpdf
	info     Info
	typeface *drawing.Typeface
	fonts    []*embedded
	pages    []page
	layers   map[string]int // fpdf's number of each
	lacking  map[rune]bool

	// How the page is drawn on at the moment.
	layer string
	pen   drawing.Pen
	font  int // of fonts; -1 for none
	size  float64
}

// page is one page: its height and its bookmark.
type page struct {
	height float64
	title  string
}

var _ drawing.Canvas = (*Canvas)(nil)

// New returns a document without a page.
func New(info Info, t *drawing.Typeface) *Canvas {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetMargins(0, 0, 0)
	f.SetCellMargin(0)
	f.SetAutoPageBreak(false, 0)
	f.SetCatalogSort(true)
	f.SetTitle(plain(info.Title), true)
	f.SetCreator(plain(info.Creator), true)
	f.SetProducer("fpdf", true)
	f.SetCreationDate(info.Made.UTC())
	f.SetModificationDate(info.Made.UTC())
	return &Canvas{f: f, info: info, typeface: t, layers: map[string]int{}, lacking: map[rune]bool{}}
}

// Page begins a page of that size; title is its bookmark, "" for none.
func (c *Canvas) Page(width, height float64, title string) {
	c.onto("")
	c.f.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	c.pages = append(c.pages, page{height, title})
	c.pen, c.font = drawing.Pen{Ink: color.NRGBA{A: 255}}, -1
	c.f.SetDrawColor(0, 0, 0)
	c.f.SetFillColor(0, 0, 0)
	c.f.SetTextColor(0, 0, 0)
	c.f.SetDashPattern(nil, 0)
}

// Close ends the document and returns it. Nothing may be drawn afterwards.
func (c *Canvas) Close() ([]byte, error) {
	c.onto("")
	if len(c.fonts) == 0 {
		c.embed(c.typeface.Font(0))
	}
	c.bookmarks()
	var b bytes.Buffer
	if err := c.f.Output(&b); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return c.finish(b.Bytes()), nil
}

// bookmarks writes those of all pages. The library takes each height to be that of
// the last page, so what they differ by is added.
func (c *Canvas) bookmarks() {
	for i, p := range c.pages {
		if p.title != "" {
			c.f.SetPage(i + 1)
			// It writes bookmarks in the encoding of the font in use.
			c.f.SetFont(c.fonts[0].family, "", 1)
			c.f.Bookmark(plain(p.title), 0, c.pages[len(c.pages)-1].height-p.height)
		}
	}
	c.f.SetPage(len(c.pages))
}

// finish says what the library cannot: which fonts are cut down to the runes in use
// (ISO 32000-1, 9.6.4, by a tag before the name), and no date where there is none.
// Every part stays as long as it was, since the document counts its bytes.
func (c *Canvas) finish(doc []byte) []byte {
	for i := range c.fonts {
		from, to := c.fonts[i].names()
		for _, key := range []string{"/BaseFont /", "/FontName /"} {
			doc = bytes.ReplaceAll(doc, []byte(key+from), []byte(key+to))
		}
	}
	if c.info.Made.IsZero() {
		for _, key := range []string{"/CreationDate (D:", "/ModDate (D:"} {
			// They stand behind all that was drawn.
			if at := bytes.LastIndex(doc, []byte(key)); at >= 0 {
				end := bytes.IndexByte(doc[at:], ')') + at + 1
				copy(doc[at:end], bytes.Repeat([]byte{' '}, end-at))
			}
		}
	}
	return doc
}

// Lacking returns the runes that no font has, in order; "?" stands for each.
func (c *Canvas) Lacking() []rune {
	var all []rune
	for r := range c.lacking {
		all = append(all, r)
	}
	slices.Sort(all)
	return all
}

// Write writes sheets as a document, with a bookmark for each and links between them.
// It returns the runes that no font has: "?" stands for each, and whoever asked for the
// document should be told.
func Write(w io.Writer, sheets []drawing.Sheet, info Info, t *drawing.Typeface) (lacking []rune, err error) {
	if err := drawing.Check(sheets); err != nil {
		return nil, err
	}
	if len(sheets) == 0 {
		return nil, fmt.Errorf("pdf: found no sheets, allowed: one or more")
	}
	c := New(info, t)
	targets := map[string]int{}
	for i := range sheets {
		targets[sheets[i].Number] = c.f.AddLink()
	}
	for i := range sheets {
		s := &sheets[i]
		c.Page(s.Paper.Width, s.Paper.Height, s.Name())
		c.f.SetLink(targets[s.Number], 0, i+1)
		s.Draw(c, t)
		c.onto("")
		for _, l := range s.Links {
			c.f.Link(l.Box.X0, l.Box.Y0, l.Box.Dx(), l.Box.Dy(), targets[l.To])
		}
	}
	doc, err := c.Close()
	if err != nil {
		return nil, err
	}
	_, err = w.Write(doc)
	return c.Lacking(), err
}

// onto makes layer the one that is drawn on.
func (c *Canvas) onto(layer string) {
	if layer == c.layer {
		return
	}
	c.layer = layer
	c.f.EndLayer()
	if layer == "" {
		return
	}
	n, ok := c.layers[layer]
	if !ok {
		n = c.f.AddLayer(plain(layer), true)
		c.layers[layer] = n
	}
	c.f.BeginLayer(n)
}

// ink makes a colour the one that is drawn with.
func (c *Canvas) ink(ink color.NRGBA) {
	was := c.pen.Ink
	if ink == was {
		return
	}
	c.pen.Ink = ink
	r, g, b := int(ink.R), int(ink.G), int(ink.B)
	c.f.SetDrawColor(r, g, b)
	c.f.SetFillColor(r, g, b)
	c.f.SetTextColor(r, g, b)
	if ink.A != was.A {
		c.f.SetAlpha(float64(ink.A)/255, "Normal")
	}
}

// use makes a pen the one that is drawn with.
func (c *Canvas) use(p drawing.Pen) {
	c.ink(p.Ink)
	if p.Width != c.pen.Width {
		c.pen.Width = p.Width
		c.f.SetLineWidth(p.Width)
	}
	if !slices.Equal(p.Dash, c.pen.Dash) {
		c.pen.Dash = slices.Clone(p.Dash)
		c.f.SetDashPattern(p.Dash, 0)
	}
}

// path begins a path and returns whether it comes back to where it began.
func (c *Canvas) path(line []drawing.Point) (closed bool) {
	c.f.MoveTo(line[0].X, line[0].Y)
	n := len(line)
	if closed = n > 3 && line[0] == line[n-1]; closed {
		n--
	}
	for _, p := range line[1:n] {
		c.f.LineTo(p.X, p.Y)
	}
	return closed
}

// Fill implements drawing.Canvas.
func (c *Canvas) Fill(layer string, ink color.NRGBA, rings ...[]drawing.Point) {
	n := 0
	for _, ring := range rings {
		if len(ring) < 3 {
			continue
		}
		if n++; n == 1 {
			c.onto(layer)
			c.ink(ink)
		}
		c.path(ring)
		c.f.ClosePath()
	}
	if n > 0 {
		c.f.DrawPath("f*")
	}
}

// Stroke implements drawing.Canvas.
func (c *Canvas) Stroke(layer string, pen drawing.Pen, lines [][]drawing.Point) {
	n := 0
	for _, l := range lines {
		if len(l) < 2 {
			continue
		}
		if n++; n == 1 {
			c.onto(layer)
			c.use(pen)
		}
		if c.path(l) {
			c.f.ClosePath() // so that the last corner is one
		}
	}
	if n > 0 {
		c.f.DrawPath("S")
	}
}

// Arc implements drawing.Canvas. The document has no arcs but cubic curves: one for
// each 45° is off by 4 parts in a million of the radius.
func (c *Canvas) Arc(layer string, pen drawing.Pen, a drawing.Arc) {
	c.onto(layer)
	c.use(pen)
	sweep := max(-360, min(360, a.Sweep))
	n := max(1, int(math.Ceil(math.Abs(sweep)/45)))
	step := sweep / float64(n)
	// How far along the tangent the control points are, in radii.
	k := 4.0 / 3 * math.Tan(step*math.Pi/180/4)
	control := func(at, k float64) drawing.Point {
		p, s := a.At(at), math.Pi/180*at
		return drawing.Pt(p.X-k*a.Radius*math.Sin(s), p.Y-k*a.Radius*math.Cos(s))
	}
	p := a.At(a.From)
	c.f.MoveTo(p.X, p.Y)
	for i := range n {
		from := a.From + float64(i)*step
		p, q, to := control(from, k), control(from+step, -k), a.At(from+step)
		c.f.CurveBezierCubicTo(p.X, p.Y, q.X, q.Y, to.X, to.Y)
	}
	if a.Whole() {
		c.f.ClosePath()
	}
	c.f.DrawPath("S")
}
