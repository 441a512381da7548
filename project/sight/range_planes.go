// SPDX-License-Identifier: MIT

package sight

import (
	"earline/geometry"
	"earline/project/place"
)

// The ears of a seat are where they are whichever loudspeaker they listen to. So a
// plane that parts them and one loudspeaker from an obstacle parts them from it for
// every other on the same side: one product of vectors instead of a distance.

// plane has all starts of paths on one side and an obstacle on the other.
type plane struct {
	normal geometry.Vec // unit vector, towards the paths
	least  float64      // normal.x is no less for any start x
	most   float64      // and no more for any point of the obstacle
}

// parting is how an obstacle was parted from earlier paths of the same seat.
type parting struct {
	normal geometry.Vec // of the last paths, whether it parted them or not
	planes [keptPlanes]plane
	next   int // plane to replace
}

// keptPlanes is how many planes are kept for an obstacle: loudspeakers stand all
// around, and a few planes serve most of them.
const keptPlanes = 4

// memory is what the ranger knows of one seat from earlier paths to loudspeakers.
type memory struct {
	parts []parting                                   // by part
	own   [place.HeadrestPart + 1][mostStages]parting // of the sitter's own chair, by kind and stage
}

func newMemory(parts int) *memory { return &memory{parts: make([]parting, parts)} }

func (m *memory) forget() {
	clear(m.parts)
	clear(m.own[:])
}

// parts reports whether a known plane keeps the obstacle at least enough away from
// all paths to target.
func (p *parting) parts(target geometry.Vec, enough float64) bool {
	for i := range p.planes {
		w := &p.planes[i]
		if w.normal != (geometry.Vec{}) && min(w.least, w.normal.Dot(target))-w.most >= enough {
			return true
		}
	}
	return false
}

// keep takes up w.
func (p *parting) keep(w plane) {
	p.planes[p.next] = w
	p.next = (p.next + 1) % keptPlanes
}

// A RangeProbe asks again and again for the same pair while the loudspeaker moves a
// little. The parts of the range into which a proof was split, each with its plane,
// then mostly still part the paths from the obstacle, at a product of vectors each.

// lasts reports whether what is found of part n holds as loudspeakers move: their
// boxes move with them, and a feature may carry one.
func (g *ranger) lasts(n int) bool {
	kind := g.r.Parts[n].Kind
	return kind != place.SpeakerPart && !carries(kind)
}

// proofKey is a pair and an obstacle, by index.
type proofKey struct{ seat, speaker, part int }

// proofPart is one part of the range of a proof.
type proofPart struct {
	plane
	cell cell
}

// stillProven reports whether the parts of the last proof of o for t, if there is
// one, prove it for the target as it now stands, and how near o then comes at least.
func (g *ranger) stillProven(t *task, o *obstacle) (lower float64, ok bool) {
	const spare = 0.01 // m: so that the next plane lasts for some moves
	parts := g.proofs[proofKey{t.seat, t.speaker, o.part}]
	if len(parts) == 0 {
		return 0, false
	}
	lower = Far
	for i := range parts {
		p := &parts[i]
		least := min(p.least, p.normal.Dot(t.targets[0])) - p.most
		if least < t.proof() {
			b := g.bound(t, o, &p.cell, t.proof()+spare)
			if b.Lower < t.proof() {
				return 0, false
			}
			p.plane = g.planeOf(t, o, &b)
			p.cell.normal = b.Normal
			least = b.Lower
		}
		lower = min(lower, least)
	}
	return lower, true
}

// planeOf returns the plane of b, which bound has just returned for o.
func (g *ranger) planeOf(t *task, o *obstacle, b *geometry.Bracket) plane {
	most := b.Most
	if g.seatOf[o.part] == t.seat && moves(g.r.Parts[o.part].Kind) {
		most, _ = g.coupled.p.Support(b.Normal) // the bracket is of the differences
	}
	return plane{normal: b.Normal, least: b.Lower + most, most: most}
}
