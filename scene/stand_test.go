// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/project"
	"earline/project/place"
	"earline/scene"
)

// Boxes on the floor floated above it: low ones stand on feet, others on a stand.
func TestWhatStandsOnTheFloorReachesIt(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		o := scene.Default()
		o.Client, o.Bare = true, true
		m := mesh(scene.Build(d, nil, o), "loudspeakers")
		floor := place.FloorOf(d)
		for _, b := range place.Speakers(d) {
			if b.Mount != project.OnFloor {
				continue
			}
			at0, low := b.Box.Center, math.Inf(1)
			for v := range len(m.Pos) / 3 {
				if p := at(m.Pos, v); math.Hypot(p.X-at0.X, p.Y-at0.Y) < b.Box.Half.Len() {
					low = min(low, p.Z)
				}
			}
			if gap := low - floor.At(at0.X, at0.Y); math.Abs(gap) > 0.003 {
				t.Errorf("%s: %s ends %.3f m above the floor", name, b.Name(), gap)
			}
		}
	}
}
