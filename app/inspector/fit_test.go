// SPDX-License-Identifier: MIT

package inspector

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"earline/app/field"
	"earline/app/theme"
	"earline/project"
)

// At a quarter of 1280 pixels everything in every group, all sections open, is
// as wide as what it says, in metres and in feet and inches.
func TestNothingIsCutOff(t *testing.T) {
	const width = 318
	for _, units := range []project.Units{project.Metric, project.Imperial} {
		for _, demo := range []string{"two-row", "large"} {
			b := opened(t, demo)
			fyne.CurrentApp().Settings().SetTheme(theme.Theme{})
			b.in.open.eachWall, b.in.open.air = true, true
			if err := b.Do("units", "", func(d *project.Design) {
				d.Units = units
				d.Speakers[0].At.X, d.Room.Features[0].At.X = 30.7848, 30.7848 // 101' 0", the longest in use
				d.Speakers[0].Tuning = project.Tuning{Delay: 123.45, Gain: -12.5, Inverted: true, Crossover: 100}
				d.Playback.Slope = project.SealedMains
			}); err != nil {
				t.Fatal(err)
			}
			b.win.SetPadded(false)
			b.win.Resize(fyne.NewSize(width, 3000))
			if min := b.in.Object().MinSize().Width; min > width {
				t.Errorf("%s: the inspector is %v wide at the least", demo, min)
			}
			checked := 0
			for s := range b.in.speakers() {
				b.in.speaker = s
				b.in.Update()
				shown(b.in.scroll.Content, func(o fyne.CanvasObject) {
					at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
					switch x := o.(type) {
					case *canvas.Text:
						checked++
						if need := x.MinSize().Width; at.X+need > width || x.Size().Width+0.5 < need {
							t.Errorf("%s, %s: %q needs %.0f, has %.0f at %.0f", demo, units, x.Text, need, x.Size().Width, at.X)
						}
					case *field.Entry:
						checked++
						text := fyne.MeasureText(x.Text, x.Theme().Size("text"), fyne.TextStyle{})
						if x.Text != b.Design().Name && text.Width+2*x.Theme().Size("innerPadding") > x.Size().Width {
							t.Errorf("%s, %s: %q needs %.0f, its entry is %.0f wide", demo, units, x.Text, text.Width, x.Size().Width)
						}
					case *field.Button:
						if need := x.MinSize().Width; x.Size().Width < need {
							t.Errorf("%s: button %q needs %.0f, has %.0f", demo, x.Text, need, x.Size().Width)
						}
					}
				})
			}
			if checked < 100 {
				t.Fatalf("only %d texts are checked", checked)
			}
		}
	}
}

// speakers yields the indexes of one loudspeaker a model.
func (in *Inspector) speakers() map[int]bool {
	out, seen := map[int]bool{}, map[string]bool{}
	for i, l := range in.host.Design().Speakers {
		if !seen[l.Model] {
			seen[l.Model], out[i] = true, true
		}
	}
	return out
}

// shown calls f with everything that is shown of o.
func shown(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if !o.Visible() {
		return
	}
	f(o)
	switch x := o.(type) {
	case *fyne.Container:
		for _, c := range x.Objects {
			shown(c, f)
		}
	case *field.Entry: // scrolls by itself
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(x).Objects() {
			shown(c, f)
		}
	}
}
