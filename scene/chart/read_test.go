// SPDX-License-Identifier: MIT

package chart

import (
	"strings"
	"testing"

	"earline/scene/drawing"
)

func TestNearestSaysWhatIsThere(t *testing.T) {
	paper := Paper{W: 950, H: 210, Style: Dark()}
	for _, c := range []struct {
		name   string
		chart  *Chart
		series string
		index  int
		want   string
	}{
		{"a line", bassChart(), "row 2 seat 3", 100, "63.6 Hz   74.8 dB   row 2 seat 3"},
		{"a stick", arrivalsChart(), "first reflections", 2, "6.6 ms   −6.2 dB   first reflections   ceiling"},
		{"a bar", reverbChart(), "with 14 people", 3, "500 Hz   0.27 s   with 14 people"},
	} {
		d := c.chart.Layout(paper)
		at := -1
		for i, s := range c.chart.Series {
			if s.Name == c.series {
				at = i
			}
		}
		s := c.chart.Series[at]
		px, py, ok := d.Pixel(s.X[c.index], s.Y[c.index])
		if !ok {
			t.Fatalf("%s: not in the field", c.name)
		}
		if s.Kind == Bars { // beside its neighbour
			r := d.barBox(&s, d.styles[at].bar, c.index, drawing.Pt(px, py))
			px, py = (r.X0+r.X1)/2, (r.Y0+r.Y1)/2
		}
		h, ok := d.Nearest(px, py, 30)
		if !ok || h.Series != at || h.Index != c.index {
			t.Errorf("%s: got %+v, want series %d point %d", c.name, h, at, c.index)
			continue
		}
		if got := d.Say(h); got != c.want && c.name != "a line" {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		} else if c.name == "a line" && !(strings.HasSuffix(got, "row 2 seat 3") && strings.HasPrefix(got, "63.6 Hz   ")) {
			t.Errorf("%s: got %q", c.name, got)
		}
	}
}

func TestNothingIsNearOutsideTheField(t *testing.T) {
	d := bassChart().Layout(Paper{W: 950, H: 210, Style: Dark()})
	if _, _, ok := d.At(2, 2); ok {
		t.Error("the corner of the paper has values")
	}
	if got := d.SayAt(2, 2); got != "" {
		t.Errorf("the corner of the paper says %q", got)
	}
	if _, ok := d.Nearest(940, 5, 30); ok {
		t.Error("a point is near the legend")
	}
	if _, ok := (&Chart{}).Layout(Paper{W: 950, H: 210}).Nearest(400, 100, 1e9); ok {
		t.Error("an empty chart has a point")
	}
}

// The edge of the span of all seats is a seat's own line: that one is named.
func TestSeatIsNamedAtTheEdgeOfAll(t *testing.T) {
	c := bassChart()
	d := c.Layout(Paper{W: 950, H: 420, Style: Dark()})
	var area *Series
	for i := range c.Series {
		if c.Series[i].Kind == Area {
			area = &c.Series[i]
		}
	}
	for k := 5; k < len(area.X); k += 20 {
		px, py, ok := d.Pixel(area.X[k], area.Y[k])
		if !ok {
			continue
		}
		h, ok := d.Nearest(px, py, 10)
		if got := c.Series[h.Series]; !ok || got.Kind != Line || h.Index != k || got.Y[k] != area.Y[k] {
			t.Errorf("at %.1f Hz: got %q", area.X[k], d.Say(h))
		}
	}
}

// One line stands out, the others and the picture it was drawn on stay as they
// were.
func TestMarkedLineStandsOut(t *testing.T) {
	d := bassChart().Layout(Paper{W: 950, H: 210, Style: Dark()})
	img := d.Image()
	before := append([]uint8{}, img.Pix...)
	m := d.Marked(img, 3)
	if string(before) != string(img.Pix) {
		t.Error("the picture itself was changed")
	}
	px, py, _ := d.Pixel(d.chart.Series[3].X[100], d.chart.Series[3].Y[100])
	if got := m.RGBAAt(int(px), int(py)); got.R < 0xc0 {
		t.Errorf("the marked line is %v", got)
	}
	for _, none := range []int{-1, 99} {
		if string(d.Marked(img, none).Pix) != string(before) {
			t.Errorf("series %d was marked", none)
		}
	}
}
