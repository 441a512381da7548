// SPDX-License-Identifier: MIT

package compare

import (
	"earline/project"
	"earline/project/lists"
)

// Reuse is what becomes of the cable of a loudspeaker that both rooms have.
type Reuse struct {
	Name string
	// There is how long the cable in the room is: as measured, or as its way and what is
	// spare come to. Needed is the new way without spare; Area of both, mm².
	There, Needed     float64
	ThereArea, Wanted float64
	Measured          bool
	// Serves reports that it is long and thick enough: its end must still be found and
	// drawn to the new place.
	Serves bool
}

// reuse compares the cables of both rooms; nil where either does not say where the rack
// stands.
func reuse(was, is *project.Design) []Reuse {
	before := map[string]lists.Cable{}
	for _, c := range lists.Cables(was) {
		before[c.ID] = c
	}
	var out []Reuse
	for _, c := range lists.Cables(is) {
		old, ok := before[c.ID]
		if !ok || c.ID == "" {
			continue
		}
		r := Reuse{Name: c.Name, There: old.Length, Needed: c.Run, ThereArea: old.Area, Wanted: c.Area}
		if old.There > 0 {
			r.There, r.Measured = old.There, true
		}
		r.Serves = r.There >= r.Needed && r.ThereArea >= r.Wanted
		out = append(out, r)
	}
	return out
}
