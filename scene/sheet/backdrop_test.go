// SPDX-License-Identifier: MIT

package sheet

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/scene/drawing"
)

// backdropLines returns how many lines of backdrops a view has and their whole length,
// mm of paper.
func backdropLines(v drawing.View) (n int, length float64) {
	for _, m := range v.Marks {
		if l, ok := m.(drawing.Lines); ok && l.Layer == backdropLayer {
			for _, line := range l.Lines {
				n++
				length += math.Hypot(line[1].X-line[0].X, line[1].Y-line[0].Y)
			}
		}
	}
	return n, length
}

// A box of triangles is its edges in the plan and its cut in the sections; a plan line
// that runs out of the room ends at the view; hidden ones are not drawn.
func TestBackdropsOnPaper(t *testing.T) {
	d := rooms(t)["small.earline"].Clone()
	c, _, _ := d.Screen.Picture()
	lo, hi := d.Room.Polygon().Bounds()
	box := geometry.Box{Center: geometry.V((lo.X+hi.X)/2, c.Y, 0.5), Basis: geometry.WorldBasis(), Half: geometry.V(0.25, 0.2, 0.3)}
	corners := box.Corners()
	m := project.Mesh{Points: append(corners[:], geometry.V(lo.X-50, c.Y, 0), geometry.V(hi.X+50, c.Y, 0)), Lines: [][2]int{{8, 9}}}
	for _, q := range [6][4]int{{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int{q[0], q[1], q[2]}, [3]int{q[0], q[2], q[3]})
	}
	b := project.Backdrop{Name: "box"}
	b.SetMesh(m)
	if n := len(creases(&m)); n != 12 {
		t.Errorf("a box has %d edges", n)
	}
	d.Backdrops = []project.Backdrop{b}
	_, sheets := compose(t, d, "A3")
	_, plan := viewOf(t, sheets, "Plan")
	n, _ := backdropLines(plan)
	if n != 1+8 { // upright edges are points in a plan
		t.Errorf("%d lines in the plan", n)
	}
	_, long := viewOf(t, sheets, "Long section")
	n, length := backdropLines(long)
	if want := 2 * (0.5 + 0.6) * 1000; n == 0 || math.Abs(length-want) > 1 { // views are in mm of the room
		t.Errorf("%d lines in the section, %v long, want %v", n, length, want)
	}
	d.Backdrops[0].Hidden = true
	_, sheets = compose(t, d, "A3")
	_, plan = viewOf(t, sheets, "Plan")
	if n, _ := backdropLines(plan); n != 0 {
		t.Errorf("%d lines of what is hidden", n)
	}
}
