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
	m = writable(m)
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
			return between(&m, middles, a, b, 0.5), true
		}
		var out []uint32
		for i := 0; i+2 < len(m.Index); i += 3 {
			out = split(out, [3]uint32{m.Index[i], m.Index[i+1], m.Index[i+2]}, middle)
		}
		m.Index = out
		if len(middles) == 0 {
			break
		}
	}
	return m
}

// writable returns m with vertices and triangles of its own.
func writable(m scene.Mesh) scene.Mesh {
	m.Pos, m.Nor, m.Col, m.Mat, m.Index = slices.Clone(m.Pos), slices.Clone(m.Nor), slices.Clone(m.Col), slices.Clone(m.Mat), slices.Clone(m.Index)
	return m
}

// split appends triangle t to out, cut where cut says that an edge is to be: it returns the
// vertex there.
func split(out []uint32, t [3]uint32, cut func(a, b uint32) (uint32, bool)) []uint32 {
	var mid [3]uint32 // opposite corner k
	var is [3]bool
	n := 0
	for k := range 3 {
		if mid[k], is[k] = cut(t[(k+1)%3], t[(k+2)%3]); is[k] {
			n++
		}
	}
	switch n {
	case 0:
		return append(out, t[:]...)
	case 3:
		return append(out, t[0], mid[2], mid[1], t[1], mid[0], mid[2], t[2], mid[1], mid[0], mid[0], mid[1], mid[2])
	}
	for (n == 1) != is[0] { // turned: one cut is opposite corner 0; of two, that is whole
		t = [3]uint32{t[1], t[2], t[0]}
		mid = [3]uint32{mid[1], mid[2], mid[0]}
		is = [3]bool{is[1], is[2], is[0]}
	}
	if n == 1 {
		return append(out, t[0], t[1], mid[0], t[0], mid[0], t[2])
	}
	return append(out, t[0], mid[2], mid[1], mid[2], t[1], t[2], mid[2], t[2], mid[1])
}

// between returns the vertex of m at that share of the way from a to b; known holds those
// that there are already.
func between(m *scene.Mesh, known map[[2]uint32]uint32, a, b uint32, share float32) uint32 {
	if a > b {
		a, b, share = b, a, 1-share
	}
	i, ok := known[[2]uint32{a, b}]
	if !ok {
		i = uint32(len(m.Pos) / 3)
		known[[2]uint32{a, b}] = i
		m.Pos = mixed(m.Pos, a, b, share)
		m.Col = mixed(m.Col, a, b, share)
		m.Nor = straight(mixed(m.Nor, a, b, share))
		if len(m.Mat) > 0 {
			m.Mat = append(m.Mat, m.Mat[b])
		}
	}
	return i
}

// mixed appends what is at that share of the way from vertex a to b.
func mixed(v []float32, a, b uint32, share float32) []float32 {
	for k := range uint32(3) {
		v = append(v, v[3*a+k]+share*(v[3*b+k]-v[3*a+k]))
	}
	return v
}

// straight makes the last vector of v one long.
func straight(v []float32) []float32 {
	n := v[len(v)-3:]
	if l := float32(math.Sqrt(float64(n[0]*n[0] + n[1]*n[1] + n[2]*n[2]))); l > 0 {
		n[0], n[1], n[2] = n[0]/l, n[1]/l, n[2]/l
	}
	return v
}
