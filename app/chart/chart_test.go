// SPDX-License-Identifier: MIT

package chart

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"earline/app/field"
	"earline/app/theme"
	"earline/scene/chart"
)

// bass is an invented response of two seats.
func bass() *chart.Chart {
	f := []float64{20, 31.5, 40, 63, 80, 125, 200}
	return &chart.Chart{
		Title: "Bass at the seats",
		Note:  "Modes of a rigid rectangular room.",
		X:     chart.Axis{Label: "Frequency", Kind: chart.Frequency, Min: 20, Max: 200},
		Y:     chart.Axis{Label: "Level", Unit: "dB", Kind: chart.Decibel, Min: -15, Max: 15},
		Series: []chart.Series{
			{Name: "row 1 seat 1", X: f, Y: []float64{-8, 2, 4, 1, 0, -4, -12}},
			{Name: "row 2 seat 3", X: f, Y: []float64{-12, -6, 8, -3.2, 3, 1, -6}},
		},
		Bands:   []chart.Band{chart.Across(-3, 3, "target")},
		Marks:   []chart.Mark{{X: 80, Label: "crossover 80 Hz"}},
		Outside: []chart.Span{{From: 140, To: 1e4, Label: "outside the model's validity"}},
	}
}

// shown returns a widget with the chart of bass in a window of that size.
func shown(t testing.TB, w, h float32) (*Chart, fyne.Window) {
	t.Helper()
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(theme.Theme{})
	c := New()
	win := test.NewTempWindow(t, c)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	c.Set(bass())
	win.Canvas().Capture()
	return c, win
}

// move puts the pointer where a pair of values stands.
func move(t testing.TB, c *Chart, x, y float64) fyne.Position {
	t.Helper()
	px, py, ok := c.face.layout.Pixel(x, y)
	if !ok {
		t.Fatalf("%v, %v is not in the field", x, y)
	}
	p := fyne.NewPos(float32(px)/c.face.scale, float32(py)/c.face.scale)
	c.face.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}})
	return p
}

func TestPointerSaysWhatIsThere(t *testing.T) {
	c, _ := shown(t, 950, 210)
	if c.says.Text != bass().Note {
		t.Errorf("with no pointer the head says %q, want the note", c.says.Text)
	}
	var got []bool
	c.OnHover = func(h chart.Hit, ok bool) { got = append(got, ok) }
	move(t, c, 63, -3.2)
	if want := "63 Hz   −3.2 dB   row 2 seat 3"; c.says.Text != want {
		t.Errorf("got %q, want %q", c.says.Text, want)
	}
	if !c.face.dot.Visible() || !c.face.across.Visible() {
		t.Error("the point is not marked")
	}
	move(t, c, 63, -3.2) // the same again is no news
	move(t, c, 80, 14)
	if want := "80 Hz   14.0 dB"; !strings.HasPrefix(c.says.Text, want) || c.face.dot.Visible() {
		t.Errorf("away from the lines: got %q, want %q and no mark", c.says.Text, want)
	}
	if c.face.found {
		t.Error("a point far away counts as found")
	}
	c.face.MouseOut()
	if c.says.Text != bass().Note || c.face.across.Visible() {
		t.Errorf("after the pointer left: %q", c.says.Text)
	}
	if len(got) != 2 || !got[0] || got[1] {
		t.Errorf("OnHover was told %v, want true, false", got)
	}
}

func TestClickChooses(t *testing.T) {
	c, _ := shown(t, 950, 210)
	var got *chart.Hit
	c.OnChoose = func(h chart.Hit) { got = &h }
	p := move(t, c, 40, 8)
	c.face.Tapped(&fyne.PointEvent{Position: p})
	if got == nil || got.Series != 1 || got.Index != 2 {
		t.Errorf("got %+v, want point 2 of series 1", got)
	}
}

// The pointer rests while a loudspeaker is moved by keys: what it says keeps up.
func TestReadOutFollowsTheChart(t *testing.T) {
	c, _ := shown(t, 950, 210)
	move(t, c, 63, -3.2)
	next := bass()
	next.Series[1].Y[3] = -4.1
	c.Set(next)
	if want := "63 Hz   −4.1 dB   row 2 seat 3"; c.says.Text != want {
		t.Errorf("got %q, want %q", c.says.Text, want)
	}
}

// A picture is drawn once for each chart and each size, whatever else happens.
func TestDrawnOnlyWhenItMust(t *testing.T) {
	c, win := shown(t, 950, 210)
	if c.face.drawn != 1 {
		t.Errorf("drawn %d times at first, want once", c.face.drawn)
	}
	for range 5 {
		move(t, c, 63, -3.2)
		c.Refresh()
		win.Canvas().Capture()
	}
	if c.face.drawn != 1 {
		t.Errorf("drawn %d times with nothing new, want once", c.face.drawn)
	}
	c.Set(bass())
	win.Canvas().Capture()
	if c.face.drawn != 2 {
		t.Errorf("drawn %d times after a new chart, want 2", c.face.drawn)
	}
	win.Resize(fyne.NewSize(700, 300))
	win.Canvas().Capture()
	if c.face.drawn != 3 {
		t.Errorf("drawn %d times after a new size, want 3", c.face.drawn)
	}
}

// On displays with finer pixels the picture has as many as the display.
func TestPictureHasTheDisplaysPixels(t *testing.T) {
	c, win := shown(t, 950, 210)
	win.Canvas().(test.WindowlessCanvas).SetScale(2)
	win.Canvas().Capture()
	size := c.face.Size()
	if got, want := c.face.picture.Rect.Size(), image.Pt(int(2*size.Width), int(2*size.Height)); got != want {
		t.Errorf("the picture has %v pixels, want %v", got, want)
	}
	if c.face.scale != 2 {
		t.Errorf("drawn at scale %v, want 2", c.face.scale)
	}
	move(t, c, 63, -3.2)
	if want := "63 Hz   −3.2 dB   row 2 seat 3"; c.says.Text != want {
		t.Errorf("got %q, want %q", c.says.Text, want)
	}
}

func TestButtonsExport(t *testing.T) {
	c, _ := shown(t, 950, 210)
	var kinds []string
	c.OnExport = func(kind string) { kinds = append(kinds, kind) }
	for _, o := range c.buttons.Objects {
		test.Tap(o.(*field.Button))
	}
	if got := strings.Join(kinds, " "); got != "png svg csv" {
		t.Fatalf("the buttons ask for %q", got)
	}
	dir := t.TempDir()
	for _, kind := range append(kinds, chart.PDF) { // that one from the menu
		path := filepath.Join(dir, "bass."+kind)
		if err := c.Save(kind, path); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		switch kind {
		case chart.PNG:
			img, err := png.Decode(bytes.NewReader(data))
			if err != nil || img.Bounds().Dx() != 1800 {
				t.Errorf("PNG: %v", err)
			}
		case chart.SVG:
			if !bytes.Contains(data, []byte("Bass at the seats")) || !bytes.Contains(data, []byte("Modes of a rigid")) {
				t.Error("the SVG lacks title or note")
			}
		case chart.PDF:
			// In the font of the window, cut down to what is written, and in what
			// helps out where it has no minus sign.
			for _, want := range []string{"%PDF-1.", "+NotoSans", "+GoRegular"} {
				if !bytes.Contains(data, []byte(want)) {
					t.Errorf("the PDF has no %s", want)
				}
			}
		case chart.CSV:
			if !bytes.HasPrefix(data, []byte("Frequency (Hz),row 1 seat 1 (dB),row 2 seat 3 (dB)\n20,-8,-12\n")) {
				t.Errorf("the CSV begins %q", data[:60])
			}
		}
	}
	if err := c.Save("gif", filepath.Join(dir, "x")); err == nil || !strings.Contains(err.Error(), "png, svg, pdf or csv") {
		t.Errorf("an unknown kind: %v", err)
	}
}

// The head gives way: what it says never runs under the buttons.
func TestHeadFitsNarrowWindows(t *testing.T) {
	for _, w := range []float32{240, 320, 480, 950} {
		c, _ := shown(t, w, 184)
		if len(c.buttons.Objects) != 3 || c.buttons.Position().X+c.buttons.Size().Width > w+0.5 {
			t.Errorf("at %v the buttons are cut off", w)
		}
		end := c.says.Position().X + fyne.MeasureText(c.says.Text, c.says.TextSize, c.says.TextStyle).Width
		if c.says.Text != "" && end > c.buttons.Position().X {
			t.Errorf("at %v %q ends at %v, the buttons begin at %v", w, c.says.Text, end, c.buttons.Position().X)
		}
	}
}

// −10 dB was once written as 10 dB: the window's font has no minus sign.
func TestNumbersBelowNoughtHaveTheirSign(t *testing.T) {
	s := Style()
	if s.Font == nil {
		t.Fatal("the window's font does not parse")
	}
	// ink is how much is written beside the axis.
	ink := func(lo, hi float64) (sum float64) {
		c := &chart.Chart{Y: chart.Axis{Min: lo, Max: hi}}
		d := c.Layout(chart.Paper{W: 400, H: 200, Style: s})
		img := d.Image()
		for y := range 200 {
			for x := range d.Field().Min.X - 4 {
				sum += float64(img.RGBAAt(x, y).G) - float64(s.Back.G)
			}
		}
		return sum
	}
	if above, below := ink(30, 60), ink(-60, -30); below < 1.1*above {
		t.Errorf("the same numbers with a minus have %.0f of ink, without %.0f", below, above)
	}
}

// EARLINE_PICTURES=DIR writes the widget as it looks there.
func TestPicture(t *testing.T) {
	dir := os.Getenv("EARLINE_PICTURES")
	c, win := shown(t, 950, 210)
	move(t, c, 63, -3.2)
	img := win.Canvas().Capture()
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, "widget.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
