// SPDX-License-Identifier: MIT

package field

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// Sizes of a Row, in Fyne's points.
const (
	rowHeight = 24
	plateWide = 20
)

// Row is a line of a list: a letter on a plate, a name, and words at its end.
type Row struct {
	widget.BaseWidget
	back, plate          *canvas.Rectangle
	letter, name, detail *canvas.Text
	is                   RowLook
}

// RowLook is what a Row shows.
type RowLook struct {
	Letter, Name, Words string
	Plate, Ink          color.Color // of the letter
	Chosen              bool
	Faint               bool // the name is no longer of the present design
	Heading             bool // the name stands at the left, in bold
	// NameShare is the share of the row that the name gets where both are too long.
	NameShare float32
}

// NewRow returns an empty row.
func NewRow() *Row {
	r := &Row{back: canvas.NewRectangle(color.Transparent), plate: canvas.NewRectangle(color.Transparent),
		letter: canvas.NewText("", theme.Ink), name: canvas.NewText("", theme.Ink), detail: canvas.NewText("", theme.Faint)}
	for _, t := range []*canvas.Text{r.letter, r.name, r.detail} {
		t.TextSize = 12
	}
	r.letter.TextStyle.Bold = true
	r.plate.CornerRadius = 2
	r.ExtendBaseWidget(r)
	return r
}

// Set shows l.
func (r *Row) Set(l RowLook) {
	r.is = l
	r.letter.Text, r.plate.FillColor, r.letter.Color = words.Of(l.Letter), l.Plate, l.Ink
	r.back.FillColor, r.name.Color, r.name.TextStyle.Bold = color.Transparent, theme.Ink, l.Chosen || l.Heading
	if l.Faint {
		r.name.Color = theme.Faint
	}
	if l.Chosen {
		r.back.FillColor = theme.Head
	}
	r.Refresh()
}

// MinSize implements fyne.CanvasObject.
func (r *Row) MinSize() fyne.Size {
	r.ExtendBaseWidget(r)
	return fyne.NewSize(120, rowHeight)
}

// CreateRenderer implements fyne.Widget.
func (r *Row) CreateRenderer() fyne.WidgetRenderer { return &rowRenderer{r} }

type rowRenderer struct{ *Row }

func (r *rowRenderer) Destroy()           {}
func (r *rowRenderer) Refresh()           { r.Layout(r.Size()); canvas.Refresh(r.Row) }
func (r *rowRenderer) MinSize() fyne.Size { return fyne.NewSize(120, rowHeight) }
func (r *rowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.plate, r.letter, r.name, r.detail}
}

// Layout gives the name what the words leave, and at least its share.
func (r *rowRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.plate.Move(fyne.NewPos(4, 3))
	r.plate.Resize(fyne.NewSize(plateWide, s.Height-6))
	put := func(t *canvas.Text, x float32) {
		m := t.MinSize()
		t.Move(fyne.NewPos(x, (s.Height-m.Height)/2))
		t.Resize(m)
	}
	put(r.letter, 4+(plateWide-r.letter.MinSize().Width)/2)
	const gap = 8
	left := float32(plateWide + 12)
	if r.is.Heading {
		left = 6
	}
	room := s.Width - left - gap
	r.name.Text = words.Of(r.is.Name)
	name := min(r.name.MinSize().Width, room*r.is.NameShare)
	r.detail.Text = Shorten(r.is.Words, room-name-gap, r.detail)
	put(r.detail, s.Width-r.detail.MinSize().Width-gap)
	r.name.Text = Shorten(r.is.Name, room-r.detail.MinSize().Width-gap, r.name)
	put(r.name, left)
}
