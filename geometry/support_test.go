// SPDX-License-Identifier: MIT

package geometry

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// Support is as far along a direction as any point of the surface, and its
// point lies on the surface.
func TestSupportIsTheFarthestPoint(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		q := mgl64.QuatRotate(rng.Float64()*6, mgl64.Vec3{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize())
		b := BasisOf(q)
		size := V(0.1+rng.Float64(), 0.1+rng.Float64(), 0.1+rng.Float64())
		c := V(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64())
		n, _ := V(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()).Unit()
		e := Ellipsoid{c, b, size}.Solid()
		box := Box{c, b, size}.Solid()
		for name, s := range map[string]*Solid{"ellipsoid": &e, "box": &box} {
			reach, at := s.Support(n)
			if r := s.Reach(n); math.Abs(r-reach) > 1e-12 {
				t.Fatalf("%s: Reach %v, Support %v", name, r, reach)
			}
			if math.Abs(n.Dot(at.Sub(c))-reach) > 1e-12 {
				t.Fatalf("%s: reach %v, its point reaches %v", name, reach, n.Dot(at.Sub(c)))
			}
			if d, _ := s.Clearance(Segment{at, at}); math.Abs(d) > 1e-9 {
				t.Fatalf("%s: the point is %v m off the surface", name, d)
			}
			// Touching there and nowhere beyond: a plane just outside is free.
			out := at.Add(n.Mul(0.01))
			if d, _ := s.Clearance(Segment{out, out}); math.Abs(d-0.01) > 1e-9 && name == "ellipsoid" {
				t.Fatalf("ellipsoid: 10 mm beyond the farthest point is %v m away", d)
			}
			for range 50 {
				u, _ := V(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()).Unit()
				if _, p := s.Support(u); n.Dot(p.Sub(c)) > reach+1e-12 {
					t.Fatalf("%s: another point reaches farther", name)
				}
			}
		}
	}
}
