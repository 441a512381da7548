// SPDX-License-Identifier: MIT

package solve

import (
	"fmt"
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/system"
)

// limits are what a standard says of the loudspeakers of one design.
type limits struct {
	d      *project.Design
	std    practice.Standard
	system system.System
}

func limitsOf(d *project.Design, std practice.Standard) limits {
	judged, _ := system.Of(d)
	return limits{d, std, judged}
}

// elevation returns the elevations of s, degrees.
func (l limits) elevation(s project.Loudspeaker) practice.Bands {
	ch, _ := l.system.Channel(s.Label)
	return l.std.ElevationOf(practice.LayerIn(l.d, s), ch)
}

// frontHeights returns how high the fronts behind the screen of d may stand, metres.
func (l limits) frontHeights(d *project.Design) practice.Limits {
	b := l.std.FrontHeight().Accepted
	low := float64(d.Screen.Bottom) + b.Least()*d.Screen.Height()
	high := float64(d.Screen.Bottom) + b.Most()*d.Screen.Height()
	return practice.Limits{Min: &low, Max: &high}
}

// apart is the angle between bed and height loudspeakers at every seat of a design.
type apart struct {
	heights  []place.Speaker
	seats    []place.Seat
	ears     []geometry.Vec // by seat, the middle of its ears
	is       []float64      // by seat, radians: the least; +Inf without heights
	accepted []float64      // by seat, radians
	limit    float64        // radians; see tooNear
}

// apartIn measures d.
func apartIn(d *project.Design, std practice.Standard) *apart {
	room := place.Of(d)
	a := &apart{seats: room.Seats, limit: std.Separation(false).Limit.Least() * unit.Degree}
	for k := range room.Speakers {
		if isHeight(room.Speakers[k].Label) {
			a.heights = append(a.heights, room.Speakers[k])
		}
	}
	for i, s := range room.Seats {
		ear, is := room.Bodies[i].Ear(), math.Inf(1)
		for k := range room.Speakers {
			if sp := &room.Speakers[k]; isBed(sp.Label) {
				is = min(is, a.angle(ear, sp.At.Vec()))
			}
		}
		a.ears, a.is = append(a.ears, ear), append(a.is, is)
		a.accepted = append(a.accepted, std.Separation(s.Row == d.Seating.Main.Row).Accepted.Least()*unit.Degree)
	}
	return a
}

// least returns the least angle at any seat, degrees, and how many seats have less than
// is accepted.
func (a *apart) least() (least float64, under int) {
	least = math.Inf(1)
	for i, is := range a.is {
		least = min(least, is/unit.Degree)
		if is < a.accepted[i] {
			under++
		}
	}
	return least, under
}

// isHeight reports whether a label is of the layers over the bed.
func isHeight(label string) bool {
	_, _, ok := upperDirection(label, 45)
	return ok
}

func isBed(label string) bool { _, ok := azimuthOf(label); return ok }

// angle returns the least angle at ear between p and a height loudspeaker, radians.
func (a *apart) angle(ear, p geometry.Vec) float64 {
	least := math.Inf(1)
	for k := range a.heights {
		least = min(least, geometry.Angle(p.Sub(ear), a.heights[k].At.Vec().Sub(ear)))
	}
	return least
}

// tooNear names the angle that keeps p from standing where it does; empty for none. No
// seat may have less than the limit, or than it had.
func (a *apart) tooNear(p *place.Speaker) string {
	const slack = 1e-9 // rad
	at := p.At.Vec()
	for i, ear := range a.ears {
		if least := min(a.is[i], a.limit); a.angle(ear, at) < least-slack {
			return fmt.Sprintf("the least angle of %.3g° to the heights, in row %d seat %d,", least/unit.Degree, a.seats[i].Row, a.seats[i].Number)
		}
	}
	return ""
}
