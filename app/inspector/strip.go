// SPDX-License-Identifier: MIT

package inspector

import (
	"fmt"

	"earline/app/field"
	"earline/project"
)

// layStrip adds the choice of where the strip that is shown lies.
func (in *Inspector) layStrip(f *field.Form, strip func() bool) {
	f.AddChoice("Lies",
		func() []string {
			o := []string{"along its points", "under the nosings"}
			d := in.host.Design()
			for _, i := range litRuns(d) {
				o = append(o, "in the joints of the panels, "+d.Room.PanelPlace(d.Panels[i].Wall))
			}
			return o
		},
		func() int {
			d := in.host.Design()
			if in.lights >= len(d.LightGroups) {
				return 0
			}
			g := &d.LightGroups[in.lights]
			for k, i := range litRuns(d) {
				if g.Panels != "" && d.Panels[i].ID == g.Panels {
					return 2 + k
				}
			}
			if g.Nosings {
				return 1
			}
			return 0
		},
		in.stripLies).When(strip)
}

// litRuns returns which runs of panels have joints with light in them.
func litRuns(d *project.Design) (out []int) {
	for i := range d.Panels {
		if d.Panels[i].LightGap > 0 {
			out = append(out, i)
		}
	}
	return out
}

// stripLies lays the strip that is shown along points, 0, under the nosings, 1, or in the
// joints of a run of panels.
func (in *Inspector) stripLies(choice int) error {
	begin := in.overSeats()
	return field.Plain(in.host.Do(fmt.Sprintf("lay %s elsewhere", in.lightsName()), "", func(d *project.Design) {
		g := &d.LightGroups[in.lights]
		g.Nosings, g.Panels = choice == 1, ""
		if choice == 0 {
			far := begin
			far.X++
			if len(g.Path) == 0 {
				g.Path = []project.Point{begin, far}
			}
			return
		}
		g.Path = nil
		if runs := litRuns(d); choice >= 2 && choice-2 < len(runs) {
			d.Identify()
			g.Panels = d.Panels[runs[choice-2]].ID
		}
	}))
}
