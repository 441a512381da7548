// SPDX-License-Identifier: MIT

package geometry

// Triangulate returns triangles, as corner indices, that fill the outline
// without overlap, all counter-clockwise whichever way the outline runs. Corners
// on a straight run may be left out. None for fewer than three corners or no
// area; of an outline that is not simple, some triangles. Method: ear clipping
// (Meisters 1975, "Polygons Have Ears").
func (p Polygon) Triangulate() [][3]int {
	area := p.Area()
	if len(p) < 3 || area == 0 {
		return nil
	}
	ring := make([]int, len(p))
	for i := range ring {
		ring[i] = i
		if area < 0 {
			ring[i] = len(p) - 1 - i
		}
	}
	out := make([][3]int, 0, len(p)-2)
	for len(ring) > 3 {
		i, tri := p.ear(ring)
		if i < 0 {
			return out // not simple
		}
		if tri {
			out = append(out, p.corners(ring, i))
		}
		ring = append(ring[:i], ring[i+1:]...)
	}
	return append(out, [3]int{ring[0], ring[1], ring[2]})
}

// corners returns the corners around place i of ring.
func (p Polygon) corners(ring []int, i int) [3]int {
	n := len(ring)
	return [3]int{ring[(i+n-1)%n], ring[i], ring[(i+1)%n]}
}

// ear returns a place of ring that can be cut off, -1 if there is none, and
// whether a triangle goes with it: a corner on a straight run has none.
func (p Polygon) ear(ring []int) (place int, tri bool) {
	for i := range ring {
		c := p.corners(ring, i)
		a, b, d := p[c[0]], p[c[1]], p[c[2]]
		turn := b.Sub(a).Cross(d.Sub(b))
		if flat := edgeTol * (a.Dist(b) + b.Dist(d)); turn <= flat {
			if turn >= -flat {
				return i, false
			}
			continue
		}
		if !p.blocked(ring, c) {
			return i, true
		}
	}
	return -1, false
}

// blocked reports whether another corner of ring lies in the triangle c.
func (p Polygon) blocked(ring []int, c [3]int) bool {
	a, b, d := p[c[0]], p[c[1]], p[c[2]]
	for _, k := range ring {
		q := p[k]
		if k == c[0] || k == c[1] || k == c[2] || q == a || q == d {
			continue
		}
		if b.Sub(a).Cross(q.Sub(a)) >= 0 && d.Sub(b).Cross(q.Sub(b)) >= 0 && a.Sub(d).Cross(q.Sub(d)) >= 0 {
			return true
		}
	}
	return false
}
