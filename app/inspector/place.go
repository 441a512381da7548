// SPDX-License-Identifier: MIT

package inspector

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// usual are the positions that rooms fill first, most usual first: label of
// Rec. ITU-R BS.2051, azimuth and elevation in degrees. U stands at 30 to 55
// there; 45 is only where to begin.
var usual = []struct {
	label  string
	az, el unit.Degrees
}{
	{"M+030", 30, 0}, {"M-030", -30, 0}, {"M+000", 0, 0},
	{"M+110", 110, 10}, {"M-110", -110, 10}, {"M+090", 90, 10}, {"M-090", -90, 10},
	{"M+135", 135, 10}, {"M-135", -135, 10}, {"U+045", 45, 45}, {"U-045", -45, 45},
	{"U+135", 135, 45}, {"U-135", -135, 45}, {"U+090", 90, 45}, {"U-090", -90, 45},
	{"M+060", 60, 5}, {"M-060", -60, 5}, {"M+180", 180, 10},
}

// nextSpeaker returns the first usual loudspeaker that d does not have, of the
// model most used, on the wall or ceiling where its direction from the main
// position meets it. When d has them all it is a copy of the last.
func nextSpeaker(d *project.Design) project.Loudspeaker {
	taken := map[string]bool{}
	used := map[string]int{}
	model := d.Models[0].ID
	for _, l := range d.Speakers {
		taken[l.Label] = true
		used[l.Model]++
	}
	for _, m := range d.Models {
		if !m.Subwoofer() && used[m.ID] > used[model] {
			model = m.ID
		}
	}
	pick := usual[len(usual)-1]
	for _, u := range usual {
		if !taken[u.label] {
			pick = u
			break
		}
	}
	at, mount := meet(d, place.MainPoint(d), geometry.Direction(pick.az.Radians(), pick.el.Radians()))
	l := project.Loudspeaker{Label: pick.label, Model: model, Mount: mount, At: project.PointOf(at)}
	if taken[l.Label] {
		l.Copy = freeCopy(d, l.Label)
	}
	return l
}

// meet returns where the direction dir from p leaves the room, a little inside,
// and what it meets there.
func meet(d *project.Design, p, dir geometry.Vec) (geometry.Vec, project.Mount) {
	const inside = 0.12 // m, the depth of a slim box
	lo, hi := d.Room.Polygon().Bounds()
	t, mount := math.Inf(1), project.OnWall
	reach := func(pos, v, lo, hi float64, m project.Mount) {
		edge := hi - inside
		if v < 0 {
			edge = lo + inside
		}
		if v == 0 {
			return
		}
		if s := (edge - pos) / v; s >= 0 && s < t {
			t, mount = s, m
		}
	}
	reach(p.X, dir.X, lo.X, hi.X, project.OnWall)
	reach(p.Y, dir.Y, lo.Y, hi.Y, project.OnWall)
	reach(p.Z, dir.Z, 0, d.Room.CeilingAt(p.X, p.Y), project.OnCeiling)
	if math.IsInf(t, 1) {
		t = 0
	}
	at := p.Add(dir.Mul(t))
	return geometry.V(millimetres(at.X), millimetres(at.Y), millimetres(at.Z)), mount
}

func millimetres(v float64) float64 { return math.Round(v*1000) / 1000 }

// freeCopy returns the first letter, from b, that no loudspeaker of that label
// has as its copy.
func freeCopy(d *project.Design, label string) string {
	taken := map[string]bool{}
	for _, l := range d.Speakers {
		if l.Label == label {
			taken[l.Copy] = true
		}
	}
	for c := 'b'; c <= 'z'; c++ {
		if !taken[string(c)] {
			return string(c)
		}
	}
	return "copy"
}
