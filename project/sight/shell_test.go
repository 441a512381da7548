// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// A driver flush in a wall, the ceiling or the floor is never dead flat: up to
// 30 mm outside it is heard as if flush. Further out the shell is in the way.
func TestDriverALittleOutsideTheShell(t *testing.T) {
	for _, out := range []unit.Length{0, 0.001, 0.01, 0.0299, 0.0301, 0.2} {
		for _, l := range []project.Loudspeaker{
			{Mount: project.OnWall, At: project.Point{X: 3, Y: 6 + out, Z: 1.6}},
			{Mount: project.OnWall, At: project.Point{X: 3, Y: -out, Z: 1.6}},
			{Mount: project.OnCeiling, At: project.Point{X: 3, Y: 3.5, Z: 3 + out}},
			{Mount: project.OnFloor, At: project.Point{X: 1, Y: 3, Z: -out}},
		} {
			d := hall(1, 1, 0)
			d.Screen.Bottom, d.Models[0].Flush = 1.5, true
			l.Label, l.Model = "M+000", "m"
			d.Speakers = []project.Loudspeaker{l}
			r := audit(t, d)
			for n, p := range r.Pair(0, 0).Paths {
				where := fmt.Sprintf("%s, %.4f m outside, %s ear", l.Mount, float64(out), p.Ear)
				if out < 0.03 && (p.Verdict == Blocked || p.Visible < whole) {
					t.Errorf("%s: %v by %s, share %.3f", where, p.Verdict, r.WordsFrom(0, p.Blocker), p.Visible)
				}
				if out > 0.03 && (p.Verdict != Blocked || p.Visible != 0 || p.Blocker != ShellPart) {
					t.Errorf("%s: %v by %s, share %.3f", where, p.Verdict, r.WordsFrom(0, r.Pair(0, 0).Paths[n].Blocker), p.Visible)
				}
			}
		}
	}
}

// Somebody who is drawn outside the room hears and sees nothing.
func TestNobodyHearsThroughAWall(t *testing.T) {
	d := hall(1, 1, 4)
	for _, y := range []unit.Length{6.1, 6.5, -0.2, -3} {
		d.Seating.Rows[0].Centre = y
		r := audit(t, d)
		for k := range r.Speakers {
			if p := r.Pair(0, k).Deciding(); p.Verdict != Blocked || p.Visible != 0 || p.Blocker != ShellPart {
				t.Errorf("seat at y %.1f m to %s: %v by %s, share %.3f", float64(y), r.Speakers[k].Name(), p.Verdict, r.Words(p.Blocker), p.Visible)
			}
		}
		if v := r.Views[0]; v.Verdict != Blocked || v.Visible != 0 || v.Blocker != ShellPart {
			t.Errorf("seat at y %.1f m: picture %v by %s, share %.3f", float64(y), v.Verdict, r.Words(v.Blocker), v.Visible)
		}
	}
}

// A corner of the room that juts into a path by a few millimetres blocks it, and
// hides as much of the driver as lies behind it: the disc beyond a chord.
func TestCornerJutsIntoAPath(t *testing.T) {
	const beyond = 1.3 // how far the driver is from the ear, the corner at 1
	corner := geometry.Vec2{X: 6, Y: 4.8}
	for _, deep := range []float64{-0.012, -0.005, -0.002, 0.002, 0.005, 0.008, 0.012, 0.02, 0.029} {
		d := hall(1, 1, 0)
		d.Chairs[0].Headrest = 0 // nothing else in the way
		d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 6}, {X: 6, Y: 6}, {X: 6, Y: 4.8}, {X: 0, Y: 4.8}}
		ear := place.Listener(d, place.Seats(d)[0]).EarRight
		e := geometry.Vec2{X: ear.X, Y: ear.Y}
		l := e.Dist(corner)
		u := geometry.Vec2{X: (corner.X - e.X) / l, Y: (corner.Y - e.Y) / l}
		// The line passes the corner at deep, on the side of the wall.
		s := deep / l
		c := math.Sqrt(1 - s*s)
		to := geometry.Vec2{X: e.X + beyond*l*(u.X*c-u.Y*s), Y: e.Y + beyond*l*(u.Y*c+u.X*s)}
		az, _, _ := geometry.AzEl(ear.Sub(geometry.Vec{X: to.X, Y: to.Y, Z: ear.Z}))
		d.Speakers = []project.Loudspeaker{{Label: "M-135", Model: "m", Mount: project.OnFloor,
			At:  project.Point{X: unit.Length(to.X), Y: unit.Length(to.Y), Z: unit.Length(ear.Z)},
			Aim: project.Aim{Fixed: true, Azimuth: unit.FromRadians(az)}}}
		r := audit(t, d)
		p := r.Pair(0, 0).Paths[1]
		h := min(max(beyond*deep/(0.025/2), -1), 1)
		want := (math.Acos(h) - h*math.Sqrt(1-h*h)) / math.Pi
		if math.Abs(p.Visible-want) > 0.002 { // the chord is seen from a little aside
			t.Errorf("corner %.0f mm deep: share %.4f, want %.4f", 1000*deep, p.Visible, want)
		}
		if deep > 0 && (p.Verdict != Blocked || p.Blocker != ShellPart || math.Abs(p.Clearance+deep) > 1e-4) {
			t.Errorf("corner %.0f mm deep: %v by %s, clearance %.4f", 1000*deep, p.Verdict, r.WordsFrom(0, p.Blocker), p.Clearance)
		}
		if deep < 0 && p.Verdict == Blocked {
			t.Errorf("corner %.0f mm beside: blocked by %s, clearance %.4f", -1000*deep, r.WordsFrom(0, p.Blocker), p.Clearance)
		}
	}
}

// In an L-shaped room the corner hides the side of the picture: the line past it
// says how much.
func TestCornerHidesTheSideOfThePicture(t *testing.T) {
	for _, y := range []unit.Length{0.6, 2, 3, 3.3, 3.6} {
		d := hall(1, 1, 0)
		d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 4}, {X: 2, Y: 4}, {X: 2, Y: 6}, {X: 0, Y: 6}}
		d.Screen.Bottom = 1
		d.Seating.Rows[0].Centre = y
		r := audit(t, d)
		v := r.Views[0]
		past := v.Eye.Y + (4-v.Eye.Y)*(v.Eye.X-0.5)/(v.Eye.X-2)
		want := min((past-1.1)/3.8, 1)
		if math.Abs(v.Visible-want) > 1e-6 {
			t.Errorf("seat at y %.1f m: share %.6f, want %.6f", float64(y), v.Visible, want)
		}
		if want < 1 && (v.Verdict != Blocked || v.Blocker != ShellPart) {
			t.Errorf("seat at y %.1f m: %v by %s", float64(y), v.Verdict, r.WordsFrom(0, v.Blocker))
		}
	}
}
