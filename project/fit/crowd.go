// SPDX-License-Identifier: MIT

package fit

import (
	"fmt"

	"earline/geometry"
	"earline/project/place"
)

// crowd finds loudspeakers that are where another loudspeaker or a chair is. Each pair is
// told once, at the later loudspeaker of the document.
func (f *finder) crowd() {
	speakers := place.Speakers(f.d)
	reach := make([]float64, len(speakers)) // m, about the middle of the box
	for i, l := range speakers {
		reach[i] = l.Box.Half.Len()
	}
	tell := func(i int, in float64, what string) {
		field := fmt.Sprintf("loudspeakers[%d].at", i)
		f.add(f.across(field, speakers[i].At.Vec()), speakers[i].Name(), "reaches %s into %s", f.show(in), what)
	}
	for i := range speakers {
		for j := range i {
			if speakers[i].Box.Center.Dist(speakers[j].Box.Center) > reach[i]+reach[j] {
				continue
			}
			if in := geometry.Overlap(speakers[i].Box, speakers[j].Box); in > touchTol {
				tell(i, in, speakers[j].Name())
			}
		}
	}
	for _, s := range place.Seats(f.d) {
		const chair = 2 // m, more than the half of any chair with its footrest out
		for i, l := range speakers {
			if l.Box.Center.Dist(s.Ref) > reach[i]+chair {
				continue
			}
			worst := 0.0
			for _, part := range s.ChairParts() {
				if part.Box != nil {
					worst = max(worst, geometry.Overlap(*part.Box, l.Box))
				}
			}
			if worst > touchTol {
				tell(i, worst, fmt.Sprintf("the chair of row %d seat %d", s.Row, s.Number))
			}
		}
	}
}
