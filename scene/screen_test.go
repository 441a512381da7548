// SPDX-License-Identifier: MIT

package scene

import (
	"testing"

	"earline/project"
	"earline/project/file"
)

// The boxes of the masks are in the picture of the room, round the screen; without masks it
// is as it was.
func TestMaskingBoxesAreDrawn(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d.Picture.Masking, d.Picture.MaskingBox = "", 0
	var b Builder
	count := func() (vertices int, low, high float32) {
		for _, m := range b.Build(d, nil, Default()).Meshes {
			if m.Name == "screen" {
				low, high = m.Pos[1], m.Pos[1] // the picture world has y up
				for i := 1; i < len(m.Pos); i += 3 {
					low, high = min(low, m.Pos[i]), max(high, m.Pos[i])
				}
				return len(m.Pos) / 3, low, high
			}
		}
		t.Fatal("no screen")
		return 0, 0, 0
	}
	before, low, high := count()
	d.Picture.Masking, d.Picture.MaskingBox = project.MaskTopBottom, 0.2
	after, lower, higher := count()
	if after <= before || !(lower < low-0.19) || !(higher > high+0.19) {
		t.Errorf("%d vertices from %g to %g, before %d from %g to %g", after, lower, higher, before, low, high)
	}
}
