// SPDX-License-Identifier: MIT

package bake

import (
	"math"

	"earline/geometry"
	"earline/scene"
)

// Room is a display list made ready to be lit. It does not change once made.
type Room struct {
	list  *scene.List // what is lit of it is divided
	lamps Lamps

	first  []int    // of each mesh, its first vertex among all; -1 for what is not lit
	albedo []Colour // by vertex
	site   []int32  // by vertex
	sites  []site
	corner [][3]int32 // by triangle, its vertices
	tree   *tree
	// beside lists for each site those that share an edge with it, from starts[i] to
	// starts[i+1].
	beside []int32
	starts []int32
}

// site is where light is worked out: for all vertices at one place that look one way.
type site struct{ at, normal geometry.Vec }

// Of makes a list ready for the lamps, with corners at most so many metres apart, and less
// beside lamps, where light falls off within a hand's breadth. What
// shines by itself, and what is seen through, neither stands in the way of light nor
// throws it back.
func Of(l *scene.List, lamps Lamps, longest float64) *Room {
	list := *l
	list.Meshes = append([]scene.Mesh(nil), l.Meshes...)
	r := &Room{list: &list, lamps: lamps, first: make([]int, len(list.Meshes))}
	strips := linesOf(lamps.Emitters)
	apart := lamps.apart(longest, strips)
	var all []triangle
	for i := range list.Meshes {
		m := &list.Meshes[i]
		r.first[i] = -1
		if m.Unlit || m.Alpha < 1 || m.OnTop || len(m.Nor) != len(m.Pos) {
			continue
		}
		*m = divide(grade(*m, strips), apart)
		first := len(r.albedo)
		r.first[i] = first
		for v := 0; v+2 < len(m.Col); v += 3 {
			r.albedo = append(r.albedo, linear(m.Col[v], m.Col[v+1], m.Col[v+2]))
		}
		for t := 0; t+2 < len(m.Index); t += 3 {
			a, b, c := m.Index[t], m.Index[t+1], m.Index[t+2]
			at := position(m.Pos, a)
			all = append(all, triangle{at, position(m.Pos, b).Sub(at), position(m.Pos, c).Sub(at)})
			r.corner = append(r.corner, [3]int32{int32(first) + int32(a), int32(first) + int32(b), int32(first) + int32(c)})
		}
	}
	r.tree = treeOf(all)
	r.place()
	r.join()
	return r
}

// Vertices returns how many are lit.
func (r *Room) Vertices() int { return len(r.albedo) }

// Triangles returns how many are lit.
func (r *Room) Triangles() int { return len(r.corner) }

// place finds the sites. A vertex on an edge lies in its neighbour's plane, and rays from
// there slip out between both: so a site lies a little before its faces, and at an edge a
// little towards their middle, along the surface only, or it would be within what is round.
func (r *Room) place() {
	const (
		before = 0.002 // m: higher than what is drawn on a surface lies on it
		most   = 0.004 // m along the surface
		share  = 0.3   // of the way to the middle
		grain  = 1e4   // steps a metre: what is nearer is one place
		turn   = 24    // steps of a normal's components
		whole  = 6.2   // radians: faces all round
	)
	type key struct{ at, normal [3]int32 }
	rounded := func(v geometry.Vec, f float64) [3]int32 {
		return [3]int32{int32(math.Round(v.X * f)), int32(math.Round(v.Y * f)), int32(math.Round(v.Z * f))}
	}
	known := make(map[key]int32, len(r.albedo))
	r.site = make([]int32, 0, len(r.albedo))
	for i := range r.list.Meshes {
		if r.first[i] < 0 {
			continue
		}
		m := &r.list.Meshes[i]
		for v := range uint32(len(m.Pos) / 3) {
			at, n := position(m.Pos, v), position(m.Nor, v)
			k := key{rounded(at, grain), rounded(n, turn)}
			s, ok := known[k]
			if !ok {
				s = int32(len(r.sites))
				known[k] = s
				r.sites = append(r.sites, site{at, n})
			}
			r.site = append(r.site, s)
		}
	}
	shift, faces, round := make([]geometry.Vec, len(r.sites)), make([]float64, len(r.sites)), make([]float64, len(r.sites))
	for t, c := range r.corner {
		tri := &r.tree.all[t]
		middle := tri.at.Add(tri.u.Add(tri.v).Mul(1. / 3))
		corners := [3]geometry.Vec{tri.at, tri.at.Add(tri.u), tri.at.Add(tri.v)}
		for k, v := range c {
			s := r.site[v]
			a, b := corners[(k+1)%3].Sub(corners[k]), corners[(k+2)%3].Sub(corners[k])
			round[s] += math.Atan2(a.Cross(b).Len(), a.Dot(b))
			shift[s] = shift[s].Add(middle.Sub(r.sites[s].at))
			faces[s]++
		}
	}
	for i := range r.sites {
		s := &r.sites[i]
		if faces[i] > 0 && round[i] < whole {
			d := shift[i].Mul(share / faces[i])
			d = d.Sub(s.normal.Mul(d.Dot(s.normal)))
			if l := d.Len(); l > most {
				d = d.Mul(most / l)
			}
			s.at = s.at.Add(d)
		}
		s.at = s.at.Add(s.normal.Mul(before))
	}
}

// join lists the neighbours of each site.
func (r *Room) join() {
	count := make([]int32, len(r.sites)+1)
	edges := func(f func(a, b int32)) {
		for _, c := range r.corner {
			for k := range 3 {
				if a, b := r.site[c[k]], r.site[c[(k+1)%3]]; a != b {
					f(a, b)
					f(b, a)
				}
			}
		}
	}
	edges(func(a, _ int32) { count[a+1]++ })
	for i := range r.sites {
		count[i+1] += count[i]
	}
	r.starts = count
	r.beside = make([]int32, count[len(r.sites)])
	at := append([]int32(nil), count...)
	edges(func(a, b int32) {
		r.beside[at[a]] = b
		at[a]++
	})
}

// surrounded makes places outside of those that lie among such on one face: they look into
// a groove of the wall that stands before it.
func (r *Room) surrounded(outside []bool) {
	was := append([]bool(nil), outside...)
	for i := range outside {
		among, all := 0, 0
		for _, j := range r.beside[r.starts[i]:r.starts[i+1]] {
			if r.sites[i].normal == r.sites[j].normal {
				all++
				if was[j] {
					among++
				}
			}
		}
		outside[i] = was[i] || 2*among > all
	}
}
