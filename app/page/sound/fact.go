// SPDX-License-Identifier: MIT

package sound

import (
	"fyne.io/fyne/v2"
	base "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"earline/app/words"
)

// weight says how a fact is written.
type weight uint8

// The weights.
const (
	asPlain    weight = iota
	asHeading         // a title over what follows
	asFailing         // what falls short
	asFootnote        // a limit of what is said
)

// fact is one line beside the chart.
type fact struct {
	Text   string
	weight weight
}

// segments are the facts as Fyne writes them.
func segments(facts []fact) []widget.RichTextSegment {
	var out []widget.RichTextSegment
	for _, f := range facts {
		style := widget.RichTextStyle{ColorName: base.ColorNameForeground, SizeName: base.SizeNameText}
		switch f.weight {
		case asHeading:
			style.TextStyle = fyne.TextStyle{Bold: true}
		case asFailing:
			style.ColorName = base.ColorNameError
		case asFootnote:
			style.ColorName, style.SizeName = base.ColorNamePlaceHolder, base.SizeNameCaptionText
		}
		out = append(out, &widget.TextSegment{Text: words.Of(f.Text), Style: style})
	}
	return out
}
