// SPDX-License-Identifier: MIT

package drawing_test

import (
	"image/color"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"earline/scene/drawing"
)

var ink = color.NRGBA{1, 2, 3, 255}

// part is one thing that was drawn.
type part struct {
	Layer string
	Ink   color.NRGBA
	Ring  []drawing.Point // the first
	Rings [][]drawing.Point
	Arc   drawing.Arc
	Pen   drawing.Pen
	Lines [][]drawing.Point
	Label drawing.Label
}

// recorder is a canvas that notes what it is given. It copies, since a canvas may
// keep no slice.
type recorder struct{ parts []part }

func copied(l []drawing.Point) []drawing.Point { return append([]drawing.Point{}, l...) }

func (r *recorder) Fill(layer string, ink color.NRGBA, rings ...[]drawing.Point) {
	p := part{Layer: layer, Ink: ink}
	for _, ring := range rings {
		p.Rings = append(p.Rings, copied(ring))
	}
	p.Ring = p.Rings[0]
	r.parts = append(r.parts, p)
}

func (r *recorder) Arc(layer string, pen drawing.Pen, a drawing.Arc) {
	r.parts = append(r.parts, part{Layer: layer, Pen: pen, Arc: a})
}

func (r *recorder) Stroke(layer string, pen drawing.Pen, lines [][]drawing.Point) {
	p := part{Layer: layer, Pen: pen}
	p.Pen.Dash = append([]float64{}, pen.Dash...)
	for _, l := range lines {
		p.Lines = append(p.Lines, copied(l))
	}
	r.parts = append(r.parts, p)
}

func (r *recorder) Text(layer string, ink color.NRGBA, l drawing.Label) {
	r.parts = append(r.parts, part{Layer: layer, Ink: ink, Label: l})
}

func points(t *rapid.T, name string) []drawing.Point {
	out := make([]drawing.Point, rapid.IntRange(0, 8).Draw(t, name))
	for i := range out {
		out[i] = drawing.Pt(rapid.Float64Range(-100, 200).Draw(t, "x"), rapid.Float64Range(-100, 200).Draw(t, "y"))
	}
	return out
}

// What is clipped lies inside, and what lay inside is kept.
func TestClipLines(t *testing.T) {
	r := drawing.Rect(10, 20, 110, 70)
	rapid.Check(t, func(t *rapid.T) {
		l := points(t, "n")
		long := 0.0
		for _, run := range drawing.ClipLines(r, l) {
			for i, p := range run {
				if p.X < r.X0-1e-9 || p.X > r.X1+1e-9 || p.Y < r.Y0-1e-9 || p.Y > r.Y1+1e-9 {
					t.Fatalf("%v is outside", p)
				}
				if i > 0 {
					long += math.Hypot(p.X-run[i-1].X, p.Y-run[i-1].Y)
				}
			}
		}
		// The slow way: many small pieces, each in or out.
		want := 0.0
		const pieces = 2000
		for i := 1; i < len(l); i++ {
			dx, dy := l[i].X-l[i-1].X, l[i].Y-l[i-1].Y
			in := 0
			for k := range pieces {
				u := (float64(k) + 0.5) / pieces
				if x, y := l[i-1].X+u*dx, l[i-1].Y+u*dy; x >= r.X0 && x <= r.X1 && y >= r.Y0 && y <= r.Y1 {
					in++
				}
			}
			want += math.Hypot(dx, dy) * float64(in) / pieces
		}
		if math.Abs(long-want) > 0.5*float64(len(l)) {
			t.Fatalf("%v px are left, want %v", long, want)
		}
	})
}

func area(ring []drawing.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += (p.X*q.Y - q.X*p.Y) / 2
	}
	return sum
}

// The parts of a ring in the four quarters of a box make up what is in the box, and
// a ring around it all of it.
func TestClipRing(t *testing.T) {
	r := drawing.Rect(10, 20, 110, 70)
	around := []drawing.Point{drawing.Pt(0, 0), drawing.Pt(200, 0), drawing.Pt(200, 200), drawing.Pt(0, 200)}
	if got, want := area(drawing.ClipRing(r, around)), r.Dx()*r.Dy(); math.Abs(got-want) > 1e-9 {
		t.Errorf("a ring around has %v px inside, want %v", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		ring := points(t, "corners")
		x, y := rapid.Float64Range(r.X0, r.X1).Draw(t, "at x"), rapid.Float64Range(r.Y0, r.Y1).Draw(t, "at y")
		sum := 0.0
		for _, q := range []drawing.Box{{r.X0, r.Y0, x, y}, {x, r.Y0, r.X1, y}, {r.X0, y, x, r.Y1}, {x, y, r.X1, r.Y1}} {
			sum += area(drawing.ClipRing(q, ring))
		}
		if want := area(drawing.ClipRing(r, ring)); math.Abs(sum-want) > 1e-6 {
			t.Fatalf("quarters have %v, the whole %v", sum, want)
		}
	})
}

// On a display a hair covers whole pixels at every scale, wherever it is asked for;
// on paper it is half a point wide and where it was asked for.
func TestHairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scale := rapid.Float64Range(0.25, 16).Draw(t, "scale")
		v := rapid.Float64Range(0, 1000).Draw(t, "v")
		var r recorder
		b := drawing.OnPixels(&r, scale)
		b.Vertical(ink, v, 0, 10)
		b.Horizontal(ink, v, 0, 10)
		x0, x1 := r.parts[0].Ring[0].X, r.parts[0].Ring[2].X
		y0, y1 := r.parts[1].Ring[0].Y, r.parts[1].Ring[2].Y
		for _, e := range []float64{x0, x1, y0, y1} {
			if e != math.Round(e) {
				t.Fatalf("edge of a hair at %v", e)
			}
		}
		if x1-x0 < 1 || x1-x0 != b.Hair() || math.Abs((x0+x1)/2-v) > 0.5+1e-9 {
			t.Fatalf("from %v to %v at %v", x0, x1, v)
		}
		if b.Text(ink, drawing.Label{Y: v}); r.parts[2].Label.Y != math.Round(v) {
			t.Fatalf("text stands at %v", r.parts[2].Label.Y)
		}

		var page recorder
		b = drawing.OnPaper(&page)
		b.Vertical(ink, v, 0, 10)
		ring := page.parts[0].Ring
		if math.Abs(ring[2].X-ring[0].X-25.4/144) > 1e-9 || math.Abs((ring[0].X+ring[2].X)/2-v) > 1e-9 {
			t.Fatalf("on paper from %v to %v at %v", ring[0].X, ring[2].X, v)
		}
		if b.Text(ink, drawing.Label{Y: v}); page.parts[1].Label.Y != v {
			t.Fatalf("text on paper stands at %v", page.parts[1].Label.Y)
		}
	})
}

// Hatching stays between its edges and covers what lies between them: its length is
// the area over the distance of the lines.
func TestHatchFillsWhatItIsAskedTo(t *testing.T) {
	r := drawing.Rect(10, 20, 210, 120)
	const pitch = 4
	line := func(x float64) float64 { return 20 + (x-10)/2 } // a diagonal of r
	foot := func(float64) float64 { return 120 }
	for _, c := range []struct {
		name      string
		high, low func(float64) float64
		area      float64
	}{{"all", nil, nil, 200 * 100}, {"under a diagonal", line, foot, 200 * 100 / 2}} {
		var rec recorder
		drawing.OnPixels(&rec, 1).Hatch(ink, r, pitch, c.high, c.low)
		long := 0.0
		for _, l := range rec.parts[0].Lines {
			a, b := l[0], l[1]
			long += math.Hypot(b.X-a.X, b.Y-a.Y)
			for _, p := range l {
				if p.X < r.X0-1e-9 || p.X > r.X1+1e-9 || p.Y < r.Y0-1e-9 || p.Y > r.Y1+1e-9 || c.high != nil && p.Y < line(p.X)-2.5 {
					t.Fatalf("%s: %v is outside", c.name, p)
				}
			}
		}
		if got := long * pitch / math.Sqrt2; math.Abs(got-c.area) > 0.03*c.area {
			t.Errorf("%s: covers %v, want %v", c.name, got, c.area)
		}
	}
}

// The five symbols are of about one size, and a pattern is as long on every canvas.
func TestSymbolsAndPatterns(t *testing.T) {
	for n := range 4 {
		var r recorder
		drawing.OnPixels(&r, 1).Symbol(ink, n, 50, 50, 10)
		if a := math.Abs(area(r.parts[0].Ring)); a < 0.6*math.Pi*100 || a > 1.2*math.Pi*100 {
			t.Errorf("symbol %d has an area of %v, a disc %v", n, a, math.Pi*100)
		}
	}
	var px, mm recorder
	l := []drawing.Point{drawing.Pt(0, 0), drawing.Pt(9, 9)}
	drawing.OnPixels(&px, 2).Lines(ink, 3, drawing.DashDotted, l)
	drawing.OnPaper(drawing.Scaled(&mm, 2*72/25.4)).Lines(ink, 3, drawing.DashDotted, l)
	if diff := cmp.Diff(px.parts[0].Pen.Dash, mm.parts[0].Pen.Dash, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("144 pixels to the inch, and as many units: -pixels +paper\n%s", diff)
	}
	if len(px.parts[0].Pen.Dash) != 4 {
		t.Errorf("a pattern of %v", px.parts[0].Pen.Dash)
	}
	for _, d := range []drawing.Dash{drawing.Auto, drawing.Solid, 99} {
		var r recorder
		if drawing.OnPaper(&r).Lines(ink, 1, d, l); len(r.parts[0].Pen.Dash) != 0 {
			t.Errorf("pattern %d is broken", d)
		}
	}
}

// A scaled canvas gives every length on multiplied, whatever was drawn before, and
// every layer and ink as it is.
func TestScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.1, 20).Draw(t, "k")
		var got, want recorder
		c := drawing.Scaled(&got, k)
		mul := func(l []drawing.Point) []drawing.Point {
			out := []drawing.Point{}
			for _, p := range l {
				out = append(out, drawing.Pt(p.X*k, p.Y*k))
			}
			return out
		}
		for range rapid.IntRange(1, 5).Draw(t, "parts") {
			layer := rapid.SampledFrom([]string{"", "walls", "words"}).Draw(t, "layer")
			a, b := points(t, "a"), points(t, "b")
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				c.Fill(layer, ink, a)
				want.Fill(layer, ink, mul(a))
			case 1:
				c.Stroke(layer, drawing.Pen{Ink: ink, Width: 3, Dash: []float64{1, 2}}, [][]drawing.Point{a, b})
				want.Stroke(layer, drawing.Pen{Ink: ink, Width: 3 * k, Dash: []float64{1 * k, 2 * k}}, [][]drawing.Point{mul(a), mul(b)})
			case 2:
				c.Text(layer, ink, drawing.Label{X: 1, Y: 2, Text: "T", Size: 3, Width: 4, Anchor: drawing.End})
				want.Text(layer, ink, drawing.Label{X: k, Y: 2 * k, Text: "T", Size: 3 * k, Width: 4 * k, Anchor: drawing.End})
			}
		}
		if diff := cmp.Diff(want.parts, got.parts); diff != "" {
			t.Fatalf("-want +got\n%s", diff)
		}
	})
}

// Text is as wide as its signs, and twice as wide in type of twice the size.
func TestTypefaceMeasures(t *testing.T) {
	face := drawing.NewTypeface(nil)
	if face.Family() != "Go" {
		t.Errorf("family %q", face.Family())
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.String().Draw(t, "a"), rapid.String().Draw(t, "b")
		whole, parts := face.Width(a+b, 10), face.Width(a, 10)+face.Width(b, 10)
		if math.Abs(whole-parts) > 1e-9*whole || math.Abs(face.Width(a, 20)-2*face.Width(a, 10)) > 1e-9*whole {
			t.Fatalf("%v, %v, twice as large %v", whole, parts, face.Width(a, 20))
		}
	})
	// What no font has, such as signs for private use, is drawn as the first one's
	// sign for that.
	if font, width := face.Advance('\ue000'); font != 0 || !(width > 0) {
		t.Errorf("a sign that no font has: font %d, %v wide", font, width)
	}
}

func TestBoxMeet(t *testing.T) {
	a := drawing.Rect(0, 0, 10, 10)
	if m, ok := a.Meet(drawing.Rect(5, -5, 20, 5)); !ok || m != drawing.Rect(5, 0, 10, 5) || m.Dx() != 5 || m.Dy() != 5 {
		t.Errorf("got %v, %v", m, ok)
	}
	if m, ok := a.Meet(drawing.Rect(10, 0, 20, 5)); ok {
		t.Errorf("boxes side by side meet in %v", m)
	}
}
