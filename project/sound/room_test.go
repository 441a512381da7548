// SPDX-License-Identifier: MIT

package sound

import (
	"fmt"
	"testing"

	"earline/geometry/unit"
	"earline/project"
)

const hallWidth = 6.0

// hall returns a rectangular room of rows x seats recliners, mirror-symmetric
// about its middle, and n loudspeakers spread around the walls and the ceiling in
// mirrored twos: 2k and 2k+1 are partners.
func hall(rows, seats, n int) *project.Design {
	const length, height = 9.0, 3.0
	d := &project.Design{
		Name:  "hall",
		Units: project.Metric,
		Room: project.Room{
			Footprint: []project.Corner{{X: 0, Y: 0}, {X: length, Y: 0}, {X: length, Y: hallWidth}, {X: 0, Y: hallWidth}},
			Ceiling:   project.Ceiling{Slope: project.Flat, Height: height},
			Materials: []project.Material{
				{ID: "hard", Name: "hard", Absorption: []float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1}},
				{ID: "soft", Name: "soft", Absorption: []float64{0.2, 0.3, 0.5, 0.8, 0.9, 0.9, 0.9, 0.9}},
				{ID: "diffuser", Name: "diffuser", Scatters: true, Absorption: []float64{0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2}},
			},
			Surfaces: project.Surfaces{Floor: "hard", Ceiling: "hard", Walls: "hard"},
		},
		Screen: project.Screen{Aspect: 2.4, Width: 3.8, Bottom: 0.75, Distance: 0.5, Centre: hallWidth / 2, Border: 0.08, Transparent: true, Gain: 1},
		Chairs: []project.Chair{{ID: "recliner", Name: "Recliner", PanHeight: 0.44, PanDepth: 0.54, PanWidth: 0.56,
			BackHeight: 0.60, BackThickness: 0.16, Headrest: 0.14, HeadrestWidth: 0.34, ArmWidth: 0.14, ArmHeight: 0.20, MaxRecline: 60, Upholstery: "soft"}},
		Seating: project.Seating{
			Sitters: project.Sitters{Listener: 50, Others: 95, Women: 0.5, Sink: 0.03, Slump: 0.04},
			Main:    project.MainPosition{Row: (rows + 1) / 2},
		},
		Models: []project.Model{{ID: "m", Name: "Surround", Width: 0.25, Height: 0.4, Depth: 0.15,
			Drivers:   []project.Driver{{Band: project.High, Up: 0.1, Diameter: 0.025}, {Band: project.Low, Up: -0.08, Diameter: 0.165}},
			CoverageH: 90, CoverageV: 60, Sensitivity: 90, Power: 200, Impedance: 8, Cutoff: 80, Enclosure: project.Sealed, Mass: 5}},
		Criteria: project.Criteria{Margin: 0.05, PictureMargin: 0},
	}
	for i := range rows {
		d.Seating.Rows = append(d.Seating.Rows, project.Row{
			Chair: "recliner", Distance: unit.Length(3.2 + 1.6*float64(i)), Riser: unit.Length(0.25 * float64(i)),
			Front: 0.9, Back: 0.7, Seats: seats, Pitch: 0.8, Centre: hallWidth / 2, Recline: 20})
	}
	for i := range n {
		at := project.Point{X: unit.Length(1 + 7*float64(i/4)/float64(max(n/4, 1))), Y: 0.2, Z: 2.2}
		if i%4 >= 2 {
			at.Y, at.Z = 1.5, height-0.2
		}
		if i%2 == 1 {
			at.Y = hallWidth - at.Y
		}
		d.Speakers = append(d.Speakers, project.Loudspeaker{
			Label: fmt.Sprintf("M%+04d", 10*i), Model: "m", Mount: project.OnWall, At: at})
	}
	return d
}

// The rooms of these tests are ones that the program would take.
func TestHallIsValid(t *testing.T) {
	if err := hall(4, 6, 16).Validate(); err != nil {
		t.Fatal(err)
	}
}
