// SPDX-License-Identifier: MIT

//go:build linux && !wayland

package repaint

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"math/rand/v2"
	"os"
	"reflect"
	"testing"
	"unsafe"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/go-gl/gl/v2.1/gl"
)

// TestMain runs the tests beside the toolkit, which wants the main goroutine.
func TestMain(m *testing.M) {
	if os.Getenv("DISPLAY") == "" {
		os.Exit(m.Run())
	}
	a := fyneapp.NewWithID("io.earline.repaint")
	code := 1
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			code = m.Run()
			fyne.Do(a.Quit)
		}()
	})
	a.Run()
	os.Exit(code)
}

func needDisplay(t *testing.T) {
	t.Helper()
	if os.Getenv("DISPLAY") != "" {
		return
	}
	if os.Getenv("EARLINE_NO_SKIP") != "" {
		t.Fatal("DISPLAY is not set")
	}
	t.Skip("needs a display")
}

// Prompt.Now calls what this version of the toolkit has under this name: another one
// must be looked at first.
func TestToolkitIsTheOneLookedAt(t *testing.T) {
	needDisplay(t)
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(mod, []byte("fyne.io/fyne/v2 "+Toolkit+"\n")) {
		t.Fatalf("go.mod has another version of Fyne than %s: see whether (*gLDriver).drawSingleFrame still takes nothing and returns nothing, then raise Toolkit", Toolkit)
	}
}

// board is a window with one of everything.
type board struct {
	win     fyne.Window
	p       *painter
	changes []func(*rand.Rand)
}

func newBoard(t *testing.T) *board {
	t.Helper()
	b := new(board)
	app := fyne.CurrentApp()
	b.win = app.NewWindow("board")
	label, text := widget.NewLabel("a label"), canvas.NewText("a text", color.White)
	entry, check := widget.NewEntry(), widget.NewCheck("check", nil)
	choice := widget.NewSelect([]string{"one", "two", "three"}, nil)
	rect, line, circle := canvas.NewRectangle(color.NRGBA{R: 200, A: 255}), canvas.NewLine(color.White), canvas.NewCircle(color.NRGBA{B: 200, A: 99})
	line.StrokeWidth = 5
	shade := uint8(40)
	opaque := canvas.NewRaster(func(w, h int) image.Image { return plain(w, h, color.RGBA{shade, 80, 90, 255}) })
	glassy := canvas.NewRaster(func(w, h int) image.Image { return plain(w, h, color.RGBA{shade / 2, 20, 20, 128}) })
	icon := widget.NewIcon(theme.HomeIcon())
	var rows []fyne.CanvasObject
	for i := range 30 {
		rows = append(rows, widget.NewLabel(fmt.Sprint("row ", i)))
	}
	scroll := container.NewVScroll(container.NewVBox(rows...))
	left := container.NewVBox(label, text, entry, check, choice, icon, container.NewGridWrap(fyne.NewSize(60, 40), rect, line, circle))
	split := container.NewHSplit(container.NewBorder(left, nil, nil, nil, scroll), container.NewStack(opaque, container.NewCenter(container.NewGridWrap(fyne.NewSize(90.5, 33.3), glassy))))
	b.win.SetMainMenu(fyne.NewMainMenu(fyne.NewMenu("File", fyne.NewMenuItem("Quit it", nil)), fyne.NewMenu("Edit")))
	b.win.SetContent(split)
	b.win.Resize(fyne.NewSize(640, 480))
	b.win.Show()
	var pop *widget.PopUp
	b.changes = []func(*rand.Rand){
		func(r *rand.Rand) { label.SetText(fmt.Sprint("label ", r.IntN(1e6))) },
		func(r *rand.Rand) { text.Text = fmt.Sprint("text\u00a0", r.IntN(1e6)); text.Refresh() },
		func(r *rand.Rand) { text.TextStyle.Italic = !text.TextStyle.Italic; text.Refresh() },
		func(r *rand.Rand) { entry.SetText(fmt.Sprint(r.IntN(1e6))) },
		func(r *rand.Rand) { b.win.Canvas().Focus(entry) },
		func(r *rand.Rand) { check.SetChecked(!check.Checked) },
		func(r *rand.Rand) { choice.SetSelectedIndex(r.IntN(3)) },
		func(r *rand.Rand) { rect.FillColor = color.NRGBA{G: uint8(r.IntN(256)), A: 255}; rect.Refresh() },
		func(r *rand.Rand) { rect.CornerRadius = float32(r.IntN(12)); rect.Refresh() },
		func(r *rand.Rand) { line.StrokeWidth = float32(r.IntN(9)); line.Refresh() },
		func(r *rand.Rand) { circle.Hidden = !circle.Hidden; circle.Refresh() },
		func(r *rand.Rand) { shade = uint8(r.IntN(256)); opaque.Refresh() },
		func(r *rand.Rand) { shade = uint8(r.IntN(256)); glassy.Refresh() },
		func(r *rand.Rand) { scroll.ScrollToOffset(fyne.NewPos(0, float32(r.IntN(400)))) },
		func(r *rand.Rand) { split.SetOffset(0.2 + r.Float64()/2) },
		func(r *rand.Rand) { icon.SetResource([]fyne.Resource{theme.HomeIcon(), theme.InfoIcon()}[r.IntN(2)]) },
		func(r *rand.Rand) {
			left.Objects[0], left.Objects[1] = left.Objects[1], left.Objects[0]
			left.Refresh()
		},
		func(r *rand.Rand) {
			if pop != nil {
				pop.Hide()
				pop = nil
				return
			}
			pop = widget.NewPopUp(widget.NewLabel("over\nall"), b.win.Canvas())
			pop.ShowAtPosition(fyne.NewPos(float32(r.IntN(500)), float32(r.IntN(300))))
		},
		func(r *rand.Rand) {
			d := dialog.NewInformation("Title", "said", b.win)
			d.Show()
			b.check(t, "a dialog")
			d.Hide()
		},
		func(r *rand.Rand) { b.win.Resize(fyne.NewSize(640+float32(r.IntN(60)), 480+float32(r.IntN(60)))) },
	}
	return b
}

func plain(w, h int, c color.RGBA) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c.B = uint8(x + y)
			if c.B > c.A {
				c.B = c.A
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

// pixels paints the window if it wants to be, and returns the picture that is kept.
func (b *board) pixels() []byte {
	drawSingleFrame(reflect.ValueOf(fyne.CurrentApp().Driver()).UnsafePointer())
	pix := make([]byte, 4*b.p.made.w*b.p.made.h)
	b.win.(interface{ RunWithContext(func()) }).RunWithContext(func() {
		gl.BindFramebuffer(gl.FRAMEBUFFER, b.p.kept)
		gl.ReadPixels(0, 0, int32(b.p.made.w), int32(b.p.made.h), gl.RGBA, gl.UNSIGNED_BYTE, unsafe.Pointer(&pix[0]))
		gl.BindFramebuffer(gl.FRAMEBUFFER, 0)
	})
	return pix
}

// check, on the UI goroutine, compares the kept picture, of which only parts were painted since, with all of
// it painted anew.
func (b *board) check(t *testing.T, what string) {
	t.Helper()
	parts := b.pixels()
	w, h := b.p.made.w, b.p.made.h
	b.p.made = setup{}
	b.win.Canvas().(interface{ SetDirty() }).SetDirty()
	whole := b.pixels()
	if b.p.off {
		t.Errorf("%s: the window is not painted by parts", what)
		return
	}
	if w != b.p.made.w || h != b.p.made.h {
		return // resized in between
	}
	different, first := 0, -1
	for i := 0; i < len(whole); i += 4 {
		if !bytes.Equal(parts[i:i+3], whole[i:i+3]) {
			if different++; first < 0 {
				first = i / 4
			}
		}
	}
	if different > 0 {
		t.Errorf("%s: %d pixels differ from the window painted whole, the first at %d, %d from below", what, different, first%w, first/w)
	}
}

// The window painted by parts has the very pixels of the window painted whole.
func TestPartsAreAsTheWhole(t *testing.T) {
	needDisplay(t)
	var b *board
	fyne.DoAndWait(func() {
		b = newBoard(t)
		if !Install(b.win, nil) {
			t.Error("the toolkit lacks what Install takes of it")
			return
		}
		if Install(b.win, nil) {
			t.Error("installed twice")
		}
		b.p = installed(b.win)
	})
	if t.Failed() {
		return
	}
	const seed = 11
	r := rand.New(rand.NewPCG(seed, 0))
	for i := range 300 {
		k := r.IntN(len(b.changes))
		fyne.DoAndWait(func() {
			b.changes[k](r)
			if r.IntN(3) > 0 { // else together with the next
				b.check(t, fmt.Sprintf("seed %d, step %d, change %d", seed, i, k))
			}
		})
		if t.Failed() {
			return
		}
	}
	fyne.DoAndWait(b.win.Close)
}

// Where a method is missing the toolkit is left alone.
func TestForeignWindowIsLeftToTheToolkit(t *testing.T) {
	if Install(foreign{}, nil) {
		t.Error("installed in a window of another kind")
	}
}

type foreign struct{ fyne.Window }

func (foreign) Canvas() fyne.Canvas { return foreignCanvas{} }

type foreignCanvas struct{ fyne.Canvas }

// installed returns the painter of win.
func installed(win fyne.Window) *painter {
	return reflect.ValueOf(win.Canvas()).MethodByName("Painter").Call(nil)[0].Interface().(*painter)
}
