// SPDX-License-Identifier: MIT

package panel

import "math"

// Edges returns the edges of m where it ends: those of its pieces, without what two of
// them share. Each is a Rect without height or without width.
func (m *Module) Edges() (edges []Rect) {
	const same = 1e-9 // m
	for i, p := range m.Pieces {
		// The sides of p in turn; lie gives the range along a side of what lies beyond it.
		for _, side := range [4]struct {
			lo, hi float64
			lie    func(q Rect) (at, from, to float64)
			at     float64
			rect   func(a, b float64) Rect
		}{
			{p.From, p.To, func(q Rect) (float64, float64, float64) { return q.High, q.From, q.To }, p.Low, func(a, b float64) Rect { return Rect{a, b, p.Low, p.Low} }},
			{p.From, p.To, func(q Rect) (float64, float64, float64) { return q.Low, q.From, q.To }, p.High, func(a, b float64) Rect { return Rect{a, b, p.High, p.High} }},
			{p.Low, p.High, func(q Rect) (float64, float64, float64) { return q.To, q.Low, q.High }, p.From, func(a, b float64) Rect { return Rect{p.From, p.From, a, b} }},
			{p.Low, p.High, func(q Rect) (float64, float64, float64) { return q.From, q.Low, q.High }, p.To, func(a, b float64) Rect { return Rect{p.To, p.To, a, b} }},
		} {
			open := [][2]float64{{side.lo, side.hi}}
			for j, q := range m.Pieces {
				at, from, to := side.lie(q)
				if j == i || math.Abs(at-side.at) > same {
					continue
				}
				var left [][2]float64
				for _, o := range open {
					if a, b := max(o[0], from), min(o[1], to); b-a <= same {
						left = append(left, o)
						continue
					}
					if from-o[0] > same {
						left = append(left, [2]float64{o[0], from})
					}
					if o[1]-to > same {
						left = append(left, [2]float64{to, o[1]})
					}
				}
				open = left
			}
			for _, o := range open {
				edges = append(edges, side.rect(o[0], o[1]))
			}
		}
	}
	return edges
}
