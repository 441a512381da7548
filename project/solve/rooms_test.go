// SPDX-License-Identifier: MIT

package solve

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

func rectangle(long, wide float64) []project.Corner {
	x, y := unit.Length(long), unit.Length(wide)
	return []project.Corner{{X: 0, Y: 0}, {X: x, Y: 0}, {X: x, Y: y}, {X: 0, Y: y}}
}

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	a, ok := assets.DemoNamed(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	d, err := file.Decode(a.Data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// hall returns a rectangular room of rows x seats recliners, mirror-symmetric
// about its middle, with n loudspeakers to lift, in mirror pairs along the side
// walls at ear height, and three that stay.
func hall(rows, seats, n int) *project.Design {
	const length, width, height = 9.0, 6.4, 3.2
	d := &project.Design{
		Name: "hall", Units: project.Metric,
		Room:   project.Room{Footprint: rectangle(length, width), Ceiling: project.Ceiling{Slope: project.Flat, Height: height}},
		Screen: project.Screen{Aspect: 2.4, Width: 3.8, Bottom: 1.0, Distance: 0.5, Centre: width / 2, Border: 0.08, Transparent: true, Gain: 1},
		Chairs: []project.Chair{{ID: "recliner", Name: "Recliner", PanHeight: 0.44, PanDepth: 0.54, PanWidth: 0.56,
			BackHeight: 0.56, BackThickness: 0.16, Headrest: 0.1, HeadrestWidth: 0.3, ArmWidth: 0.14, ArmHeight: 0.20, MinRecline: 8, MaxRecline: 60}},
		Seating: project.Seating{
			Sitters: project.Sitters{Listener: 50, Others: 95, Women: 0.5, Sink: 0.03, Slump: 0.04},
			Main:    project.MainPosition{Row: (rows + 1) / 2},
		},
		Models: []project.Model{
			{ID: "wall", Name: "In-wall", Width: 0.26, Height: 0.4, Depth: 0.1, Flush: true,
				Drivers:   []project.Driver{{Band: project.High, Up: 0.13, Diameter: 0.025}, {Band: project.Low, Up: -0.09, Diameter: 0.165}},
				CoverageH: 90, CoverageV: 60, Sensitivity: 88, Power: 100, Mass: 5},
			{ID: "box", Name: "Box", Width: 0.2, Height: 0.34, Depth: 0.24,
				Drivers:   []project.Driver{{Band: project.High, Up: 0.09, Diameter: 0.025}, {Band: project.Low, Up: -0.06, Diameter: 0.15}},
				CoverageH: 90, CoverageV: 60, Sensitivity: 88, Power: 100, Mass: 7},
		},
		Criteria: project.Criteria{Margin: 0.05, PictureMargin: 0.02},
	}
	for i := range rows {
		d.Seating.Rows = append(d.Seating.Rows, project.Row{
			Chair: "recliner", Distance: unit.Length(3.4 + 1.65*float64(i)), Riser: unit.Length(0.3 * float64(i)),
			Front: 0.97, Back: 0.68, Seats: seats, Pitch: 0.86, Centre: width / 2, Recline: 20})
	}
	for i := range n {
		side, y, sign := i%2, 0.0, "+"
		if side == 1 {
			y, sign = width, "-"
		}
		d.Speakers = append(d.Speakers, project.Loudspeaker{
			Label: "M" + sign + "090", Copy: fmt.Sprintf("c%d", i/2), Model: "wall", Mount: project.OnWall,
			At: project.Point{X: unit.Length(2.6 + 0.8*float64(i/2)), Y: unit.Length(y), Z: 1.2}})
	}
	for i, label := range []string{"M+030", "M-030", "M+000"} {
		d.Speakers = append(d.Speakers, project.Loudspeaker{Label: label, Model: "box", Mount: project.BehindScreen,
			At: project.Point{X: 0.4, Y: unit.Length(width/2 + []float64{-1.5, 1.5, 0}[i]), Z: 1.7}})
	}
	return d
}

// anyRoom returns a random room with mirror pairs of loudspeakers, boxes among
// them, that stand clear of walls and ceiling.
func anyRoom(r *rand.Rand) *project.Design {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	d := hall(1+r.IntN(3), 2+r.IntN(4), 2*(1+r.IntN(4)))
	d.Room.Ceiling.Height = unit.Length(in(2.7, 3.6))
	d.Criteria.Margin = unit.Length(in(0.005, 0.08))
	d.Seating.Sitters.Women = r.Float64()
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Recline = unit.Degrees(in(8, 45))
		if i > 0 {
			d.Seating.Rows[i].Riser = unit.Length(in(0.15, 0.4) * float64(i))
		}
	}
	for k := 0; k+3 < len(d.Speakers); k += 2 {
		a, b := &d.Speakers[k], &d.Speakers[k+1]
		a.At.X = unit.Length(in(2, 8.5))
		a.At.Z = unit.Length(in(0.9, 1.6))
		if r.IntN(2) == 0 {
			const off = 0.28 // m: a box turned to the middle stays out of the wall
			a.Model, b.Model = "box", "box"
			a.At.Y, b.At.Y = off, 6.4-off
		}
		b.At.X, b.At.Z = a.At.X, a.At.Z
		if r.IntN(3) == 0 {
			// A rear pair on the back wall.
			a.Label, b.Label = "M+135", "M-135"
			a.Model, b.Model = "wall", "wall"
			y := in(0.5, 2.5)
			a.At.X, a.At.Y = 9, unit.Length(y)
			b.At.X, b.At.Y = 9, unit.Length(6.4-y)
		}
	}
	return d
}
