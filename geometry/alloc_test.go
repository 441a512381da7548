// SPDX-License-Identifier: MIT

package geometry_test

import (
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
)

// The audit calls these a million times: they must leave no garbage.
func TestKernelsAllocateNothing(t *testing.T) {
	r := geomtest.Rand(t)
	var sc geometry.Scratch
	eye, f, solids := randomScene(r)
	seg := geometry.Segment{A: eye, B: f.c}
	pick := []int32{0}
	sc.Visible(eye, f.target, solids, nil) // grows
	if n := testing.AllocsPerRun(100, func() {
		for i := range solids {
			solids[i].Clearance(seg)
			solids[i].Hit(seg)
			solids[i].Bound().Gap(seg)
		}
		sc.Visible(eye, f.target, solids, nil)
		sc.Visible(eye, f.target, solids, pick)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
