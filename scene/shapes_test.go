// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
)

// enclosed returns what a closed mesh encloses, in cubic metres.
func enclosed(m *Mesh) float64 {
	at := func(i uint32) geometry.Vec {
		return geometry.V(float64(m.Pos[3*i+2]), float64(m.Pos[3*i]), float64(m.Pos[3*i+1]))
	}
	v := 0.0
	for i := 0; i < len(m.Index); i += 3 {
		v += at(m.Index[i]).Dot(at(m.Index[i+1]).Cross(at(m.Index[i+2]))) / 6
	}
	return v
}

// Closed shapes wind outwards and enclose about what they should. The bounds
// are the volume of the ideal shape, above, and of a coarse one within it.
func TestShapesEncloseTheirVolume(t *testing.T) {
	half := geometry.V(0.3, 0.2, 0.1)
	box := 8 * half.X * half.Y * half.Z
	red := RGB{1, 0, 0}
	tube := []joint{{geometry.V(0, 0, 0), 0.1, red}, {geometry.V(0, 0, 0.5), 0.1, red}, {geometry.V(0, 0, 1), 0.1, red}}
	tests := []struct {
		name     string
		draw     func(pen)
		least    float64
		most     float64
		vertices bool // all within half
	}{
		{"cushion", func(p pen) { p.cushion(half, 0.05, plainSkin(red)) }, 0.75 * box, box, true},
		{"swollen cushion", func(p pen) { p.cushion(half, 0.05, skin{red, red, 0.3}) }, 0.75 * box, box, true},
		{"bevel", func(p pen) { p.bevel(half, 0.02, plainSkin(red)) }, 0.85 * box, box, true},
		{"ball", func(p pen) { p.ball(half, 16, red) }, 0.75 * box * math.Pi / 6, box * math.Pi / 6, true},
		{"pad", func(p pen) { p.pad(pad{half: half, corner: 0.05, round: 0.04, crown: 0.02, c: red}, false) }, 0.70 * box, box, true},
		{"fine pad with a piping", func(p pen) { p.pad(pad{half: half, corner: 0.05, round: 0.04, crown: 0.02, welt: true, c: red}, true) }, 0.70 * box, box, true},
		{"thin pad", func(p pen) {
			p.pad(pad{half: geometry.V(0.3, 0.2, 0.012), corner: 0.05, round: 0.04, crown: 0.02, welt: true, c: red}, true)
		}, 0, box, true},
		{"limb", func(p pen) { p.limb(tube, geometry.V(1, 0, 0), 12) }, 0.9 * math.Pi * 0.01, math.Pi * 0.01, false},
	}
	for _, tt := range tests {
		m := &Mesh{}
		tt.draw(m.pen())
		if v := enclosed(m); v < tt.least || v > tt.most {
			t.Errorf("%s encloses %.5f m3, want %.5f to %.5f", tt.name, v, tt.least, tt.most)
		}
		if !tt.vertices {
			continue
		}
		for i := 0; i < len(m.Pos); i += 3 {
			x, y, z := math.Abs(float64(m.Pos[i+2])), math.Abs(float64(m.Pos[i])), math.Abs(float64(m.Pos[i+1]))
			if x > half.X+1e-6 || y > half.Y+1e-6 || z > half.Z+1e-6 { // float32
				t.Fatalf("%s: vertex (%v, %v, %v) outside %v", tt.name, x, y, z, half)
			}
		}
		// Turned and moved, it encloses the same.
		s := &Mesh{}
		s.stamp(m, geometry.V(3, 2, 1), geometry.YawBasis(0.7), RGB{}, 0)
		if a, b := enclosed(m), enclosed(s); math.Abs(a-b) > 1e-5 { // float32, metres from the origin
			t.Errorf("%s: %.6f m3, stamped %.6f", tt.name, a, b)
		}
	}
}

// The tiles of a concave footprint cover its area, each from above.
func TestTilesCoverTheFootprint(t *testing.T) {
	corners := geometry.Polygon{{X: 0, Y: 0}, {X: 7, Y: 0}, {X: 7, Y: 5}, {X: 4, Y: 5}, {X: 3, Y: 2.5}, {X: 1, Y: 5}, {X: 0, Y: 5}}
	p := plan{corners: corners}
	p.lo, p.hi = corners.Bounds()
	for _, c := range corners.Triangulate() {
		p.tris = append(p.tris, [3]geometry.Vec2{corners[c[0]], corners[c[1]], corners[c[2]]})
	}
	for _, step := range []float64{0.2, 0.37, 9} {
		var at []geometry.Vec2
		area := 0.0
		p.tiles(p.lo, p.hi, step, func(x, y float64) uint32 {
			at = append(at, geometry.Vec2{X: x, Y: y})
			return uint32(len(at) - 1)
		}, func(a, b, c uint32) {
			s := ((at[b].X-at[a].X)*(at[c].Y-at[a].Y) - (at[c].X-at[a].X)*(at[b].Y-at[a].Y)) / 2
			if s < -1e-12 {
				t.Errorf("step %v: a tile is seen from below", step)
			}
			area += s
		})
		if want := corners.Area(); math.Abs(area-want) > 1e-9*want {
			t.Errorf("step %v: tiles cover %.9f m2 of %.9f", step, area, want)
		}
	}
}

// A cone's rim lies at the nominal angles: to the side half of CoverageH,
// upwards half of CoverageV.
func TestRimHasTheNominalAngles(t *testing.T) {
	b := placedAt(90, 40)
	points := rim(b, 2)
	angle := func(j int) float64 {
		return geometry.Angle(points[j].Sub(b.At.Vec()), b.Axis) / unit.Degree
	}
	for j, want := range map[int]float64{0: 45, 8: 20, 16: 45, 24: 20} {
		if got := angle(j); math.Abs(got-want) > 1e-9 {
			t.Errorf("rim point %d is %.6f° off the axis, want %v", j, got, want)
		}
	}
	if side := points[0].Sub(b.At.Vec()); math.Abs(side.Z) > 1e-9 {
		t.Errorf("the side of the cone rises by %v m", side.Z)
	}
	if up := points[8].Sub(b.At.Vec()); up.Z < 0.5 {
		t.Errorf("the top of the cone rises by %v m only", up.Z)
	}
}
