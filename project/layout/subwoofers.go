// SPDX-License-Identifier: MIT

package layout

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

// stand is a place for a subwoofer on the floor: the middle of its front, and where
// that looks, degrees of azimuth.
type stand struct {
	x, y   float64
	facing float64
	height float64 // of its middle; 0: it stands on the floor
}

// subwoofers adds the subwoofers: in the zones that the room has for them, else in
// corners, else at the middle of walls. Where the data of a system give their channel a
// direction it is only a placeholder.
func (l *placer) subwoofers(was []project.Loudspeaker) {
	lfe := 0
	for _, c := range l.p.system.Channels {
		if c.LFE() {
			lfe++
		}
	}
	var subs []project.Loudspeaker
	for _, c := range l.p.system.Channels {
		if !c.LFE() {
			continue
		}
		had := len(subs)
		for _, s := range was {
			if s.Label == c.Label {
				subs = append(subs, s)
			}
		}
		if len(subs) == had {
			subs = append(subs, project.Loudspeaker{Label: c.Label, Model: l.p.kit.sub})
			if lfe == 1 {
				subs = append(subs, project.Loudspeaker{Label: c.Label, Model: l.p.kit.sub, Copy: "b"})
			}
		}
	}
	taken := map[int]bool{}
	for _, s := range subs {
		m, _ := l.d.Model(s.Model)
		stands := l.standsFor(&m)
		l.d.Speakers = append(l.d.Speakers, s)
		k := len(l.d.Speakers) - 1
		best, least := -1, math.MaxInt
		without := *l.d
		without.Speakers = l.d.Speakers[:k]
		before := len(fit.Findings(&without))
		for i, at := range stands {
			if taken[i] {
				continue
			}
			if n := l.clashes(k, at, &m); n < least {
				best, least = i, n
			}
			if least <= before {
				break
			}
		}
		if best >= 0 {
			taken[best] = true
			l.clashes(k, stands[best], &m)
		}
	}
}

// clashes puts subwoofer k there and returns how much stands against it.
func (l *placer) clashes(k int, at stand, m *project.Model) int {
	s := &l.d.Speakers[k]
	z := at.height
	if z == 0 {
		z = place.FloorOf(l.d).At(at.x, at.y) + float64(m.Height)/2
	}
	s.At, s.Mount = rounded(geometry.V(at.x, at.y, z)), project.OnFloor
	s.Aim = project.Aim{Fixed: true, Azimuth: unit.Degrees(at.facing)}
	n := len(fit.Findings(l.d))
	for _, e := range l.ears {
		if s.At.Vec().Dist(e.Vec) < l.p.limits.headToSpeaker {
			n++
		}
	}
	q := geometry.Vec2{X: at.x, Y: at.y}
	half := float64(max(m.Width, m.Depth)) / 2
	for _, r := range l.p.doors {
		if r.meets(rectAbout(q.Y, half, q.X-half, q.X+half)) {
			n++
		}
	}
	return n
}

// standsFor returns where a subwoofer may stand, the best first and in pairs: zones,
// the corners behind or beside the screen, the middles of the side walls, the back
// corners, the middle of the back wall.
func (l *placer) standsFor(m *project.Model) []stand {
	gap := l.p.limits.speakerToWall
	var out []stand
	for _, z := range l.d.SubZones {
		out = append(out, stand{float64(z.From.X+z.To.X) / 2, float64(z.From.Y+z.To.Y) / 2, 180, float64(z.Height)})
	}
	h := &l.p.hall
	wide, deep := float64(m.Width), float64(m.Depth)
	left, right := l.p.middle-l.p.wall/2, l.p.middle+l.p.wall/2
	x := h.near + gap + deep
	out = append(out, stand{x, left + gap + wide/2, 180, 0}, stand{x, right - gap - wide/2, 180, 0})
	left, right = h.centre-h.wide/2, h.centre+h.wide/2
	mid := h.near + h.long()/2
	out = append(out, stand{mid, left + gap + deep, -90, 0}, stand{mid, right - gap - deep, 90, 0})
	x = h.back - gap - deep
	out = append(out, stand{x, left + gap + wide/2, 0, 0}, stand{x, right - gap - wide/2, 0, 0}, stand{x, h.centre, 0, 0},
		stand{h.near + gap + deep, l.p.middle, 180, 0})
	return out
}
