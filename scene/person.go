// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project/place"
)

// people seats the sitters who can be in the way.
func (s *painter) people() {
	if !s.o.People {
		return
	}
	m := &Mesh{Name: "people", OneSided: true}
	m.grow(len(s.seats)*700, len(s.seats)*900)
	who := place.PersonAt(s.d, s.d.Seating.Sitters.Others)
	var one Mesh
	row := -1
	for i, seat := range s.seats {
		if i == s.o.FromSeat {
			continue
		}
		if seat.Row != row {
			row = seat.Row
			at := seat
			at.Ref, at.Basis = geometry.Vec{}, geometry.WorldBasis()
			one = figure(who.In(at))
		}
		if s.o.Bare {
			s.add(m)
			m = &Mesh{Name: "people", OneSided: true, Seat: i + 1}
		}
		m.stamp(&one, seat.Ref, seat.Basis, RGB{}, 0)
	}
	s.add(m)
}

// figure draws a plain figure in its chair's own frame. Head, neck and shoulders
// stay within the solids that block sight; everything below the shoulders only has
// to look right.
func figure(b place.Body) Mesh {
	m := Mesh{}
	m.grow(700, 900)
	p := m.pen().of(Cloth)
	head(p.of(NoMaterial).to(b.Head.Center, b.Head.Basis), b.Head.Radii)
	neck(p.to(b.NeckSolid.Center, b.NeckSolid.Basis), b.NeckSolid.Radii)
	torso(p, b)
	for _, side := range [2]float64{-1, 1} {
		arms(p, b, side)
		legs(p, b, side)
	}
	return m
}

// head draws a head that fits into the ellipsoid of these radii; the face looks
// along -U. Brow, nose and ears touch the ellipsoid, cheeks, jaw and nape stay
// behind it.
func head(p pen, r geometry.Vec) {
	const n, rows = 12, 9
	points := make([]geometry.Vec, 0, n*rows)
	for i := range rows {
		z := -math.Cos(math.Pi * (float64(i) + 0.6) / (rows + 0.2))
		rim := math.Sqrt(max(1-z*z, 0))
		for j := range n {
			// j = 0 is the face; counter-clockwise about W.
			s, c := math.Sincos(2*math.Pi*float64(j)/n + math.Pi)
			x, y := rim*c, rim*s
			low := step(0.15, -0.85, z) // towards the chin
			y *= 0.955 - 0.24*low
			if x > 0 {
				x *= 0.99 - 0.34*low // the nape
			} else {
				x *= 0.955 - 0.02*low
				// Sockets of the eyes.
				x *= 1 - 0.075*math.Exp(-sq((z-0.06)/0.20)-sq((math.Abs(s)-0.43)/0.25))
			}
			points = append(points, geometry.Vec{X: x * r.X, Y: y * r.Y, Z: 0.99 * z * r.Z})
		}
	}
	p.hull(points, n, func(i, j int) RGB {
		q := points[i*n+j]
		// Darker over the crown and behind the ears, to show which way it looks.
		x, z := q.X/r.X, q.Z/r.Z
		return figureSkin.mix(figureHair, max(step(0.35, 0.90, z), step(-0.40, 0.20, x)*step(-0.80, -0.45, z)))
	})
	// Nose: a wedge whose tip lies on the ellipsoid.
	v := func(x, y, z float64) geometry.Vec { return geometry.Vec{X: x * r.X, Y: y * r.Y, Z: z * r.Z} }
	bridge, tip := v(-0.93, 0, 0.10), v(-0.965, 0, -0.22)
	left, right := v(-0.84, -0.17, -0.30), v(-0.84, 0.17, -0.30)
	flat := func(a, b, c geometry.Vec) {
		if n, ok := b.Sub(a).Cross(c.Sub(a)).Unit(); ok {
			p.tri(p.vertex(a, n, figureSkin), p.vertex(b, n, figureSkin), p.vertex(c, n, figureSkin))
		}
	}
	flat(bridge, left, tip)
	flat(bridge, tip, right)
	flat(left, right, tip)
	for _, side := range [2]float64{-1, 1} {
		points := ring(nil, v(0.06, side*0.89-0.055, -0.10), geometry.Vec{Z: 0.19 * r.Z}, geometry.Vec{X: 0.13 * r.X}, 5)
		points = ring(points, v(0.06, side*0.89+0.055, -0.10), geometry.Vec{Z: 0.13 * r.Z}, geometry.Vec{X: 0.09 * r.X}, 5)
		p.hull(points, 5, func(int, int) RGB { return figureSkin.times(0.95) })
	}
}

func sq(x float64) float64 { return x * x }

// neck draws the middle of the neck's ellipsoid; its ends are in head and torso.
func neck(p pen, r geometry.Vec) {
	const n = 8
	var points []geometry.Vec
	for _, z := range [4]float64{-0.72, -0.20, -0.17, 0.62} {
		k := 0.96 * math.Sqrt(1-z*z)
		points = ring(points, geometry.Vec{Z: z * r.Z}, geometry.Vec{X: r.X * k}, geometry.Vec{Y: r.Y * k}, n)
	}
	p.hull(points, n, func(i, _ int) RGB {
		if i < 2 {
			return figureCloth.times(0.95) // a roll neck
		}
		return figureSkin.times(0.85)
	})
}

// torso draws hips, waist, chest and, within their ellipsoid, the shoulders.
func torso(p pen, b place.Body) {
	const n = 12
	sh := b.Shoulders
	u, v, w := sh.Basis.U, sh.Basis.V, sh.Basis.W
	long := sh.Center.Sub(b.Hip).Dot(w)
	hips := b.HipBreadth / 2
	var points []geometry.Vec
	add := func(at geometry.Vec, deep, wide float64) {
		points = ring(points, at, u.Mul(deep), v.Mul(wide), n)
	}
	hip := func(up float64) geometry.Vec { return b.Hip.Lerp(sh.Center, up) }
	add(hip(-0.12), 0.095, hips*0.85)
	add(hip(0.08), 0.120, hips*0.97)
	add(hip(0.38), 0.108, hips*0.80)
	add(hip(1-0.10/max(long, 0.2)), 0.112, sh.Radii.Y*0.76)
	for _, z := range [3]float64{0, 0.52, 0.88} {
		k := 0.985 * math.Sqrt(1-z*z)
		// The slope from the neck: narrower towards the top than the ellipsoid.
		add(sh.Center.Add(w.Mul(z*sh.Radii.Z)), sh.Radii.X*k*0.94, sh.Radii.Y*k*(1-0.16*z))
	}
	p.hull(points, n, func(i, _ int) RGB { return figureCloth.times(0.86 + 0.023*float64(i)) })
}

// arms draws one arm: from the shoulder to the arm of the chair, or to the
// thigh where the chair has none.
func arms(p pen, b place.Body, side float64) {
	const upper, fore = 0.31, 0.25 // m
	sh := b.Shoulders
	c := b.Seat.Chair
	top := sh.Center.Add(sh.Basis.V.Mul(side * (sh.Radii.Y - 0.062))).Sub(sh.Basis.W.Mul(0.036))
	y := side * (float64(c.PanWidth) + float64(c.ArmWidth)) / 2
	z := float64(c.PanHeight) + float64(c.ArmHeight) + 0.042
	slope := 0.0
	if c.ArmWidth < 0.04 || c.ArmHeight < 0.05 || math.Abs(y) > sh.Radii.Y+0.16 {
		y, z, slope = side*(sh.Radii.Y-0.01), b.Hip.Z+0.13, 0.25
	}
	// The elbow lies at that height as far forward as the upper arm allows.
	drop, out := top.Z-z, y-top.Y
	ahead := math.Sqrt(max(sq(upper)-sq(drop)-sq(out), sq(0.06)))
	elbow := geometry.Vec{X: top.X - ahead, Y: y, Z: z}
	wrist := elbow.Add(geometry.Vec{X: -fore, Y: -side * slope * fore})
	hand := wrist.Add(geometry.Vec{X: -0.15, Y: -side * (0.02 + slope*0.1), Z: -0.008})
	across := geometry.Vec{Y: 1}
	mid := top.Lerp(elbow, 0.5)
	sleeve := figureCloth.times(0.97)
	p.limb([]joint{
		{top.Add(sh.Basis.W.Mul(0.008)), 0.030, sleeve}, {top.Lerp(mid, 0.25), 0.054, sleeve}, {mid, 0.050, sleeve},
		{elbow.Lerp(mid, 0.15), 0.044, sleeve}, {elbow.Lerp(wrist, 0.14), 0.043, sleeve}, {wrist, 0.031, sleeve},
	}, across, 6)
	p.of(NoMaterial).limb([]joint{
		{wrist.Lerp(elbow, 0.05), 0.024, figureSkin}, {wrist.Lerp(hand, 0.50), 0.035, figureSkin}, {hand, 0.017, figureSkin},
	}, across, 5)
}

// legs draws one leg: to the floor, or along the raised footrest.
func legs(p pen, b place.Body, side float64) {
	pan := float64(b.Seat.Chair.PanHeight)
	hip := b.Hip.Add(geometry.Vec{Y: side * 0.085, Z: 0.005})
	knee := geometry.Vec{X: -(b.Thigh - 0.055), Y: side * 0.105, Z: max(b.Shank-0.055, pan+0.045)}
	foot := geometry.Vec{X: knee.X - 0.04, Y: side * 0.115, Z: 0.09}
	toe, sole := geometry.Vec{X: -1}, geometry.Vec{Z: 1}
	if knee.Z > b.Shank {
		// The seat is too high for the foot to stand: it hangs.
		foot.Z = knee.Z - b.Shank + 0.145
	}
	if top, _, ok := raised(b.Seat); ok {
		knee.Z = pan + 0.075
		shin := b.Shank - 0.10
		foot = geometry.Vec{X: knee.X - shin, Y: knee.Y + side*0.02, Z: top + 0.02}
		toe, sole = geometry.Vec{X: -0.35, Y: side * 0.15, Z: 0.92}, geometry.Vec{X: 1, Z: 0.38}
	}
	across := geometry.Vec{Y: 1}
	cloth := figureDark
	p.limb([]joint{
		{hip.Add(geometry.Vec{X: 0.03}), 0.070, cloth}, {hip.Lerp(knee, 0.20), 0.088, cloth},
		{knee.Lerp(hip, 0.14), 0.064, cloth}, {knee.Lerp(foot, 0.09).Add(geometry.Vec{X: -0.006}), 0.061, cloth},
		{knee.Lerp(foot, 0.35), 0.057, cloth.times(0.95)}, {foot, 0.038, cloth.times(0.8)},
	}, across, 6)
	toe, _ = toe.Unit()
	sole, _ = sole.Sub(toe.Mul(sole.Dot(toe))).Unit()
	p.of(Leather).shoe(foot, toe, sole)
}

// shoe draws a foot under the ankle at foot.
func (p pen) shoe(foot, toe, up geometry.Vec) {
	side := up.Cross(toe)
	var points []geometry.Vec
	for _, r := range [3][3]float64{{-0.055, 0.030, 0.036}, {0.075, 0.047, 0.034}, {0.185, 0.030, 0.018}} {
		ahead, wide, high := r[0], r[1], r[2]
		at := foot.Add(toe.Mul(ahead)).Sub(up.Mul(0.087 - high))
		u, v := side.Mul(wide), up.Mul(high)
		points = append(points, at.Add(u).Sub(v), at.Add(u).Add(v.Mul(0.4)), at.Add(v),
			at.Sub(u).Add(v.Mul(0.4)), at.Sub(u).Sub(v))
	}
	p.hull(points, 5, func(int, int) RGB { return figureDark.times(0.55) })
}
