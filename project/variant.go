// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"slices"
	"strings"
)

// MaxVariants is how many designs a file may keep beside the plan.
const MaxVariants = 8

// Variant says which of the designs in a file one is: the room as it was found, the
// one proposed, or an option. The plan has one too, once there are others beside it.
type Variant struct {
	Name string `json:"name"`
	Role Role   `json:"role"`
}

// Role is what a design in a file stands for.
type Role string

// The roles.
const (
	Existing Role = "existing" // as found on site
	Proposed Role = "proposed"
	Option   Role = "option"
)

// VariantName returns what d is called beside the other designs of its file.
func (d *Design) VariantName() string {
	if d.Variant.Name == "" {
		return "Plan"
	}
	return d.Variant.Name
}

// Alone returns d without the designs that are kept beside it. It shares all else
// with d.
func (d *Design) Alone() *Design {
	c := *d
	c.Variants = nil
	return &c
}

// Keep keeps a copy of d, as it is now, beside it under v, or puts it in the place of
// the design of that name. What was measured belongs to the plan and stays with it.
func (d *Design) Keep(v Variant) {
	copied := d.Alone().Clone()
	copied.Variant, copied.AsBuilt = v, AsBuilt{}
	kept := slices.Clone(d.Variants)
	if i := d.VariantNamed(v.Name); i >= 0 {
		kept[i] = *copied
	} else {
		kept = append(kept, *copied)
	}
	d.Variants = kept
}

// Take makes the ith of the designs beside d the plan; what was the plan takes its
// place. Nothing of either is lost.
func (d *Design) Take(i int) {
	plan, others := d.Alone(), slices.Clone(d.Variants)
	if plan.Variant.Name == "" {
		plan.Variant = Variant{Name: freeName(others, plan.VariantName()), Role: Proposed}
	}
	taken := others[i]
	others[i] = *plan
	taken.Variants = others
	*d = taken
}

// Drop removes the ith of the designs beside d.
func (d *Design) Drop(i int) {
	d.Variants = slices.Delete(slices.Clone(d.Variants), i, i+1)
}

// VariantNamed returns the index of the design of that name beside d; -1 when there is none.
func (d *Design) VariantNamed(name string) int {
	return slices.IndexFunc(d.Variants, func(o Design) bool { return o.Variant.Name == name })
}

// AsFound returns the index of the first of the designs beside d that is the room as
// it was found; -1 when there is none.
func (d *Design) AsFound() int {
	return slices.IndexFunc(d.Variants, func(o Design) bool { return o.Variant.Role == Existing })
}

// freeName returns name, or name with the first number that no other has.
func freeName(others []Design, name string) string {
	for n := 1; ; n++ {
		free := name
		if n > 1 {
			free = fmt.Sprintf("%s %d", name, n)
		}
		if !slices.ContainsFunc(others, func(o Design) bool { return o.Variant.Name == free }) {
			return free
		}
	}
}

// variants checks the designs beside d, each as a design of its own.
func (c *checker) variants(d *Design) {
	c.text("variant.name", d.Variant.Name, maxName)
	oneOf(c, "variant.role", d.Variant.Role, "", Existing, Proposed, Option)
	named := map[string]bool{}
	if d.Variant.Name != "" {
		named[d.Variant.Name] = true
	}
	for i := range c.count("variants", len(d.Variants), 0, MaxVariants) {
		v := &d.Variants[i]
		at := fmt.Sprintf("variants[%d].", i)
		switch name := v.Variant.Name; {
		case strings.TrimSpace(name) == "":
			c.fault(at+"variant.name", "empty", "a name, such as \"As found\"")
		case named[name]:
			c.fault(at+"variant.name", quote(name)+" a second time", "each name once, the plan's too")
		default:
			named[name] = true
		}
		if v.Variant.Role == "" {
			c.fault(at+"variant.role", "empty", "existing, proposed or option")
		}
		if len(v.Variants) > 0 {
			c.fault(at+"variants", fmt.Sprintf("%d designs", len(v.Variants)), "none: all stand beside the plan")
			continue
		}
		for _, f := range Faults(v.Validate()) {
			c.fault(at+f.Field, f.Found, f.Allowed)
		}
	}
}
