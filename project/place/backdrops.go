// SPDX-License-Identifier: MIT

package place

import "earline/project"

// appendBackdrops appends the triangles of those backdrops that are obstacles, in
// their order: those that follow each other mostly lie together.
func appendBackdrops(all []Part, backdrops []project.Backdrop) []Part {
	for i := range backdrops {
		b := &backdrops[i]
		if !b.Obstacle {
			continue
		}
		m := b.Placed()
		for k := range m.Triangles {
			t := m.Triangle(k)
			all = append(all, Part{Kind: BackdropPart, Index: i, Name: b.Words(), Triangle: &t})
		}
	}
	return all
}
