// SPDX-License-Identifier: MIT

package geometry

import "math"

// Rect is a flat parallelogram with corners Center +- U +- V, such as the
// picture on a screen. U and V are half-edges, in metres.
type Rect struct{ Center, U, V Vec }

// Target is a flat area that an eye or an ear should see: a disc or a
// parallelogram. Build one with Disc.Target or Rect.Target. The zero value is a
// point at the origin.
type Target struct {
	center Vec
	u, v   Vec // the plane's axes: the target is the unit disc, or |x|, |y| <= 1
	round  bool
}

// Target returns d as a target. A disc whose normal has no direction, or whose
// radius is zero or less, is a point.
func (d Disc) Target() Target {
	n, ok := d.Normal.Unit()
	if !ok || !(d.Radius > 0) {
		return Target{center: d.Center, round: true}
	}
	u, v := across(n)
	// Turned by an angle of no meaning, so that the room's verticals and
	// horizontals do not run along the strips of Visible.
	const turn = 0.7391 // rad
	sin, cos := math.Sincos(turn)
	return Target{
		center: d.Center,
		u:      u.Mul(cos).Add(v.Mul(sin)).Mul(d.Radius),
		v:      v.Mul(cos).Sub(u.Mul(sin)).Mul(d.Radius),
		round:  true,
	}
}

// Target returns r as a target. One without area is a point.
func (r Rect) Target() Target { return Target{center: r.Center, u: r.U, v: r.V} }

// area returns the area of the target in its own coordinates.
func (t *Target) area() float64 {
	if t.round {
		return math.Pi
	}
	return 4
}

// extent returns the greatest value that x a + y b takes over the target, in its
// own coordinates.
func (t *Target) extent(a, b float64) float64 {
	if t.round {
		return math.Hypot(a, b)
	}
	return math.Abs(a) + math.Abs(b)
}
