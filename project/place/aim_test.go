// SPDX-License-Identifier: MIT

package place

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
)

// Loudspeakers placed at the nominal directions of Rec. ITU-R BS.2051 read back
// as those azimuths and elevations from the main position, and aim at it.
// Source: testdata/bs2051_layouts.tsv (see testdata/README.md).
func TestNominalDirectionsReadBack(t *testing.T) {
	f, err := os.Open("../../testdata/bs2051_layouts.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma = '\t'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 100 {
		t.Fatalf("only %d rows", len(rows))
	}
	main := geometry.V(4, 2.5, 1.1)
	for _, row := range rows[1:] {
		label := row[2]
		az, el := number(t, row[3]), number(t, row[4])
		d := &project.Design{
			Models: []project.Model{{ID: "m", Drivers: []project.Driver{{Band: project.High, Diameter: 0.025}}}},
			Speakers: []project.Loudspeaker{{Label: label, Model: "m", Mount: project.OnWall,
				At: project.PointOf(main.Add(geometry.Direction(az*unit.Degree, el*unit.Degree).Mul(2.5)))}},
			Seating: project.Seating{Main: project.MainPosition{At: project.PointOf(main)}},
		}
		p := Speakers(d)[0]
		gotAz, gotEl, ok := geometry.AzEl(p.At.Vec().Sub(MainPoint(d)))
		if !ok {
			t.Fatalf("%s %s: no direction", row[0], label)
		}
		dAz := math.Abs(math.Remainder(gotAz/unit.Degree-az, 360))
		if math.Abs(el) > 89.9 {
			dAz = 0 // straight up has no azimuth
		}
		if dEl := math.Abs(gotEl/unit.Degree - el); dAz > 1e-9 || dEl > 1e-9 {
			t.Errorf("%s %s: read back az %v el %v, placed at az %v el %v", row[0], label, gotAz/unit.Degree, gotEl/unit.Degree, az, el)
		}
		if off := geometry.Angle(p.Axis, main.Sub(p.At.Vec())); off > 1e-9 {
			t.Errorf("%s %s: axis misses the main position by %v rad", row[0], label, off)
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// A box that turns to its aim is never mirrored: right of the front is on the
// right hand of someone who looks at it, up is up.
func TestDriverOffsetsAreSeenFromTheFront(t *testing.T) {
	d := &project.Design{
		Models: []project.Model{{ID: "m", Width: 0.3, Height: 0.6, Depth: 0.3,
			Drivers: []project.Driver{{Band: project.High, Right: 0.1, Up: 0.2, Diameter: 0.025}}}},
		Speakers: []project.Loudspeaker{{Label: "M+000", Model: "m", Mount: project.BehindScreen, At: project.Point{X: 0.3, Y: 2, Z: 1}}},
		Seating:  project.Seating{Main: project.MainPosition{At: project.Point{X: 4, Y: 2, Z: 1}}},
	}
	p := Speakers(d)[0]
	got := p.Drivers[0].Center
	// Someone in the seats looks towards the screen: right is +y.
	want := geometry.V(0.3, 2.1, 1.2)
	if got.Dist(want) > 1e-12 {
		t.Errorf("driver at %v, want %v", got, want)
	}
	b := p.Front
	if b.U.Cross(b.V).Dist(b.W) > 1e-12 {
		t.Errorf("box axes are not right-handed: %v", b)
	}
	if c := p.Box.Center.X; math.Abs(c-0.15) > 1e-12 {
		t.Errorf("box middle at x = %v, want 0.15: the box reaches back from its front", c)
	}
}

// A built-in angle turns the box the other way, so that the axis still meets
// the main position.
func TestBuiltInAimTurnsTheBox(t *testing.T) {
	for _, c := range []struct{ right, up unit.Degrees }{{20, -10}, {-35, 0}, {0, 15}, {45, 25}} {
		d := &project.Design{
			Models: []project.Model{{ID: "m", Width: 0.3, Height: 0.6, Depth: 0.3, AimRight: c.right, AimUp: c.up,
				Drivers: []project.Driver{{Band: project.High, Diameter: 0.025}}}},
			Speakers: []project.Loudspeaker{{Label: "M+090", Model: "m", Mount: project.OnWall, At: project.Point{X: 4, Y: 0.1, Z: 1.8}}},
			Seating:  project.Seating{Main: project.MainPosition{At: project.Point{X: 4, Y: 2, Z: 1}}},
		}
		p := Speakers(d)[0]
		built := turned(p.Front, c.right.Radians(), c.up.Radians())
		if off := geometry.Angle(built, MainPoint(d).Sub(p.At.Vec())); off > 1e-9 {
			t.Errorf("%v: axis built into the box is %v rad off the main position", c, off)
		}
	}
}
