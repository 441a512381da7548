// SPDX-License-Identifier: MIT

package geometry_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

const benchCases = 256

func benchSegments() (r *rand.Rand, segs [benchCases]geometry.Segment) {
	r = rand.New(rand.NewPCG(1, 2))
	for i := range segs {
		segs[i] = geometry.Segment{A: geomtest.Point(r, 2), B: geomtest.Point(r, 2)}
	}
	return r, segs
}

// One operation is one clearance; segments and solids vary.
func BenchmarkSegmentEllipsoid(b *testing.B) {
	r, segs := benchSegments()
	var solids [benchCases]geometry.Solid
	for i := range solids {
		solids[i] = geometry.Ellipsoid{Center: geomtest.Point(r, 1), Basis: geomtest.Basis(r),
			Radii: geometry.V(0.1, 0.08, 0.12)}.Solid()
	}
	benchClearance(b, &solids, &segs)
}

func BenchmarkSegmentBox(b *testing.B) {
	r, segs := benchSegments()
	var solids [benchCases]geometry.Solid
	for i := range solids {
		solids[i] = geometry.Box{Center: geomtest.Point(r, 1), Basis: geomtest.Basis(r),
			Half: geometry.V(0.3, 0.1, 0.4)}.Solid()
	}
	benchClearance(b, &solids, &segs)
}

func benchClearance(b *testing.B, solids *[benchCases]geometry.Solid, segs *[benchCases]geometry.Segment) {
	b.ReportAllocs()
	var sum float64
	i := 0
	for b.Loop() {
		d, _ := solids[i%benchCases].Clearance(segs[i%benchCases])
		sum += d
		i++
	}
	if sum == 0 {
		b.Fatal("nothing was measured")
	}
}

// One operation is the visible share of one disc seen past heads and a chair
// back that all cover a part of it.
func BenchmarkVisible(b *testing.B) {
	for _, n := range []int{1, 3} {
		b.Run(fmt.Sprintf("solids=%d", n), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 4))
			type one struct {
				eye    geometry.Vec
				target geometry.Target
				solids []geometry.Solid
			}
			var scenes [64]one
			for i := range scenes {
				eye := geomtest.Point(r, 0.2)
				c := geometry.V(4, 0, 0.5).Add(geomtest.Point(r, 0.5))
				normal, _ := eye.Sub(c).Unit()
				scenes[i].eye = eye
				scenes[i].target = geometry.Disc{Center: c, Normal: normal, Radius: 0.1}.Target()
				for j := range n {
					at := eye.Lerp(c, geomtest.Between(r, 0.4, 0.6)).Add(geomtest.Unit(r).Mul(0.11))
					if j%3 == 2 {
						scenes[i].solids = append(scenes[i].solids, geometry.Box{Center: at,
							Basis: geomtest.Basis(r), Half: geometry.V(0.05, 0.25, 0.1)}.Solid())
					} else {
						scenes[i].solids = append(scenes[i].solids, geometry.Ellipsoid{Center: at,
							Basis: geomtest.Basis(r), Radii: geometry.V(0.1, 0.08, 0.12)}.Solid())
					}
				}
			}
			var sc geometry.Scratch
			sum, i := 0.0, 0
			b.ReportAllocs()
			for b.Loop() {
				s := &scenes[i%len(scenes)]
				sum += sc.Visible(s.eye, s.target, s.solids, nil)
				i++
			}
			b.ReportMetric(sum/float64(i), "share")
		})
	}
}
