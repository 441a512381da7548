// SPDX-License-Identifier: MIT

package wave

import (
	"math"
	"math/cmplx"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// slanted is a room with a slanted wall, a sloped ceiling and a platform in it.
func slanted() Room {
	return Room{
		Footprint: geometry.Polygon{{}, {X: 5.2}, {X: 4.3, Y: 3.9}, {Y: 3.9}},
		Ceiling:   geometry.Ceiling{{Height: 2.9, AlongX: -0.15}}, Walls: []float64{0.05}, FloorGives: 0.05, CeilingGives: 0.05,
	}
}

// However the room is turned and whatever the grid, the air and the surfaces are
// those of the room: a slanted wall, a sloped ceiling, a platform that reaches
// through it, and a column that stands half in the platform.
func TestAirAndSurfacesAreThoseOfTheRoom(t *testing.T) {
	r := geomtest.Rand(t)
	for range 12 {
		turn, at := geomtest.Between(r, 0, 6.28), geomtest.Between(r, -1, 1)
		sin, cos := math.Sincos(turn)
		place := func(x, y float64) geometry.Vec2 {
			return geometry.Vec2{X: cos*x - sin*y + at, Y: sin*x + cos*y}
		}
		outline := func(p ...float64) (q geometry.Polygon) {
			for i := 0; i < len(p); i += 2 {
				q = append(q, place(p[i], p[i+1]))
			}
			return q
		}
		room := Room{
			Footprint: outline(0, 0, 5, 0, 4, 4, 0, 4), Walls: []float64{1}, FloorGives: 1, CeilingGives: 1,
			// 3 - 0.2 x in the room's own frame.
			Ceiling: geometry.Ceiling{{Height: 3 + 0.2*cos*at, AlongX: -0.2 * cos, AlongY: -0.2 * sin}},
			Blocks: []Block{
				{Footprint: outline(-1, 3, 3, 3, 3, 5, -1, 5), Top: 0.4, Gives: 1},
				{Footprint: outline(2.5, 2.5, 3.5, 2.5, 3.5, 3.5, 2.5, 3.5), Bottom: -1, Top: 1.5, Gives: 1},
			},
		}
		g := gridOf(t, room, geomtest.Between(r, 0.09, 0.31))
		volume, surface := g.measure()
		// The plan is a square of 4 m and a triangle of 1 x 4 m on it.
		const plan = 16 + 2.0
		air := 16*(3-0.2*2) + 2*(3-0.2*(4+1./3)) - 3*0.4 - (1*1.5 - 0.5*0.5*0.4)
		// Floor and what stands on it have the plan as their tops; the sides of the
		// platform are hidden by half a metre of the column on two sides, those of the
		// column by half a metre of platform.
		wall := 5*(3-0.2*2.5) + math.Hypot(1, 4)*(3-0.2*4.5) + 4*(3-0.2*2) + 4*3
		behind := 0.4 * (3 + 1) // of the walls, hidden by the platform
		sides := 0.4*(2.5+0.5) + 4*1.5 - 0.4*(0.5+0.5)
		geomtest.Within(t, "air", volume, air, 2e-5*air)
		want := plan + plan*math.Hypot(1, 0.2) + wall - behind + sides
		geomtest.Within(t, "surface", surface, want, 1e-4*want)
	}
}

// gridOf returns the grid with all its air, not thinned round edges.
func gridOf(t *testing.T, r Room, spacing float64) *grid {
	t.Helper()
	g, err := newGrid(r, spacing)
	if err != nil {
		t.Fatal(err)
	}
	clear(g.fill)
	clear(g.loss)
	newCutter(g, r).cut()
	return g
}

// A slanted wall and a sloped ceiling cost no order: the error of the response falls
// with the square of the spacing.
func TestSlantsConvergeWithTheSquare(t *testing.T) {
	f := span(20, 70, 2.5)
	s, e := []geometry.Vec{{X: 0.5, Y: 0.6, Z: 0.4}}, []geometry.Vec{{X: 3.4, Y: 2.6, Z: 1.2}}
	at := func(h float64) []complex128 {
		return answer(t, slanted(), s, e, append(f[:len(f):len(f)], 80), Options{LargestCell: h, Duration: 1.5}).P
	}
	// Fine answers extrapolated to no spacing at all.
	a, b := at(0.06), at(0.08)
	want := make([]complex128, len(f))
	for i := range f {
		want[i] = a[i] + (a[i]-b[i])/complex(0.08*0.08/(0.06*0.06)-1, 0)
	}
	off := func(h float64) float64 {
		sum, all := 0.0, 0.0
		for i, p := range at(h)[:len(f)] {
			sum += math.Pow(cmplx.Abs(p-want[i]), 2)
			all += math.Pow(cmplx.Abs(want[i]), 2)
		}
		return math.Sqrt(sum / all)
	}
	coarse, fine := off(0.28), off(0.14)
	order := math.Log2(coarse / fine)
	t.Logf("off by %.4f at 0.28 m, %.4f at 0.14 m: order %.2f", coarse, fine, order)
	if !(order > 1.6) {
		t.Errorf("off by %.4f at 0.28 m, %.4f at 0.14 m: order %.2f", coarse, fine, order)
	}
}

// A wall thinner than a cell, between two planes of the grid or across one, used to
// let sound through or not as the grid fell. Nothing passes it now.
func TestAThinWallLetsNothingThrough(t *testing.T) {
	for _, x := range []float64{2.3, 2.35, 2.4, 2.43, 2.5} {
		for _, thick := range []float64{0.05, 0.1, 0.18} {
			r := Box(5, 4, 2.5, 0)
			r.Blocks = []Block{{Footprint: geometry.Polygon{{X: x, Y: -1}, {X: x + thick, Y: -1}, {X: x + thick, Y: 5}, {X: x, Y: 5}}, Bottom: -1, Top: 3}}
			out := answer(t, r, []geometry.Vec{{X: 1, Y: 1, Z: 1}}, []geometry.Vec{{X: 4, Y: 2, Z: 1}}, []float64{40, 80}, Options{Duration: 0.3, LargestCell: 0.15})
			for _, p := range out.P {
				if p != 0 {
					t.Errorf("wall at %v, %v thick: %v", x, thick, out.P)
					break
				}
			}
			volume, _ := gridOf(t, r, 0.15).measure()
			geomtest.Within(t, "air", volume, (5-thick)*4*2.5, 1e-4*50)
		}
	}
}

// What the coarse grid says of the fine one is about its error, against the exact
// answer in an L.
func TestDoubtIsAboutTheError(t *testing.T) {
	e := ell{3.1, 7.1, 5.1, 3.05, 2.5}
	f := span(20, 120, 1)
	s, q := geometry.V(0.4, 0.5, 0.3), geometry.V(5.2, 1.6, 1.2)
	const t60 = 0.6
	fine, coarse := fading(t, e.room(), s, q, f, t60, 0.12), fading(t, e.room(), s, q, f, t60, 0.24)
	o := e.opening()
	want := make([]complex128, len(f))
	for i, hz := range f {
		want[i] = e.pressure(complex(2*math.Pi*hz, -math.Log(1000)/t60)/complex(e.room().speed(), 0), o, s, q)
	}
	real, said := off(fine.P, want, 12), Doubt(fine, coarse, 2)
	t.Logf("off by %.2f dB, said %.2f", real, said)
	if said < 0.5*real || said > 3*real {
		t.Errorf("off by %.2f dB, said %.2f", real, said)
	}
}
