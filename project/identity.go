// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// identity is where a thing of a design keeps its id.
type identity struct {
	id    *string
	kind  byte   // the letter that ids made for its kind begin with
	field string // of the file
}

// identities returns everything in d that has an id: rows, features, treatments,
// loudspeakers, zones for subwoofers, outlets, backdrops, light groups, panels.
func (d *Design) identities() []identity {
	all := make([]identity, 0, len(d.Seating.Rows)+len(d.Room.Features)+len(d.Room.Treatments)+len(d.Speakers)+len(d.SubZones)+len(d.Services.Outlets)+len(d.Backdrops)+len(d.LightGroups)+len(d.Panels))
	add := func(kind byte, list string, i int, id *string) {
		all = append(all, identity{id, kind, list + "[" + strconv.Itoa(i) + "].id"})
	}
	for i := range d.Seating.Rows {
		add('r', "seating.rows", i, &d.Seating.Rows[i].ID)
	}
	for i := range d.Room.Features {
		add('f', "room.features", i, &d.Room.Features[i].ID)
	}
	for i := range d.Room.Treatments {
		add('t', "room.treatments", i, &d.Room.Treatments[i].ID)
	}
	for i := range d.Speakers {
		add('s', "loudspeakers", i, &d.Speakers[i].ID)
	}
	for i := range d.SubZones {
		add('z', "sub_zones", i, &d.SubZones[i].ID)
	}
	for i := range d.Services.Outlets {
		add('o', "services.outlets", i, &d.Services.Outlets[i].ID)
	}
	for i := range d.Backdrops {
		add('b', "backdrops", i, &d.Backdrops[i].ID)
	}
	for i := range d.LightGroups {
		add('l', "light_groups", i, &d.LightGroups[i].ID)
	}
	for i := range d.Panels {
		add('p', "panels", i, &d.Panels[i].ID)
	}
	return all
}

// Identify gives an id to everything in d that has none: a letter for its kind and
// the next number, so that things known to nobody yet always get the same ids. Of
// two things with one id the first keeps it: the second is a copy. What hung on a thing
// that is gone goes with it.
func (d *Design) Identify() { new(numbers).identify(d) }

// Identified reports whether anything in d has an id that Identify would not make:
// one that somebody chose.
func (d *Design) Identified() bool {
	for _, t := range d.identities() {
		if *t.id != "" && made(*t.id, t.kind) == 0 {
			return true
		}
	}
	return false
}

// Unidentified returns a copy of d without ids.
func (d *Design) Unidentified() *Design {
	c := d.Clone()
	for _, t := range c.identities() {
		*t.id = ""
	}
	return c
}

// numbers are the highest numbers of the ids given so far, by letter. An id is not
// given again while they are kept: what hung on a thing that was removed must not
// hang on another.
type numbers [256]int

func (n *numbers) identify(d *Design) {
	all := d.identities()
	taken := make(map[string]bool, len(all))
	for i := range d.Variants { // one id is one thing in all designs of a file
		for _, t := range d.Variants[i].identities() {
			n[t.kind] = max(n[t.kind], made(*t.id, t.kind))
		}
	}
	for _, t := range all {
		if taken[*t.id] {
			*t.id = ""
		} else if *t.id != "" {
			taken[*t.id] = true
			n[t.kind] = max(n[t.kind], made(*t.id, t.kind))
		}
	}
	for _, t := range all {
		for *t.id == "" { // a row may have been called "f3" by hand
			n[t.kind]++
			if id := string(t.kind) + strconv.Itoa(n[t.kind]); !taken[id] {
				*t.id, taken[id] = id, true
			}
		}
	}
	d.Services.Cables = slices.DeleteFunc(d.Services.Cables, func(k Cable) bool { return !taken[k.Serves] })
	d.Equalisation.Filters = slices.DeleteFunc(d.Equalisation.Filters, func(f Filter) bool { return f.Of != AllSubwoofers && !taken[f.Of] })
	d.forgetGone()
	d.forgetUnseated()
}

// made returns the number of an id that was made for a thing of that kind; 0 for
// another.
func made(id string, kind byte) int {
	const longest = 8 // digits and letter: more was never counted up to
	if len(id) < 2 || len(id) > longest || id[0] != kind || id[1] < '1' || id[1] > '9' {
		return 0
	}
	n, err := strconv.Atoi(id[1:])
	if err != nil {
		return 0
	}
	return n
}

// identityForm is what an id of a thing may look like.
var identityForm = regexp.MustCompile(`^[A-Za-z0-9_-]{1,32}$`)

// identities faults ids that cannot stand in a list.
func (c *checker) identities(d *Design) {
	for _, t := range d.identities() {
		if *t.id != "" && !identityForm.MatchString(*t.id) {
			c.fault(t.field, quote(*t.id), "1 to 32 letters, digits, - or _")
		}
	}
}

// SharedIDs returns a fault for every thing of d with an id that one before it has.
// In a file it is a slip: nobody knows which of them what hangs on it belongs to. In
// a design that is being edited it is a copy, and Identify sees to it.
func (d *Design) SharedIDs() []*Fault {
	var out []*Fault
	first := map[string]string{}
	for _, t := range d.identities() {
		if other, taken := first[*t.id]; taken {
			out = append(out, &Fault{Field: t.field, Found: quote(*t.id) + " again", Allowed: fmt.Sprintf("an id of its own; %s has this one", other)})
		} else if *t.id != "" {
			first[*t.id] = t.field
		}
	}
	for i := range d.Variants {
		for _, f := range d.Variants[i].SharedIDs() {
			f.Field = fmt.Sprintf("variants[%d].%s", i, f.Field)
			out = append(out, f)
		}
	}
	return out
}
