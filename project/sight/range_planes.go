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

// keep takes up the plane of a bracket whose second set reaches as far as most
// along its normal.
func (p *parting) keep(b *geometry.Bracket, most float64) {
	p.planes[p.next] = plane{normal: b.Normal, least: b.Lower + most, most: most}
	p.next = (p.next + 1) % keptPlanes
}
