// SPDX-License-Identifier: MIT

package lists

import (
	"fmt"
	"strings"

	"earline/project"
	"earline/project/panel"
)

// lightTable lists the light groups, for who wires and dims them.
func lightTable(d *project.Design) Table {
	length, in := show(d)
	t := Table{Name: "lights", Title: Title("lights"), Caution: electric + " What hangs or lies overhead needs a fixing by who is licensed to choose it.",
		Columns: []string{"group", "kind", "lamps", "strip, " + in, "light, lm", "each or a metre, lm", "colour, K", "beam, °", "shines", "house / preshow / show / cleaning, %"}}
	sum, runs := 0.0, panel.Of(d)
	for i := range d.LightGroups {
		g := &d.LightGroups[i]
		lamps, run, each := "", "", ""
		switch {
		case len(g.At) > 0:
			lamps, each = fmt.Sprint(len(g.At)), fmt.Sprintf("%.4g", g.Flux/float64(len(g.At)))
		case g.Kind == project.Strip:
			l := panel.StripLength(panel.Strips(d, runs, g))
			if run = length(l); l > 0 {
				each = fmt.Sprintf("%.4g", g.Flux/l)
			}
		}
		known := func(v float64) string {
			if v == 0 {
				return ""
			}
			return fmt.Sprintf("%g", v)
		}
		var levels []string
		for _, s := range project.LightScenes() {
			levels = append(levels, fmt.Sprintf("%.3g", 100*g.Scenes.At(s)))
		}
		t.Rows = append(t.Rows, []string{d.LightName(i), g.Kind.Words(), lamps, run, fmt.Sprintf("%.4g", g.Flux), each, known(g.Colour), known(float64(g.Beam)), shines(g), strings.Join(levels, " / ")})
		sum += g.Flux
	}
	if len(t.Rows) > 0 {
		t.Sums = []string{"in all", "", "", "", fmt.Sprintf("%.4g", sum), "", "", "", "", ""}
		t.Notes = []string{"Light is what leaves the fittings, at full level; levels are shares of it, not of a dimmer's dial. Watts are the maker's to say: lumens divided by the lumens a watt of lamp and fitting together."}
	}
	return t
}

// shines says in words where a group shines.
func shines(g *project.LightGroup) string {
	switch t := g.Tilt; {
	case g.Kind == project.Stars:
		return "out of the ceiling"
	case t == 0:
		return "down"
	case t == 180:
		return "up"
	default:
		return fmt.Sprintf("%g° from straight down, %s", float64(t), g.Towards())
	}
}
