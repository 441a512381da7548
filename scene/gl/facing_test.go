// SPDX-License-Identifier: MIT

package gl

import (
	"testing"

	"earline/scene"
)

// What hangs on a wall vanishes with it for who looks from behind, but not in a drawing.
func TestWhatHangsOnAWallIsNotSeenFromBehind(t *testing.T) {
	r := open(t)
	m := scene.Mesh{Name: "panel", Alpha: 1, Unlit: true, Index: []uint32{0, 1, 2}, Facing: [4]float32{0, 0, 1, 0.5},
		Pos: []float32{-9, -9, 0, 9, -9, 0, 0, 18, 0}, Nor: make([]float32, 9), Col: []float32{1, 1, 1, 1, 1, 1, 1, 1, 1}}
	for _, c := range []struct {
		name string
		z    float32
		fov  float32
		seen bool
	}{{"from before", 5, 0.5, true}, {"from just before the panel, behind the wall", 0.4, 0.5, false}, {"from behind", -5, 0.5, false}, {"in a drawing", -5, 0, true}} {
		img, err := r.Draw(Job{W: 16, H: 16, Camera: scene.Camera{Eye: [3]float32{0, 0, c.z}, Up: [3]float32{0, 1, 0}, FOV: c.fov, Height: 2}, List: &scene.List{Meshes: []scene.Mesh{m}}})
		if err != nil {
			t.Fatal(err)
		}
		if seen := img.RGBAAt(8, 8).R > 200; seen != c.seen {
			t.Errorf("%s: seen is %v", c.name, seen)
		}
	}
}
