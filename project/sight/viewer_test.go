// SPDX-License-Identifier: MIT

package sight_test

import (
	"testing"

	"earline/geometry/unit"
	"earline/project/projecttest"
	"earline/project/sight"
)

// A viewer whose picture moves answers as the audit of every design on the way.
func TestViewerAgreesWithAudit(t *testing.T) {
	for seed := range uint64(20) {
		d := projecttest.Room(seed)
		v := sight.NewViewer(d)
		for n := range 3 {
			moved := d.Clone()
			moved.Screen.Bottom = unit.Length(0.2 + 0.3*float64(n))
			moved.Screen.Width *= unit.Length(1 - 0.2*float64(n))
			v.Screen(moved.Screen)
			want := sight.Audit(moved)
			for i := range want.Views {
				if got := v.View(i); got != want.Views[i] {
					t.Fatalf("seed %d, seat %d: %+v, the audit has %+v", seed, i, got, want.Views[i])
				}
			}
		}
	}
}
