// SPDX-License-Identifier: MIT

package field

import (
	"sort"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"earline/app/words"
)

// Shorten returns text, in the language of the window, as far as it fits into a width when written as like is, with an
// ellipsis where it is cut. A width of 0 or less is not known yet and cuts nothing.
func Shorten(text string, width float32, like *canvas.Text) string {
	text = words.Of(text)
	wide := func(s string) bool { return fyne.MeasureText(s, like.TextSize, like.TextStyle).Width > width }
	if width <= 0 || !wide(text) {
		return text
	}
	runes := []rune(text)
	n := sort.Search(len(runes), func(n int) bool { return wide(string(runes[:n]) + "…") })
	return strings.TrimRight(string(runes[:max(n-1, 0)]), " ") + "…"
}
