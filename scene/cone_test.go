// SPDX-License-Identifier: MIT

package scene

import (
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
)

// placedAt returns a loudspeaker on the left wall, aimed level to the right,
// with that coverage in degrees.
func placedAt(h, v unit.Degrees) place.Speaker {
	d := project.Design{
		Models: []project.Model{{ID: "m", Width: 0.2, Height: 0.3, Depth: 0.2, CoverageH: h, CoverageV: v,
			Drivers: []project.Driver{{Band: project.Full, Diameter: 0.1}}}},
		Speakers: []project.Loudspeaker{{Label: "M+090", Model: "m", At: project.Point{X: 3, Y: 0.2, Z: 1.2},
			Aim: project.Aim{Fixed: true, Azimuth: -90}}},
	}
	return place.Speakers(&d)[0]
}
