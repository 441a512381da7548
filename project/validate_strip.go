// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strings"
)

// follows checks where strips lie that have no path of their own.
func (c *checker) follows(d *Design, at string, g *LightGroup) {
	only := func(field, found string) {
		switch {
		case g.Kind != Strip:
			c.fault(at+field, fmt.Sprintf("%s in a group of kind %q", found, g.Kind), "for a strip only")
		case len(g.Path) > 0:
			c.fault(at+field, found+" beside a path", "one of path, panels and nosings")
		}
	}
	if g.Nosings {
		only("nosings", "true")
	}
	if g.Panels == "" {
		return
	}
	only("panels", fmt.Sprintf("%q", g.Panels))
	if g.Nosings {
		c.fault(at+"panels", fmt.Sprintf("%q beside nosings", g.Panels), "one of path, panels and nosings")
	}
	var lit []string
	for i := range d.Panels {
		p := &d.Panels[i]
		switch {
		case p.ID == g.Panels && p.LightGap > 0:
			return
		case p.ID == g.Panels:
			c.fault(at+"panels", fmt.Sprintf("%q, which has no joints with light in them", g.Panels), "a run of panels with light_gap_m above 0 m")
			return
		case p.LightGap > 0:
			lit = append(lit, fmt.Sprintf("%q", p.ID))
		}
	}
	allowed := "the id of a run of panels with light_gap_m, and there is none"
	if len(lit) > 0 {
		allowed = "the id of a run of panels with light_gap_m: " + strings.Join(lit, ", ")
	}
	c.fault(at+"panels", fmt.Sprintf("%q", g.Panels), allowed)
}
