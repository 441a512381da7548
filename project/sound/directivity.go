// SPDX-License-Identifier: MIT

package sound

import (
	"math"
	"slices"

	"earline/geometry"
	"earline/project"
	"earline/project/air"
	"earline/project/place"
)

// Edge is the level at the edge of a nominal coverage against the axis, dB.
const Edge = -6

// behind is the energy that a loudspeaker sends all round, as a share of that
// on its axis, whatever its coverage: -20 dB. Boxes leak and rooms are not seen
// by a formula; no source.
const behind = 0.01

// Piston returns the pressure of a flat round piston in a baffle against that on
// its axis, 2 J1(x)/x with x = k a sin(angle) (Beranek and Mellow, Acoustics,
// 4.19 and 13.7). A real cone or dome breaks up and beams less: with the driver's
// whole face it is an upper bound of beaming.
func Piston(x float64) float64 {
	if math.Abs(x) < 1e-8 {
		return 1
	}
	return 2 * math.J1(x) / x
}

// PistonHalfAngle returns the angle off the axis at which a piston of radius
// metres has half the pressure of its axis (-6.02 dB) at f hertz in air of speed
// c, radians; ok is false where it stays wider than that to the side.
func PistonHalfAngle(radius, f, c float64) (angle float64, ok bool) {
	const half = 2.21509 // root of 2 J1(x)/x = 1/2
	ka := 2 * math.Pi * f / c * radius
	if !(ka >= half) {
		return 0, false
	}
	return math.Asin(half / ka), true
}

// Radiator gives the levels that a placed loudspeaker radiates in each direction.
// It does not change; any number of goroutines may share it.
//
// Directions are seen from its reference point about its axis, the built-in aim
// included: theta off the axis, phi round it from its right (of someone who
// looks at the front) towards its top.
//
// With measured data (project.Polar) the level at theta is interpolated between
// the angles and, at the exact middle of each octave, between the logarithms of
// the frequencies, in dB; what lies beyond the data takes its end; angles from 0
// up only are taken as the same both ways. The two planes are joined by
// L = Lh cos^2 phi + Lv sin^2 phi, each at theta on its side: exact in both
// planes, in between an assumption as good as any without more data.
//
// With a nominal coverage alone, energy = b + (1-b) q^(u^2), with b = 0.01 and
// q such that u = 1 gives exactly Edge; u = theta/half, where half goes from half
// the coverage across to half the coverage upright as an ellipse does. It follows
// the main lobe of a piston within 0.22 dB down to Edge. A coverage of 360
// degrees has no edge. This holds for the octaves of 1 to 8 kHz, of which
// a nominal coverage is said. Below, dB are scaled by s(ka)/s(ka at 1 kHz) with
// s(x) = x^2/(1+x^2): a source small beside the wavelength (ka below 1) sends the
// same all round, within 1.1 dB for a piston. a is the radius of the disc as
// large as the front of the box, or for a flush model, which has the wall round
// it, of its largest driver. The scaling has no source; its ends are right.
// Subwoofers send the same all round.
type Radiator struct {
	at              geometry.Vec
	axis, right, up geometry.Vec
	halfH, halfV    float64 // radians; infinite for no edge
	spread          float64 // ln q
	scale           [project.OctaveCount]float64
	omni            bool
	polar           *polar
}

// NewRadiator returns the radiator of sp.
func NewRadiator(sp *place.Speaker) *Radiator {
	r := radiatorOf(sp)
	return &r
}

func radiatorOf(sp *place.Speaker) Radiator {
	r := Radiator{at: sp.At.Vec(), axis: sp.Axis, omni: sp.Spec.Subwoofer() || len(sp.Drivers) == 0}
	right, ok := sp.Front.V.Sub(sp.Axis.Mul(sp.Front.V.Dot(sp.Axis))).Unit()
	if !ok { // the axis lies along the front; Validate allows 89 degrees at most
		right, _ = sp.Front.W.Cross(sp.Axis).Unit()
	}
	r.right, r.up = right, sp.Axis.Cross(right)
	if r.up.Dot(sp.Front.U) > 0 {
		r.up = r.up.Neg()
	}
	half := func(full float64) float64 {
		if full >= 2*math.Pi {
			return math.Inf(1)
		}
		return max(full/2, 0.005)
	}
	r.halfH, r.halfV = half(sp.Spec.CoverageH.Radians()), half(sp.Spec.CoverageV.Radians())
	if sp.Spec.Polar.Given() {
		r.polar = polarOf(&sp.Spec.Polar)
		return r
	}
	r.spread = math.Log((energy(Edge) - behind) / (1 - behind))
	a := math.Sqrt(float64(sp.Spec.Width) * float64(sp.Spec.Height) / math.Pi)
	if sp.Spec.Flush {
		a = 0
		for _, dr := range sp.Spec.Drivers {
			a = max(a, float64(dr.Diameter)/2)
		}
	}
	s := func(f float64) float64 {
		ka := 2 * math.Pi * f / air.Speed20 * a
		return ka * ka / (1 + ka*ka)
	}
	for o, f := range Midbands() {
		r.scale[o] = 1
		if o < kilohertz && a > 0 {
			r.scale[o] = s(f) / s(1000)
		}
	}
	return r
}

// Bearing is a direction in a loudspeaker's own frame.
type Bearing struct {
	// Theta is the angle off the axis, 0 to pi; Phi where round it, from the
	// right towards the top; radians.
	Theta, Phi float64
	// Across and Upright are the angles of a polar measurement, radians: first
	// turned across (positive to the right), then up.
	Across, Upright float64
}

// Bearing returns the direction of p.
func (r *Radiator) Bearing(p geometry.Vec) Bearing {
	d := p.Sub(r.at)
	x, y, z := d.Dot(r.axis), d.Dot(r.right), d.Dot(r.up)
	side := math.Hypot(y, z)
	b := Bearing{Theta: math.Atan2(side, x), Across: math.Atan2(y, x), Upright: math.Atan2(z, math.Hypot(x, y))}
	if side > 0 {
		b.Phi = math.Atan2(z, y)
	}
	return b
}

// Off returns the angle of p off the axis as a share of the nominal coverage: 1 at
// its edge, 0 if it has none.
func (r *Radiator) Off(p geometry.Vec) float64 {
	d := p.Sub(r.at)
	x, y, z := d.Dot(r.axis), d.Dot(r.right), d.Dot(r.up)
	side := math.Hypot(y, z)
	if side == 0 && x >= 0 || !(r.halfH > 0) {
		return 0
	}
	c, s := 1.0, 0.0
	if side > 0 {
		c, s = y/side, z/side
	}
	return math.Atan2(side, x) * math.Hypot(c/r.halfH, s/r.halfV)
}

// Levels returns the level towards p against that on the axis, dB, in each octave.
func (r *Radiator) Levels(p geometry.Vec) [project.OctaveCount]float64 {
	var out [project.OctaveCount]float64
	switch {
	case r.polar != nil:
		r.polar.levels(r.Bearing(p), &out)
	case !r.omni:
		u := r.Off(p)
		l := 10 * math.Log10(behind+(1-behind)*math.Exp(r.spread*u*u))
		for o := range out {
			out[o] = l * r.scale[o]
		}
	}
	return out
}

// polar is measured data at the middles of the octaves.
type polar struct {
	angles     []float64 // radians
	horizontal [][project.OctaveCount]float64
	vertical   [][project.OctaveCount]float64
}

func polarOf(p *project.Polar) *polar {
	out := &polar{angles: make([]float64, len(p.Angles))}
	for i, a := range p.Angles {
		out.angles[i] = a * math.Pi / 180
	}
	out.horizontal = planeOf(p.Horizontal, out.angles)
	out.vertical = planeOf(p.Vertical, out.angles)
	if out.horizontal == nil {
		out.horizontal = out.vertical
	}
	if out.vertical == nil {
		out.vertical = out.horizontal
	}
	if out.horizontal == nil {
		return nil
	}
	return out
}

// planeOf interpolates the curves of a plane at the octaves and makes them
// relative to their own value straight ahead.
func planeOf(curves []project.PolarCurve, angles []float64) [][project.OctaveCount]float64 {
	if len(curves) == 0 {
		return nil
	}
	out := make([][project.OctaveCount]float64, len(angles))
	for o, f := range Midbands() {
		n, found := slices.BinarySearchFunc(curves, f, func(c project.PolarCurve, f float64) int {
			switch {
			case c.Frequency < f:
				return -1
			case c.Frequency > f:
				return 1
			}
			return 0
		})
		lo, hi, t := max(n-1, 0), min(n, len(curves)-1), 0.0
		if found {
			lo = n
		} else if lo < hi {
			t = math.Log(f/curves[lo].Frequency) / math.Log(curves[hi].Frequency/curves[lo].Frequency)
		}
		for i := range out {
			out[i][o] = curves[lo].Level[i] + t*(curves[hi].Level[i]-curves[lo].Level[i])
		}
	}
	i, t := between(angles, 0)
	for o := range project.OctaveCount {
		ahead := out[i][o] + t*(out[min(i+1, len(out)-1)][o]-out[i][o])
		for k := range out {
			out[k][o] -= ahead
		}
	}
	return out
}

// between returns where a lies among sorted angles: at entry i and t of the way
// to the next; held at the ends.
func between(angles []float64, a float64) (i int, t float64) {
	n, found := slices.BinarySearch(angles, a)
	switch {
	case found:
		return n, 0
	case n == 0:
		return 0, 0
	case n == len(angles):
		return n - 1, 0
	}
	return n - 1, (a - angles[n-1]) / (angles[n] - angles[n-1])
}

// levels joins the planes for one bearing.
func (p *polar) levels(b Bearing, out *[project.OctaveCount]float64) {
	s, c := math.Sincos(b.Phi)
	p.add(p.horizontal, math.Copysign(b.Theta, c), c*c, out)
	p.add(p.vertical, math.Copysign(b.Theta, s), s*s, out)
}

func (p *polar) add(plane [][project.OctaveCount]float64, angle, weight float64, out *[project.OctaveCount]float64) {
	if p.angles[0] >= 0 {
		angle = math.Abs(angle)
	}
	i, t := between(p.angles, angle)
	a, b := &plane[i], &plane[min(i+1, len(plane)-1)]
	for o := range out {
		out[o] += weight * (a[o] + t*(b[o]-a[o]))
	}
}
