// SPDX-License-Identifier: MIT

package practice_test

import (
	"os"
	"strings"
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/practice"
)

func built(t *testing.T, name string, edit func(*project.Design)) func(rules ...string) []string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/rooms/" + name + ".earline")
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, name)
	if err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		edit(d)
	}
	d.Criteria.Code = project.IRC
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	r := practice.Check(d, nil, practice.Standard{})
	return func(rules ...string) []string { return failing(r, rules...) }
}

// TestHeadroomNamesASoffitThatNobodyWalksUnder: in the L-shaped room the soffit along
// the left wall was told, which leaves 1.950 m where nobody has to walk, and not the
// duct across row 3 that leaves 2.000 m over everybody who rises.
func TestHeadroomNamesASoffitThatNobodyWalksUnder(t *testing.T) {
	got := built(t, "room-b", nil)("headroom")
	if len(got) != 1 || !strings.HasPrefix(got[0], "row 3 has 2.000 m of headroom under duct soffit where people rise") {
		t.Errorf("%q", got)
	}
}

// TestDoorStrikesAPlatformInTheAlcove: the platform of row 3 filled the alcove where
// the door is. Ended where it is built, the door opens.
func TestDoorStrikesAPlatformInTheAlcove(t *testing.T) {
	if got := built(t, "room-b", nil)("door-swing"); len(got) != 1 || !strings.Contains(got[0], "strikes the platform of row 3") {
		t.Errorf("as drawn in version 1: %q", got)
	}
	ends := func(d *project.Design) { d.Seating.Rows[1].Right, d.Seating.Rows[2].Right = 5, 5 }
	if got := built(t, "room-b", ends)("door-swing"); len(got) != 0 {
		t.Errorf("ending at the alcove: %q", got)
	}
}

// TestAisleEndsAtTheCounterThatItStandsBeside: bar stools at a counter have 1.5 m free
// to either wall; their aisle was measured to the counter's far end, 0.375 m.
func TestAisleEndsAtTheCounterThatItStandsBeside(t *testing.T) {
	d := built(t, "room-d", nil)
	for _, line := range d("aisle", "aisle-stepped") {
		if strings.HasPrefix(line, "row 2") {
			t.Errorf("%q", line)
		}
	}
}

// attic is the wide room under a roof that slopes from left to right, 1.6 to 3.1 m
// over 4.4 m, with two seats on its high side.
func attic(d *project.Design) {
	d.Room.Footprint = []project.Corner{{}, {X: 5.8}, {X: 5.8, Y: 4.4}, {Y: 4.4}}
	d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: 1.6, FarHeight: 3.1}
	d.Room.Features = nil
	d.Screen.Width, d.Screen.Centre = 2, 2.6
	d.Seating.Rows = d.Seating.Rows[:1]
	r := &d.Seating.Rows[0]
	r.Seats, r.Centre, r.Distance, r.Riser = 2, 2.6, 3.4, 0
	d.Seating.Main = project.MainPosition{Row: 1}
}

// TestHeadroomAtTheKneeWallOfAnAttic: under a one-way slope headroom was taken at the
// low wall, 1.600 m, whatever was done. People sit and walk on the high side.
func TestHeadroomAtTheKneeWallOfAnAttic(t *testing.T) {
	if got := built(t, "room-d", attic)("headroom"); len(got) != 0 {
		t.Errorf("%q", got)
	}
	// Seats pushed under the slope: who sits farthest in is told, as a note.
	low := func(d *project.Design) {
		attic(d)
		d.Seating.Rows[0].Centre = 1.9
	}
	if got := built(t, "room-d", low)("headroom"); len(got) != 1 || !strings.Contains(got[0], "under the ceiling where people rise") {
		t.Errorf("under the slope: %q", got)
	}
}

// TestHeadroomUnderARidge: under a gable people sit and walk under the ridge, high
// enough; pushed to a knee wall they do not.
func TestHeadroomUnderARidge(t *testing.T) {
	two := func(centre unit.Length) func(*project.Design) {
		return func(d *project.Design) {
			d.Room.Features, d.Seating.Rows = nil, d.Seating.Rows[:1]
			d.Seating.Rows[0].Seats, d.Seating.Rows[0].Centre = 2, centre
		}
	}
	if got := built(t, "gable-attic", two(2.2))("headroom"); len(got) != 0 {
		t.Errorf("under the ridge: %q", got)
	}
	for _, centre := range []unit.Length{1.2, 3.2} {
		if got := built(t, "gable-attic", two(centre))("headroom"); len(got) != 1 || !strings.Contains(got[0], "under the ceiling") {
			t.Errorf("%g m from the left wall: %q", float64(centre), got)
		}
	}
}

// TestDoorOpensIntoAColumn: only chairs and platforms were seen.
func TestDoorOpensIntoAColumn(t *testing.T) {
	for _, c := range []struct {
		what string
		edit func(*project.Design, unit.Length, unit.Length)
	}{
		{"pillar", func(d *project.Design, x, y unit.Length) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Name: "pillar",
				At: project.Point{X: x, Y: y}, Length: 0.2, Width: 0.2, Height: 2.7})
		}},
		{"round pillar", func(d *project.Design, x, y unit.Length) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Name: "round pillar",
				At: project.Point{X: x, Y: y}, Length: 0.2, Height: 2.7, Round: true})
		}},
		{"stage", func(d *project.Design, x, y unit.Length) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Stage,
				At: project.Point{X: x, Y: y}, Length: 0.2, Width: 0.2, Height: 0.2})
		}},
		{"the steps of row 3", func(d *project.Design, x, y unit.Length) {
			d.Seating.Rows[2].Steps = []project.Steps{{Side: project.RightSide, At: 7, Width: 0.6, Tread: 0.6, Rise: 0.15}}
		}},
	} {
		got := built(t, "room-b", func(d *project.Design) {
			d.Seating.Rows[1].Right, d.Seating.Rows[2].Right = 5, 5
			c.edit(d, 7.3, 5.9)
		})("door-swing")
		if len(got) != 1 || !strings.Contains(got[0], "door strikes "+c.what) {
			t.Errorf("%s: %q", c.what, got)
		}
	}
}

// TestStepsAreJudgedAsTheyAreDrawn: how many steps lead up was guessed; drawn ones are
// judged as drawn. The side of an island is a drop like its back.
func TestStepsAreJudgedAsTheyAreDrawn(t *testing.T) {
	steps := func(rise unit.Length) func(*project.Design) {
		return func(d *project.Design) {
			r := &d.Seating.Rows[2]
			r.Riser, r.Right = 0.8, 5
			r.Steps = []project.Steps{{Side: project.RightSide, At: 7, Width: 0.6, Tread: 0.3, Rise: rise}}
		}
	}
	if got := built(t, "room-b", steps(0.21))("step-height"); !strings.Contains(strings.Join(got, "\n"), "row 3 is 0.800 m up, 4 steps of 0.200 m") {
		t.Errorf("four steps of 0.200 m from the floor: %q", got)
	}
	if got := built(t, "room-b", steps(0.19))("step-height"); strings.Contains(strings.Join(got, "\n"), "row 3") {
		t.Errorf("five steps of 0.160 m: %q", got)
	}
	if got := built(t, "room-b", steps(0.19))("guard"); !strings.Contains(strings.Join(got, "\n"), "row 3 drops 0.800 m") {
		t.Errorf("%q", got)
	}
}
