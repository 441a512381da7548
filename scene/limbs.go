// SPDX-License-Identifier: MIT

package scene

import (
	"math"

	"earline/geometry"
	"earline/project/place"
)

// Lengths of an arm, metres.
const (
	upperArm = 0.30
	foreArm  = 0.255
	armReach = (upperArm + foreArm) * 0.985
)

// hold is how an arm lies: where its wrist is, where its fingers and its palm point, how
// much the fingers bend (radians a joint), to which side the elbow goes and above what.
type hold struct {
	wrist, fingers, palm geometry.Vec
	curl                 float64
	elbow                geometry.Vec
	above                float64
}

// holdOf returns how the arm of a side, -1 for the left and 1 for the right, lies.
func holdOf(b place.Body, who visitor, side float64, shoulder geometry.Vec) hold {
	c := b.Seat.Chair
	lap := b.Hip.Z + 0.105 // where hands lie on the thighs
	thighs := hold{
		wrist:   geometry.Vec{X: b.Hip.X - 0.225 - who.build.belly, Y: side * 0.125, Z: lap},
		fingers: geometry.Vec{X: -1, Y: -side * 0.18, Z: -0.08}, palm: geometry.Vec{Z: -1}, curl: 0.22,
		elbow: geometry.Vec{X: 0.25, Y: side * 0.75, Z: -0.55},
	}
	if who.hands == onThighs {
		return thighs
	}
	if who.hands == inLap || who.hands == oneEach && side > 0 {
		h := thighs
		h.wrist = geometry.Vec{X: b.Hip.X - 0.165 - who.build.belly, Y: side * 0.105, Z: lap + 0.004}
		h.fingers, h.palm, h.curl = geometry.Vec{X: -0.62, Y: -side * 0.78, Z: -0.10}, geometry.Vec{X: 0.25, Z: -1}, 0.20
		if side > 0 { // the right hand lies on the left
			h.wrist.X, h.wrist.Z = h.wrist.X-0.022, h.wrist.Z+0.020
		}
		return h
	}
	top := float64(c.PanHeight) + float64(c.ArmHeight)
	h := hold{
		wrist:   geometry.Vec{X: 0.118 - float64(c.PanDepth), Y: side * (float64(c.PanWidth)/2 + min(0.065, float64(c.ArmWidth)/2)), Z: top + 0.027},
		fingers: geometry.Vec{X: -1, Y: -side * 0.05, Z: -0.02}, palm: geometry.Vec{Z: -1}, curl: 0.42,
		above: top + 0.044,
	}
	away := h.wrist.Sub(shoulder)
	spare := sq(armReach) - sq(away.Y) - sq(away.Z)
	if spare < sq(0.2) {
		return thighs // the rest is too far to the side, or too low
	}
	h.wrist.X = max(h.wrist.X, shoulder.X-math.Sqrt(spare))
	h.elbow = geometry.Vec{Y: side * 0.85, Z: -0.5}
	return h
}

// arm draws one arm and its hand.
func arm(p pen, b place.Body, who visitor, side float64, fine bool) {
	n := 5
	if fine {
		n = 8
	}
	sh := b.Shoulders
	shoulder := sh.Center.Add(sh.Basis.V.Mul(side * (sh.Radii.Y*who.build.shoulders - 0.066))).Sub(sh.Basis.W.Mul(0.006))
	h := holdOf(b, who, side, shoulder)
	elbow := bend(shoulder, h.wrist, upperArm, foreArm, h.elbow)
	elbow.Z = max(elbow.Z, h.above)
	mid, sleeve := shoulder.Lerp(elbow, 0.5), who.top.times(0.97)
	p.sprout(stations([]joint{
		{shoulder.Add(sh.Basis.W.Mul(0.030)).Sub(sh.Basis.V.Mul(side * 0.020)), 0.034, sleeve}, {shoulder, 0.053, sleeve}, {mid, 0.049, sleeve},
		{elbow.Lerp(mid, 0.36), 0.044, sleeve}, {elbow.Lerp(h.wrist, 0.22), 0.043, sleeve},
		{elbow.Lerp(h.wrist, 0.5), 0.039, sleeve}, {h.wrist, 0.029, sleeve},
	}, geometry.Vec{Y: 1}), n)
	hand(p.of(NoMaterial), h, side, who.skin, fine)
}

// hand draws a hand: a palm, fingers and a thumb; a plain one has its fingers in one.
func hand(p pen, h hold, side float64, skin RGB, fine bool) {
	ahead, _ := h.fingers.Unit()
	palm, _ := h.palm.Sub(ahead.Mul(h.palm.Dot(ahead))).Unit()
	across := palm.Cross(ahead)
	cut := func(d, wide, thick float64) station {
		return station{h.wrist.Add(ahead.Mul(d)), across.Mul(wide), ahead.Cross(across).Mul(thick), skin}
	}
	// bent returns points on the way of something that bends towards the palm.
	bent := func(at geometry.Vec, curl float64, joints ...float64) []geometry.Vec {
		out := []geometry.Vec{at}
		for i, d := range joints {
			sin, cos := math.Sincos(curl * float64(i+1))
			at = at.Add(ahead.Mul(d * cos)).Add(palm.Mul(d * sin))
			out = append(out, at)
		}
		return out
	}
	if !fine {
		f := bent(h.wrist.Add(ahead.Mul(0.085)), h.curl/2, 0.045, 0.045)
		p.sprout([]station{cut(-0.012, 0.024, 0.020), cut(0.035, 0.036, 0.018), cut(0.085, 0.042, 0.014), {f[2], across.Mul(0.026), palm.Mul(0.008), skin}}, 5)
		return
	}
	p.sprout([]station{cut(-0.012, 0.024, 0.020), cut(0.028, 0.034, 0.019), cut(0.070, 0.042, 0.016), cut(0.092, 0.040, 0.011)}, 8)
	thumb := across.Mul(-side)
	for i, long := range [4]float64{0.92, 1, 0.95, 0.76} { // from the forefinger
		from := thumb.Mul(0.0318 - 0.0212*float64(i))
		f := bent(h.wrist.Add(ahead.Mul(0.082)).Add(from), h.curl, 0.036*long, 0.026*long, 0.018*long)
		p.sprout(stations([]joint{{f[0], 0.0115, skin}, {f[1], 0.0108, skin}, {f[2], 0.0098, skin}, {f[3], 0.0062, skin}}, across), 4)
	}
	root := h.wrist.Add(ahead.Mul(0.022)).Add(thumb.Mul(0.018)).Add(palm.Mul(0.004))
	ball := root.Add(ahead.Mul(0.030)).Add(thumb.Mul(0.022))
	tip := ball.Add(ahead.Mul(0.038)).Add(thumb.Mul(0.006))
	p.sprout(stations([]joint{{root, 0.015, skin}, {ball, 0.0135, skin}, {ball.Lerp(tip, 0.6), 0.0115, skin}, {tip, 0.006, skin}}, palm), 6)
}

// leg draws one leg: to the floor, or along the raised footrest.
func leg(p pen, b place.Body, who visitor, side float64, fine bool) {
	n := 5
	if fine {
		n = 9
	}
	pan := float64(b.Seat.Chair.PanHeight)
	hip := b.Hip.Add(geometry.Vec{Y: side * 0.088, Z: 0.005})
	knee := geometry.Vec{X: -(b.Thigh - 0.055), Y: side * 0.112, Z: max(b.Shank-0.055, pan+0.045)}
	foot := geometry.Vec{X: knee.X - 0.01 - 0.045*side*who.stride, Y: side * 0.118, Z: 0.095}
	toe, sole := geometry.Vec{X: -1, Y: side * 0.14}, geometry.Vec{Z: 1}
	if knee.Z > b.Shank {
		// The seat is too high for the foot to stand: it hangs.
		foot.Z = knee.Z - b.Shank + 0.150
	}
	if top, _, ok := raised(b.Seat); ok {
		knee.Z = pan + 0.075
		shin := b.Shank - 0.10
		foot = geometry.Vec{X: knee.X - shin, Y: knee.Y + side*0.02, Z: top + 0.03}
		toe, sole = geometry.Vec{X: -0.35, Y: side * 0.15, Z: 0.92}, geometry.Vec{X: 1, Z: 0.38}
	}
	c := who.trousers
	p.sprout(stations([]joint{
		{hip.Add(geometry.Vec{X: 0.03}), 0.080, c}, {hip.Lerp(knee, 0.25), 0.088, c}, {hip.Lerp(knee, 0.62), 0.076, c},
		{knee.Lerp(hip, 0.13), 0.066, c}, {knee.Lerp(foot, 0.14).Add(geometry.Vec{X: -0.008}), 0.063, c},
		{knee.Lerp(foot, 0.40), 0.060, c}, {knee.Lerp(foot, 1.02), 0.053, c},
	}, geometry.Vec{Y: 1}), n)
	toe, _ = toe.Unit()
	sole, _ = sole.Sub(toe.Mul(sole.Dot(toe))).Unit()
	shoe(p.of(Leather), foot, toe, sole, who.shoes, fine)
}

// shoe draws a shoe under the ankle at foot, flat below.
func shoe(p pen, foot, toe, up geometry.Vec, c RGB, fine bool) {
	cuts := [][3]float64{{-0.060, 0.030, 0.080}, {0.030, 0.040, 0.085}, {0.120, 0.047, 0.050}, {0.188, 0.028, 0.030}} // ahead, half-width, height
	n := 5
	if fine {
		cuts = [][3]float64{{-0.060, 0.032, 0.080}, {0.020, 0.040, 0.092}, {0.070, 0.044, 0.064}, {0.135, 0.049, 0.050}, {0.178, 0.042, 0.042}, {0.195, 0.024, 0.026}}
		n = 8
	}
	side := up.Cross(toe)
	ground := foot.Sub(up.Mul(0.093))
	points := make([]geometry.Vec, 0, n*len(cuts))
	for _, k := range cuts {
		at := ground.Add(toe.Mul(k[0]))
		for j := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / float64(n))
			points = append(points, at.Add(side.Mul(k[1]*cos)).Add(up.Mul(k[2]*max(sin, -0.04))))
		}
	}
	p.hull(points, n, func(int, int) RGB { return c })
}
