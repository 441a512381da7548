// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"testing"

	"earline/geometry/unit"
	"earline/project"
)

// hall returns a rectangular room of rows x seats recliners, mirror-symmetric
// about its middle, and n loudspeakers of one driver each, spread around the
// walls and the ceiling in mirrored twos.
func hall(rows, seats, n int) *project.Design {
	const length, width, height = 9.0, 6.0, 3.0
	d := &project.Design{
		Name:  "hall",
		Units: project.Metric,
		Room: project.Room{
			Footprint: []project.Corner{{X: 0, Y: 0}, {X: length, Y: 0}, {X: length, Y: width}, {X: 0, Y: width}},
			Ceiling:   project.Ceiling{Slope: project.Flat, Height: height},
		},
		Screen: project.Screen{Aspect: 2.4, Width: 3.8, Bottom: 0.75, Distance: 0.5, Centre: width / 2, Border: 0.08, Transparent: true, Gain: 1},
		Chairs: []project.Chair{{ID: "recliner", Name: "Recliner", PanHeight: 0.44, PanDepth: 0.54, PanWidth: 0.56,
			BackHeight: 0.60, BackThickness: 0.16, Headrest: 0.14, HeadrestWidth: 0.34, ArmWidth: 0.14, ArmHeight: 0.20, MaxRecline: 60}},
		Seating: project.Seating{
			Sitters: project.Sitters{Listener: 50, Others: 95, Women: 0.5, Sink: 0.03, Slump: 0.04},
			Main:    project.MainPosition{Row: (rows + 1) / 2},
		},
		Models: []project.Model{{ID: "m", Name: "Surround", Width: 0.25, Height: 0.4, Depth: 0.15,
			Drivers: []project.Driver{{Band: project.High, Diameter: 0.025}}, CoverageH: 90, CoverageV: 60}},
		Criteria: project.Criteria{Margin: 0.05, PictureMargin: 0},
	}
	for i := range rows {
		d.Seating.Rows = append(d.Seating.Rows, project.Row{
			Chair: "recliner", Distance: unit.Length(3.2 + 1.6*float64(i)), Riser: unit.Length(0.25 * float64(i)),
			Front: 0.9, Back: 0.7, Seats: seats, Pitch: 0.8, Centre: width / 2, Recline: 20})
	}
	for i := range n {
		at := project.Point{X: unit.Length(1 + 7*float64(i/4)/float64(max(n/4, 1))), Y: 0.1, Z: 1.2}
		if i%4 >= 2 {
			at.Y, at.Z = 1.5, height-0.05
		}
		if i%2 == 1 {
			at.Y = width - at.Y
		}
		d.Speakers = append(d.Speakers, project.Loudspeaker{
			Label: fmt.Sprintf("M%+04d", 10*i), Model: "m", Mount: project.OnWall, At: at})
	}
	return d
}

// The benchmark of the issue: 24 seats x 2 ears x 16 drivers, everything
// included - seats, bodies, solids, clearance, blocker, visible share, pictures.
func BenchmarkAudit(b *testing.B) {
	d := hall(4, 6, 16)
	b.Run("seats=24,drivers=16", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if r := Audit(d); len(r.Pairs) != 24*16 {
				b.Fatal("short result")
			}
		}
	})
	b.Run("one loudspeaker moved", func(b *testing.B) {
		b.ReportAllocs()
		prev := Audit(d)
		moved := d.Clone()
		moved.Speakers[0].At.Z += 0.05
		for b.Loop() {
			if r := Update(prev, moved, 0); len(r.Pairs) != 24*16 {
				b.Fatal("short result")
			}
		}
	})
}
