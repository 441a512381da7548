// SPDX-License-Identifier: MIT

package bake

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/scene"
)

// divide returns m with no edge longer than longest says of its middle, metres: light is
// kept at the corners, and a wall with four of them shows none. An edge is cut in its
// middle for itself, whichever triangle it is of, so that neighbours still meet.
func divide(m scene.Mesh, longest func(at geometry.Vec) float64) scene.Mesh {
	const rounds = 12
	m.Pos, m.Nor, m.Col, m.Mat, m.Index = slices.Clone(m.Pos), slices.Clone(m.Nor), slices.Clone(m.Col), slices.Clone(m.Mat), slices.Clone(m.Index)
	long := func(a, b uint32) bool {
		p, q := position(m.Pos, a), position(m.Pos, b)
		return p.Dist(q) > longest(p.Lerp(q, 0.5))
	}
	for range rounds {
		middles := make(map[[2]uint32]uint32)
		middle := func(a, b uint32) (uint32, bool) {
			if !long(a, b) {
				return 0, false
			}
			key := [2]uint32{min(a, b), max(a, b)}
			i, ok := middles[key]
			if !ok {
				i = uint32(len(m.Pos) / 3)
				middles[key] = i
				m.Pos = between(m.Pos, a, b)
				m.Col = between(m.Col, a, b)
				m.Nor = straight(between(m.Nor, a, b))
				if len(m.Mat) > 0 {
					m.Mat = append(m.Mat, m.Mat[b])
				}
			}
			return i, true
		}
		var out []uint32
		for i := 0; i+2 < len(m.Index); i += 3 {
			t := [3]uint32{m.Index[i], m.Index[i+1], m.Index[i+2]}
			var mid [3]uint32 // opposite corner k
			var cut [3]bool
			n := 0
			for k := range 3 {
				if mid[k], cut[k] = middle(t[(k+1)%3], t[(k+2)%3]); cut[k] {
					n++
				}
			}
			switch n {
			case 0:
				out = append(out, t[:]...)
			case 3:
				out = append(out, t[0], mid[2], mid[1], t[1], mid[0], mid[2], t[2], mid[1], mid[0], mid[0], mid[1], mid[2])
			default:
				for (n == 1) != cut[0] { // turned: one cut is opposite corner 0; of two, that is whole
					t = [3]uint32{t[1], t[2], t[0]}
					mid = [3]uint32{mid[1], mid[2], mid[0]}
					cut = [3]bool{cut[1], cut[2], cut[0]}
				}
				if n == 1 {
					out = append(out, t[0], t[1], mid[0], t[0], mid[0], t[2])
				} else {
					out = append(out, t[0], mid[2], mid[1], mid[2], t[1], t[2], mid[2], t[2], mid[1])
				}
			}
		}
		m.Index = out
		if len(middles) == 0 {
			break
		}
	}
	return m
}

// between appends the middle of vertices a and b.
func between(v []float32, a, b uint32) []float32 {
	return append(v, (v[3*a]+v[3*b])/2, (v[3*a+1]+v[3*b+1])/2, (v[3*a+2]+v[3*b+2])/2)
}

// straight makes the last vector of v one long.
func straight(v []float32) []float32 {
	n := v[len(v)-3:]
	if l := float32(math.Sqrt(float64(n[0]*n[0] + n[1]*n[1] + n[2]*n[2]))); l > 0 {
		n[0], n[1], n[2] = n[0]/l, n[1]/l, n[2]/l
	}
	return v
}
