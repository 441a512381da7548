// SPDX-License-Identifier: MIT

package light

import (
	"context"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project/shell"
)

// boxSurfaces are the six sides of a closed box, seen from within.
func boxSurfaces(l, w, h float64) []shell.Surface {
	side := func(at, n, u, v geometry.Vec, a, b float64) shell.Surface {
		return shell.Surface{Kind: shell.Feature, Origin: at, Normal: n, U: u, V: v, Outline: geometry.Polygon{{}, {X: a}, {X: a, Y: b}, {Y: b}}}
	}
	x, y, z := geometry.Vec{X: 1}, geometry.Vec{Y: 1}, geometry.Vec{Z: 1}
	return []shell.Surface{
		side(geometry.Vec{}, z, x, y, l, w), side(geometry.Vec{Z: h}, z.Neg(), x, y, l, w),
		side(geometry.Vec{}, y, x, z, l, h), side(geometry.Vec{Y: w}, y.Neg(), x, z, l, h),
		side(geometry.Vec{}, x, y, z, w, h), side(geometry.Vec{X: l}, x.Neg(), y, z, w, h),
	}
}

// boxModel is a closed box of one reflectance with lamps and solids in it.
func boxModel(l, w, h, reflectance float64, emitters []Emitter, solids ...geometry.Solid) *Model {
	m := &Model{Layers: 1, outline: geometry.Polygon{{}, {X: l}, {X: l, Y: w}, {Y: w}}}
	m.shade = shadeOf(solids, m.outline)
	for _, e := range emitters {
		m.Emitters = append(m.Emitters, e.finished())
	}
	m.patches(boxSurfaces(l, w, h), func(*shell.Surface) float64 { return reflectance })
	return m
}

// No light is made or lost: what the walls of a closed box take is what the lamps give,
// and where the walls themselves shine evenly it is as bright everywhere, E = D/(1-ρ).
func TestWhiteFurnace(t *testing.T) {
	const flux = 1000.0
	lamps := map[string]Emitter{
		"a lamp in the middle": {At: geometry.Vec{X: 2, Y: 1.5, Z: 1.3}, Axis: geometry.Vec{Z: -1}, Flux: flux, Lobe: 1},
		"a downlight":          {At: geometry.Vec{X: 1, Y: 1, Z: 2.395}, Axis: geometry.Vec{Z: -1}, Flux: flux, Lobe: Lobe(40)},
		"a strip up in a cove": {At: geometry.Vec{X: 2, Y: 0.15, Z: 2.25}, Axis: geometry.Vec{Z: 1}, Flux: flux, Lobe: 1, Run: geometry.Vec{X: 0.2}},
		"a strip on a wall":    {At: geometry.Vec{X: 2, Y: 0.005, Z: 1.25}, Axis: geometry.Vec{Y: 1}, Flux: flux, Lobe: 1, Run: geometry.Vec{X: 0.2}},
	}
	for name, e := range lamps {
		for _, rho := range []float64{0.214, 0.5} {
			m := boxModel(4, 3, 2.4, rho, []Emitter{e})
			if err := m.Bounce(context.Background(), 40); err != nil {
				t.Fatal(err)
			}
			taken := 0.0
			for i := range m.Patches {
				taken += m.Patches[i].Area * m.Patches[i].Lux[0] * (1 - rho)
			}
			t.Logf("%s, %g: %.2f of %g lm", name, rho, taken, flux)
			geomtest.Within(t, name, taken, flux, 0.01*flux)
		}
	}
	const rho = 0.5
	m := boxModel(4, 3, 2.4, rho, nil)
	f, err := m.factors(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	n, worst := len(m.Patches), 0.0
	for i := range m.Patches {
		sum := 0.0
		for _, v := range f[i*n : (i+1)*n] {
			sum += float64(v)
		}
		worst = math.Max(worst, math.Abs(sum-1))
	}
	t.Logf("%d patches, the factors of one differ from 1 by %.4f at most", n, worst)
	if worst > 0.01 {
		t.Errorf("the factors of a patch of a closed box differ from 1 by %g", worst)
	}
}

// Two equal parallel rectangles 3 by 2 and 1.5 apart: the mean of one by the other is the
// form factor between them, entry C-11 of Howell's catalogue, from memory.
func TestTwoParallelRectangles(t *testing.T) {
	const a, b, c = 3.0, 2.0, 1.5
	x, y := a/c, b/c
	want := 2 / (math.Pi * x * y) * (math.Log(math.Sqrt((1+x*x)*(1+y*y)/(1+x*x+y*y))) +
		x*math.Sqrt(1+y*y)*math.Atan(x/math.Sqrt(1+y*y)) + y*math.Sqrt(1+x*x)*math.Atan(y/math.Sqrt(1+x*x)) - x*math.Atan(x) - y*math.Atan(y))
	geomtest.Within(t, "closed form", want, 0.34169, 0.00001) // as worked out once before, by another program
	m := boxModel(a, b, c, 0.5, nil)
	sum := 0.0
	for i := range m.Patches {
		if p := &m.Patches[i]; p.Normal.Z > 0.5 {
			for j := range m.Patches {
				if q := &m.Patches[j]; q.Normal.Z < -0.5 {
					sum += p.Area * p.sees(q) / (a * b)
				}
			}
		}
	}
	geomtest.Within(t, "patches", sum, want, 0.003*want)
}
