// SPDX-License-Identifier: MIT

package sound

import (
	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Weight says how a Fact is written.
type Weight uint8

// The weights.
const (
	Plain    Weight = iota
	Heading         // a title over what follows
	Failing         // what falls short
	Footnote        // a limit of what is said
)

// Fact is one line beside the chart.
type Fact struct {
	Text   string
	Weight Weight
}

// segments are the facts as Fyne writes them.
func segments(facts []Fact) []widget.RichTextSegment {
	var out []widget.RichTextSegment
	for _, f := range facts {
		style := widget.RichTextStyle{ColorName: base.ColorNameForeground, SizeName: base.SizeNameText}
		switch f.Weight {
		case Heading:
			style.TextStyle = fyne.TextStyle{Bold: true}
		case Failing:
			style.ColorName = base.ColorNameError
		case Footnote:
			style.ColorName, style.SizeName = base.ColorNamePlaceHolder, base.SizeNameCaptionText
		}
		out = append(out, &widget.TextSegment{Text: f.Text, Style: style})
	}
	return out
}
