// SPDX-License-Identifier: MIT

package solve

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
	"earline/project/place"
)

// upper returns a hall with four height loudspeakers and one above, anywhere.
func upper(model string) *project.Design {
	d := hall(2, 3, 0)
	d.Models = append(d.Models, project.Model{ID: "ceiling", Name: "In-ceiling", Width: 0.26, Height: 0.26, Depth: 0.14, Flush: true,
		Drivers:   []project.Driver{{Band: project.High, Up: 0.01, Diameter: 0.025}},
		CoverageH: 90, CoverageV: 90, Sensitivity: 88, Power: 50, Mass: 2})
	for i, label := range []string{"U+045", "U-045", "U+135", "U-135", "T+000"} {
		d.Speakers = append(d.Speakers, project.Loudspeaker{Label: label, Model: model, Mount: project.OnCeiling,
			At: project.Point{X: unit.Length(2 + i), Y: 3, Z: 2.9}})
	}
	return d
}

// gabled may add planes to the ceiling of d: a gable, a hip, or any slope.
func gabled(t *rapid.T, d *project.Design) {
	c := &d.Room.Ceiling
	_, hi := d.Room.Polygon().Bounds()
	mid := project.Corner{X: unit.Length(hi.X / 2), Y: unit.Length(hi.Y / 2)}
	for _, to := range []project.Corner{{X: mid.X}, {X: mid.X, Y: unit.Length(hi.Y)}, {X: unit.Length(hi.X), Y: mid.Y}} {
		if !rapid.Bool().Draw(t, "plane") {
			continue
		}
		before := c.Planes
		c.Planes = append(slices.Clone(before), project.CeilingPlane{From: mid, FromHeight: unit.Length(rapid.Float64Range(2.6, 3.2).Draw(t, "middle")),
			To: to, ToHeight: unit.Length(rapid.Float64Range(2, 2.5).Draw(t, "wall"))})
		if d.Validate() != nil {
			c.Planes = before // it lowers nothing
		}
	}
}

// Under any ceiling the loudspeakers sound from exactly where they should and
// hang in the ceiling, or from it.
func TestHeightsAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		model := rapid.SampledFrom([]string{"ceiling", "box"}).Draw(t, "model")
		d := upper(model)
		d.Room.Ceiling = project.Ceiling{Slope: rapid.SampledFrom([]project.Slope{project.Flat, project.FrontToBack, project.LeftToRight}).Draw(t, "slope"),
			Height: unit.Length(rapid.Float64Range(2.5, 3).Draw(t, "height")), FarHeight: unit.Length(rapid.Float64Range(2.5, 3.2).Draw(t, "far"))}
		gabled(t, d)
		el := rapid.Float64Range(40, 55).Draw(t, "elevation")
		p, err := Heights(context.Background(), d, HeightsOptions{Elevation: unit.Degrees(el)})
		if err != nil {
			t.Fatal(err)
		}
		main := place.MainPoint(p.Design)
		for k, l := range p.Design.Speakers {
			az, want, ok := upperDirection(l.Label, unit.Degrees(el))
			if !ok {
				continue
			}
			to := l.At.Vec().Sub(main)
			if off := geometry.Angle(to, geometry.Direction(az.Radians(), want.Radians())); off > 1e-9 {
				t.Fatalf("%s is %.6f rad off", l.Label, off)
			}
			placed := place.OneSpeaker(p.Design, l, main)
			if n := d.Room.CeilingNormal(float64(l.At.X), float64(l.At.Y)); placed.Spec.Flush && placed.Front.W.Dist(n) > 1e-9 {
				t.Fatalf("%s looks %v, its piece of ceiling %v", l.Label, placed.Front.W, n)
			}
			if over := overCeiling(&p.Design.Room, &placed); math.Abs(over) > 1e-9 {
				t.Fatalf("%s is %.9f m over the ceiling", l.Label, over)
			}
			if l.Mount != project.OnCeiling || k < 3 {
				t.Fatalf("%s: %s", l.Label, l.Mount)
			}
		}
	})
}

// On a grid each goes to one of its places, none of which is nearer in angle
// and fits.
func TestHeightsOnAGrid(t *testing.T) {
	d := upper("ceiling")
	g := Grid{X0: 0.1, Y0: 0.2, PitchX: 0.6, PitchY: 0.6}
	p, err := Heights(context.Background(), d, HeightsOptions{Grid: g})
	if err != nil {
		t.Fatal(err)
	}
	main := place.MainPoint(p.Design)
	for _, l := range p.Design.Speakers {
		az, el, ok := upperDirection(l.Label, 45)
		if !ok || l.Label == "T+000" {
			continue
		}
		want := geometry.Direction(az.Radians(), el.Radians())
		at := l.At.Vec()
		on := func(v, origin, pitch float64) bool {
			n := (v - origin) / pitch
			return math.Abs(n-math.Round(n))*pitch < 1e-4
		}
		if !on(at.X, 0.1, 0.6) || !on(at.Y, 0.2, 0.6) {
			t.Errorf("%s at %v is not on the grid", l.Label, at)
		}
		for _, dx := range []float64{-0.6, 0, 0.6} {
			for _, dy := range []float64{-0.6, 0, 0.6} {
				other := at.Add(geometry.Vec{X: dx, Y: dy}).Sub(main)
				if geometry.Angle(other, want) < geometry.Angle(at.Sub(main), want)-1e-9 {
					t.Errorf("%s: %v is nearer", l.Label, other.Add(main))
				}
			}
		}
	}
}

// A soffit in the way is avoided; a narrow room that has no place at the wanted
// elevation says so.
func TestHeightsAvoidAndProve(t *testing.T) {
	d := upper("box")
	free, err := Heights(context.Background(), d, HeightsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	at := free.Design.Speakers[3].At
	d.Room.Features = []project.Feature{{Kind: project.Soffit, At: project.Point{X: at.X, Y: at.Y, Z: 2.9}, Length: 0.5, Width: 0.5, Height: 0.3}}
	p, err := Heights(context.Background(), d, HeightsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	placed := place.OneSpeaker(p.Design, p.Design.Speakers[3], place.MainPoint(p.Design))
	if f, _ := inTheWay(&p.Design.Room, &placed); f >= 0 {
		t.Error("stands in the soffit")
	}
	if p.After.Findings > p.Before.Findings {
		t.Errorf("%v", fit.Findings(p.Design))
	}
	d = upper("ceiling")
	d.Room.Footprint = []project.Corner{{X: 0, Y: 2.2}, {X: 9, Y: 2.2}, {X: 9, Y: 4.2}, {X: 0, Y: 4.2}}
	p, err = Heights(context.Background(), d, HeightsOptions{Elevation: 30, Range: [2]unit.Degrees{30, 35}})
	if err != nil {
		t.Fatal(err)
	}
	if p.Solved() || p.Proof[0].Kind != Degrees || p.Proof[0].Short <= 0 || !strings.Contains(p.Proof[0].Text, "U+045") {
		t.Errorf("%+v", p.Proof)
	}
}

// Where the angle meets the ceiling stands a light, or a vent, or the soffit's
// underside: the loudspeaker, whether it hangs or is let in, makes room with the
// gap to spare, is still heard within the accepted directions, and the proposal
// says for what.
func TestHeightsKeepClearOfLightsAndVents(t *testing.T) {
	for _, model := range []string{"box", "ceiling"} {
		for _, kind := range []project.FeatureKind{project.Light, project.Vent, project.Soffit} {
			d := upper(model)
			free, err := Heights(context.Background(), d, HeightsOptions{})
			if err != nil {
				t.Fatal(err)
			}
			at := free.Design.Speakers[3].At
			d.Room.Features = []project.Feature{{Kind: kind, Name: "the left one", At: project.Point{X: at.X, Y: at.Y, Z: 3.18}, Length: 0.12, Width: 0.12, Height: 0.02}}
			for _, gap := range []unit.Length{0, 0.25} {
				p, err := Heights(context.Background(), d, HeightsOptions{Gap: gap})
				if err != nil {
					t.Fatal(err)
				}
				if !p.Solved() {
					t.Errorf("%s, %s: %+v", model, kind, p.Proof)
				}
				placed := place.OneSpeaker(p.Design, p.Design.Speakers[3], place.MainPoint(p.Design))
				want := max(float64(gap), float64(usualGap))
				near := d.Room.Features[0].Box()
				grow := func(by float64) geometry.Box {
					b := near
					b.Half = b.Half.Add(geometry.Vec{X: by, Y: by, Z: by})
					return b
				}
				if in := geometry.Overlap(grow(want), placed.Box); in > buildTol {
					t.Errorf("%s, %s: %.3f m nearer than %v m", model, kind, in, want)
				}
				if geometry.Overlap(grow(want+0.15), placed.Box) == 0 {
					t.Errorf("%s, %s: farther away than it need be", model, kind)
				}
				var said bool
				for _, c := range p.Changes {
					said = said || strings.Contains(c.What, "U+045") && strings.Contains(c.What, "the left one")
				}
				if !said {
					t.Errorf("%s, %s: nothing says why U+045 stands aside: %+v", model, kind, p.Changes)
				}
				for k := range p.Design.Speakers { // the others stay where they were
					if k != 3 && p.Design.Speakers[k].At != free.Design.Speakers[k].At {
						t.Errorf("%s moved too", p.Design.Speakers[k].Name())
					}
				}
			}
		}
	}
}

// Where a light hangs under the ceiling wherever it would do, the proof names it:
// no loudspeaker goes above it either.
func TestHeightsNameTheLightInTheWay(t *testing.T) {
	d := upper("ceiling")
	free, err := Heights(context.Background(), d, HeightsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	at := free.Design.Speakers[3].At
	d.Room.Features = []project.Feature{{Kind: project.Light, Name: "light field", At: project.Point{X: at.X, Y: at.Y, Z: 2.98}, Length: 3, Width: 3, Height: 0.02}}
	p, err := Heights(context.Background(), d, HeightsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if p.Solved() || p.Proof[0].Constraint != "light field" || p.Proof[0].Where != "U+045" || p.Proof[0].Short <= 0 {
		t.Errorf("%+v", p.Proof)
	}
}
