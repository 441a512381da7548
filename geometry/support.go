// SPDX-License-Identifier: MIT

package geometry

import "math"

// Reach returns how far s reaches from its centre along n: the greatest
// n.(x - centre) over the points x of s. n need not be a unit vector; the reach
// scales with it.
func (s *Solid) Reach(n Vec) float64 {
	if s.tri != nil {
		return max(n.Dot(s.tri[0]), n.Dot(s.tri[1]), n.Dot(s.tri[2]))
	}
	x := s.basis.U.Dot(n) * s.half.X
	y := s.basis.V.Dot(n) * s.half.Y
	z := s.basis.W.Dot(n) * s.half.Z
	switch s.form {
	case boxForm:
		return math.Abs(x) + math.Abs(y) + math.Abs(z)
	case cylinderForm:
		return math.Sqrt(x*x+y*y) + math.Abs(z)
	}
	return math.Sqrt(x*x + y*y + z*z)
}

// Support returns the Reach of s along n and the point of s that has it. For
// n = 0 the reach is 0, at the centre. Where a face of a box is square to n, the
// point is one of its corners; where a cylinder's is, it lies in that face.
func (s *Solid) Support(n Vec) (reach float64, at Vec) {
	if s.tri != nil {
		return s.tri.support(n, s.center)
	}
	l := s.basis.Local(n)
	switch s.form {
	case boxForm:
		p := Vec{math.Copysign(s.half.X, l.X), math.Copysign(s.half.Y, l.Y), math.Copysign(s.half.Z, l.Z)}
		return p.Dot(l), s.center.Add(s.basis.World(p))
	case cylinderForm:
		p := Vec{Z: math.Copysign(s.half.Z, l.Z)}
		if m := math.Hypot(l.X, l.Y); m > 0 {
			p.X, p.Y = s.half.X*(l.X/m), s.half.X*(l.Y/m)
		}
		return p.Dot(l), s.center.Add(s.basis.World(p))
	}
	q := Vec{l.X * s.half.X, l.Y * s.half.Y, l.Z * s.half.Z}
	reach = q.Len()
	if !(reach > 0) {
		return 0, s.center
	}
	p := Vec{q.X * s.half.X, q.Y * s.half.Y, q.Z * s.half.Z}.Mul(1 / reach)
	return reach, s.center.Add(s.basis.World(p))
}
