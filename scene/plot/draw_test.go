// SPDX-License-Identifier: MIT

package plot

import (
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// ink returns how much of a black picture is white, in pixels.
func (r *raster) white() float64 {
	sum := 0.0
	for i := 0; i < len(r.img.Pix); i += 4 {
		sum += float64(r.img.Pix[i]) / 255
	}
	return sum
}

var white = color.NRGBA{255, 255, 255, 255}

// A straight line covers its length times its width, wherever and however it
// lies; a pattern covers its strokes.
func TestStrokeCoversLengthTimesWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) point {
			return point{rapid.Float64Range(20, 180).Draw(t, name), rapid.Float64Range(20, 180).Draw(t, name)}
		}
		a, b := at("a"), at("b")
		wide := rapid.Float64Range(0.8, 6).Draw(t, "wide")
		r := newRaster(200, 200, newTypeface(&Style{}, 1))
		r.stroke(white, wide, nil, [][]point{{a, b}})
		want := math.Hypot(b.x-a.x, b.y-a.y) * wide
		const tol = 0.02 // 8-bit cover of the pixels at the edges
		if got := r.white(); math.Abs(got-want) > tol*want+1 {
			t.Fatalf("covers %v px, want %v", got, want)
		}
	})
	r := newRaster(200, 20, newTypeface(&Style{}, 1))
	r.stroke(white, 2, []float64{7, 3}, [][]point{{{10, 10}, {110, 10}}})
	if got, want := r.white(), 10*7*2.0; math.Abs(got-want) > 0.5 {
		t.Errorf("dashes cover %v px, want %v", got, want)
	}
}

// A corner is whole: a square drawn round is as large as its outline, less
// where the line ends.
func TestCornersAreWhole(t *testing.T) {
	r := newRaster(100, 100, newTypeface(&Style{}, 1))
	r.stroke(white, 4, nil, [][]point{{{20, 20}, {80, 20}, {80, 80}, {20, 80}, {20, 20}}})
	want := 64.0*64 - 56*56 - 2*2 // the first corner has no tip
	if got := r.white(); math.Abs(got-want) > 0.5 {
		t.Errorf("covers %v px, want %v", got, want)
	}
}

// What is clipped lies inside, and what lay inside is kept.
func TestClip(t *testing.T) {
	r := box{10, 20, 110, 70}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "n")
		var l []point
		for range n {
			l = append(l, point{rapid.Float64Range(-100, 200).Draw(t, "x"), rapid.Float64Range(-100, 200).Draw(t, "y")})
		}
		got := clip(r, l)
		long := 0.0
		for _, run := range got {
			for i, p := range run {
				if p.x < r.x0-1e-9 || p.x > r.x1+1e-9 || p.y < r.y0-1e-9 || p.y > r.y1+1e-9 {
					t.Fatalf("%v is outside", p)
				}
				if i > 0 {
					long += math.Hypot(p.x-run[i-1].x, p.y-run[i-1].y)
				}
			}
		}
		// The slow way: many small pieces, each in or out.
		want := 0.0
		const pieces = 2000
		for i := 1; i < n; i++ {
			dx, dy := l[i].x-l[i-1].x, l[i].y-l[i-1].y
			in := 0
			for k := range pieces {
				u := (float64(k) + 0.5) / pieces
				if p := at(l[i-1].x+u*dx, l[i-1].y+u*dy); p.x >= r.x0 && p.x <= r.x1 && p.y >= r.y0 && p.y <= r.y1 {
					in++
				}
			}
			want += math.Hypot(dx, dy) * float64(in) / pieces
		}
		if math.Abs(long-want) > 0.5*float64(n) {
			t.Fatalf("%v px are left, want %v", long, want)
		}
	})
	ring := clipRing(r, []point{{0, 0}, {200, 0}, {200, 200}, {0, 200}})
	area := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		area += (p.x*q.y - q.x*p.y) / 2
	}
	if want := r.dx() * r.dy(); math.Abs(math.Abs(area)-want) > 1e-9 {
		t.Errorf("a ring around has %v px inside, want %v", area, want)
	}
}

// A level line is drawn where its value stands: the darkest row of pixels.
func TestLineStandsAtItsValue(t *testing.T) {
	c := &Chart{Y: Axis{Min: 0, Max: 10}, X: Axis{Min: 0, Max: 1}, Series: []Series{{X: []float64{0, 1}, Y: []float64{3.3, 3.3}, Heavy: true}}}
	s := Light()
	s.Grid = s.Field
	d := c.Lay(Paper{W: 480, H: 180, Style: s})
	img := d.Image()
	x := (d.Field().Min.X + d.Field().Max.X) / 2
	sum, weight := 0.0, 0.0
	for y := d.Field().Min.Y + 2; y < d.Field().Max.Y-2; y++ {
		w := 255 - float64(img.RGBAAt(x, y).R)
		sum, weight = sum+w*(float64(y)+0.5), weight+w
	}
	_, want, ok := d.Pixel(0.5, 3.3)
	if got := sum / weight; !ok || math.Abs(got-want) > 0.05 {
		t.Errorf("the line stands at %v px, want %v", got, want)
	}
}

// luminance is that of WCAG 2.2 (W3C Recommendation, 2023).
func luminance(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG 2.2, success criteria 1.4.3 and 1.4.11: text has a contrast of 4.5,
// graphics that must be told apart one of 3 to what they stand on.
func TestStylesCanBeRead(t *testing.T) {
	for name, s := range map[string]Style{"dark": Dark(), "light": Light()} {
		for what, ink := range map[string]color.NRGBA{"title": s.Ink, "numbers": s.Faint, "marks": s.Mark} {
			if got := contrast(ink, s.Back); got < 4.5 {
				t.Errorf("%s: %s have a contrast of %.2f, want 4.5", name, what, got)
			}
		}
		for i, ink := range append([]color.NRGBA{s.Wanted, s.Unwanted}, s.Inks...) {
			if got := contrast(ink, s.Field); got < 3 {
				t.Errorf("%s: colour %d has a contrast of %.2f, want 3", name, i-1, got)
			}
		}
	}
}

// Lines that are not quiet differ in pattern or, where patterns come again, in
// colour; signs of points differ in shape.
func TestLinesDifferWithoutColour(t *testing.T) {
	c := &Chart{}
	for range 8 {
		c.Series = append(c.Series, Series{Kind: Line})
	}
	for range 5 {
		c.Series = append(c.Series, Series{Kind: Points})
	}
	l := c.looks()
	for i := range 8 {
		for k := range i {
			if l[i].dash == l[k].dash && (i-k < 4 || l[i].n == l[k].n) {
				t.Errorf("lines %d and %d look alike", k, i)
			}
		}
	}
	for i := 9; i < 13; i++ {
		for k := 8; k < i; k++ {
			if l[i].sign%5 == l[k].sign%5 {
				t.Errorf("points %d and %d look alike", k, i)
			}
		}
	}
}
