// SPDX-License-Identifier: MIT

package inspector

import (
	"math"
	"testing"

	"earline/project"
)

// Two planes that are added make a gable, each can be typed over and removed, and what
// makes no ceiling is refused in words.
func TestCeilingPlanesComeAndGo(t *testing.T) {
	b := newBench(t, "small")
	now := func() project.Ceiling { return b.Design().Room.Ceiling }
	lo, hi := b.Design().Room.Polygon().Bounds()
	b.in.addPlane()
	b.in.addPlane()
	if n := len(now().Planes); n != 2 || len(b.in.planes) != 2 {
		t.Fatalf("%d planes, %d listed", n, len(b.in.planes))
	}
	x, h := (lo.X+hi.X)/2, b.Design().Room.CeilingAt
	if l, r := h(x, lo.Y), h(x, hi.Y); math.Abs(l-r) > 0.002 || l >= h(x, (lo.Y+hi.Y)/2) {
		t.Errorf("%.3f m at the left, %.3f m at the right: no gable", l, r)
	}
	b.in.addPlane() // a third hips the back
	was, is := h(hi.X, (lo.Y+hi.Y)/2), b.Design().Room.CeilingAt(hi.X, (lo.Y+hi.Y)/2)
	if len(now().Planes) != 3 || is >= was {
		t.Errorf("%d planes, %.3f m under the ridge at the back, before %.3f m", len(now().Planes), is, was)
	}
	enter(b.in.planes[1].Line("Plane 2: height"), "2.2 m")
	if got := float64(now().Planes[1].FromHeight); !near(got, 2.2) {
		t.Errorf("typed 2.2 m: %v", got)
	}
	height := b.in.planes[1].Line("    to height")
	enter(height, "0.2 m")
	if height.Fault() == "" || near(float64(now().Planes[1].ToHeight), 0.2) {
		t.Errorf("a knee wall of 0.2 m: %q", height.Fault())
	}
	if err := b.Do("remove", "", func(d *project.Design) { d.Room.Ceiling.Planes = d.Room.Ceiling.Planes[:1] }); err != nil {
		t.Fatal(err)
	}
	if len(b.in.planes) != 1 {
		t.Errorf("%d planes listed", len(b.in.planes))
	}
}
