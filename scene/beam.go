// SPDX-License-Identifier: MIT

package scene

import "earline/project/picture"

// beam draws the light of the projector on its way to the screen, for one shape of
// picture, and on the plane of the screen what the middle of the raster can be shifted to.
func (s *painter) beam() {
	if !s.o.Beam {
		return
	}
	beams := picture.Beams(s.d)
	if len(beams) == 0 {
		return
	}
	shape := s.o.Shape
	if shape < 0 || shape >= len(beams) {
		shape = 0
	}
	b := &beams[shape]
	m := &Mesh{Name: "beam", Alpha: 0.16, Unlit: true}
	shell(m.pen(), b.Corners[:], b.Lens, s.ink.Beam)
	s.add(m)

	const before = 0.004 // m, of the lines before the screen
	l := &Lines{Name: "beam edges"}
	corners := b.Corners
	for i := range corners {
		l.stroke(b.Lens, corners[i], s.ink.Beam)
		corners[i].X += before
	}
	l.loop(s.ink.Beam, corners[:]...)
	if shift := picture.Optics(s.d).ShiftRange(shape); len(shift) > 0 {
		for i := range shift {
			shift[i].X += before
			if i > 0 {
				l.dashes(shift[i-1], shift[i], 0.06, 0.04, s.ink.Guide)
			}
		}
		l.dashes(shift[len(shift)-1], shift[0], 0.06, 0.04, s.ink.Guide)
		middle := b.Corners[0].Lerp(b.Corners[2], 0.5)
		middle.X += before
		const arm = 0.05 // m, of the cross at the middle of the raster
		for _, w := range [2][2]float64{{arm, 0}, {0, arm}} {
			p, q := middle, middle
			p.Y, p.Z = p.Y-w[0], p.Z-w[1]
			q.Y, q.Z = q.Y+w[0], q.Z+w[1]
			l.stroke(p, q, s.ink.Guide)
		}
	}
	s.addLines(l)
}
