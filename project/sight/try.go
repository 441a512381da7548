// SPDX-License-Identifier: MIT

package sight

import (
	"slices"

	"earline/project/place"
)

// Try returns r with another sitter in seat i, counted from 0, and what that seat hears
// and sees then. The answers for the other seats are those of r, though who leans back
// may come nearer to what they hear. r is left as it was; a seat that r does not have
// gives r.
func Try(r *Result, i int, who place.Sitter) *Result {
	if i < 0 || i >= len(r.Views) {
		return r
	}
	out := &Result{Room: *r.Room.Seated(i, who), Pairs: slices.Clone(r.Pairs), Views: slices.Clone(r.Views)}
	out.kept = prepare(r.Design, out)
	out.kept.near = make([][2]float64, len(out.Seats))
	a := auditorOf(r.Design, out)
	a.sit(i)
	a.ears = a.nearEars(i)
	for k := range out.Speakers {
		p := out.Pair(i, k)
		p.Paths = make([]Path, len(p.Paths))
		a.pair(i, k)
	}
	out.Views[i] = a.view(i)
	a.tally()
	// Update would take the sitter for all time: it audits r's design afresh.
	return out
}
