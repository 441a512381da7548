// SPDX-License-Identifier: MIT

package field

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"earline/app/theme"
	"earline/app/words"
)

// Warn frames the field of l and says under it what text returns, while that is not
// empty: what is wrong with a value that was taken all the same.
func (l *Line) Warn(text func() string) *Line {
	frame := canvas.NewRectangle(color.Transparent)
	frame.StrokeColor, frame.StrokeWidth, frame.CornerRadius = theme.Fault, 2, 3
	frame.Hide()
	pair := l.whole.Objects[0].(*fyne.Container)
	pair.Objects[1] = container.NewStack(pair.Objects[1], frame)
	says := widget.NewLabel("")
	says.Wrapping, says.Importance = fyne.TextWrapWord, widget.DangerImportance
	says.Hide()
	l.whole.Add(says)
	l.warning = says
	l.warn = func() {
		t := words.Of(text())
		if t == says.Text {
			return
		}
		says.SetText(t)
		if t == "" {
			frame.Hide()
			says.Hide()
		} else {
			frame.Show()
			says.Show()
		}
		l.whole.Refresh()
	}
	l.warn()
	return l
}

// Warning returns what l warns of, empty for nothing.
func (l *Line) Warning() string {
	if l.warning == nil {
		return ""
	}
	return l.warning.Text
}
