// SPDX-License-Identifier: MIT

package command

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"earline/app/theme"
	"earline/app/words"
)

// NewKeySheet returns the sheet of keys: for each command its keys, its name and
// what it does.
func NewKeySheet(t Table) fyne.CanvasObject {
	c := container.New(columns(3))
	add := func(text string, ink color.Color, size fyne.ThemeSizeName, bold bool) {
		o := canvas.NewText(words.Of(text), ink)
		o.TextSize, o.TextStyle.Bold = base.Size(size), bold
		c.Add(o)
	}
	for i, s := range t.Sheet() {
		if i > 0 {
			for range 3 {
				add("", theme.Ink, base.SizeNameCaptionText, false) // a gap
			}
		}
		add(s.Name, theme.Accent, base.SizeNameText, true)
		add("", theme.Ink, base.SizeNameText, false)
		add("", theme.Ink, base.SizeNameText, false)
		for _, l := range s.Lines {
			add(l.Keys, theme.Ink, base.SizeNameText, true)
			add(l.Name, theme.Ink, base.SizeNameText, false)
			add(l.Says, theme.Faint, base.SizeNameCaptionText, false)
		}
	}
	return c
}

// columns is a layout in rows of that many objects. Each column is as wide as its
// widest object.
type columns int

const (
	columnGap = 14
	rowPad    = 3
)

// rows calls f with each row's first object and height.
func (n columns) rows(objects []fyne.CanvasObject, f func(first int, height float32)) {
	for i := 0; i < len(objects); i += int(n) {
		var height float32
		for _, o := range objects[i:min(i+int(n), len(objects))] {
			height = max(height, o.MinSize().Height)
		}
		f(i, height+rowPad)
	}
}

func (n columns) widths(objects []fyne.CanvasObject) []float32 {
	w := make([]float32, n)
	for i, o := range objects {
		w[i%int(n)] = max(w[i%int(n)], o.MinSize().Width)
	}
	return w
}

// MinSize implements fyne.Layout.
func (n columns) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, w := range n.widths(objects) {
		size.Width += w + columnGap
	}
	n.rows(objects, func(_ int, height float32) { size.Height += height })
	return size
}

// Layout implements fyne.Layout.
func (n columns) Layout(objects []fyne.CanvasObject, _ fyne.Size) {
	widths := n.widths(objects)
	var y float32
	n.rows(objects, func(first int, height float32) {
		var x float32
		for i, o := range objects[first:min(first+int(n), len(objects))] {
			size := o.MinSize()
			o.Resize(size)
			o.Move(fyne.NewPos(x, y+(height-size.Height)/2))
			x += widths[i] + columnGap
		}
		y += height
	})
}
