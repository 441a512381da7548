// SPDX-License-Identifier: MIT

package follow

import "earline/project"

// projector keeps a projector in the middle where it was, and as far below the ceiling if
// it hangs from it. How far it stands from the screen is the lens's affair: it stays.
func (s *shell) projector() {
	p := &s.d.Projector
	if !p.Given() {
		return
	}
	was := p.At
	p.At.Y = shifted(was.Y, s.across(float64(was.X), float64(was.Y)))
	if p.Mount == project.CeilingMount {
		before, after := s.ceilings(was, p.At)
		p.At.Z = shifted(was.Z, after-before)
	}
	s.moved.Projector = was != p.At
}
