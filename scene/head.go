// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
)

// A head is drawn within the ellipsoid of its solid, whose radii are 1 here: x back, y to
// the right, z up. A direction about it goes by the angle from the face, 0, over the ears
// to the back, half a turn.

// head draws a head without its hair: a calm face of brow, nose and chin, and
// ears unless hair hides them. r is the radii of the ellipsoid.
func head(p pen, r geometry.Vec, skin RGB, cut haircut, fine bool) {
	heights := []float64{-0.94, -0.74, -0.38, -0.24, 0.03, 0.36, 0.80}
	n, ear, under := 10, 4, 0.84 // under the hair, which has flat faces too
	if fine {
		heights = []float64{-0.97, -0.89, -0.80, -0.68, -0.55, -0.44, -0.35, -0.25, -0.12, 0.03, 0.20, 0.45, 0.80}
		n, ear, under = 18, 6, 0.94
	}
	points := make([]geometry.Vec, 0, n*len(heights))
	for _, z := range heights {
		for j := range n {
			v := skull(about(j, n), z)
			if z > hairline(cut, about(j, n))+0.10 {
				v = v.Mul(under)
			}
			points = append(points, scaled(v, r))
		}
	}
	p.hull(points, n, func(int, int) RGB { return skin })
	if cut == bob {
		return
	}
	for _, side := range [2]float64{-1, 1} {
		lean := geometry.Vec{X: 0.25, Z: 1}
		up, _ := lean.Unit()
		p.to(scaled(geometry.Vec{X: 0.06, Y: side * 0.875, Z: -0.11}, r),
			geometry.Basis{U: geometry.Vec{X: up.Z, Z: -up.X}, V: geometry.Vec{Y: 1}, W: up}).
			ball(geometry.Vec{X: 0.018, Y: 0.008, Z: 0.030}, ear, skin.times(0.97))
	}
}

// about returns the direction of point j of n round a head: more of them at the face.
func about(j, n int) float64 {
	a := 2 * math.Pi * float64(j) / float64(n)
	return a - 0.42*math.Sin(a)
}

func scaled(v, by geometry.Vec) geometry.Vec {
	return geometry.Vec{X: v.X * by.X, Y: v.Y * by.Y, Z: v.Z * by.Z}
}

// skull returns the point of the skin in a direction and at a height from -1 to 1.
func skull(direction, z float64) geometry.Vec {
	sin, cos := math.Sincos(direction)
	bump := func(x, at, wide float64) float64 { return math.Exp(-sq((x - at) / wide)) }
	var deep float64
	if cos < 0 {
		deep = 0.925 - 0.36*step(-0.05, -0.85, z) // the nape
	} else {
		front := bump(sin, 0, 0.62)
		deep = 0.925 + front*(0.020*bump(z, 0.22, 0.10)+0.055*bump(z, -0.72, 0.14)-0.075*bump(z, -0.20, 0.32)) -
			0.035*bump(z, 0.04, 0.12)*bump(math.Abs(sin), 0.36, 0.17) - // brow, chin, the plane of the face; sockets of the eyes
			0.040*bump(z, -0.50, 0.28)*bump(math.Abs(sin), 0.62, 0.26)
		deep *= 1 - 0.30*step(-0.79, -0.99, z) // under the chin
		nose := step(0.12, -0.20, z) * step(-0.38, -0.26, z) * bump(sin, 0, 0.14)
		deep += (0.994 - deep) * nose
	}
	rim := math.Sqrt(1 - z*z)
	wide := 0.90 + 0.045*bump(z, -0.60, 0.25) - 0.06*step(-0.60, -1, z) - 0.13*max(cos, 0)*step(0.20, -0.40, z)
	return geometry.Vec{X: -cos * rim * deep, Y: -sin * rim * wide, Z: z * (0.985 - 0.035*step(0, 1, z))}
}

// hair draws the hair of a head as one mass.
func hair(p pen, r geometry.Vec, cut haircut, c RGB, fine bool) {
	n, rows := 10, 3
	if fine {
		n, rows = 22, 5
	}
	points := make([]geometry.Vec, 0, n*(rows+1))
	for i := -1; i < rows; i++ {
		for j := range n {
			direction := 2 * math.Pi * float64(j) / float64(n)
			direction += 0.2 * math.Sin(2*direction) // more of them at the temples
			edge := hairline(cut, direction)
			z := math.Cos(math.Acos(edge) * (1 - max(float64(i), 0)/(float64(rows)-0.5)))
			thick := 0.075 * step(-1.2, 1.6, float64(i))
			if i < 0 {
				thick = -0.04 // the edge is within the skin
			}
			points = append(points, scaled(tress(cut, direction, z, thick), r))
		}
	}
	p.lid(points, n, func(i, j int) RGB { // strands
		return c.times(0.92 + 0.07*min(float64(i)/3, 1) + 0.03*math.Sin(2.4*float64(j)+1.7*math.Sin(float64(j))))
	})
	if cut == tied {
		p.to(scaled(geometry.Vec{X: 0.745, Z: -0.24}, r), geometry.WorldBasis()).
			ball(geometry.Vec{X: 0.20 * r.X, Y: 0.024, Z: 0.024}, n/2, c)
	}
}

// tress returns the point of the hair in a direction and at a height, where it is so thick.
func tress(cut haircut, direction, z, thick float64) geometry.Vec {
	v := skull(direction, z)
	within := 0.988
	if cut == tied && v.X > 0 {
		within = 0.95 // close to the head, before the knot
	}
	v = v.Mul(1 + thick)
	if cut == bob && thick > 0 { // it falls straight, past jaw and nape
		rim := math.Sqrt(1 - z*z)
		sin, cos := math.Sincos(direction)
		k := 13 * thick * within * step(0.5, 0, z)
		full := geometry.Vec{X: -cos * rim * within, Y: -sin * rim * within, Z: z * within}
		v = v.Lerp(full, min(k, 1))
	}
	if l := v.Len(); l > within {
		v = v.Mul(within / l)
	}
	return v
}

// hairline returns the height at which the hair ends in a direction.
func hairline(cut haircut, direction float64) float64 {
	type mark struct{ at, z float64 } // degrees from the face
	var way []mark
	switch cut {
	case short:
		way = []mark{{0, 0.57}, {30, 0.56}, {50, 0.50}, {61, 0.38}, {68, 0.04}, {80, -0.08}, {87, -0.14}, {94, 0.12}, {112, 0.10}, {124, -0.30}, {150, -0.48}, {180, -0.53}}
	case receding:
		way = []mark{{0, 0.84}, {22, 0.86}, {42, 0.68}, {58, 0.42}, {66, 0.06}, {80, -0.06}, {87, -0.10}, {94, 0.12}, {112, 0.10}, {124, -0.30}, {150, -0.48}, {180, -0.53}}
	case bob:
		way = []mark{{0, 0.60}, {25, 0.56}, {45, 0.30}, {57, -0.15}, {68, -0.58}, {90, -0.74}, {180, -0.80}}
	case tied:
		way = []mark{{0, 0.58}, {35, 0.54}, {58, 0.42}, {70, 0.16}, {80, 0.12}, {100, 0.10}, {120, -0.15}, {150, -0.45}, {180, -0.52}}
	}
	a := math.Mod(direction, 2*math.Pi)
	a = math.Abs(math.Remainder(a, 2*math.Pi)) * 180 / math.Pi
	for i := 1; i < len(way); i++ {
		if b, e := way[i-1], way[i]; a <= e.at {
			return b.z + (e.z-b.z)*(a-b.at)/(e.at-b.at)
		}
	}
	return way[len(way)-1].z
}
