// SPDX-License-Identifier: MIT

package scene_test

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/scene"
)

// One builder over many edits gives what a new one gives, whatever changed, also when
// the same design is changed in place; and lists already handed out stay as they were.
func TestABuilderForgetsNothingThatChanged(t *testing.T) {
	for _, name := range []string{"large", "two-row"} {
		d := demo(t, name)
		rng := rand.New(rand.NewPCG(1, 2))
		var b scene.Builder
		o := everything()
		by := func(v *unit.Length) { *v += unit.Length(rng.Float64()-0.5) / 50 }
		edits := []func(){
			func() {},
			func() { by(&d.Speakers[rng.IntN(len(d.Speakers))].At.Z) },
			func() { by(&d.Seating.Rows[rng.IntN(len(d.Seating.Rows))].Distance) },
			func() { by(&d.Room.Ceiling.Height) },
			func() { by(&d.Screen.Width) },
			func() { by(&d.Room.Footprint[rng.IntN(len(d.Room.Footprint))].X) },
			func() { d.Seating.Sitters.Others++ },
			func() {
				if len(d.Room.Features) > 0 {
					by(&d.Room.Features[rng.IntN(len(d.Room.Features))].Width)
				}
			},
			func() {
				if len(d.Panels) == 0 && len(d.Room.Materials) > 0 {
					d.Panels = []project.Panels{{Wall: 1, Module: 0.6, Gap: 0.01, LightGap: 0.04, Depth: 0.06,
						Pattern: []project.PanelKind{project.AbsorbPanel}, Absorb: d.Room.Materials[0].ID}}
				} else if len(d.Panels) > 0 {
					by(&d.Panels[0].Module)
				}
			},
			func() {
				if len(d.Room.Treatments) > 0 {
					d.Room.Treatments = d.Room.Treatments[1:]
				}
			},
			func() { by(&d.Chairs[rng.IntN(len(d.Chairs))].PanWidth) },
			func() { d.Units = project.Imperial },
			func() { o.Seat = rng.IntN(3) - 1 },
			func() { o.FromSeat = rng.IntN(3) - 1 },
			func() { o.Speaker = rng.IntN(3) - 1 },
			func() { o.People = !o.People },
			func() { o.Drawing = scene.Axes{X: true, Y: o.Drawing == scene.Axes{}} },
			func() { o.Client = !o.Client },
			func() { o.Lean = scene.Lean{On: !o.Lean.On, Seat: rng.IntN(3), Recline: 0.6} },
		}
		var before, copied *scene.List
		for step := range 60 {
			edits[rng.IntN(len(edits))]()
			got, want := b.Build(d, nil, o), scene.Build(d, nil, o)
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%s, step %d: the builder's list is not what is built anew", name, step)
			}
			if before != nil && !reflect.DeepEqual(before, copied) {
				t.Fatalf("%s, step %d: the list before has changed", name, step)
			}
			before, copied = got, want
		}
	}
}

// While a loudspeaker moves nothing else is built again.
func TestWhatALoudspeakerLeavesIsNotBuiltAgain(t *testing.T) {
	d := demo(t, "large")
	var b scene.Builder
	first := b.Build(d, nil, scene.Default())
	d.Speakers[3].At.Z += 0.1
	second := b.Build(d, nil, scene.Default())
	fixed := 0
	for i, m := range second.Meshes {
		if m.Fixed {
			fixed += len(m.Pos)
			if &m.Pos[0] != &first.Meshes[i].Pos[0] {
				t.Errorf("%s was built again", m.Name)
			}
		}
	}
	all := 0
	for _, m := range second.Meshes {
		all += len(m.Pos)
	}
	if fixed*2 < all {
		t.Errorf("%d of %d numbers are fixed, want most", fixed, all)
	}
}
