// SPDX-License-Identifier: MIT

package scene

import (
	"testing"

	"earline/project/sight"
)

// A room in which everything is blocked does not fill memory and picture with rays.
func TestOnlyTheWorstOfManyRaysAreDrawn(t *testing.T) {
	var all []sightline
	for i := range 3 * MaxRays {
		all = append(all, sightline{verdict: sight.Blocked, clear: -float64(i % (2 * MaxRays)), chosen: i == 0})
	}
	for range MaxRays {
		all = append(all, sightline{verdict: sight.Tight, clear: -1000})
	}
	drawn := worst(all)
	if len(drawn) != MaxRays+1 {
		t.Fatalf("%d rays drawn, want %d and the selected one", len(drawn), MaxRays)
	}
	if !drawn[0].chosen {
		t.Error("the selected ray is not drawn")
	}
	for _, r := range drawn[1:] {
		if r.verdict != sight.Blocked || r.clear > -float64(MaxRays) {
			t.Errorf("a %v ray of clearance %v is drawn before worse ones", r.verdict, r.clear)
		}
	}
	if few := worst(all[:MaxRays]); len(few) != MaxRays {
		t.Errorf("%d of %d rays drawn", len(few), MaxRays)
	}
}
