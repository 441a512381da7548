// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl32"
	"pgregory.net/rapid"

	"earline/geometry"
	"earline/scene"
)

// slope returns a Heat over 4 by 2 m that rises by 3 a metre of x.
func slope() *scene.Heat {
	h := &scene.Heat{X0: 1, Y0: 1, Step: 0.5, NX: 9, NY: 5, Lo: 60, Hi: 75, Contour: 1.5, Unit: "dB"}
	for range h.NY {
		for i := range h.NX {
			h.Value = append(h.Value, 60+3*float64(i)*h.Step)
			h.Z = append(h.Z, 1.1)
		}
	}
	return h
}

// A value that rises evenly has contour lines straight across, at the places
// where it has their levels, and each is labelled once.
func TestHeatContoursLieWhereTheValueIs(t *testing.T) {
	d := demo(t, "large")
	o := scene.Default()
	o.Heat = slope()
	o.Heat.Seats = []string{"72 dB"}
	_, l := more(t, d, o)
	found := false
	for _, n := range l.Lines {
		if n.Name != "heat contours" {
			continue
		}
		found = true
		for i := 0; i < len(n.Pos); i += 3 {
			x := float64(n.Pos[i+2]) // x of the room
			level := (60 + 3*(x-1)) / 1.5
			if math.Abs(level-math.Round(level)) > 1e-4 {
				t.Fatalf("a line at x = %v, where the value is %v", x, 1.5*level)
			}
			if z := n.Pos[i+1]; math.Abs(float64(z)-1.104) > 1e-5 {
				t.Fatalf("a line at height %v", z)
			}
		}
	}
	if !found {
		t.Error("no contours")
	}
	count := map[string]int{}
	for _, n := range l.Labels {
		if strings.HasSuffix(n.Text, " dB") {
			count[n.Text]++
		}
	}
	for _, text := range []string{"61.5 dB", "66 dB", "70.5 dB", "72 dB"} {
		want := 1
		if text == "72 dB" {
			want = 2 // and over the head in the first seat
		}
		if count[text] != want {
			t.Errorf("%s is written %d times, want %d", text, count[text], want)
		}
	}
}

// Where there is no value nothing is drawn, and a Heat that makes no sense
// draws nothing and does not panic.
func TestHeatWithHoles(t *testing.T) {
	d := demo(t, "small")
	o := scene.Default()
	names := func(h *scene.Heat) []string {
		o.Heat = h
		n, _ := more(t, d, o)
		return n
	}
	h := slope()
	for i := range h.Value {
		h.Value[i] = math.NaN()
	}
	if n := names(h); len(n) > 0 {
		t.Errorf("nothing known draws %v", n)
	}
	for name, h := range map[string]*scene.Heat{
		"empty": {}, "too few values": {NX: 3, NY: 3, Step: 1, Hi: 1}, "no range": func() *scene.Heat { h := slope(); h.Hi = h.Lo; return h }(),
	} {
		if n := names(h); len(n) > 0 {
			t.Errorf("%s draws %v", name, n)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		h := slope()
		for i := range h.Value {
			h.Value[i] = rapid.Float64().Draw(r, "value")
			h.Z[i] = rapid.Float64().Draw(r, "z")
		}
		h.Contour = rapid.Float64().Draw(r, "contour")
		scene.Build(d, nil, scene.Options{Heat: h, Seat: scene.None, Speaker: scene.None, FromSeat: scene.None})
	})
}

// The colours of a Heat grow lighter all the way: its order is seen by people
// who confuse hues, and in print.
func TestHeatColoursGrowLighter(t *testing.T) {
	light := func(c scene.RGB) float64 { // Rec. ITU-R BT.709 luma of the display values
		return 0.2126*float64(c.R) + 0.7152*float64(c.G) + 0.0722*float64(c.B)
	}
	last := -1.0
	for i := range 101 {
		l := light(scene.HeatColour(float64(i) / 100))
		if l <= last {
			t.Fatalf("at %d %% the lightness is %v after %v", i, l, last)
		}
		last = l
	}
	if scene.HeatColour(-1) != scene.HeatColour(0) || scene.HeatColour(2) != scene.HeatColour(1) || scene.HeatColour(math.NaN()) != scene.HeatColour(0) {
		t.Error("beyond its ends")
	}
}

// Paths of sound and patches are drawn where they are, and not in the client's
// view.
func TestTracesAndPatches(t *testing.T) {
	d := demo(t, "large")
	o := scene.Default()
	v := geometry.V
	o.Traces = []scene.Trace{{Points: []geometry.Vec{v(1, 1, 1), v(2, 0, 1), v(3, 1, 1)}, Text: "3.2 ms", Strong: true}, {Points: []geometry.Vec{v(1, 1, 1)}}, {}}
	o.Patches = []scene.Patch{{Corners: [4]geometry.Vec{v(2, 0, 1), v(3, 0, 1), v(3, 0, 2), v(2, 0, 2)}, Text: "absorb"}}
	names, l := more(t, d, o)
	slices.Sort(names)
	if want := []string{"patches", "trace", "traces"}; !slices.Equal(names, want) {
		t.Errorf("drawn: %v, want %v", names, want)
	}
	texts := map[string]mgl32.Vec3{}
	for _, n := range l.Labels {
		texts[n.Text] = n.At
	}
	if texts["3.2 ms"] != scene.World(v(2, 0, 1)) || texts["absorb"] != scene.World(v(2.5, 0, 1.5)) {
		t.Errorf("labels at %v and %v", texts["3.2 ms"], texts["absorb"])
	}
	o.Client = true
	for _, n := range scene.Build(d, nil, o).Meshes {
		if n.Name == "trace" || n.Name == "patches" {
			t.Errorf("the client sees %s", n.Name)
		}
	}
}
