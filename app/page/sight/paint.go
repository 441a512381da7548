// SPDX-License-Identifier: MIT

package sight

import (
	"image"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"

	"earline/app/theme"
	"earline/app/words"
	"earline/project"
	"earline/project/sight"
)

// Sizes of the table in Fyne's points.
const (
	headHeight  = 22
	headWidth   = 44
	pictureWide = 58
	cellHeight  = 20
	cellWide    = 50 // at least
	cellWidest  = 78
	gap         = 6 // between the picture's column and the loudspeakers'
	textSize    = 11
)

// paper is what painting needs again and again.
type paper struct {
	img   *image.RGBA
	pen   *pen
	scale float32
}

// spot is what part of the table a point lies on.
type spot uint8

const (
	nowhere spot = iota
	onCell
	onSpeaker
	onSeat
)

// left is where the scrolled part begins.
const left = headWidth + pictureWide + gap

// room returns the size of the part that scrolls.
func (m *matrix) room() fyne.Size {
	s := m.Size()
	return fyne.NewSize(max(s.Width-left, 1), max(s.Height-headHeight, 1))
}

// content returns the size of all cells of loudspeakers.
func (m *matrix) content() fyne.Size {
	if m.result == nil {
		return fyne.Size{}
	}
	return fyne.NewSize(float32(len(m.result.Speakers))*m.cellWidth(), float32(len(m.result.Seats))*cellHeight)
}

func (m *matrix) cellWidth() float32 {
	n := len(m.result.Speakers)
	if n == 0 {
		return cellWide
	}
	return min(max(m.room().Width/float32(n), cellWide), cellWidest)
}

// scroll moves by dx, dy as far as there is something to see.
func (m *matrix) scroll(dx, dy float32) {
	c, r := m.content(), m.room()
	before := m.offset
	m.offset.X = max(min(m.offset.X+dx, c.Width-r.Width), 0)
	m.offset.Y = max(min(m.offset.Y+dy, c.Height-r.Height), 0)
	if m.offset != before {
		m.raster.Refresh()
	}
}

// reveal scrolls just as far as brings c into view.
func (m *matrix) reveal(c cell) {
	r, w := m.room(), m.cellWidth()
	y := float32(c.Seat) * cellHeight
	m.offset.Y = min(max(m.offset.Y, y+cellHeight-r.Height), y)
	if c.Speaker != picture {
		x := float32(c.Speaker) * w
		m.offset.X = min(max(m.offset.X, x+w-r.Width), x)
	}
	m.scroll(0, 0)
}

// at returns what lies at p.
func (m *matrix) at(p fyne.Position) (cell, spot) {
	if m.result == nil || p.X < 0 || p.Y < 0 {
		return cell{}, nowhere
	}
	c := cell{Seat: int((p.Y - headHeight + m.offset.Y) / cellHeight), Speaker: picture}
	if p.X >= left {
		c.Speaker = int((p.X - left + m.offset.X) / m.cellWidth())
	}
	inSpeakers := p.X >= left && c.Speaker < len(m.result.Speakers)
	switch {
	case p.Y < headHeight && inSpeakers:
		return c, onSpeaker
	case p.Y < headHeight || c.Seat >= len(m.result.Seats):
		return cell{}, nowhere
	case p.X < headWidth:
		return c, onSeat
	case p.X < headWidth+pictureWide || inSpeakers:
		return c, onCell
	}
	return cell{}, nowhere
}

// The ring of the cell that has the keyboard, seen on every plate.
var (
	black = color.NRGBAModel.Convert(color.Black).(color.NRGBA)
	white = color.NRGBAModel.Convert(color.White).(color.NRGBA)
)

// paint is the raster's generator: it is told the size in pixels.
func (m *matrix) paint(w, h int) image.Image {
	scale := float32(1)
	if m.Size().Width > 0 {
		scale = float32(w) / m.Size().Width
	}
	p := m.paper
	if p == nil || p.scale != scale {
		pen, err := newPen(base.DefaultTheme().Font(fyne.TextStyle{}).Content(), float64(textSize*scale))
		if err != nil { // Fyne's own font does parse
			return image.NewRGBA(image.Rect(0, 0, 1, 1))
		}
		p = &paper{pen: pen, scale: scale}
		m.paper = p
	}
	// Fyne may still be copying the last image: each painting has its own.
	p.img = image.NewRGBA(image.Rect(0, 0, w, h))
	fill(p.img, p.img.Rect, theme.Panel.NRGBA())
	if m.result != nil {
		m.paintCells(p)
		m.paintHeads(p)
		m.paintBars(p)
	}
	return p.img
}

// box returns a rectangle of the table in pixels.
func (p *paper) box(x, y, w, h float32) image.Rectangle {
	s := p.scale
	return image.Rect(int(x*s+0.5), int(y*s+0.5), int((x+w)*s+0.5), int((y+h)*s+0.5))
}

// cell returns where c is painted.
func (m *matrix) cell(c cell) (x, y, w float32) {
	y = headHeight + float32(c.Seat)*cellHeight - m.offset.Y
	if c.Speaker == picture {
		return headWidth, y, pictureWide
	}
	w = m.cellWidth()
	return left + float32(c.Speaker)*w - m.offset.X, y, w
}

func (m *matrix) paintCells(p *paper) {
	size := m.Size()
	one := func(c cell) {
		x, y, w := m.cell(c)
		if y+cellHeight < headHeight || y > size.Height || c.Speaker != picture && (x+w < left || x > size.Width) {
			return
		}
		verdict, text := m.text(c)
		plate, ink, _ := theme.Verdict(verdict)
		box := p.box(x, y, w, cellHeight)
		box.Max = box.Max.Sub(image.Pt(1, 1)) // the joint
		fill(p.img, box, plate.NRGBA())
		p.pen.write(p.img, box, text, ink.NRGBA())
		switch {
		case m.focused && m.cursorAt() == c: // seen on every plate
			frame(p.img, box, 4*max(int(p.scale), 1), black)
			frame(p.img, box.Inset(max(int(p.scale), 1)), 2*max(int(p.scale), 1), white)
		case m.chosen != nil && *m.chosen == c:
			frame(p.img, box, 2*max(int(p.scale), 1), ink.NRGBA())
		case m.hovered != nil && *m.hovered == c:
			frame(p.img, box, max(int(p.scale), 1), theme.Ink.NRGBA())
		}
	}
	for i := range m.result.Seats {
		for k := range m.result.Speakers {
			one(cell{i, k})
		}
	}
	// The frozen columns cover what was scrolled under them.
	fill(p.img, p.box(0, headHeight, left, size.Height), theme.Panel.NRGBA())
	for i := range m.result.Seats {
		one(cell{i, picture})
	}
}

// text returns what a cell says.
func (m *matrix) text(c cell) (sight.Verdict, string) {
	r := m.result
	if c.Speaker == picture {
		v := &r.Views[c.Seat]
		_, _, letter := theme.Verdict(v.Verdict)
		return v.Verdict, letter + " " + percent(v.Visible)
	}
	pair := r.Pair(c.Seat, c.Speaker)
	_, _, letter := theme.Verdict(pair.Verdict)
	if pair.Verdict == sight.NotJudged || pair.Worst < 0 {
		return sight.NotJudged, letter
	}
	return pair.Verdict, letter + " " + short(pair.Deciding().Clearance, m.units)
}

// words returns what a cell says, for the clipboard: seat, loudspeaker, verdict,
// number.
func (m *matrix) words(c cell) string {
	r := m.result
	verdict, text := m.text(c)
	name, unit := "picture", ""
	if c.Speaker != picture {
		if name = r.Speakers[c.Speaker].Name(); verdict != sight.NotJudged {
			unit = " mm"
			if m.units == project.Imperial {
				unit = " in"
			}
		}
	}
	_, number, _ := strings.Cut(text, " ")
	return strings.Join([]string{r.Seats[c.Seat].Name(), name, verdict.String(), number + unit}, "\t")
}

func (m *matrix) paintHeads(p *paper) {
	r, size := m.result, m.Size()
	marked := m.hovered
	if marked == nil {
		marked = m.chosen
	}
	ink := func(on bool) color.NRGBA {
		if on {
			return theme.Accent.NRGBA()
		}
		return theme.Faint.NRGBA()
	}
	for i, s := range r.Seats {
		_, y, _ := m.cell(cell{i, picture})
		if y+cellHeight < headHeight || y > size.Height {
			continue
		}
		p.pen.write(p.img, p.box(0, y, headWidth, cellHeight), s.Name(),
			ink(marked != nil && marked.Seat == i))
	}
	fill(p.img, p.box(0, 0, size.Width, headHeight), theme.Head.NRGBA())
	for k := range r.Speakers {
		x, _, w := m.cell(cell{0, k})
		if x+w < left || x > size.Width {
			continue
		}
		box := p.box(x, 0, w, headHeight)
		name := fit(p.pen, r.Speakers[k].Name(), box.Dx())
		p.pen.write(p.img, box, name, ink(marked != nil && marked.Speaker == k))
	}
	fill(p.img, p.box(0, 0, left, headHeight), theme.Head.NRGBA())
	units := "mm"
	if m.units == project.Imperial {
		units = "inch"
	}
	p.pen.write(p.img, p.box(0, 0, headWidth, headHeight), words.Of(units), theme.Faint.NRGBA())
	p.pen.write(p.img, p.box(headWidth, 0, pictureWide, headHeight), words.Of("picture"),
		ink(marked != nil && marked.Speaker == picture))
}

// paintBars shows how far the table is scrolled.
func (m *matrix) paintBars(p *paper) {
	const thick = 4
	c, r, size := m.content(), m.room(), m.Size()
	bar := theme.Bar.NRGBA()
	if c.Width > r.Width {
		fill(p.img, p.box(left+r.Width*m.offset.X/c.Width, size.Height-thick, r.Width*r.Width/c.Width, thick), bar)
	}
	if c.Height > r.Height {
		fill(p.img, p.box(size.Width-thick, headHeight+r.Height*m.offset.Y/c.Height, thick, r.Height*r.Height/c.Height), bar)
	}
}

// fit cuts text to a width in pixels.
func fit(p *pen, text string, width int) string {
	r := []rune(text)
	for len(r) > 1 && p.width(string(r)) > width-2 {
		r = r[:len(r)-1]
	}
	return string(r)
}
