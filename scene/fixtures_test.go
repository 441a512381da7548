// SPDX-License-Identifier: MIT

package scene_test

import (
	"math"
	"testing"

	"earline/assets"
	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/sight"
	"earline/scene"
)

// demo returns a demo design.
func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	a, ok := assets.DemoNamed(name)
	if !ok {
		t.Fatalf("no demo %q", name)
	}
	d, err := file.Decode(a.Data, name)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// odd returns a design in which everything is unusual: a concave room whose
// corners run the other way, a ceiling that slopes, curved rows far back in
// their chairs, every kind of feature, and a screen that lets no sound through.
func odd(t testing.TB) *project.Design {
	d := demo(t, "large")
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 0, Y: 6}, {X: 5, Y: 6}, {X: 5, Y: 5}, {X: 7, Y: 4.4}, {X: 9, Y: 6}, {X: 9, Y: 0}}
	d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: 2.6, FarHeight: 3.4}
	at := func(x, y, z float64) project.Point { return project.PointOf(geometry.V(x, y, z)) }
	d.Room.Features = []project.Feature{
		{Kind: project.Soffit, At: at(4, 0.2, 2.3), Length: 8, Width: 0.4, Height: 0.3},
		{Kind: project.Column, At: at(4.5, 5.7, 0), Length: 0.3, Width: 0.3, Height: 2.6, Turn: 20},
		{Kind: project.Column, At: at(2.5, 5.7, 0), Length: 0.3, Width: 0.3, Height: 0.5},
		{Kind: project.Stage, At: at(0.6, 3, 0), Length: 1, Width: 4, Height: 0.2},
		{Kind: project.Door, At: at(8.98, 1, 0), Length: 0.05, Width: 0.9, Height: 2.05, Swing: project.InLeft},
		{Kind: project.Door, At: at(3, 0.02, 0), Length: 0.9, Width: 0.05, Height: 2.05, Swing: project.OutRight},
		{Kind: project.Window, At: at(3, 5.98, 1), Length: 1.2, Width: 0.1, Height: 0.9},
		{Kind: project.Light, At: at(4, 3, 2.98), Length: 0.1, Width: 0.1, Height: 0.1},
		{Kind: project.Light, At: at(2, 3, 2.2), Length: 0.3, Width: 0.4, Height: 0.2},
		{Kind: project.Light, At: at(1, 0.1, 1.8), Length: 0.1, Width: 0.15, Height: 0.3},
		{Kind: project.Vent, At: at(6, 2, 2.84), Length: 0.6, Width: 0.15, Height: 0.15},
		{Kind: project.Vent, At: at(2, 5.98, 2.2), Length: 0.6, Width: 0.05, Height: 0.15, Turn: 180},
		{Kind: project.Vent, At: at(6, 3, 2.2), Length: 0.6, Width: 0.6, Height: 0.15},
	}
	d.Room.Materials = append(d.Room.Materials, project.Material{ID: "wells", Scatters: true, Absorption: make([]float64, project.OctaveCount)},
		project.Material{ID: "board", Absorption: make([]float64, project.OctaveCount)})
	d.Room.Treatments = []project.Treatment{
		{Material: "wool-50", Wall: 1, From: 0.2, To: 5.4, Low: 0.1, High: 3.4}, // up into the slope
		{Material: "wells", Wall: 7, From: 2, To: 4, Low: 0.8, High: 2.2},
		{Material: "board", Wall: 4, From: 0.2, To: 0.9, Low: 0.5, High: 1.5},
		{Material: "panel-fabric", Wall: 0, From: 2, To: 4.5, Low: 1, High: 3},
		{Material: "wells", Wall: 0, From: 6, To: 8, Low: 1, High: 2},
		{Material: "wool-50", Wall: 2, From: 4.9, To: 9, Low: 0, High: 1}, // beyond its end
	}
	d.Screen.Transparent = false
	for i := range d.Chairs {
		d.Chairs[i].MaxRecline, d.Chairs[i].Footrest = 60, 0.45
	}
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Curve, d.Seating.Rows[i].Recline = 8, unit.Degrees(20+15*float64(i))
	}
	return d
}

// crowd returns a design of four rows of six.
func crowd(t testing.TB) *project.Design {
	d := demo(t, "large")
	row := d.Seating.Rows[0]
	row.Seats = 6
	d.Seating.Rows = nil
	for i := range 4 {
		row.Distance = unit.Length(2.8 + 1.4*float64(i))
		row.Riser = unit.Length(0.25 * float64(i))
		row.Front, row.Back = 0.9, 0.5
		d.Seating.Rows = append(d.Seating.Rows, row)
	}
	return d
}

func designs(t testing.TB) map[string]*project.Design {
	return map[string]*project.Design{
		"small": demo(t, "small"), "two-row": demo(t, "two-row"), "large": demo(t, "large"),
		"odd": odd(t), "crowd": crowd(t),
	}
}

// everything returns options that draw all there is.
func everything() scene.Options {
	o := scene.Default()
	o.Rays, o.Cones, o.Seat, o.Speaker = scene.All, true, 1, 2
	return o
}

func mesh(l *scene.List, name string) *scene.Mesh {
	for i := range l.Meshes {
		if l.Meshes[i].Name == name {
			return &l.Meshes[i]
		}
	}
	return nil
}

func triangles(l *scene.List) int {
	n := 0
	for _, m := range l.Meshes {
		n += len(m.Index) / 3
	}
	return n
}

// at returns vertex i of pos in the room frame.
func at(pos []float32, i int) geometry.Vec {
	return geometry.V(float64(pos[3*i+2]), float64(pos[3*i]), float64(pos[3*i+1]))
}

// audited returns d's audit.
func audited(d *project.Design) *sight.Result { return sight.Audit(d) }

func finite(fs []float32) bool {
	for _, f := range fs {
		if math.IsNaN(float64(f)) || math.IsInf(float64(f), 0) {
			return false
		}
	}
	return true
}
