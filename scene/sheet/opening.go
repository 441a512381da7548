// SPDX-License-Identifier: MIT

package sheet

import (
	"math"

	"earline/geometry"
	"earline/project"
)

// opening is where a door or a window is in its wall: a is left, b right of one who
// stands in the room and faces the wall.
type opening struct {
	wall   int // from 0
	a, b   geometry.Vec2
	inward geometry.Vec2
}

// openingOf returns the opening of a door or window in the nearest wall; ok is false
// for one that is not in a wall.
func (s *set) openingOf(f project.Feature) (opening, bool) {
	const most = 0.5 // m from the wall
	at := geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
	wall, foot := s.outline.Nearest(at)
	if wall < 0 || foot.Dist(at) > most {
		return opening{}, false
	}
	n := s.outline.InwardNormal(wall)
	right := geometry.Vec2{X: -n.Y, Y: n.X}
	b := f.Box()
	half := math.Abs(b.Basis.U.X*right.X+b.Basis.U.Y*right.Y)*b.Half.X + math.Abs(b.Basis.V.X*right.X+b.Basis.V.Y*right.Y)*b.Half.Y
	return opening{wall, foot.Sub(right.Mul(half)), foot.Add(right.Mul(half)), n}, half > 0
}

// drawSwing draws the leaf of a door, open, and the way it takes.
func (s *set) drawSwing(d *drawn, f project.Feature, o opening) {
	hinge, lock, into := o.a, o.b, o.inward
	switch f.Swing {
	case project.InRight:
		hinge, lock = o.b, o.a
	case project.OutLeft:
		into = into.Mul(-1)
	case project.OutRight:
		hinge, lock, into = o.b, o.a, into.Mul(-1)
	case project.InLeft:
	default: // sliding: the leaf before the wall
		by := o.inward.Mul(-thick / 2)
		d.lines(featureLayer, black, edge, d.floor(geometry.Polygon{o.a.Add(by), o.b.Add(by)}))
		return
	}
	if into.Dot(o.inward) < 0 {
		out := o.inward.Mul(-thick)
		hinge, lock = hinge.Add(out), lock.Add(out)
	}
	wide := lock.Sub(hinge)
	leaf := into.Mul(wide.Len())
	const n = 16
	sweep := make(geometry.Polygon, 0, n+1)
	for i := range n + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
		sweep = append(sweep, hinge.Add(wide.Mul(cos)).Add(leaf.Mul(sin)))
	}
	d.lines(featureLayer, black, edge, d.floor(geometry.Polygon{hinge, hinge.Add(leaf)}))
	d.lines(featureLayer, black, thin, d.floor(sweep))
	d.solids = append(d.solids, around(d.floor(geometry.Polygon{hinge, hinge.Add(leaf)})))
}
