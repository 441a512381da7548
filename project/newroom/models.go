// SPDX-License-Identifier: MIT

package newroom

import (
	"math"

	"earline/project"
	"earline/project/sound"
)

// seat is a chair and how it is used.
type seat struct {
	project.Chair
	// least is the least distance from row to row, widest the most from seat to seat.
	least, widest float64
}

// seats are the chairs that a new room may have, the most comfortable first. Their
// backs end below the ears: a headrest beside a head stands in the way of whatever
// comes from the side.
func seats() [2]seat {
	return [2]seat{
		{project.Chair{ID: "lounge", Name: "Lounge recliner", PanHeight: 0.43, PanDepth: 0.53, PanWidth: 0.56,
			BackHeight: 0.5, BackThickness: 0.14, ArmWidth: 0.11, ArmHeight: 0.18,
			MinRecline: 10, MaxRecline: 35, Footrest: 0.38, Upholstery: "chair-leather"}, 1.36, 0.95},
		{project.Chair{ID: "theatre", Name: "Theatre chair", PanHeight: 0.44, PanDepth: 0.48, PanWidth: 0.5,
			BackHeight: 0.5, BackThickness: 0.12, ArmWidth: 0.08, ArmHeight: 0.18,
			MinRecline: 8, MaxRecline: 20, Upholstery: "chair-leather"}, 1.05, 0.75},
	}
}

// narrowest returns the least distance from seat to seat: a pan and one arm.
func (s seat) narrowest() float64 { return float64(s.PanWidth+s.ArmWidth) + 0.02 }

// half returns half the width of the chair with both its arms.
func (s seat) half() float64 { return float64(s.PanWidth)/2 + float64(s.ArmWidth) }

// The loudspeaker models of a new room.
const (
	frontModel, boxModel, wallModel, ceilingModel, subModel = "front", "surround", "in-wall", "in-ceiling", "subwoofer"
)

// models returns the loudspeaker models, before their power is known.
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

// powers are the ratings that the models come in, watts.
var powers = [...]float64{100, 150, 200, 300, 500, 800, 1200, 2000, 3000, 5000}

// setPower gives every model the least rating with which each loudspeaker of it
// reaches the peaks at the main listening position, and leaves out models of which
// there is none.
func setPower(d *project.Design) {
	const spare = 1.12 // half a decibel
	for i := range d.Models {
		d.Models[i].Power = powers[0]
	}
	need := map[string]float64{}
	for k, s := range hear(d) {
		id := d.Speakers[k].Model
		need[id] = math.Max(need[id], s.Power*spare)
	}
	used := d.Models[:0:0]
	for _, m := range d.Models {
		watts, ok := need[m.ID]
		if !ok {
			continue
		}
		for _, p := range powers {
			if m.Power = p; p >= watts {
				break
			}
		}
		used = append(used, m)
	}
	d.Models = used
}

// hear returns what every loudspeaker of d sends to the main position.
func hear(d *project.Design) []sound.Speaker { return sound.Hear(d, nil).Speakers }
