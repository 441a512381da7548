// SPDX-License-Identifier: MIT

package settle

import (
	"math"

	"earline/project/sight"
)

// Deepest returns the path that is blocked worst; ok is false where none is.
func Deepest(r *sight.Result) (seat, speaker int, ok bool) {
	if r.Count[sight.Blocked] == 0 {
		return 0, 0, false
	}
	return r.Worst()
}

// Tightest returns the path with the least clearance of those that are free by less
// than the margin; ok is false where there is none.
func Tightest(r *sight.Result) (seat, speaker int, ok bool) {
	least := math.Inf(1)
	for i := range r.Seats {
		for k := range r.Speakers {
			if p := r.Pair(i, k); p.Verdict == sight.Tight && p.Deciding().Clearance < least {
				least, seat, speaker, ok = p.Deciding().Clearance, i, k, true
			}
		}
	}
	return seat, speaker, ok
}
