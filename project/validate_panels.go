// SPDX-License-Identifier: MIT

package project

import (
	"fmt"
	"strconv"

	"earline/geometry/unit"
)

// Limits of panels.
const (
	MaxPanels  = 12 // runs of them
	MaxModules = 60 // of one run

	minModule = 0.1 // m
	maxModule = 5   // m
	maxJoint  = 1   // m
	maxDeep   = 0.5 // m
)

// panels checks each run, and that at least one panel of it fits.
func (c *checker) panels(d *Design, materials map[string]bool) {
	walls := len(d.Room.Footprint)
	for i := range c.count("panels", len(d.Panels), 0, MaxPanels) {
		p, at := &d.Panels[i], fmt.Sprintf("panels[%d].", i)
		before := len(c.faults)
		if p.Wall < 0 || p.Wall > walls {
			c.fault(at+"wall", strconv.Itoa(p.Wall), fmt.Sprintf("0 to %d", walls))
		}
		c.length(at+"low_m", p.Low, 0, maxPlace)
		if p.High != 0 {
			c.above(at+"high_m", p.High, p.Low)
		}
		c.length(at+"module_m", p.Module, minModule, maxModule)
		c.length(at+"gap_m", p.Gap, 0, maxJoint)
		c.length(at+"light_gap_m", p.LightGap, 0, maxJoint)
		if p.LightEvery < 0 || p.LightEvery > MaxModules {
			c.fault(at+"light_every", strconv.Itoa(p.LightEvery), fmt.Sprintf("0 to %d", MaxModules))
		}
		c.length(at+"depth_m", p.Depth, 0.001, maxDeep)
		used := map[PanelKind]bool{}
		for k := range c.count(at+"pattern", len(p.Pattern), 1, 2*MaxModules) {
			oneOf(c, fmt.Sprintf("%spattern[%d]", at, k), p.Pattern[k], PanelKinds()...)
			used[p.Pattern[k]] = true
		}
		for _, m := range [2]struct {
			field, id string
			needed    bool
		}{{"material_absorb", p.Absorb, used[AbsorbPanel]}, {"material_diffuse", p.Diffuse, used[DiffusePanel]}} {
			if m.id != "" || m.needed {
				c.material(at+m.field, m.id, materials)
			}
		}
		if len(c.faults) > before {
			continue // nothing to lay out
		}
		long, where := d.Room.PanelLength(p.Wall), d.Room.PanelPlace(p.Wall)
		switch n := p.Count(long); {
		case long <= 0: // the footprint has its own fault
		case n == 0:
			joints := float64(p.Run(1) - p.Module)
			if long-joints < minModule {
				c.fault(at+"wall", fmt.Sprintf("the %s, %s long", where, unit.Length(long)), "a wall that holds a panel and its joints")
				break
			}
			c.fault(at+"module_m", p.Module.String(), fmt.Sprintf("at most %s on the %s, %s long", unit.Length(long-joints), where, unit.Length(long)))
		case n > MaxModules:
			c.fault(at+"module_m", fmt.Sprintf("%d panels of %s on the %s", n, p.Module, where), fmt.Sprintf("at most %d: panels of %s or more", MaxModules, unit.Length(long/MaxModules)))
		}
	}
}
