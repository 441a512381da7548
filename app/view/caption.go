// SPDX-License-Identifier: MIT

package view

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// captionSize makes the caption readable from a chair away.
const captionSize = base.SizeNameSubHeadingText

// caption is a few words on a plate at the foot of the picture.
type caption struct {
	plate *canvas.Rectangle
	text  *widget.Label
}

func newCaption() *caption {
	c := &caption{plate: canvas.NewRectangle(theme.Panel), text: widget.NewLabel("")}
	c.plate.CornerRadius = 6
	c.text.SizeName = captionSize
	c.text.Alignment, c.text.Wrapping = fyne.TextAlignCenter, fyne.TextWrapWord
	c.plate.Hide()
	c.text.Hide()
	return c
}

// layout puts the caption at the foot of a picture of that size.
func (c *caption) layout(s fyne.Size) {
	const widest, gap = 900, 18
	wide := min(fyne.MeasureText(c.text.Text, base.Size(captionSize), fyne.TextStyle{}).Width+4*gap, widest, s.Width-2*gap)
	c.text.Resize(fyne.NewSize(wide, 10)) // for how many lines it takes
	high := c.text.MinSize().Height
	for _, o := range []fyne.CanvasObject{c.plate, c.text} {
		o.Resize(fyne.NewSize(wide, high))
		o.Move(fyne.NewPos((s.Width-wide)/2, s.Height-high-gap))
	}
}

// Caption shows a text at the foot of the picture; none take them away.
func (v *Viewport) Caption(text string) {
	c := v.caption
	text = words.Of(text)
	if text == c.text.Text {
		return
	}
	c.text.SetText(text)
	if text == "" {
		c.plate.Hide()
		c.text.Hide()
	} else {
		c.plate.Show()
		c.text.Show()
		c.plate.FillColor = theme.Panel
		c.layout(v.Size())
	}
	v.raster.Refresh()
	v.Refresh()
}

// Said returns the words of Caption.
func (v *Viewport) Said() string { return v.caption.text.Text }
