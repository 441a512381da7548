// SPDX-License-Identifier: MIT

package bake_test

import (
	"testing"

	"earline/project"
	"earline/scene/bake"
)

// Stars that show in the dark are drowned by house light.
func TestStarsFadeInHouseLight(t *testing.T) {
	m, l := baked(t, "large")
	bright := func(s project.Scene) (most float32) {
		d := bake.In(m, s)
		for i := range m.Design.LightGroups {
			if m.Design.LightGroups[i].Kind == project.Stars {
				d.Levels[i] = 1
			}
		}
		for _, mesh := range l.Show(d).Meshes {
			if len(mesh.Deep) == 0 {
				continue
			}
			if len(mesh.Deep) != len(mesh.Pos)/3 || len(mesh.Deep)%4 != 0 {
				t.Fatalf("%d depths for %d vertices of stars", len(mesh.Deep), len(mesh.Pos)/3)
			}
			for _, c := range mesh.Col {
				most = max(most, c)
			}
		}
		return most
	}
	dark, house := bright(project.Show), bright(project.House)
	if dark < 0.5 || house > 0.4*dark {
		t.Errorf("the brightest star shows as %g in the show and %g in house light", dark, house)
	}
}

// What mirrors shows the room: where its picture runs, more light comes from the front than
// from behind; all of it is there, and finite.
func TestMirrorsShowThePicture(t *testing.T) {
	m, l := baked(t, "small")
	a := l.Show(bake.In(m, project.Show)).Around
	if a == nil {
		t.Fatal("nothing is all around")
	}
	face := func(k int) (sum float64) {
		n := 3 * a.Side * a.Side
		for _, v := range a.Light[k*n : (k+1)*n] {
			if !(v >= 0) || v > 1e6 {
				t.Fatalf("light of %g", v)
			}
			sum += float64(v)
		}
		return sum
	}
	if front, back := face(5), face(4); front < 4*back { // the room's x is the picture's z, from the screen
		t.Errorf("light %g from the screen and %g from behind", front, back)
	}
	for i := range 3 {
		if !(a.Lo[i] < a.At[i] && a.At[i] < a.Hi[i]) {
			t.Errorf("seen from %v, not within %v to %v", a.At, a.Lo, a.Hi)
		}
	}
}
