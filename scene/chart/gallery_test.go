// SPDX-License-Identifier: MIT

package chart

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// response is invented: room modes over a sub, by seat.
func response(seat int) (f, db []float64) {
	r := rand.New(rand.NewPCG(7, uint64(seat)))
	type mode struct{ f, q, g float64 }
	var modes []mode
	for _, at := range []float64{24, 33, 41, 48, 57, 66, 74, 85, 93, 110, 128, 141, 160, 177} {
		modes = append(modes, mode{at, 12 + 6*r.Float64(), 10*r.Float64() - 5.5})
	}
	tilt := r.Float64()*4 - 2
	const n = 200
	for i := range n {
		x := 20 * math.Pow(10, float64(i)/(n-1))
		y := 76 + tilt - 10*math.Log10(1+math.Pow(x/110, 8)) - 10*math.Log10(1+math.Pow(19/x, 8))
		for _, m := range modes {
			u := m.q * math.Log2(x/m.f)
			y += m.g / (1 + u*u)
		}
		f, db = append(f, x), append(db, y)
	}
	return f, db
}

// seats returns n seats, quiet, with their mean and what lies between them.
func seats(n int) []Series {
	var all []Series
	var mean, low, high []float64
	var f []float64
	for i := range n {
		x, y := response(i)
		f = x
		all = append(all, Series{Name: fmt.Sprintf("row %d seat %d", 1+i/5, 1+i%5), X: x, Y: y, Quiet: true, Group: "seats"})
		for k, v := range y {
			if i == 0 {
				mean, low, high = append(mean, 0), append(low, v), append(high, v)
			}
			mean[k] += v / float64(n)
			low[k], high[k] = min(low[k], v), max(high[k], v)
		}
	}
	return append(all,
		Series{Name: "all seats, lowest to highest", Kind: Area, X: f, Y: high, Low: low, Ink: 1},
		Series{Name: "mean of 14 seats", X: f, Y: mean, Heavy: true, Ink: 1})
}

func bassChart() *Chart {
	s := seats(14)
	x, y := response(7)
	s = append(s, Series{Name: "row 2 seat 3", X: x, Y: y, Ink: 2, Dash: Dashed})
	return &Chart{
		Title:  "Bass at the seats",
		X:      Axis{Label: "Frequency", Kind: Frequency, Min: 20, Max: 200},
		Y:      Axis{Label: "Level", Unit: "dB", Kind: Decibel},
		Series: s,
		Bands: []Band{{Label: "target ±3 dB", X: []float64{20, 80, 120}, Low: []float64{76, 73, 69},
			High: []float64{82, 79, 75}}},
		Marks:   []Mark{{80, "crossover 80 Hz"}, {142, "Schroeder 142 Hz"}},
		Outside: []Span{{142, math.Inf(1), "outside the model's validity"}},
		Note:    "Modes of a rigid rectangular room, 6.4 × 4.8 × 2.9 m, absorption by octave. Levels are relative.",
	}
}

func reverbChart() *Chart {
	octaves := []string{"63", "125", "250", "500", "1k", "2k", "4k", "8k"}
	at := []float64{0, 1, 2, 3, 4, 5, 6, 7}
	return &Chart{
		Title: "Reverberation time",
		X:     Axis{Label: "Octave band", Unit: "Hz", Kind: Category, Categories: octaves},
		Y:     Axis{Label: "Reverberation time T", Kind: Time, Min: 0, Max: 0.8},
		Series: []Series{
			{Name: "with the seats empty", Kind: Bars, X: at, Y: []float64{0.71, 0.52, 0.41, 0.33, 0.29, 0.27, 0.25, 0.21}},
			{Name: "with 14 people", Kind: Bars, X: at, Y: []float64{0.66, 0.45, 0.34, 0.27, 0.24, 0.23, 0.22, 0.19}},
		},
		Bands: []Band{{Label: "target", X: []float64{-0.5, 1, 6, 7.5}, Low: []float64{0.2, 0.2, 0.2, 0.15}, High: []float64{0.6, 0.35, 0.35, 0.35}}},
		Note:  "After Sabine and Eyring; the tolerance is common practice, without a source.",
	}
}

func stepsChart() *Chart {
	f := []float64{63, 125, 250, 500, 1000, 2000, 4000, 8000}
	return &Chart{
		Title: "Reverberation time",
		X:     Axis{Label: "Frequency", Kind: Frequency, Min: 44, Max: 11300},
		Y:     Axis{Label: "Reverberation time T", Kind: Time, Min: 0, Max: math.NaN()},
		Series: []Series{
			{Name: "as built", Kind: Steps, X: f, Y: []float64{0.71, 0.52, 0.41, 0.33, 0.29, 0.27, 0.25, 0.21}, Heavy: true},
			{Name: "with 2 m² more absorber", Kind: Steps, X: f, Y: []float64{0.66, 0.45, 0.34, 0.27, 0.24, 0.23, 0.22, 0.19}},
		},
		Bands:   []Band{{Label: "target", X: []float64{63, 250, 4000, 8000}, Low: []float64{0.2, 0.2, 0.2, 0.15}, High: []float64{0.5, 0.35, 0.35, 0.35}}},
		Outside: []Span{{math.Inf(-1), 142, "below Schroeder"}},
	}
}

func arrivalsChart() *Chart {
	return &Chart{
		Title: "Arrivals at row 2 seat 3 from the left front",
		X:     Axis{Label: "After the direct sound", Kind: Time, Min: 0, Max: 0.030},
		Y:     Axis{Label: "Level re direct", Unit: "dB", Kind: Decibel, Min: -40, Max: 0},
		Series: []Series{
			{Name: "direct", Kind: Stems, X: []float64{0}, Y: []float64{0}, Heavy: true},
			{Name: "first reflections", Kind: Stems, X: []float64{0.0021, 0.0049, 0.0066, 0.0093, 0.0128, 0.0174}, Y: []float64{-8.1, -12.4, -6.2, -15, -17.5, -13},
				Names: []string{"floor", "left wall", "ceiling", "right wall", "front wall", "rear wall"}},
			{Name: "second reflections", Kind: Stems, X: []float64{0.0077, 0.0113, 0.0141, 0.0155, 0.0189, 0.0203, 0.0221, 0.0224, 0.0256, 0.0281}, Y: []float64{-18, -16, -22, -19, -24, -21, -26, -20, -28, -31}},
		},
		Bands: []Band{{Label: "above −10 dB within 15 ms", Tone: Unwanted, X: []float64{0, 0.015}, Low: []float64{-10, -10}, High: []float64{math.Inf(1), math.Inf(1)}}},
		Marks: []Mark{{0.015, "15 ms"}},
	}
}

func spreadChart() *Chart {
	names := []string{"Left", "Right", "Centre", "Left side", "Right side", "Left rear", "Right rear", "Top front left", "Top front right", "Top rear left", "Top rear right", "Subwoofers"}
	at := make([]float64, len(names))
	lo, hi, mid := make([]float64, len(names)), make([]float64, len(names)), make([]float64, len(names))
	for i := range names {
		at[i] = float64(i)
		r := rand.New(rand.NewPCG(3, uint64(i)))
		mid[i] = r.Float64()*2 - 1
		lo[i], hi[i] = mid[i]-1-2.4*r.Float64(), mid[i]+1+2*r.Float64()
	}
	return &Chart{
		Title: "Level over the seats, by loudspeaker",
		X:     Axis{Kind: Category, Categories: names},
		Y:     Axis{Label: "Level re main seat", Unit: "dB", Kind: Decibel, Min: -6, Max: 6},
		Series: []Series{
			{Name: "quietest to loudest seat", Kind: Bars, X: at, Y: hi, Low: lo},
			{Name: "mean", Kind: Points, X: at, Y: mid, Heavy: true},
		},
		Bands: []Band{Across(-3, 3, "tolerance ±3 dB"), Across(0, 0, "")},
	}
}

func manyChart() *Chart {
	s := make([]Series, 0, 24)
	for i := range 24 {
		x, y := response(i)
		for k := range y {
			y[k] += float64(i%6) * 5
		}
		s = append(s, Series{Name: fmt.Sprintf("row %d seat %d", 1+i/6, 1+i%6), X: x, Y: y, Group: "seats"})
	}
	return &Chart{
		X:      Axis{Label: "Frequency", Kind: Frequency, Min: 20, Max: 200},
		Y:      Axis{Label: "Level", Unit: "dB", Kind: Decibel},
		Series: s,
	}
}

func gapsChart() *Chart {
	nan := math.NaN()
	return &Chart{
		Title: "Gaps, a point alone, what is constant, a name that is far too long to be written out in full",
		X:     Axis{Label: "Time", Kind: Time},
		Y:     Axis{Label: "Pressure", Unit: "Pa"},
		Series: []Series{
			{Name: "gaps", X: []float64{0, 1, 2, 3, 4, 5}, Y: []float64{1, 2, nan, 2, math.Inf(1), 1.5}},
			{Name: "constant", X: []float64{0, 5}, Y: []float64{1.2, 1.2}},
			{Name: "points", Kind: Points, X: []float64{1, 2, 3}, Y: []float64{1.7, 1.3, 1.6}},
			{Name: "more points", Kind: Points, X: []float64{1, 2, 3}, Y: []float64{1.1, 1.8, 1.4}},
			{Name: "another series whose name is far too long to be written out in full beside a chart"},
			{Name: "and one more", X: []float64{3}, Y: []float64{1.1}},
		},
		Marks: []Mark{{1, "one"}, {1.1, "next to it"}, {1.2, "and a third"}, {1.3, "the fourth"}, {4.98, "at the end"}},
	}
}

func gallery() map[string]*Chart {
	return map[string]*Chart{
		"bass": bassChart(), "reverb": reverbChart(), "steps": stepsChart(), "arrivals": arrivalsChart(),
		"spread": spreadChart(), "many": manyChart(), "gaps": gapsChart(), "empty": {},
	}
}

// The gallery is for eyes: EARLINE_PICTURES=DIR writes it there. Without, it is
// drawn all the same.
func TestGallery(t *testing.T) {
	dir := os.Getenv("EARLINE_PICTURES")
	for name, c := range gallery() {
		for _, p := range []struct {
			tag  string
			w, h int
			k    float64
			s    Style
		}{
			{"drawer", 950, 210, 1, Dark()}, {"small", 480, 180, 1, Dark()}, {"large", 1600, 900, 1, Dark()},
			{"fine", 1900, 420, 2, Dark()}, {"print", 950, 420, 1, Light()},
		} {
			d := c.Layout(Paper{p.w, p.h, p.k, p.s})
			var png, svg bytes.Buffer
			if err := d.PNG(&png); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if err := d.SVG(&svg); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if dir == "" {
				continue
			}
			base := filepath.Join(dir, name+"-"+p.tag)
			if err := os.WriteFile(base+".png", png.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(base+".svg", svg.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func BenchmarkImage(b *testing.B) {
	for _, c := range []struct {
		name  string
		chart *Chart
		paper Paper
	}{
		{"lines=24,950x200", manyChart(), Paper{950, 200, 1, Dark()}},
		{"bass,950x200", bassChart(), Paper{950, 200, 1, Dark()}},
		{"bass,1900x400,scale=2", bassChart(), Paper{1900, 400, 2, Dark()}},
		{"bass,1600x900", bassChart(), Paper{1600, 900, 1, Dark()}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				img := c.chart.Layout(c.paper).Image()
				if img.Rect.Dx() != c.paper.W {
					b.Fatal("no picture")
				}
			}
		})
	}
}

func BenchmarkLay(b *testing.B) {
	c, p := bassChart(), Paper{950, 200, 1, Dark()}
	b.ReportAllocs()
	for b.Loop() {
		if c.Layout(p).Field().Empty() {
			b.Fatal("no field")
		}
	}
}

func BenchmarkNearest(b *testing.B) {
	d := manyChart().Layout(Paper{950, 200, 1, Dark()})
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := d.Nearest(400, 100, 200); !ok {
			b.Fatal("nothing near")
		}
	}
}
