// SPDX-License-Identifier: MIT

package picture

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// The lens 5.90 m from the wall and 2.40 m high, the lower edge 0.95 m: worked by hand,
// two similar triangles. A man of P95 (ANSUR II) in shoes, on a platform of 0.36 m at
// 5.10 m and on the floor at 3.40 m, is in it.
func TestWhoStandsInTheBeam(t *testing.T) {
	d := lensRoom(t)
	d.Seating.Sitters.Women = 0
	d.Picture.Aspects = []project.Aspect{{Aspect: 16.0 / 9}}
	d.Room.Ceiling.Height = 3.2
	r := Of(d)
	b := &r.beams(d.Projector.At.Vec())[0]
	about(t, "lower edge at 5.10 m", b.Lower(5.10), 2.183, 0.0005)
	about(t, "lower edge at 3.40 m", b.Lower(3.40), 1.722, 0.0005)
	y := float64(d.Screen.Centre)
	man := place.PersonAt(d, 95)
	for _, at := range []geometry.Vec{{X: 5.10, Y: y, Z: 0.36}, {X: 3.40, Y: y}} {
		body := man.Stand(at)
		head := body.Head.Solid()
		depth, face, ok := b.into(&head)
		if !ok || face != Below || depth <= 0 {
			t.Errorf("at %v: %g from %v, %v", at, depth, face, ok)
		}
		if !(body.Top() > b.Lower(at.X)) {
			t.Errorf("at %v his crown is at %g", at, body.Top())
		}
		below := []geometry.Solid{head, body.Trunk.Solid()}
		z := r.clearAt(d.Projector.At.Vec(), below)
		if math.IsNaN(z) {
			t.Errorf("at %v: no height under the ceiling clears him", at)
			continue
		}
		t.Logf("at %v: in it by %.3f m, clear with the lens at %.3f m", at, depth, z)
		lens := d.Projector.At.Vec()
		for height, want := range map[float64]bool{z: false, z - 0.002: true} {
			lens.Z = height
			if _, _, ok := r.beams(lens)[0].into(&head); ok != want {
				t.Errorf("lens at %.4f: in the beam is %v", height, ok)
			}
		}
	}
	// A sitter under the beam is not in it.
	d.Seating.Rows[0].Distance = 3.4
	for _, o := range Of(d).InBeam {
		if !o.Standing && o.Part.Person() {
			t.Errorf("%s is in it", o.Called())
		}
	}
}

func TestALoudspeakerInTheBeamFallsShort(t *testing.T) {
	d := lensRoom(t)
	d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Beam, Name: "Purlin", At: project.Point{X: 4.5, Y: d.Screen.Centre, Z: 2.1}, Length: 0.2, Width: 3, Height: 0.2})
	named := false
	for _, s := range Of(d).Short() {
		named = named || strings.HasPrefix(s, "Purlin stands in the beam of")
	}
	if !named {
		t.Errorf("%q", Of(d).Short())
	}
}

// A point of a solid that a ray of the beam meets shows it to be in the beam; a solid that
// is moved out square to the face it is nearest to is out.
func TestTheBeamMeetsWhatItsRaysMeet(t *testing.T) {
	r := Of(lensRoom(t))
	lens := r.Design.Projector.At.Vec()
	b := &r.beams(lens)[0]
	rapid.Check(t, func(t *rapid.T) {
		num := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		e := geometry.Ellipsoid{Center: geometry.Vec{X: num(0.8, 5.5, "x"), Y: num(-0.5, 4.5, "y"), Z: num(0, 3, "z")}, Basis: geometry.WorldBasis(),
			Radii: geometry.Vec{X: num(0.05, 0.3, "a"), Y: num(0.05, 0.3, "b"), Z: num(0.05, 0.3, "c")}}
		s := e.Solid()
		met := false
		const n = 40
		for i := 0; i <= n && !met; i++ {
			for k := 0; k <= n && !met; k++ {
				to := b.Corners[0].Lerp(b.Corners[1], float64(i)/n).Lerp(b.Corners[3].Lerp(b.Corners[2], float64(i)/n), float64(k)/n)
				clear, _ := s.Clearance(geometry.Segment{A: lens, B: to})
				met = clear < -0.002
			}
		}
		depth, face, ok := b.into(&s)
		if met && !ok {
			t.Errorf("rays meet %+v, the beam does not", e)
		}
		if ok {
			e.Center = e.Center.Add(b.faces[face].Mul(depth))
			s = e.Solid()
			if _, _, ok := b.into(&s); ok {
				t.Errorf("moved out by %g past %s it is still in", depth, face)
			}
		}
	})
}

// Somebody who stands deep in the beam was said to be too low: nobody on the floor leaves a
// beam over its top.
func TestWhoStandsInTheBeamIsNeverTooLow(t *testing.T) {
	d := lensRoom(t)
	d.Projector.At.X, d.Projector.At.Z = 4.6, 1.3
	d.Seating.Rows[0].Distance = 3.4
	r := Of(d)
	stand := 0
	for _, o := range r.InBeam {
		if o.Standing {
			stand++
			if o.Face == Above {
				t.Errorf("%s: from above", o.Called())
			}
		}
	}
	if stand == 0 {
		t.Error("nobody is in the beam")
	}
	for _, s := range r.StandingWords() {
		if strings.Contains(s, "too low") {
			t.Error(s)
		}
	}
}
