// SPDX-License-Identifier: MIT

package diff

import (
	"reflect"
	"strings"

	"earline/project"
)

// panels compares runs of panels; a pattern as a whole.
func (c *comparer) panels() {
	if kept(c.was.Panels, c.is.Panels) {
		return
	}
	alike := func(a, b *project.Panels) bool { return reflect.DeepEqual(a, b) }
	named := func(d *project.Design, i int) string { return "panels on the " + d.Room.PanelPlace(d.Panels[i].Wall) }
	each(c, Panels, "panels", c.was.Panels, c.is.Panels, byPlace(c.was.Panels, c.is.Panels, alike), named, func(a, b *project.Panels) {
		c.number("wall", "wall", float64(a.Wall), float64(b.Wall))
		c.length("low_m", "lower edge", a.Low, b.Low)
		c.length("high_m", "upper edge", a.High, b.High)
		c.length("module_m", "width of a panel", a.Module, b.Module)
		c.length("gap_m", "joint", a.Gap, b.Gap)
		c.length("light_gap_m", "joint with light", a.LightGap, b.LightGap)
		c.number("light_every", "joints from light to light", float64(a.LightEvery), float64(b.LightEvery))
		c.length("depth_m", "depth", a.Depth, b.Depth)
		c.text("pattern", "pattern", patternWords(a.Pattern), patternWords(b.Pattern))
		c.material("material_absorb", "material that absorbs", a.Absorb, b.Absorb)
		c.material("material_diffuse", "material that diffuses", a.Diffuse, b.Diffuse)
	})
}

func patternWords(all []project.PanelKind) string {
	words := make([]string, len(all))
	for i, k := range all {
		words[i] = string(k)
	}
	return strings.Join(words, ", ")
}
