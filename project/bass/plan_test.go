// SPDX-License-Identifier: MIT

package bass

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/project"
	"earline/project/bass/field"
	"earline/project/bass/modal"
	"earline/project/bass/wave"
	"earline/project/file"
	"earline/project/place"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

func plan(t testing.TB, d *project.Design, f []float64) *Plan {
	t.Helper()
	p, err := Of(d, f)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What the plan of the demos says of them.
func TestPlanOfDemos(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		p := plan(t, d, Octaves(20, 120, 6))
		if len(p.Ears) != len(place.Seats(d)) || len(p.Subs) == 0 || len(p.Subs) != len(p.Places) || len(p.Zones) != len(d.SubZones) || len(p.Remarks) == 0 {
			t.Errorf("%s: %d ears, %d subwoofers, %d places, %d zones, remarks %q", name, len(p.Ears), len(p.Subs), len(p.Places), len(p.Zones), p.Remarks)
		}
		for i, s := range p.Subs {
			l := d.Speakers[p.Speakers[i]]
			m, _ := d.Model(l.Model)
			if !strings.HasPrefix(l.Label, "LFE") || s.Corner != m.Cutoff || s.Sensitivity != m.Sensitivity || s.Tuning() != l.Tuning {
				t.Errorf("%s: subwoofer %d is %+v, the design has %+v, %+v", name, i+1, s, l, m)
			}
		}
		for i, g := range p.Room.Walls {
			if !(g > 0 && g < 0.64) {
				t.Errorf("%s: wall %d gives %v", name, i+1, g)
			}
		}
	}
}

// The small demo by both ways: a box of 4.2 x 3.4 x 2.4 m with what its surfaces
// take (0.08 to 0.15 at 63 Hz): the two agree within 0.2 dB rms, away from dips.
func TestSmallDemoBothWays(t *testing.T) {
	p := plan(t, demo(t, "small"), Octaves(25, 100, 24))
	box, ok := p.Rectangular()
	if !ok || math.Abs(box.Volume()-4.2*3.8*2.4) > 1e-9 {
		t.Fatalf("got %+v, %v", box, ok)
	}
	p.Room.Blocks, p.Chairs = nil, nil // the box alone
	m, err := p.Modal(nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := m.Transfer(p.Places)
	if err != nil {
		t.Fatal(err)
	}
	b, err := p.Wave(context.Background(), p.Places, wave.Options{PointsPerWavelength: 16})
	if err != nil {
		t.Fatal(err)
	}
	x, err := Combine(a, p.Subs)
	if err != nil {
		t.Fatal(err)
	}
	y, err := Combine(b, p.Subs)
	if err != nil {
		t.Fatal(err)
	}
	output := x.Figures().Output
	sum, n := 0.0, 0
	for i := range x.Level {
		if x.Level[i] < output-12 {
			continue
		}
		sum += math.Pow(x.Level[i]-y.Level[i], 2)
		n++
	}
	rms := math.Sqrt(sum / float64(n))
	t.Logf("rms %.2f dB over %d; output %.1f and %.1f dB", rms, n, output, y.Figures().Output)
	if rms > 0.2 || n < len(x.Level)*8/10 {
		t.Errorf("rms %.2f dB over %d of %d", rms, n, len(x.Level))
	}
}

// A moved room corner, a platform, an uneven outline.
func TestPlanOfOtherRooms(t *testing.T) {
	f := Octaves(20, 80, 3)
	d := demo(t, "small")
	here := plan(t, d, f)
	m, err := here.Modal(modal.Uniform(0.4))
	if err != nil {
		t.Fatal(err)
	}
	tr, err := m.Transfer(here.Places)
	if err != nil {
		t.Fatal(err)
	}
	// A subwoofer let into the wall plays from its face.
	behind := here.Places[0]
	behind.Y = -0.1
	face := behind
	face.Y = 0
	at, _ := m.Transfer([]geometry.Vec{face})
	in, err := m.Transfer([]geometry.Vec{behind})
	if err != nil {
		t.Fatal(err)
	}
	for i := range at.P {
		if at.P[i] != in.P[i] {
			t.Fatalf("in the wall %v, at its face %v", in.P[i], at.P[i])
		}
	}
	if err := m.Move(tr, 0, face); err != nil {
		t.Fatal(err)
	}
	if tr.At(0, 0, 0) != at.At(0, 0, 0) {
		t.Error("a moved subwoofer is not where it was moved")
	}

	d.Room.Footprint[2].X -= 0.5 // the back wall runs askew
	odd := plan(t, d, f)
	if _, ok := odd.Rectangular(); ok {
		t.Error("a room with a wall askew is a box")
	}
	if _, err := odd.Modal(nil); len(project.Faults(err)) != 1 {
		t.Errorf("got %v, want one fault", err)
	}
	if _, err := odd.Wave(context.Background(), odd.Places, wave.Options{Duration: 0.3}); err != nil {
		t.Error(err)
	}
	if _, err := Of(d, nil); err == nil {
		t.Error("no frequencies pass")
	}
}

// A cover of a wall counts by its area, and once where covers overlap: the
// absorption for bass is the mean of the pieces that the reverberation counts.
func TestBassTakesWhatTheShellHas(t *testing.T) {
	d := demo(t, "small")
	d.Room.Features, d.Room.Treatments = nil, nil
	alpha := map[string]float64{"wall": 0.1, "panel": 0.5}
	d.Room.Materials = nil
	for id, a := range alpha {
		m := project.Material{ID: id, Name: id}
		for range project.OctaveCount {
			m.Absorption = append(m.Absorption, a)
		}
		d.Room.Materials = append(d.Room.Materials, m)
	}
	d.Room.Surfaces = project.Surfaces{Floor: "panel", Ceiling: "panel", Walls: "wall"}
	for i := range d.Chairs {
		d.Chairs[i].Upholstery = ""
	}
	absorption := func(wall int) float64 {
		return field.Absorption(plan(t, d, Octaves(20, 120, 6)).Room.Walls[wall-1])
	}
	geomtest.Within(t, "bare", absorption(1), 0.1, 1e-9)
	// Wall 1 is 4.2 m x 2.4 m; two panels of 1 m2 share half of their area.
	d.Room.Treatments = []project.Treatment{
		{Material: "panel", Wall: 1, From: 1, To: 2, Low: 1, High: 2},
		{Material: "panel", Wall: 1, From: 1.5, To: 2.5, Low: 1, High: 2},
	}
	geomtest.Within(t, "panels", absorption(1), 0.1+0.4*1.5/(4.2*2.4), 1e-9)
	// Two apart are no less than the two together would be in one place.
	d.Room.Treatments = []project.Treatment{
		{Material: "panel", Wall: 1, From: 0.5, To: 1.5, Low: 1, High: 2},
		{Material: "panel", Wall: 1, From: 2.5, To: 3.5, Low: 1, High: 2},
	}
	geomtest.Within(t, "panels apart", absorption(1), 0.1+0.4*2/(4.2*2.4), 1e-9)
	// A door that names nothing is as the walls, whatever its own wall is listed
	// with (project.Feature).
	d.Room.Treatments = nil
	d.Room.Surfaces.Wall = []project.WallSurface{{Wall: 1, Material: "panel"}}
	d.Room.Features = []project.Feature{{Kind: project.Door, Swing: project.OutLeft, At: project.Point{X: 2, Y: 0}, Length: 0.9, Width: 0.05, Height: 2}}
	geomtest.Within(t, "door", absorption(1), 0.5-0.4*0.9*2/(4.2*2.4), 1e-9)
}

// Where no material is named bass takes what the reverberation takes, and says so.
func TestBassAssumesWhatSoundAssumes(t *testing.T) {
	d := demo(t, "small")
	d.Room.Surfaces, d.Room.Treatments, d.Room.Features = project.Surfaces{}, nil, nil
	p := plan(t, d, Octaves(20, 120, 6))
	geomtest.Within(t, "floor, 63 Hz", field.Absorption(p.Room.FloorGives), 0.15, 1e-9)
	geomtest.Within(t, "ceiling, 63 Hz", field.Absorption(p.Room.CeilingGives), 0.10, 1e-9)
	want := "Some surfaces have no material: floor taken as a wood floor; walls taken as plasterboard, one layer on timber studs; ceiling taken as plasterboard, one layer on timber studs."
	if !slices.Contains(p.Remarks, want) {
		t.Errorf("remarks %q, want %q among them", p.Remarks, want)
	}
}

// A platform's covering is the block's; only the sum over modes, which has no
// blocks, takes it as floor.
func TestPlatformsCountOnceInTheWaves(t *testing.T) {
	d := demo(t, "two-row")
	d.Room.Surfaces.Platforms = d.Room.Materials[0].ID
	p := plan(t, d, Octaves(20, 120, 6))
	bare := d.Clone()
	bare.Seating.Rows = bare.Seating.Rows[:1]
	q := plan(t, bare, Octaves(20, 120, 6))
	geomtest.Within(t, "floor beside the platform", p.Room.FloorGives, q.Room.FloorGives, 1e-12)
}

// The finite differences have a round column as a prism of 32 sides about it.
func TestARoundColumnIsRoundInTheWaves(t *testing.T) {
	d := demo(t, "small")
	d.Room.Features = []project.Feature{{Kind: project.Column, At: project.Point{X: 2, Y: 1}, Length: 0.5, Height: 2, Round: true}}
	blocks := plan(t, d, Octaves(20, 120, 6)).Room.Blocks
	var area float64
	for _, b := range blocks {
		if len(b.Footprint) == 32 {
			area = math.Abs(b.Footprint.Area())
		}
	}
	if circle := math.Pi * 0.25 * 0.25; area < circle || area > 1.0033*circle {
		t.Errorf("a block of %g m2 for a circle of %g", area, circle)
	}
}
