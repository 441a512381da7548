// SPDX-License-Identifier: MIT

package setout

import (
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
	"earline/project/sight"
)

// A subwoofer 0.36 m deep whose front is 0.40 m before the screen wall may come 40 mm
// forward: worked by hand.
func TestABoxMeetsTheWallBehindIt(t *testing.T) {
	it := find(t, of(t, open(t, "small-with-column")), "LFE1")
	near(t, "forward", it.Tolerance.Up.Distance, 0.04, 1e-5)
	if it.Tolerance.Up.Limit != "fit, wall" {
		t.Error(it.Tolerance.Up.Limit)
	}
}

// The frame of a flush loudspeaker 0.26 m wide may go to the end of its wall, one 0.40 m
// high to the ceiling: worked by hand.
func TestAFrameEndsWithItsWall(t *testing.T) {
	d := open(t, "small-with-column")
	for i := range d.Speakers {
		if d.Speakers[i].Label == "M-135" { // on the back wall, as one faces it the right wall is left
			d.Speakers[i].At.Y, d.Speakers[i].At.Z = 3.2-0.13-0.05, 2.35-0.20-0.03
		}
	}
	it := find(t, of(t, d), "M-135")
	if l := it.Tolerance.Left; l.Limit != "fit, end of the wall" {
		t.Error(l)
	}
	near(t, "left", it.Tolerance.Left.Distance, 0.05, 1e-5)
	near(t, "up", it.Tolerance.Up.Distance, 0.03, 1e-5)
}

// Where fit limits a loudspeaker, it is still free of what is named just inside, and in it
// just outside: by the findings of the audit for walls, ceiling and floor, and by boxes
// that reach into each other for what stands beside it.
func TestWhatFitLimitsIsMetJustBeyond(t *testing.T) {
	checked := 0
	for _, name := range rooms(t) {
		d := open(t, name)
		l, placed := of(t, d), place.Speakers(d)
		r := sight.Audit(d)
		for k := range placed {
			sp := &placed[k]
			at := slices.IndexFunc(l.Items, func(it Item) bool { return it.Tolerance != nil && it.At == sp.At.Vec() })
			if at < 0 {
				continue
			}
			four := r.Ways(k)
			for n, reach := range []Reach{l.Items[at].Tolerance.Up, l.Items[at].Tolerance.Down, l.Items[at].Tolerance.Left, l.Items[at].Tolerance.Right} {
				what, ok := strings.CutPrefix(reach.Limit, "fit, ")
				if !ok {
					continue
				}
				met := func(by float64) bool { return meets(d, sp, k, what, four[n].Toward.Mul(by)) }
				if met(0) {
					continue // as planned; the audit tells
				}
				const found = 0.0025 // m: findings begin at 2 mm
				if met(max(reach.Distance-1e-4, 0)) || !met(reach.Distance+found) {
					t.Errorf("%s: %s %s %.2f mm: %s is met inside: %v, beyond: %v", name, sp.Name(), four[n].Name, reach.Distance*1000, what,
						met(max(reach.Distance-1e-4, 0)), met(reach.Distance+found))
				}
				checked++
			}
		}
	}
	if checked < 5 {
		t.Errorf("looked at %d", checked)
	}
}

// meets reports whether loudspeaker k, moved by v, reaches into what.
func meets(d *project.Design, sp *place.Speaker, k int, what string, v geometry.Vec) bool {
	switch what {
	case "end of the wall", "wall", "ceiling", "floor":
		if sp.Spec.Flush {
			for _, c := range sp.Box.Corners() {
				front := c.Add(v).Add(sp.Front.W.Mul(sp.At.Vec().Sub(c).Dot(sp.Front.W))) // in the face of its wall
				q := geometry.Vec2{X: front.X, Y: front.Y}
				poly := d.Room.Polygon()
				if poly.Distance(q) > 1e-6 && !poly.Contains(q) || front.Z > d.Room.CeilingAt(q.X, q.Y)+1e-6 || front.Z < -1e-6 {
					return true
				}
			}
			return false
		}
		m := d.Clone()
		m.Speakers[k].At = project.PointOf(sp.At.Vec().Add(v))
		az, el, _ := geometry.AzEl(sp.Axis)
		m.Speakers[k].Aim = project.Aim{Fixed: true, Azimuth: unit.Degrees(az / unit.Degree), Elevation: unit.Degrees(el / unit.Degree)}
		for _, f := range fit.Findings(m) {
			if f.Where == sp.Name() && strings.HasSuffix(f.Text, map[string]string{"wall": "into the wall", "ceiling": "above the ceiling", "floor": "below the floor"}[what]) {
				return true
			}
		}
		return false
	}
	body := sp.Box
	body.Center = body.Center.Add(v)
	reach := func(b geometry.Box) bool {
		if geometry.Overlap(body, b) > 0 {
			return true
		}
		lip := body
		lip.Center = lip.Center.Add(sp.Front.W.Mul(0.005))
		return sp.Spec.Flush && geometry.Overlap(lip, b) > 0
	}
	for j, other := range place.Speakers(d) {
		if j != k && other.Name() == what && reach(other.Box) {
			return true
		}
	}
	for _, f := range d.Room.Features {
		if f.Words() == what && reach(f.Box()) {
			return true
		}
	}
	for _, b := range place.FloorOf(d) {
		if what == "platform" && reach(b) {
			return true
		}
	}
	return what == "screen" && reach(d.Screen.Sheet()) || strings.Contains(what, "panel") || what == "behind the screen"
}
