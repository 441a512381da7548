// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project/place"
)

// cones draws the nominal coverage of the loudspeakers, and their axes.
func (s *painter) cones() {
	if !s.o.Cones {
		return
	}
	main := place.MainPoint(s.d)
	m := &Mesh{Name: "coverage", Alpha: 0.055, Unlit: true}
	l := &Lines{Name: "coverage edges"}
	for i, b := range s.boxes {
		if len(b.Drivers) == 0 || b.Spec.Subwoofer() || s.o.Only && i != s.o.Speaker {
			continue
		}
		at := b.At.Vec()
		length := clamp(at.Dist(main), 1.2, 2.5)
		bright := s.ink.Coverage
		if i == s.o.Speaker {
			bright = s.ink.Selected
		}
		// Shells of rising length lie over each other, so that the cone fades.
		for _, part := range [3]float64{0.4, 0.7, 1} {
			shell(m.pen(), rim(b, length*part), at, s.ink.Coverage)
		}
		edge := rim(b, length)
		l.loop(bright.times(0.8), edge...)
		for k := 0; k < len(edge); k += len(edge) / 4 {
			l.dashes(at, edge[k], 0.10, 0.06, bright.times(0.6))
		}
		end := at.Add(b.Axis.Mul(at.Dist(main)))
		l.dashes(at, end, 0.30, 0.05, bright)
	}
	s.add(m)
	s.addLines(l)
}

// rim returns the ends of the rays at the edge of b's nominal coverage, length
// metres long. Around the axis their angle to it follows an ellipse, from half of
// CoverageH to the side to half of CoverageV upwards.
func rim(b place.Speaker, length float64) []geometry.Vec {
	const n, widest = 32, 85 * unit.Degree
	right, ok := b.Front.V.Sub(b.Axis.Mul(b.Front.V.Dot(b.Axis))).Unit()
	if !ok {
		right = across(b.Axis)
	}
	up := b.Axis.Cross(right)
	h := clamp(b.Spec.CoverageH.Radians()/2, 0.01, widest)
	v := clamp(b.Spec.CoverageV.Radians()/2, 0.01, widest)
	out := make([]geometry.Vec, n)
	for j := range out {
		s, c := math.Sincos(2 * math.Pi * float64(j) / n)
		angle := 1 / math.Hypot(c/h, s/v)
		sa, ca := math.Sincos(angle)
		side := right.Mul(c).Add(up.Mul(s))
		out[j] = b.At.Vec().Add(b.Axis.Mul(ca * length)).Add(side.Mul(sa * length))
	}
	return out
}

// shell draws the faces between apex and the rim.
func shell(p pen, rim []geometry.Vec, apex geometry.Vec, c RGB) {
	for j := range rim {
		a, b := rim[j], rim[(j+1)%len(rim)]
		n, ok := a.Sub(apex).Cross(b.Sub(apex)).Unit()
		if ok {
			p.tri(p.vertex(apex, n, c), p.vertex(a, n, c), p.vertex(b, n, c))
		}
	}
}
