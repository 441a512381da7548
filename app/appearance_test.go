// SPDX-License-Identifier: MIT

package app

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	base "fyne.io/fyne/v2/theme"

	"earline/app/theme"
	"earline/app/view"
	"earline/assets"
	"earline/scene"
)

// runCommand runs the command of that ID, wherever it stands.
func runCommand(t *testing.T, w *Window, id string) {
	t.Helper()
	for _, c := range w.commands.All() {
		if c.ID == id {
			w.run(c)
			return
		}
	}
	t.Fatalf("no command %s", id)
}

// On site, in daylight, nothing could be read: there was no light theme.
func TestAChosenThemeShowsAndIsRemembered(t *testing.T) {
	w, f := testWindow(t, Config{Demo: "small"})
	dark := base.Color(base.ColorNameBackground)
	runCommand(t, w, "view.theme.light")
	if !theme.Now().Light || base.Color(base.ColorNameBackground) == dark {
		t.Error("the window is not light")
	}
	if got := w.fyne.Preferences().String(themeKey); themeNamed(got) != theme.Light {
		t.Errorf("%q is remembered", got)
	}
	w.room.SetView(view.Plan)
	if got := f.lastList().Sky; got != scene.Paper().Sky {
		t.Errorf("the plan is drawn on %v", got)
	}
	w.room.SetView(view.Overview)
	if got := f.lastList().Sky; got != scene.Lamplight().Sky {
		t.Errorf("the room is drawn on %v", got)
	}
	runCommand(t, w, "view.theme.high-contrast")
	if got := f.lastList().Sky; got != scene.HighContrast().Sky {
		t.Errorf("the room is drawn on %v", got)
	}
}

// Without a choice of the user's the window does as the desktop wishes.
func TestTheDesktopsWishForContrastIsFollowed(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "small"})
	w.wish(theme.Wishes{Contrast: true})
	if theme.Back.NRGBA() != (theme.Theme{Choice: theme.HighContrast}).Color(base.ColorNameInputBackground, base.VariantDark) {
		t.Error("the window has no high contrast")
	}
	runCommand(t, w, "view.theme.dark")
	if theme.Back.NRGBA().R == 0 {
		t.Error("the user's own choice does not hold")
	}
}

// The icon of the window is what Fyne draws of icon.svg. EARLINE_ICON names a file to
// which that is written, to become assets/icon.png.
func TestTheIconIsThatOfTheSVG(t *testing.T) {
	test.NewTempApp(t)
	w := test.NewTempWindow(t, canvas.NewImageFromResource(fyne.NewStaticResource("icon.svg", assets.Icon())))
	w.SetPadded(false)
	w.Resize(fyne.NewSize(128, 128))
	drawn := w.Canvas().Capture()
	if name := os.Getenv("EARLINE_ICON"); name != "" {
		f, _ := os.Create(name)
		_ = png.Encode(f, drawn)
		_ = f.Close()
	}
	kept, err := png.Decode(bytes.NewReader(assets.IconPixels()))
	if err != nil || kept.Bounds().Size() != image.Pt(128, 128) {
		t.Fatalf("%v, %v", kept.Bounds(), err)
	}
	if drawn.At(64, 16) == drawn.At(100, 64) {
		t.Error("the ground and the cone look the same")
	}
	for _, at := range []image.Point{{64, 16}, {100, 64}, {44, 32}, {40, 58}} {
		a, b := color.NRGBAModel.Convert(kept.At(at.X, at.Y)), color.NRGBAModel.Convert(drawn.At(at.X, at.Y))
		if a != b {
			t.Errorf("at %v the kept one is %v, the drawn one %v", at, a, b)
		}
	}
}

// "0 tight" and "0 blocked" were lit like faults.
func TestNothingBlockedIsNotLitLikeAFault(t *testing.T) {
	w, _ := testWindow(t, Config{Demo: "two-row"})
	for _, tally := range w.status.counts {
		lit, _, _ := theme.Verdict(tally.verdict)
		if none := w.session.Result().Count[tally.verdict] == 0; none == (tally.plate.FillColor == lit) {
			t.Errorf("%s is lit: %v", tally.text.Text, !none)
		}
	}
}
