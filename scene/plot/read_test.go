// SPDX-License-Identifier: MIT

package plot

import (
	"strings"
	"testing"
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
		d := c.chart.Lay(paper)
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
			r := d.bar(&s, d.looks[at].bar, c.index, point{px, py})
			px, py = (r.x0+r.x1)/2, (r.y0+r.y1)/2
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
	d := bassChart().Lay(Paper{W: 950, H: 210, Style: Dark()})
	if _, _, ok := d.At(2, 2); ok {
		t.Error("the corner of the paper has values")
	}
	if got := d.SayAt(2, 2); got != "" {
		t.Errorf("the corner of the paper says %q", got)
	}
	if _, ok := d.Nearest(940, 5, 30); ok {
		t.Error("a point is near the legend")
	}
	if _, ok := (&Chart{}).Lay(Paper{W: 950, H: 210}).Nearest(400, 100, 1e9); ok {
		t.Error("an empty chart has a point")
	}
}
