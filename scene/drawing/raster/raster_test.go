// SPDX-License-Identifier: MIT

package raster_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/scene/drawing"
	"earline/scene/drawing/raster"
)

var white = color.NRGBA{255, 255, 255, 255}

func blank(w, h int) *raster.Canvas { return raster.New(w, h, drawing.NewTypeface(nil)) }

// covered returns how much of a black picture is white, in pixels.
func covered(img *image.RGBA) float64 {
	sum := 0.0
	for i := 0; i < len(img.Pix); i += 4 {
		sum += float64(img.Pix[i]) / 255
	}
	return sum
}

// A straight line covers its length times its width, wherever and however it
// lies; a pattern covers its strokes.
func TestStrokeCoversLengthTimesWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) drawing.Point {
			return drawing.Pt(rapid.Float64Range(20, 180).Draw(t, name), rapid.Float64Range(20, 180).Draw(t, name))
		}
		a, b := at("a"), at("b")
		width := rapid.Float64Range(0.8, 6).Draw(t, "width")
		c := blank(200, 200)
		c.Stroke("", drawing.Pen{Ink: white, Width: width}, [][]drawing.Point{{a, b}})
		want := math.Hypot(b.X-a.X, b.Y-a.Y) * width
		const tol = 0.02 // 8-bit cover of the pixels at the edges
		if got := covered(c.Image()); math.Abs(got-want) > tol*want+1 {
			t.Fatalf("covers %v px, want %v", got, want)
		}
	})
	c := blank(200, 20)
	c.Stroke("", drawing.Pen{Ink: white, Width: 2, Dash: []float64{7, 3}}, [][]drawing.Point{{drawing.Pt(10, 10), drawing.Pt(110, 10)}})
	if got, want := covered(c.Image()), 10*7*2.0; math.Abs(got-want) > 0.5 {
		t.Errorf("dashes cover %v px, want %v", got, want)
	}
}

// A corner is whole: a square drawn round is as large as its outline, less where
// the line ends.
func TestCornersAreWhole(t *testing.T) {
	c := blank(100, 100)
	square := []drawing.Point{drawing.Pt(20, 20), drawing.Pt(80, 20), drawing.Pt(80, 80), drawing.Pt(20, 80), drawing.Pt(20, 20)}
	c.Stroke("", drawing.Pen{Ink: white, Width: 4}, [][]drawing.Point{square})
	want := 64.0*64 - 56*56 - 2*2 // the first corner has no tip
	if got := covered(c.Image()); math.Abs(got-want) > 0.5 {
		t.Errorf("covers %v px, want %v", got, want)
	}
}

// A fill covers its area, on whole pixels and off them.
func TestFillCoversItsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(1, 40).Draw(t, "x"), rapid.Float64Range(1, 40).Draw(t, "y")
		w, h := rapid.Float64Range(1, 50).Draw(t, "w"), rapid.Float64Range(1, 50).Draw(t, "h")
		if rapid.Bool().Draw(t, "whole") {
			x, y, w, h = math.Floor(x), math.Floor(y), math.Floor(w), math.Floor(h)
		}
		c := blank(100, 100)
		c.Fill("", white, []drawing.Point{drawing.Pt(x, y), drawing.Pt(x+w, y), drawing.Pt(x+w, y+h), drawing.Pt(x, y+h)})
		if got, want := covered(c.Image()), w*h; math.Abs(got-want) > 0.01*(w+h)+0.02*want/100+0.5 {
			t.Fatalf("covers %v px, want %v", got, want)
		}
	})
}

// Text covers as much wherever between two pixels it begins, more in a larger
// size, and stays within its width.
func TestTextStaysWithinItsWidth(t *testing.T) {
	typeface := drawing.NewTypeface(nil)
	last := 0.0
	for _, size := range []float64{11, 12.5, 22} {
		c := raster.New(300, 60, typeface)
		const words = "row 2 seat 3, −3.2 dB"
		width := typeface.Width(words, size)
		for i, x := range []float64{20, 20.25, 20.5} {
			c := raster.New(300, 60, typeface)
			c.Text("", white, drawing.Label{X: x, Y: 40, Text: words, Size: size, Width: width})
			img := c.Image()
			for py := range img.Rect.Dy() {
				for px := range img.Rect.Dx() {
					inside := float64(px) > x-2 && float64(px) < x+width+2 && float64(py) > 40-size && float64(py) < 40+size/2
					if img.RGBAAt(px, py).R > 0 && !inside {
						t.Fatalf("size %v, begun at %v: ink at %d %d", size, x, px, py)
					}
				}
			}
			got := covered(img)
			if i == 0 && !(got > 1.05*last) {
				t.Errorf("size %v covers %v px, the one before %v", size, got, last)
			}
			if i > 0 && math.Abs(got-last) > 0.05*last {
				t.Errorf("size %v begun at %v covers %v px, else %v", size, x, got, last)
			}
			last = got
		}
		c.Text("", white, drawing.Label{X: 20, Y: 40, Text: "", Size: size})
		if covered(c.Image()) != 0 {
			t.Error("no text has ink")
		}
	}
}

// What lies far outside, or has no number, draws nothing and does not panic.
func TestOutsideDrawsNothing(t *testing.T) {
	for _, p := range []drawing.Point{drawing.Pt(1e9, 1e9), drawing.Pt(-1e9, 5), drawing.Pt(math.NaN(), 5), drawing.Pt(math.Inf(1), math.Inf(-1))} {
		c := blank(50, 50)
		c.Fill("", white, []drawing.Point{p, drawing.Pt(1e9, 2e9), drawing.Pt(2e9, 1e9)})
		c.Stroke("", drawing.Pen{Ink: white, Width: 2}, [][]drawing.Point{{p, p}})
		c.Fill("", white, []drawing.Point{p})
		c.Stroke("", drawing.Pen{Ink: white, Width: 2}, nil)
		if got := covered(c.Image()); got != 0 {
			t.Errorf("%v covers %v px", p, got)
		}
	}
}

// Turned and bold labels are as much ink as level ones, or a little more, and lie where
// they are turned to.
func TestTurnedAndBoldLabels(t *testing.T) {
	drawn := func(l drawing.Label) (sum float64, upper float64) {
		c := blank(200, 200)
		c.Text("", white, l)
		img := c.Image()
		above := img.SubImage(image.Rect(0, 0, 200, 90)).(*image.RGBA)
		for y := range 90 {
			for x := range 200 {
				upper += float64(above.RGBAAt(x, y).R) / 255
			}
		}
		return covered(img), upper
	}
	l := drawing.Label{X: 100, Y: 110, Text: "Hgbo", Size: 24}
	level, high := drawn(l)
	if high > 0 {
		t.Errorf("the level label has %v px far above its line", high)
	}
	l.Turn = 90
	turned, high := drawn(l)
	if math.Abs(turned-level) > 0.1*level || high < 0.5*turned {
		t.Errorf("turned upwards it covers %v px, %v of them high up; level %v", turned, high, level)
	}
	l.Turn, l.Bold = 0, true
	if bold, _ := drawn(l); bold < 1.1*level || bold > 2*level {
		t.Errorf("bold covers %v px, regular %v", bold, level)
	}
}

// A ring in a ring is a hole, whichever way round they run.
func TestRingsInRingsAreHoles(t *testing.T) {
	square := func(x0, x1 float64, other bool) []drawing.Point {
		r := []drawing.Point{drawing.Pt(x0, x0), drawing.Pt(x1, x0), drawing.Pt(x1, x1), drawing.Pt(x0, x1)}
		if other {
			r[1], r[3] = r[3], r[1]
		}
		return r
	}
	for n := range 8 {
		c := blank(100, 100)
		c.Fill("", white, square(10, 90, n&1 > 0), square(20, 80, n&2 > 0), square(40, 60, n&4 > 0))
		if got, want := covered(c.Image()), 80.0*80-60*60+20*20; math.Abs(got-want) > 1 {
			t.Errorf("%03b: %v px are filled, want %v", n, got, want)
		}
	}
}
