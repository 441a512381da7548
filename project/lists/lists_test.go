// SPDX-License-Identifier: MIT

package lists_test

import (
	"encoding/csv"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/lists"
	"earline/project/projecttest"
)

// Worked values: loss 20 lg(Z/(Z+2Lr)) with r of IEC 60228 class 5, or of ASTM B258
// wire as handbook tables print it (ohm/km); computed apart from this program, to 1e-4.
func TestLossOnCables(t *testing.T) {
	tests := []struct {
		name            string
		length, r, load float64
		loop, loss      float64
	}{
		{"2.5 mm² class 5, 15 m, 8 ohm", 15, lists.ResistanceOf(2.5), 8, 0.2394, -0.2561},
		{"1.5 mm² class 5, 15 m, 4 ohm", 15, lists.ResistanceOf(1.5), 4, 0.3990, -0.8259},
		{"AWG 12, 10 m, 6 ohm", 10, 5.21, 6, 0.1042, -0.1496},
		{"AWG 14, 20 m, 8 ohm", 20, 8.28, 8, 0.3312, -0.3524},
		{"AWG 16, 10 m, 4 ohm", 10, 13.17, 4, 0.2634, -0.5539},
	}
	for _, test := range tests {
		if got := lists.Loss(test.length, test.r, test.load); math.Abs(got-test.loss) > 5e-5 {
			t.Errorf("%s: %.5f dB, want %.4f", test.name, got, test.loss)
		}
		if got := 2 * test.length * test.r / 1000; math.Abs(got-test.loop) > 5e-5 {
			t.Errorf("%s: loop %.5f ohm, want %.4f", test.name, got, test.loop)
		}
	}
	if got := lists.LongestRun(0.5, lists.ResistanceOf(2.5), 8); math.Abs(got-29.70) > 0.01 {
		t.Errorf("longest run %.3f m, want 29.70", got)
	}
}

// The gauges as handbook tables print them: diameters in mm, to a digit of the last.
func TestGauges(t *testing.T) {
	for n, want := range map[int]float64{10: 2.5883, 12: 2.0523, 14: 1.6281, 16: 1.2903, 18: 1.0236} {
		if d, area := lists.Gauge(n); math.Abs(d-want) > 6e-4 || math.Abs(area-math.Pi/4*d*d) > 1e-12 {
			t.Errorf("AWG %d: %.4f mm, want %.4f", n, d, want)
		}
	}
}

// From 1 mm² on, what is reckoned between the standard's lines is near them.
func TestResistanceBetweenTheTablesLines(t *testing.T) {
	for _, c := range lists.Conductors() {
		if got := lists.ResistanceOf(c.Area * 1.000001); c.Area >= 2.5 && math.Abs(got/c.Resistance-1) > 0.12 {
			t.Errorf("%g mm²: %.3f ohm/km beside the table's %.3f", c.Area, got, c.Resistance)
		}
	}
}

// along returns a room of 6.0 x 4.0 m with a rack at its back wall and one loudspeaker
// on its left wall.
func along() *project.Design {
	d := projecttest.Room(1)
	d.Room = project.Room{
		Footprint: []project.Corner{{X: 0, Y: 0}, {X: 6, Y: 0}, {X: 6, Y: 4}, {X: 0, Y: 4}},
		Ceiling:   project.Ceiling{Slope: project.Flat, Height: 2.65},
	}
	d.Speakers = []project.Loudspeaker{{ID: "s1", Label: "M+090", Model: d.Models[0].ID, Mount: project.OnWall, At: project.Point{X: 3.5, Y: 0, Z: 1.566}}}
	d.Models[0].Impedance = 8
	d.Services = project.Services{Rack: project.Point{X: 6, Y: 0.3, Z: 0.3}, Spare: 1.5, Cables: []project.Cable{{Serves: "s1", Area: 2.5}}}
	return d
}

// Worked by hand: up 2.2, along the back wall 0.3, along the left wall 2.5, down 0.934:
// 5.934 m, and 1.5 m spare; lost on 7.434 m of 2.5 mm² into 8 ohm: -0.128 dB.
func TestACableRunsAlongTheWalls(t *testing.T) {
	c := lists.Cables(along())[0]
	if math.Abs(c.Run-5.934) > 1e-9 || math.Abs(c.Length-7.434) > 1e-9 || math.Abs(c.Loss+0.128) > 5e-4 {
		t.Errorf("run %.4f, length %.4f, loss %.4f", c.Run, c.Length, c.Loss)
	}
	if c.Way != "rack, back wall, left wall, down" {
		t.Errorf("way %q", c.Way)
	}
}

// A law: the way begins at the rack and ends at the loudspeaker, is no shorter than the
// straight line, and mirrored rooms have ways of the same length.
func TestWaysOfCables(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d := projecttest.Draw(r)
		d.Identify()
		lo, hi := d.Room.Polygon().Bounds()
		d.Services.Rack = project.PointOf(geometry.Vec{X: hi.X - 0.3, Y: lo.Y + 0.3, Z: 0.4})
		total := 0.0
		all := lists.Cables(d)
		for i, c := range all {
			at := d.Speakers[i].At.Vec()
			if c.Route[0] != d.Services.Rack.Vec() || c.Route[len(c.Route)-1].Sub(at).Len() > 1e-5 {
				r.Fatalf("%s runs from %v to %v", c.Name, c.Route[0], c.Route[len(c.Route)-1])
			}
			if straight := at.Sub(c.Route[0]).Len(); c.Run < straight-1e-9 {
				r.Fatalf("%s: %.3f m, straight %.3f", c.Name, c.Run, straight)
			}
			if c.Loss > 0 || c.Length < c.Run {
				r.Fatalf("%+v", c)
			}
			total += c.Run
		}
		for i := range d.Room.Footprint {
			d.Room.Footprint[i].Y = -d.Room.Footprint[i].Y
		}
		for i := range d.Speakers {
			d.Speakers[i].At.Y = -d.Speakers[i].At.Y
		}
		d.Services.Rack.Y = -d.Services.Rack.Y
		if d.Room.Ceiling.Slope == project.LeftToRight {
			return // mirrored it would slope the other way
		}
		mirrored := 0.0
		for _, c := range lists.Cables(d) {
			mirrored += c.Run
		}
		if math.Abs(mirrored-total) > 1e-6 {
			r.Fatalf("mirrored %.6f m, was %.6f", mirrored, total)
		}
	})
}

// Worked by hand: 6 people 120 and 86.4 m³/h; 1,250 W at 8 K 466 m³/h.
func TestAirForSix(t *testing.T) {
	d := along()
	d.Seating.Rows = d.Seating.Rows[:1]
	d.Seating.Rows[0].Seats = 6
	d.Services.Heat = 650
	a := lists.AirOf(d)
	if a.Fresh != 120 || math.Abs(a.Least-86.4) > 1e-9 || a.Heat != 1250 || math.Abs(a.Flow-466) > 0.5 {
		t.Errorf("%+v", a)
	}
}

// The sums that are printed are those of the lines above them.
func TestTheMassesAddUp(t *testing.T) {
	d, _ := file.Demo("large")
	want := 0.0
	for _, l := range d.Speakers {
		m, _ := d.Model(l.Model)
		want += m.Mass
	}
	if p, ok := d.ProjectorModel(d.Projector.Model); ok {
		want += p.Mass
	}
	got := 0.0
	for _, m := range lists.Masses(d) {
		got += m.Each
	}
	if math.Abs(got-want) > 1e-9 || want == 0 {
		t.Errorf("%.3f kg in the list, %.3f in the models", got, want)
	}
}

// Every list of every room reads back as a table with its own columns; what a stranger
// called a loudspeaker is no formula in it.
func TestListsAreTables(t *testing.T) {
	d, _ := file.Demo("large")
	d.Services = project.Services{Rack: project.Point{X: 8, Y: 0.4, Z: 0.4}, Outlets: []project.Outlet{{ID: "o1", Kind: project.Mains, Serves: "=1+1", Load: 300}}}
	for i, tab := range lists.All(d) {
		if tab.Name != lists.Names()[i] {
			t.Errorf("list %d is %q, named %q", i, tab.Name, lists.Names()[i])
		}
		data := string(tab.CSV())
		if !strings.HasPrefix(data, "\ufeff") {
			t.Errorf("%s: no mark", tab.Name)
		}
		lines, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(data, "\ufeff"))).ReadAll()
		if err != nil {
			t.Errorf("%s: %v", tab.Name, err)
		}
		for _, line := range lines {
			for _, cell := range line {
				if strings.HasPrefix(cell, "=") {
					t.Errorf("%s: %q", tab.Name, cell)
				}
			}
		}
		if tab.Caution == "" && (tab.Name == "cables" || tab.Name == "masses" || tab.Name == "outlets" || tab.Name == "stages" || tab.Name == "panels") {
			t.Errorf("%s: no caution", tab.Name)
		}
	}
}

// A loudspeaker that goes takes with it what was known of its cable.
func TestRemovingALoudspeakerIsNotRefusedForItsCable(t *testing.T) {
	d := along()
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	h := project.NewHistory(d)
	if err := h.Do("remove", "", func(d *project.Design) { d.Speakers = nil }); err != nil {
		t.Fatal(err)
	}
	if n := len(h.Design().Services.Cables); n != 0 {
		t.Errorf("%d cables left", n)
	}
	h.Undo()
	if n := len(h.Design().Services.Cables); n != 1 {
		t.Errorf("%d cables after undo", n)
	}
	bad := along()
	bad.Services.Cables[0].Serves = "s9"
	if err := bad.Validate(); err == nil || !strings.Contains(err.Error(), `services.cables[0].serves: "s9"`) {
		t.Error(err)
	}
}

func BenchmarkLists(b *testing.B) {
	data, err := os.ReadFile("../../testdata/rooms/room-b.earline")
	if err != nil {
		b.Fatal(err)
	}
	d, err := file.Decode(data, "b")
	if err != nil {
		b.Fatal(err)
	}
	d.Services.Rack = project.Point{X: 8, Y: 0.4, Z: 0.4}
	for b.Loop() {
		lists.All(d)
	}
}

// A projector under the ceiling is a load overhead like any other.
func TestAProjectorOverheadIsOnTheMassList(t *testing.T) {
	d, _ := file.Demo("small")
	d.Projector = project.Projector{}
	before := 0.0
	for _, m := range lists.Masses(d) {
		before += m.Each
	}
	d.ProjectorModels = []project.ProjectorModel{{ID: "p", Name: "Bright", Mass: 14}}
	d.Projector = project.Projector{Model: "p", Mount: project.CeilingMount}
	sum, found := 0.0, false
	for _, m := range lists.Masses(d) {
		sum += m.Each
		found = found || m.Overhead && m.Surface == "ceiling" && m.Name == "projector Bright" && m.Each == 14
	}
	if !found || sum < before+14-1e-9 || sum > before+14+1e-9 {
		t.Errorf("%.2f kg after %.2f, named: %v", sum, before, found)
	}
	if all := lists.EquipmentOf(d); all[len(all)-1].Role != "projector" {
		t.Errorf("%+v", all[len(all)-1])
	}
	d.Projector.Mount = project.PortMount
	for _, m := range lists.Masses(d) {
		if m.Name == "projector Bright" {
			t.Error("a projector behind a port hangs in the room")
		}
	}
}

// A schedule of panels: each with its number, what is cut out of it and what it covers;
// what is bare or left out is told too. Nine panels on 6.1 m: see project.TestPanelsOnAWall.
func TestPanelScheduleOfARun(t *testing.T) {
	d := file.New()
	d.Room.Footprint = []project.Corner{{}, {X: 6.1}, {X: 6.1, Y: 4.2}, {Y: 4.2}}
	d.Room.Features, d.Room.Treatments, d.Speakers = nil, nil, nil
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Riser = 0
	}
	d.Room.Materials = append(d.Room.Materials, project.Material{ID: "cloth", Name: "Cloth over wool", Absorption: make([]float64, project.OctaveCount)})
	d.Room.Features = []project.Feature{{Kind: project.Window, Name: "the window", At: project.Point{X: 3.05, Y: 0, Z: 1}, Length: 0.3, Width: 0.1, Height: 0.5}}
	d.Panels = []project.Panels{{Wall: 1, High: 2, Module: 0.6, Gap: 0.03, Depth: 0.06, Absorb: "cloth", Pattern: []project.PanelKind{project.AbsorbPanel, project.BarePanel, project.AbsorbPanel}}}
	var tab lists.Table
	for _, x := range lists.All(d) {
		if x.Name == "panels" {
			tab = x
		}
	}
	if len(tab.Rows) != 9 {
		t.Fatalf("%d lines, want 9", len(tab.Rows))
	}
	if r := tab.Rows[1]; r[2] != "bare" {
		t.Errorf("the second is %q", r)
	}
	if r := tab.Rows[4]; r[2] != "bare" {
		t.Errorf("the fifth, behind the window, is %q", r)
	}
	if r := tab.Rows[0]; r[0] != "1 of 9" || r[3] != "Cloth over wool" || r[8] != "1.20" || r[9] != "" {
		t.Errorf("the first is %q", r)
	}
	if tab.Sums[8] != "7.20" || tab.Caution == "" {
		t.Errorf("in all %q, caution %q", tab.Sums, tab.Caution)
	}
	d.Panels[0].Pattern = []project.PanelKind{project.AbsorbPanel}
	for _, x := range lists.All(d) {
		if x.Name == "panels" && (x.Rows[4][9] != "the window" || x.Sums[8] != "10.54") { // 9 x 1.20 less 0.42 x 0.62 with its frame
			t.Errorf("the fifth is %q, in all %q", x.Rows[4], x.Sums)
		}
	}
}

// The projector warms the room it hangs in, beside people and the rest of the equipment;
// behind a port it warms another.
func TestTheProjectorWarmsTheRoom(t *testing.T) {
	d, _ := file.Demo("large")
	d.Services.Heat = 250
	model, _ := d.ProjectorModel(d.Projector.Model)
	a := lists.AirOf(d)
	if want := float64(a.People)*100 + model.Heat + 250; model.Heat == 0 || a.Heat != want {
		t.Errorf("%g W, want %g", a.Heat, want)
	}
	d.Projector.Mount = project.PortMount
	if b := lists.AirOf(d); b.Heat != a.Heat-model.Heat {
		t.Errorf("behind a port %g W, want %g less", b.Heat, model.Heat)
	}
}
