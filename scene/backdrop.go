// SPDX-License-Identifier: MIT

package scene

import "earline/geometry"

// backdropGrey is the colour of meshes and plan lines of other programs.
var backdropGrey = RGB{0.56, 0.58, 0.61}

// backdrops draws the meshes and plan lines of other programs: as through glass where
// they are not in the way of sight. Lines that lie on the floor are lifted off it, and
// in a plan they are drawn over everything.
func (s *painter) backdrops() {
	const (
		glass = 0.35
		floor = 0.005 // m: what lies so low lies on the floor
		lift  = 0.012 // m above the carpet, as sub zones
	)
	for i := range s.d.Backdrops {
		b := &s.d.Backdrops[i]
		if b.Hidden {
			continue
		}
		shape := b.Placed()
		m := &Mesh{Name: b.Words(), Alpha: 1}
		if !b.Obstacle {
			m.Alpha = glass
		}
		m.grow(3*len(shape.Triangles), len(shape.Triangles))
		for k := range shape.Triangles {
			t := shape.Triangle(k)
			if n, ok := t.Normal(); ok {
				m.pen().facet(t[0], t[1], t[2], n, backdropGrey)
			}
		}
		s.add(m)
		l := &Lines{Name: b.Words(), OnTop: s.o.Drawing.plan()}
		up := func(v geometry.Vec) geometry.Vec {
			if v.Z >= -floor && v.Z <= floor {
				v.Z = lift
			}
			return v
		}
		for _, k := range shape.Lines {
			l.stroke(up(shape.Points[k[0]]), up(shape.Points[k[1]]), backdropGrey)
		}
		s.addLines(l)
	}
}
