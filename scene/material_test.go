// SPDX-License-Identifier: MIT

package scene

import (
	"slices"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
)

// What a client sees of a room is made of what it looks like, down to the last vertex.
func TestTheRoomIsMadeOfWhatItLooksLike(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d.Room.Finishes = project.Finishes{} // what is usual
	o := Default()
	o.Client, o.Bare = true, true
	made := map[string][]Material{}
	for _, m := range Build(d, nil, o).Meshes {
		if len(m.Mat) != len(m.Pos)/3 {
			t.Errorf("%s: %d materials for %d vertices", m.Name, len(m.Mat), len(m.Pos)/3)
		}
		for _, k := range m.Mat {
			if k = k.Kind(); !slices.Contains(made[m.Name], k) {
				made[m.Name] = append(made[m.Name], k)
			}
		}
	}
	for name, want := range map[string][]Material{
		"shell": {Cloth, Timber, Metal, Paint}, "floor": {Carpet, Timber, Metal}, "chairs": {Leather, Metal},
		"people": {Cloth, NoMaterial, Leather}, "loudspeakers": {Lacquer, Paint}, "screen": {Cloth}, "projector": {Lacquer},
	} {
		for _, k := range want {
			if !slices.Contains(made[name], k) {
				t.Errorf("nothing of %s is of material %d", name, k)
			}
		}
	}
}

// Grain runs along the axis nearest to what is asked, and turns with what it is part of.
func TestGrainTurnsWithTheBoard(t *testing.T) {
	if a := Timber.Axis(); a != 1 {
		t.Errorf("grain runs along axis %d, want up", a)
	}
	for _, c := range []struct {
		v    geometry.Vec
		axis int // of the picture world
	}{{geometry.Vec{X: -2, Y: 1}, 2}, {geometry.Vec{Y: 1, Z: 0.5}, 0}, {geometry.Vec{Z: -1}, 1}, {geometry.Vec{}, 1}} {
		k := Timber.Along(c.v)
		if k.Axis() != c.axis || k.Kind() != Timber {
			t.Errorf("along %v: axis %d of material %d, want %d of timber", c.v, k.Axis(), k.Kind(), c.axis)
		}
	}
	lying := geometry.Basis{U: geometry.Vec{Z: 1}, V: geometry.Vec{Y: 1}, W: geometry.Vec{X: -1}}
	if a := Timber.turned(lying).Axis(); a != 2 {
		t.Errorf("an upright board laid down has its grain along %d, want 2", a)
	}
	if k := Leather.turned(lying); k != Leather {
		t.Errorf("leather turned is %d", k)
	}
}
