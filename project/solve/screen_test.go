// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
)

func TestPictureWidth(t *testing.T) {
	// Distances for a horizontal angle, D = W/(2 tan(a/2)), recomputed; 30
	// degrees as printed for 16:9 (1.6264 diagonals) in
	// https://en.wikipedia.org/wiki/Optimum_HDTV_viewing_distance
	for _, c := range []struct{ angle, perWidth float64 }{{26, 2.16574}, {30, 1.86603}, {36, 1.53884}, {40, 1.37374}, {45, 1.20711}, {50, 1.07225}, {90, 0.5}} {
		if got := PictureWidth(c.angle*unit.Degree, c.perWidth, 0); math.Abs(got-1) > 1e-5 {
			t.Errorf("%g° at %g widths: width %.6f", c.angle, c.perWidth, got)
		}
	}
	if diagonal := math.Hypot(16, 9) / 16; math.Abs(PictureWidth(math.Pi/6, 1.6264*diagonal, 0)-1) > 1e-4 {
		t.Error("30° at 1.6264 diagonals of 16:9")
	}
	for _, bad := range [][3]float64{{0, 1, 0}, {math.Pi, 1, 0}, {1, 0, 0}, {1, -2, 0}} {
		if w := PictureWidth(bad[0], bad[1], bad[2]); !math.IsNaN(w) {
			t.Errorf("%v: %g", bad, w)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0.05, 3).Draw(t, "angle")
		d := rapid.Float64Range(0.3, 20).Draw(t, "distance")
		off := rapid.Float64Range(-5, 5).Draw(t, "off")
		w := PictureWidth(angle, d, off)
		if back := PictureAngle(w, d, off); math.Abs(back-angle) > 1e-9 {
			t.Fatalf("width %g is seen under %g", w, back)
		}
	})
}

// The picture proposed fits the room, all rows see it, and 2 mm more in what
// limits it does not.
func TestScreen(t *testing.T) {
	p, err := Screen(context.Background(), hall(2, 4, 2), ScreenOptions{Angle: 50})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Solved() || p.After.PictureBlocked > 0 || p.After.Findings > 0 {
		t.Fatalf("%+v %v", p.After, p.Proof)
	}
	for _, s := range p.Sizes {
		if !s.OK || s.Angle > 50 || s.Limit == byAngle && s.Angle < 49.9 {
			t.Errorf("%+v", s)
		}
	}
	low := hall(2, 4, 2)
	low.Room.Ceiling.Height = 2.4
	p, err = Screen(context.Background(), low, ScreenOptions{Angle: 70, Aspect: 1.78})
	if err != nil {
		t.Fatal(err)
	}
	if p.Solved() || p.Proof[0].Constraint != byCeiling || p.After.PictureBlocked > 0 || p.After.Findings > 0 {
		t.Fatalf("%+v %+v", p.After, p.Proof)
	}
	wider := p.Design.Clone()
	wider.Screen.Width += 0.002
	if _, ok, _ := (&viewers{ctx: context.Background()}).lowestBottom(seen(wider, fromFront(wider)), 0, mostBottom(wider)); ok {
		t.Error("2 mm wider fits too")
	}
	narrow := hall(1, 1, 0)
	narrow.Room.Footprint = []project.Corner{{X: 0, Y: 1.6}, {X: 9, Y: 1.6}, {X: 9, Y: 4.8}, {X: 0, Y: 4.8}}
	p, err = Screen(context.Background(), narrow, ScreenOptions{Angle: 80})
	if err != nil {
		t.Fatal(err)
	}
	if p.Proof[0].Constraint != byWalls || math.Abs(float64(p.Design.Screen.Width+2*p.Design.Screen.Border)-3.2) > 0.0011 {
		t.Errorf("%v wide; %+v", p.Design.Screen.Width, p.Proof)
	}
	behind := hall(1, 1, 0)
	behind.Seating.Rows[0].Distance = unit.Length(0.2)
	if p, err = Screen(context.Background(), behind, ScreenOptions{}); err != nil || p.Solved() {
		t.Errorf("a seat behind the picture: %v", err)
	}
}
