// SPDX-License-Identifier: MIT

package compare

import (
	"earline/project"
	"earline/project/diff"
)

// Adopt returns a copy of a design of another file to be kept beside plan: what is the
// same in both - loudspeakers by label and copy, rows, features and treatments by
// their place in the list - gets the plan's ids, and all else ids that the plan has
// not. Variants of its own are left behind.
func Adopt(plan, other *project.Design) *project.Design {
	c := other.Alone().Unidentified()
	for _, p := range diff.Speakers(plan, c) {
		if p.Was >= 0 && p.Is >= 0 {
			c.Speakers[p.Is].ID = plan.Speakers[p.Was].ID
		}
	}
	for i := range min(len(c.Seating.Rows), len(plan.Seating.Rows)) {
		c.Seating.Rows[i].ID = plan.Seating.Rows[i].ID
	}
	for i := range min(len(c.Room.Features), len(plan.Room.Features)) {
		if c.Room.Features[i].Kind == plan.Room.Features[i].Kind {
			c.Room.Features[i].ID = plan.Room.Features[i].ID
		}
	}
	for i := range min(len(c.Room.Treatments), len(plan.Room.Treatments)) {
		c.Room.Treatments[i].ID = plan.Room.Treatments[i].ID
	}
	for i := range min(len(c.SubZones), len(plan.SubZones)) {
		c.SubZones[i].ID = plan.SubZones[i].ID
	}
	// New ids must not be those of other things of the plan.
	c.Variants = []project.Design{*plan.Alone()}
	c.Identify()
	c.Variants = nil
	return c
}
