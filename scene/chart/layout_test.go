// SPDX-License-Identifier: MIT

package chart

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/scene/drawing"
)

// written is where a text of a drawing stands.
type written struct {
	drawing.Box
	text string
}

// all returns every text of d with a box somewhat smaller than its type.
func (d *Layout) all() []written {
	var out []written
	put := func(x, y, width, size float64, text string) {
		out = append(out, written{drawing.Rect(x, y-0.74*size, x+width, y+0.1*size), text})
	}
	for _, t := range d.texts {
		put(t.X, t.Y, t.Width, t.Size, t.Text)
	}
	for _, l := range d.topLabels {
		put(l.x, d.topLabelBaseline(l.row), l.width, d.textSize(), l.text)
	}
	for _, e := range d.legend {
		x := e.x
		if e.series >= 0 || e.band >= 0 {
			x += d.legendGap()
		}
		put(x, e.y+baseline*d.k, e.width, d.textSize(), e.text)
	}
	return out
}

// complaint returns what is wrong with the places of texts; empty for nothing.
func (d *Layout) complaint() string {
	if d.tooSmall {
		return ""
	}
	w, h := float64(d.paper.W), float64(d.paper.H)
	all := d.all()
	for i, t := range all {
		if t.X0 < -0.5 || t.Y0 < -0.5 || t.X1 > w+0.5 || t.Y1 > h+0.5 {
			return fmt.Sprintf("%q is cut off: %.1f", t.text, t.Box)
		}
		if m, over := t.Meet(d.field); over && m.Dx() > 0.5 && m.Dy() > 0.5 {
			return fmt.Sprintf("%q stands in the field: %.1f in %.1f", t.text, t.Box, d.field)
		}
		for _, u := range all[:i] {
			if m, over := t.Meet(u.Box); over && m.Dx() > 0.5 && m.Dy() > 0.5 {
				return fmt.Sprintf("%q and %q overlap: %.1f, %.1f", t.text, u.text, t.Box, u.Box)
			}
		}
	}
	if f := d.field; f.X0 < 0 || f.Y0 < 0 || f.X1 > w || f.Y1 > h || f.Dx() <= 0 || f.Dy() <= 0 {
		return fmt.Sprintf("the field %.1f is not on the paper", f)
	}
	return ""
}

// Nothing is cut off and no text stands on another or on the lines, from 480x180
// to 1600x900 and at every scale of displays.
func TestTextsKeepApart(t *testing.T) {
	for name, c := range gallery() {
		for _, k := range []float64{1, 1.25, 1.5, 2, 3} {
			for _, size := range [][2]float64{{480, 180}, {500, 400}, {640, 210}, {700, 330}, {950, 184}, {950, 210}, {1280, 420}, {1600, 900}} {
				d := c.Layout(Paper{W: int(size[0] * k), H: int(size[1] * k), Scale: k, Style: Dark()})
				if d.tooSmall {
					t.Errorf("%s at %v: no field", name, size)
				}
				if got := d.complaint(); got != "" {
					t.Errorf("%s at %v, scale %v: %s", name, size, k, got)
				}
				if f := d.field; f.Dy() < 0.2*float64(d.paper.H) || f.Dx() < 0.5*float64(d.paper.W) {
					t.Errorf("%s at %v, scale %v: the field is only %.0f x %.0f", name, size, k, f.Dx(), f.Dy())
				}
			}
		}
	}
}

// value draws numbers as bad as a model may give.
func value() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-100, 100),
		rapid.Float64(),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, -1e-300, 1e12, -1e12, 1e300,
			math.MaxFloat64, 20, 20000, 1e9 + 1e-7, 5e-324}),
	)
}

func values() *rapid.Generator[[]float64] { return rapid.SliceOfN(value(), 0, 12) }

func word() *rapid.Generator[string] {
	return rapid.OneOf(rapid.Just(""), rapid.StringN(0, 12, 60), rapid.SampledFrom([]string{
		"row 2 seat 3", "a & b < c", "tolerance ±3 dB", "a name that is far too long to be written out in full beside any chart"}))
}

func anyChart(t *rapid.T) *Chart {
	c := &Chart{Title: word().Draw(t, "title"), Note: word().Draw(t, "note")}
	for _, ax := range []*Axis{&c.X, &c.Y} {
		*ax = Axis{Label: word().Draw(t, "label"), Unit: word().Draw(t, "unit"), Kind: AxisKind(rapid.IntRange(0, 6).Draw(t, "kind")),
			Min: value().Draw(t, "min"), Max: value().Draw(t, "max"), Categories: rapid.SliceOfN(word(), 0, 30).Draw(t, "categories")}
		if rapid.Bool().Draw(t, "auto") {
			ax.Min, ax.Max = 0, 0
		}
	}
	for range rapid.IntRange(0, 12).Draw(t, "series") {
		c.Series = append(c.Series, Series{Name: word().Draw(t, "name"), Kind: Kind(rapid.IntRange(0, 7).Draw(t, "kind")),
			X: values().Draw(t, "x"), Y: values().Draw(t, "y"), Low: values().Draw(t, "low"), Ink: rapid.IntRange(-3, 20).Draw(t, "ink"),
			Dash: Dash(rapid.IntRange(0, 6).Draw(t, "dash")), Heavy: rapid.Bool().Draw(t, "heavy"), Quiet: rapid.Bool().Draw(t, "quiet"),
			Group: rapid.SampledFrom([]string{"", "seats", "subs"}).Draw(t, "group")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "bands") {
		c.Bands = append(c.Bands, Band{Label: word().Draw(t, "band"), Tone: Tone(rapid.IntRange(0, 2).Draw(t, "tone")),
			X: values().Draw(t, "x"), Low: values().Draw(t, "low"), High: values().Draw(t, "high")})
	}
	for range rapid.IntRange(0, 5).Draw(t, "marks") {
		c.Marks = append(c.Marks, Mark{value().Draw(t, "mark"), word().Draw(t, "says")})
	}
	for range rapid.IntRange(0, 2).Draw(t, "spans") {
		c.Outside = append(c.Outside, Span{value().Draw(t, "from"), value().Draw(t, "to"), word().Draw(t, "says")})
	}
	return c
}

// Whatever is given, a chart is drawn: no panic, texts apart, what is read back
// is what was put there.
func TestAnyChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t)
		p := Paper{W: rapid.IntRange(-5, 1000).Draw(t, "w"), H: rapid.IntRange(-5, 600).Draw(t, "h"),
			Scale: rapid.SampledFrom([]float64{1, 1.5, 2, 0, -1, math.NaN()}).Draw(t, "scale"), Style: Dark()}
		d := c.Layout(p)
		if got := d.complaint(); got != "" {
			t.Fatal(got)
		}
		if img := d.Image(); img.Rect.Dx() != max(p.W, 1) || img.Rect.Dy() != max(p.H, 1) {
			t.Fatalf("asked for %d x %d, got %v", p.W, p.H, img.Rect)
		}
		if err := wellFormed(d); err != nil {
			t.Fatal(err)
		}
		if err := c.CSV(discard{}); err != nil {
			t.Fatal(err)
		}
		if !(d.x.max > d.x.min) || !(d.y.max > d.y.min) {
			t.Fatalf("axes from %v to %v, %v to %v", d.x.min, d.x.max, d.y.min, d.y.max)
		}
		if d.tooSmall {
			return
		}
		f := d.Field()
		px := rapid.Float64Range(float64(f.Min.X), float64(f.Max.X)).Draw(t, "px")
		py := rapid.Float64Range(float64(f.Min.Y), float64(f.Max.Y)).Draw(t, "py")
		x, y, ok := d.At(px, py)
		qx, qy, in := d.Pixel(x, y)
		if !ok || !in || math.Abs(px-qx) > 0.01 || math.Abs(py-qy) > 0.01 {
			t.Fatalf("pixel %v %v is %v %v, which is pixel %v %v", px, py, x, y, qx, qy)
		}
		if h, ok := d.Nearest(px, py, 1e9); ok {
			if d.Say(h) == "" {
				t.Fatal("nothing to say")
			}
			if h.PX < d.field.X0-1 || h.PX > d.field.X1+1 {
				t.Fatalf("%v is outside the field", h)
			}
		}
		d.SayAt(px, py)
	})
}

// FuzzAxis holds that no ends and no data make an axis panic or run backwards.
func FuzzAxis(f *testing.F) {
	f.Add(uint8(1), 20.0, 20000.0, 0.0, 0.0)
	f.Add(uint8(2), -300.0, 5.0, math.NaN(), 10.0)
	f.Add(uint8(0), 1e-300, 1e300, -1.0, 1.0)
	f.Add(uint8(3), 0.0, 0.03, 5.0, 5.0)
	f.Fuzz(func(t *testing.T, kind uint8, a, b, lo, hi float64) {
		c := &Chart{X: Axis{Kind: AxisKind(kind % 6), Min: lo, Max: hi}, Y: Axis{Kind: AxisKind(kind / 6), Min: hi, Max: lo},
			Series: []Series{{X: []float64{a, b}, Y: []float64{b, a}}}}
		d := c.Layout(Paper{W: 480, H: 180, Style: Dark()})
		if got := d.complaint(); got != "" {
			t.Error(got)
		}
		for _, s := range []*scale{&d.x, &d.y} {
			if !(s.max > s.min) {
				t.Errorf("from %v to %v", s.min, s.max)
			}
			if n := len(s.ticks); n > 2000 {
				t.Errorf("%d ticks", n)
			}
			for _, k := range s.ticks {
				if math.IsNaN(k.value) || math.IsInf(k.value, 0) {
					t.Errorf("tick at %v", k.value)
				}
			}
		}
	})
}
