// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

func TestPiston(t *testing.T) {
	// AC-122 to AC-127, SUP-AC-piston-null: 2 J1(x)/x.
	for x, want := range map[float64]float64{0: 1, 0.5: 0.969074, 1: 0.880101, 2: 0.576725, 3: 0.226039, 5.13562: -0.132279,
		3.83171: 0, 7.01559: 0, 10.17347: 0} {
		geomtest.Within(t, fmt.Sprintf("piston at %g", x), Piston(x), want, 1e-5)
	}
	// AC-128.
	for x, want := range map[float64]float64{1.61374: -3, 2.21509: 20 * math.Log10(0.5), 2.21179: -6, 2.73138: -10} {
		geomtest.Within(t, fmt.Sprintf("piston at %g, dB", x), 20*math.Log10(Piston(x)), want, 1e-4)
	}
	// AC-129 to AC-133.
	for _, c := range []struct{ r, f, want float64 }{
		{0.0125, 10000, 75.453}, {0.0125, 16000, 37.226}, {0.065, 2000, 68.546}, {0.065, 3000, 38.351}, {0.08, 2000, 49.131},
	} {
		a, ok := PistonHalfAngle(c.r, c.f, 343.2)
		if !ok {
			t.Errorf("radius %g at %g Hz: no angle", c.r, c.f)
		}
		geomtest.Within(t, fmt.Sprintf("half angle of radius %g at %g Hz", c.r, c.f), a*180/math.Pi, c.want, 0.01)
	}
	if _, ok := PistonHalfAngle(0.0125, 1000, 343.2); ok {
		t.Error("a dome of 25 mm has an edge at 1 kHz")
	}
}

// placed returns a loudspeaker at the origin that faces along x, with that
// coverage.
func placed(h, v unit.Degrees, change ...func(*project.Model)) place.Speaker {
	d := project.Design{Models: []project.Model{{ID: "m", Width: 0.3, Height: 0.5, Depth: 0.3, CoverageH: h, CoverageV: v,
		Drivers: []project.Driver{{Band: project.High, Diameter: 0.025}}}}}
	for _, c := range change {
		c(&d.Models[0])
	}
	return place.OneSpeaker(&d, project.Loudspeaker{Label: "M+000", Model: "m", Mount: project.OnWall,
		Aim: project.Aim{Fixed: true, Azimuth: 180}}, geometry.Vec{})
}

// towards returns the point a metre off at those angles about the axis of sp.
func towards(r *Radiator, theta, phi float64) geometry.Vec {
	st, ct := math.Sincos(theta)
	sp, cp := math.Sincos(phi)
	return r.at.Add(r.axis.Mul(ct)).Add(r.right.Mul(st * cp)).Add(r.up.Mul(st * sp))
}

// At half the nominal angle the level is exactly -6 dB in both planes in the
// octaves of which a coverage is said; from the axis outwards it never rises.
func TestNominalCoverage(t *testing.T) {
	r := geomtest.Rand(t)
	for range 200 {
		h, v := geomtest.Between(r, 10, 350), geomtest.Between(r, 10, 350)
		sp := placed(unit.Degrees(h), unit.Degrees(v))
		q := NewRadiator(&sp)
		for o := kilohertz; o < project.OctaveCount; o++ {
			for k, half := range []float64{h / 2, v / 2, h / 2, v / 2} {
				l := q.Levels(towards(q, half*math.Pi/180, float64(k)*math.Pi/2))
				geomtest.Within(t, fmt.Sprintf("edge of %g x %g, side %d, octave %d", h, v, k, o), l[o], Edge, 1e-9)
			}
		}
		phi := geomtest.Between(r, -math.Pi, math.Pi)
		last := q.Levels(towards(q, 0, phi))
		for theta := 0.01; theta < math.Pi; theta += 0.01 {
			l := q.Levels(towards(q, theta, phi))
			for o := range l {
				if l[o] > last[o]+1e-9 || l[o] > 1e-9 {
					t.Fatalf("%g x %g, phi %g: octave %d rises to %g dB at %g", h, v, phi, o, l[o], theta)
				}
				if o > 0 && l[o] > l[o-1]+1e-9 {
					t.Fatalf("%g x %g, phi %g, theta %g: octave %d is wider than the one below", h, v, phi, theta, o)
				}
			}
			last = l
		}
	}
}

// The formula follows the main lobe of a piston down to -6 dB within 0.22 dB, as
// its comment says.
func TestNominalCoverageFollowsAPiston(t *testing.T) {
	const half = 2.21179 // AC-128: where a piston is at -6 dB
	sp := placed(20, 20)
	q := NewRadiator(&sp)
	for x := 0.1; x <= half; x += 0.1 {
		got := q.Levels(towards(q, x/half*10*math.Pi/180, 0.3))[7]
		geomtest.Within(t, fmt.Sprintf("main lobe at %g", x), got, 20*math.Log10(Piston(x)), 0.22)
	}
}

// A small box sends bass all round, a subwoofer and a coverage of 360 degrees
// everything.
func TestOmnidirectional(t *testing.T) {
	small := placed(90, 90, func(m *project.Model) { m.Width, m.Height = 0.1, 0.1 })
	q := NewRadiator(&small)
	back := towards(q, math.Pi, 0)
	if l := q.Levels(back); l[0] < -1 || l[kilohertz] > -15 {
		t.Errorf("a small box sends %v dB backwards", l)
	}
	for _, sp := range []place.Speaker{placed(360, 360),
		placed(40, 40, func(m *project.Model) { m.Drivers[0].Band = project.Sub })} {
		q := NewRadiator(&sp)
		if l := q.Levels(towards(q, 2, 1)); l != [8]float64{} {
			t.Errorf("%v: %v dB to the side", sp.Spec.CoverageH, l)
		}
	}
}

// Below 1 kHz the edge opens as the box grows small beside the wave; by hand for a
// front of 0.3 x 0.5 m, a = 0.21851 m: ka is 2.0049 at 501.19 Hz and 4.0002 at 1
// kHz, so that s = 0.80078 and 0.94118.
func TestOpensBelowOneKilohertz(t *testing.T) {
	sp := placed(90, 60)
	q := NewRadiator(&sp)
	edge := q.Levels(towards(q, math.Pi/4, 0))
	geomtest.Within(t, "500 Hz at the edge", edge[3], -6*0.80078/0.94118, 1e-3)
	// A flush model of the same size has its driver of 25 mm alone: ka is 0.2288 at
	// 1 kHz, s nearly goes with the square of the frequency.
	sp = placed(90, 60, func(m *project.Model) { m.Flush = true })
	q = NewRadiator(&sp)
	edge = q.Levels(towards(q, math.Pi/4, 0))
	geomtest.Within(t, "500 Hz at the edge of a flush one", edge[3], -6*0.25119*(1+0.2288*0.2288)/(1+0.1147*0.1147), 1e-3)
}

// Angles are those of the box: right of someone who looks at the front, and up,
// about the axis with its built-in aim.
func TestBearing(t *testing.T) {
	sp := placed(90, 60)
	q := NewRadiator(&sp)
	// The box faces along x, away from the screen: who looks at its front looks at
	// the screen, and has y to the right.
	b := q.Bearing(geometry.V(1, 1, 0))
	geomtest.Within(t, "45 degrees to the right", b.Across, math.Pi/4, 1e-12)
	b = q.Bearing(geometry.V(1, 0, 1))
	geomtest.Within(t, "45 degrees up", b.Upright, math.Pi/4, 1e-12)

	flush := placed(90, 60, func(m *project.Model) { m.Flush, m.AimUp = true, 15 })
	q = NewRadiator(&flush)
	geomtest.Within(t, "along the built-in aim", q.Bearing(flush.Axis.Mul(2)).Theta, 0, 1e-7)
	front := q.Bearing(flush.Front.W)
	geomtest.Within(t, "the front, seen from the axis", front.Upright, -15*math.Pi/180, 1e-9)
}

// ramp returns polar data of a degree's worth of slope in each plane, at 1 and 4
// kHz.
func ramp() project.Polar {
	p := project.Polar{}
	for a := -180.0; a <= 180; a += 30 {
		p.Angles = append(p.Angles, a)
	}
	curve := func(f, slope float64) project.PolarCurve {
		c := project.PolarCurve{Frequency: f}
		for _, a := range p.Angles {
			c.Level = append(c.Level, slope*math.Abs(a))
		}
		return c
	}
	p.Horizontal = []project.PolarCurve{curve(1000, -0.1), curve(4000, -0.2)}
	p.Vertical = []project.PolarCurve{curve(1000, -0.05), curve(4000, -0.1)}
	return p
}

func TestPolarData(t *testing.T) {
	sp := placed(90, 90, func(m *project.Model) { m.Polar = ramp() })
	q := NewRadiator(&sp)
	deg := math.Pi / 180
	check := func(what string, theta, phi float64, o int, want float64) {
		t.Helper()
		geomtest.Within(t, what, q.Levels(towards(q, theta*deg, phi*deg))[o], want, 1e-9)
	}
	check("on the axis", 0, 0, 4, 0)
	check("45 degrees across, between the angles", 45, 0, 4, -4.5)
	check("45 degrees up", 45, 90, 4, -2.25)
	check("45 degrees down", 45, -90, 4, -2.25)
	check("between the planes", 60, 45, 4, -(6+3)/2.)
	// Half the way from 1 to 4 kHz in octaves; the exact middle is 1995.3 Hz.
	t2 := math.Log(Midbands()[5]/1000) / math.Log(4)
	check("2 kHz", 30, 0, 5, -30*(0.1+0.1*t2))
	check("below the data", 30, 0, 0, -3)
	check("above the data", 30, 0, 7, -6)

	// The coverage given beside it does not matter.
	wide := placed(20, 20, func(m *project.Model) { m.Polar = ramp() })
	if a, b := NewRadiator(&wide).Levels(towards(q, 1, 1)), q.Levels(towards(q, 1, 1)); a != b {
		t.Errorf("the nominal coverage changes measured data: %v, %v", a, b)
	}
}

// Measured one side only, from straight ahead, the other is taken as the same.
func TestPolarOfOneSide(t *testing.T) {
	p := ramp()
	n := len(p.Angles) / 2
	p.Angles = p.Angles[n:]
	for _, plane := range [][]project.PolarCurve{p.Horizontal, p.Vertical} {
		for i := range plane {
			plane[i].Level = plane[i].Level[n:]
		}
	}
	half := placed(90, 90, func(m *project.Model) { m.Polar = p })
	whole := placed(90, 90, func(m *project.Model) { m.Polar = ramp() })
	a, b := NewRadiator(&half), NewRadiator(&whole)
	for phi := -3.0; phi < 3; phi += 0.37 {
		x, y := a.Levels(towards(a, 0.9, phi)), b.Levels(towards(b, 0.9, phi))
		for o := range x {
			geomtest.Within(t, fmt.Sprintf("phi %g octave %d", phi, o), x[o], y[o], 1e-12)
		}
	}
}
