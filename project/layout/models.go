// SPDX-License-Identifier: MIT

package layout

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"earline/project"
	"earline/project/sound"
)

// The loudspeaker models that a room gets where it has none of the kind.
const (
	frontModel, boxModel, wallModel, ceilingModel, subModel = "front", "surround", "in-wall", "in-ceiling", "subwoofer"
)

// models returns the usual loudspeaker models, before their power is known.
func models() []project.Model {
	two := func(high, low, up, down float64) []project.Driver {
		return []project.Driver{
			{Band: project.High, Up: lengthOf(up), Diameter: lengthOf(high)},
			{Band: project.Low, Up: lengthOf(-down), Diameter: lengthOf(low)},
		}
	}
	return []project.Model{
		{ID: frontModel, Name: "Front, two drivers", Width: 0.28, Height: 0.5, Depth: 0.26, Drivers: two(0.034, 0.22, 0.14, 0.1),
			CoverageH: 100, CoverageV: 80, Sensitivity: 95, Impedance: 8, Cutoff: 65, Enclosure: project.Sealed, Mass: 17},
		{ID: boxModel, Name: "Surround, wide", Width: 0.24, Height: 0.42, Depth: 0.15, Drivers: two(0.026, 0.18, 0.17, 0.06),
			CoverageH: 140, CoverageV: 110, Sensitivity: 92, Impedance: 8, Cutoff: 75, Enclosure: project.Sealed, Mass: 8},
		{ID: wallModel, Name: "In-wall surround, wide", Width: 0.24, Height: 0.42, Depth: 0.09, Flush: true, Drivers: two(0.026, 0.18, 0.17, 0.06),
			CoverageH: 150, CoverageV: 110, Sensitivity: 92, Impedance: 8, Cutoff: 75, Enclosure: project.Sealed, Mass: 5, CutoutW: 0.215, CutoutH: 0.395},
		{ID: ceilingModel, Name: "In-ceiling, wide", Width: 0.26, Height: 0.26, Depth: 0.12, Flush: true, Drivers: two(0.026, 0.18, 0, 0),
			CoverageH: 140, CoverageV: 140, Sensitivity: 92, Impedance: 8, Cutoff: 75, Enclosure: project.Sealed, Mass: 4, CutoutW: 0.235, CutoutH: 0.235},
		{ID: subModel, Name: "Subwoofer", Width: 0.42, Height: 0.46, Depth: 0.4, Drivers: []project.Driver{{Band: project.Sub, Diameter: 0.3}},
			CoverageH: 360, CoverageV: 360, Sensitivity: 96, Impedance: 8, Cutoff: 22, Enclosure: project.Ported, Mass: 35},
	}
}

// powers are the ratings that the usual models come in, watts.
var powers = [...]float64{100, 150, 200, 300, 500, 800, 1200, 2000, 3000, 5000}

// setPower gives the models with these IDs, or all where they are nil, the least rating
// with which each loudspeaker of it reaches the peaks at the main listening position.
// Of all, it leaves out models of which there is none.
func setPower(d *project.Design, only []string) {
	const spare = 1.12 // half a decibel
	rated := func(id string) bool { return only == nil || slices.Contains(only, id) }
	for i := range d.Models {
		if rated(d.Models[i].ID) {
			d.Models[i].Power = powers[0]
		}
	}
	need := map[string]float64{}
	for k, s := range hear(d) {
		id := d.Speakers[k].Model
		need[id] = math.Max(need[id], s.Power*spare)
	}
	used := d.Models[:0:0]
	for _, m := range d.Models {
		watts, ok := need[m.ID]
		if rated(m.ID) {
			if !ok {
				continue
			}
			for _, p := range powers {
				if m.Power = p; p >= watts {
					break
				}
			}
		}
		used = append(used, m)
	}
	d.Models = used
}

// hear returns what every loudspeaker of d sends to the main position.
func hear(d *project.Design) []sound.Speaker { return sound.Hear(d, nil).Speakers }

// kit is the loudspeaker models to plan with: those of the design, and for what it has
// none of the usual ones.
type kit struct {
	front, box, wall, ceiling, sub string // IDs
	models                         []project.Model
	added                          []string // IDs of usual ones
}

func kitOf(d *project.Design) kit {
	k := kit{models: slices.Clone(d.Models)}
	used := func(is func(label string) bool, fits func(project.Model) bool) string {
		for _, l := range d.Speakers {
			if m, ok := d.Model(l.Model); ok && is(l.Label) && fits(m) {
				return m.ID
			}
		}
		for _, m := range d.Models {
			if fits(m) && !slices.ContainsFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Model == m.ID }) {
				return m.ID
			}
		}
		return ""
	}
	box := func(m project.Model) bool { return !m.Flush && !m.Subwoofer() }
	flush := func(m project.Model) bool { return m.Flush && !m.Subwoofer() }
	square := func(m project.Model) bool { return flush(m) && m.Width == m.Height }
	bed := func(label string) bool { return strings.HasPrefix(label, "M") }
	front := func(label string) bool {
		a, err := strconv.Atoi(strings.TrimPrefix(label, "M"))
		return bed(label) && err == nil && a > -45 && a < 45
	}
	k.front = used(front, box)
	k.box = used(func(label string) bool { return bed(label) && !front(label) }, box)
	k.wall = used(bed, func(m project.Model) bool { return flush(m) && !square(m) })
	k.ceiling = used(above, square)
	k.sub = used(func(label string) bool { return strings.HasPrefix(label, "LFE") }, project.Model.Subwoofer)
	for _, m := range models() {
		to := map[string]*string{frontModel: &k.front, boxModel: &k.box, wallModel: &k.wall, ceilingModel: &k.ceiling, subModel: &k.sub}[m.ID]
		if *to != "" {
			continue
		}
		for n := 2; slices.ContainsFunc(k.models, func(o project.Model) bool { return o.ID == m.ID }); n++ {
			m.ID = fmt.Sprintf("%s-%d", strings.TrimRight(m.ID, "-0123456789"), n)
		}
		*to = m.ID
		m.Power = powers[0]
		k.models, k.added = append(k.models, m), append(k.added, m.ID)
	}
	return k
}

// above reports whether a label is of a loudspeaker over the heads.
func above(label string) bool { return strings.HasPrefix(label, "U") || strings.HasPrefix(label, "T") }
