// SPDX-License-Identifier: MIT

package field

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

// In a narrow window every word of a list is still there, within its width, and rows do
// not lie over each other.
func TestALongListIsReadInANarrowWindow(t *testing.T) {
	test.NewTempApp(t)
	g := NewGrid()
	rows := []GridRow{
		{Cells: []string{"loudspeaker", "way", "length with spare, m"}, Look: Heading},
		{Cells: []string{"M+090 left side", "rack, screen wall, left wall, then down to it", "7.157"}},
		{Cells: []string{"M-090 right side", "rack, right wall", "12.400"}, Box: true},
		{Cells: []string{"Each trade answers for its own work, to local code."}, Look: Pale},
	}
	g.Set(rows, -1)
	r := test.WidgetRenderer(g)
	tall := float32(0)
	for _, wide := range []float32{900, 420, 300} {
		g.Resize(fyne.NewSize(wide, 500))
		var all []string
		foot := float32(0)
		for _, o := range r.Objects() {
			x, ok := o.(*canvas.Text)
			if !ok {
				continue
			}
			all = append(all, strings.Fields(x.Text)...)
			if x.Position().X < 0 || x.Position().X+x.MinSize().Width > wide+1 {
				t.Errorf("at %v %q goes from %v to %v", wide, x.Text, x.Position().X, x.Position().X+x.MinSize().Width)
			}
			foot = max(foot, x.Position().Y)
		}
		words := 0
		for _, row := range rows {
			for _, c := range row.Cells {
				words += len(strings.Fields(c))
			}
		}
		if len(all) != words {
			t.Errorf("at %v there are %d words of %d", wide, len(all), words)
		}
		if high := r.MinSize().Height; high < tall || high <= foot {
			t.Errorf("at %v it is %v high, with a line at %v; wider it was %v", wide, high, foot, tall)
		} else {
			tall = high
		}
	}
	// A press meets the row that is drawn there.
	for i := range rows {
		top, foot := g.RowAt(i)
		if got := g.rowAt((top + foot) / 2); got != i {
			t.Errorf("row %d is met as %d", i, got)
		}
	}
	if g.rowAt(1e6) != -1 {
		t.Error("there is a row under the last")
	}
}
