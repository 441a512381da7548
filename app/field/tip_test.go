// SPDX-License-Identifier: MIT

package field

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// tipWindow shows o with a layer of tips over it.
func tipWindow(t *testing.T, o fyne.CanvasObject) (*Tips, fyne.Window) {
	t.Helper()
	test.NewTempApp(t)
	tips := NewTips()
	tips.Post = func(func()) {} // no clock in a test
	w := test.NewTempWindow(t, tips.Over(o))
	w.Resize(fyne.NewSize(300, 200))
	return tips, w
}

// Nothing in the window had a tip: a cut text could not be read, and an icon had no
// name.
func TestATipIsWholeAndWithinTheWindow(t *testing.T) {
	b := NewButton("", nil)
	b.Tip = strings.Repeat("Sets each loudspeaker from its distance. ", 4)
	tips, _ := tipWindow(t, container.NewBorder(nil, container.NewHBox(widget.NewLabel("far to the right of here"), b), nil, nil))
	b.MouseIn(&desktop.MouseEvent{})
	if tips.owner != fyne.CanvasObject(b) || tips.Shown() != "" {
		t.Fatal("no tip is awaited, or it does not wait")
	}
	tips.show(b, b.Tip, under(b))
	if tips.Shown() != strings.TrimSpace(b.Tip) {
		t.Errorf("the tip says %q", tips.Shown())
	}
	for _, o := range test.WidgetRenderer(tips).Objects() {
		if p, s := o.Position(), o.Size(); p.X < 0 || p.Y < 0 || p.X+s.Width > 300.5 || p.Y+s.Height > 200.5 {
			t.Errorf("a part of the tip is at %v, %v large", p, s)
		}
	}
	b.MouseOut()
	if tips.Shown() != "" || len(test.WidgetRenderer(tips).Objects()) != 0 {
		t.Error("the tip stays")
	}
}

// "Plasterboard ceiling on b…" could not be read.
func TestACutChoiceIsWholeInItsTip(t *testing.T) {
	s := NewSelect([]string{"flat", "plasterboard ceiling on battens with an air gap behind"}, nil)
	tipWindow(t, container.NewGridWrap(fyne.NewSize(120, 30), s))
	s.SetSelectedIndex(0)
	if s.tip() != "" {
		t.Errorf("what is not cut has the tip %q", s.tip())
	}
	s.SetSelectedIndex(1)
	if s.tip() != s.Options[1] {
		t.Errorf("the tip is %q", s.tip())
	}
}

// WCAG 2.2, success criterion 1.4.11: what shows the focus has a contrast of 3 to 1 with
// what is beside it; relative luminance as defined there.
func TestTheRingStandsOutFromEveryGround(t *testing.T) {
	lum := func(c color.Color) float64 {
		r, g, b, _ := c.RGBA()
		lin := func(v uint32) float64 {
			s := float64(v) / 0xffff
			if s <= 0.04045 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
	}
	contrast := func(a, b color.Color) float64 {
		x, y := lum(a), lum(b)
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	ring := NewRing()
	for v := range 256 {
		for _, c := range []color.NRGBA{{uint8(v), uint8(v), uint8(v), 255}, {uint8(v), 0, 0, 255}, {0, uint8(v), 255, 255}, {255, uint8(v), 0, 255}} {
			if best := max(contrast(c, ring.edge.StrokeColor), contrast(c, ring.line.StrokeColor)); best < 3 {
				t.Fatalf("on %v the contrast is %.2f", c, best)
			}
		}
	}
}

// The field that Tab came to lay below the end of the inspector.
func TestWhatGetsTheKeyboardScrollsIntoView(t *testing.T) {
	box := container.NewVBox()
	for range 40 {
		box.Add(NewButton("one", nil))
	}
	scroll := container.NewVScroll(box)
	_, w := tipWindow(t, container.NewHSplit(scroll, widget.NewLabel("")))
	for i, o := range box.Objects {
		w.Canvas().Focus(o.(*Button))
		top := o.Position().Y - scroll.Offset.Y
		if top < 0 || top+o.Size().Height > scroll.Size().Height {
			t.Fatalf("button %d is at %v of %v", i, top, scroll.Size().Height)
		}
	}
	w.Canvas().Focus(box.Objects[0].(*Button))
	if scroll.Offset.Y != 0 {
		t.Errorf("back at the first the panel is scrolled by %v", scroll.Offset.Y)
	}
}
