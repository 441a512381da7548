// SPDX-License-Identifier: MIT

package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// parallel is the form factor of a small face to a parallel rectangle a by b, one corner
// of which is straight over it at distance c: entry B-3 of J. R. Howell's catalogue of
// configuration factors, also Siegel and Howell, Thermal Radiation Heat Transfer, both
// from memory.
func parallel(a, b, c float64) float64 {
	x, y := a/c, b/c
	p, q := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/p*math.Atan(y/p) + y/q*math.Atan(x/q)) / (2 * math.Pi)
}

// square is the same to a rectangle square to the face: b wide along the line where their
// planes meet, a high from it, the face at distance c from a corner on that line: entry
// B-4 there, from memory.
func square(a, b, c float64) float64 {
	x, y := a/b, c/b
	r := math.Sqrt(x*x + y*y)
	return (math.Atan(1/y) - y/r*math.Atan(1/r)) / (2 * math.Pi)
}

func TestFactorsOfRectangles(t *testing.T) {
	for _, s := range [][3]float64{{1, 1, 1}, {2, 0.3, 1.5}, {0.1, 0.1, 3}, {5, 4, 0.2}} {
		a, b, c := s[0], s[1], s[2]
		up := geometry.Vec{Z: 1}
		over := []geometry.Vec{{Z: c}, {X: a, Z: c}, {X: a, Y: b, Z: c}, {Y: b, Z: c}}
		want := parallel(a, b, c)
		geomtest.Within(t, "parallel", Factor(geometry.Vec{}, up, over), want, 1e-3*want)
		beside := []geometry.Vec{{X: c}, {X: c, Y: b}, {X: c, Y: b, Z: a}, {X: c, Z: a}}
		want = square(a, b, c)
		geomtest.Within(t, "square", Factor(geometry.Vec{}, up, beside), want, 1e-3*want)
		// What reaches under the face does not count, whichever way round it is listed.
		under := []geometry.Vec{{X: c, Z: a}, {X: c, Y: b, Z: a}, {X: c, Y: b, Z: -2 * a}, {X: c, Z: -2 * a}}
		geomtest.Within(t, "cut", Factor(geometry.Vec{}, up, under), want, 1e-3*want)
	}
	if f := Factor(geometry.Vec{}, geometry.Vec{Z: 1}, make([]geometry.Vec, 40)); f != 0 {
		t.Errorf("an outline of 40 corners: %g", f)
	}
}

// The factors of all sides of a closed box are 1 in all, from any point in it, any way
// the face looks.
func TestFactorsOfABoxAreOne(t *testing.T) {
	r := geomtest.Rand(t)
	for range 200 {
		n := geomtest.Unit(r)
		p := geometry.Vec{X: geomtest.Between(r, 0.01, 2.99), Y: geomtest.Between(r, 0.01, 1.99), Z: geomtest.Between(r, 0.01, 0.99)}
		sum := 0.0
		for _, s := range boxSurfaces(3, 2, 1) {
			var outline []geometry.Vec
			for _, q := range s.Outline {
				outline = append(outline, on(&s, q))
			}
			sum += Factor(p, n, outline)
		}
		geomtest.Within(t, "sum", sum, 1, 1e-9)
	}
}

// A strip of the same light as a matt ribbon, against the ribbon's closed form far and
// near; a picture cell or stars alike.
func TestAStripIsANarrowRibbon(t *testing.T) {
	const l, w, flux = 0.4, 0.002, 100.0
	e := Emitter{Axis: geometry.Vec{Z: -1}, Flux: flux, Lobe: 1, Run: geometry.Vec{X: l / 2}}.finished()
	ribbon := []geometry.Vec{{X: -l / 2, Y: -w / 2}, {X: l / 2, Y: -w / 2}, {X: l / 2, Y: w / 2}, {X: -l / 2, Y: w / 2}}
	for _, p := range []geometry.Vec{{Z: -0.1}, {X: 0.3, Y: 0.1, Z: -0.3}, {X: 0.25, Y: 0.05, Z: -0.08}, {X: 2, Y: 1, Z: -2}} {
		for _, n := range []geometry.Vec{{Z: 1}, {X: -1}} {
			want := flux / (l * w) * Factor(p, n, ribbon)
			geomtest.Within(t, "lux", e.Lux(p, n), want, 0.01*want+1e-9)
		}
	}
	face := Emitter{Axis: geometry.Vec{Z: -1}, Flux: 3, Lobe: 1, Face: []geometry.Vec{{X: -0.2, Y: -0.2}, {X: -0.2, Y: 0.2}, {X: 0.2, Y: 0.2}, {X: 0.2, Y: -0.2}}}.finished()
	for _, z := range []float64{-0.05, -1, -4} {
		p := geometry.Vec{X: 0.1, Y: 0.1, Z: z}
		want := 3 / 0.16 * Factor(p, geometry.Vec{Z: 1}, face.Face)
		geomtest.Within(t, "face", face.Lux(p, geometry.Vec{Z: 1}), want, 0.02*want)
		geomtest.Within(t, "behind", face.Lux(p.Neg(), geometry.Vec{Z: -1}), 0, 0)
	}
}

// I0 cos^n / r² times the cosine at the face; the beam is where half the light is left; all
// that leaves is the flux.
func TestInverseSquareAndCosine(t *testing.T) {
	down := geometry.Vec{Z: -1}
	e := Emitter{Axis: down, Flux: 600, Lobe: Lobe(40)}.finished()
	at := e.Lux(geometry.Vec{Z: -2}, geometry.Vec{Z: 1})
	geomtest.Within(t, "twice as far", e.Lux(geometry.Vec{Z: -4}, geometry.Vec{Z: 1}), at/4, 1e-9*at)
	geomtest.Within(t, "candelas", at*4, 600*(e.Lobe+1)/(2*math.Pi), 1e-9*at)
	sin, cos := math.Sincos(20 * math.Pi / 180)
	half := geometry.Vec{X: 2 * sin, Z: -2 * cos}
	geomtest.Within(t, "at half the beam", e.Lux(half, half.Mul(-0.5)), at/2, 1e-9*at)
	geomtest.Within(t, "face askew", e.Lux(geometry.Vec{Z: -2}, geometry.Vec{X: sin, Z: cos}), at*cos, 1e-9*at)
	geomtest.Within(t, "behind", e.Lux(geometry.Vec{Z: 1}, down), 0, 0)
	geomtest.Within(t, "matt", Lobe(120), 1, 1e-12)
	geomtest.Within(t, "not given", Lobe(0), 1, 0)
	r := rand.New(rand.NewPCG(1, 2))
	sum, n := 0.0, 400_000
	for range n {
		v := geomtest.Unit(r)
		sum += e.Lux(v, v.Neg()) * 4 * math.Pi / float64(n)
	}
	geomtest.Within(t, "flux", sum, 600, 6)
}
