// SPDX-License-Identifier: MIT

package fit_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/place"
)

// panel adds a treatment of a material of its own.
func panel(d *project.Design, t project.Treatment) {
	t.Material = "panel"
	if len(d.Room.Treatments) == 0 {
		d.Room.Materials = append(d.Room.Materials, project.Material{ID: "panel", Absorption: make([]float64, project.OctaveCount)})
	}
	d.Room.Treatments = append(d.Room.Treatments, t)
}

// Unlikely rooms are accepted and reported, each by one exact line.
func TestFindings(t *testing.T) {
	tests := []struct {
		name string
		edit func(*project.Design)
		want []string
	}{
		{"untouched", func(d *project.Design) {}, nil},
		{"seat outside the room", func(d *project.Design) { d.Seating.Rows[0].Centre = 3.0 },
			[]string{"row 1 seat 3 stands 215 mm outside the room"}}, // 3.0 + 0.86 + 0.71/2 - 4.0
		{"back leans into the wall", func(d *project.Design) { d.Seating.Rows[0].Distance = 4.8 },
			[]string{"row 1 seat 1 leans 149 mm into the wall", "row 1 seat 2 leans 149 mm into the wall", "row 1 seat 3 leans 149 mm into the wall"}}, // 4.8 + 0.58 sin 20° + 0.16 cos 20° - 5
		{"platform wider than the room", func(d *project.Design) {
			r := &d.Seating.Rows[0]
			r.Riser, r.Front, r.Back, r.Right = 0.3, 0.8, 0.6, 4.4
		}, []string{"row 1 has a platform whose right side is 400 mm outside the room"}},
		{"chair beside its island", func(d *project.Design) {
			r := &d.Seating.Rows[0]
			r.Riser, r.Front, r.Back, r.Left, r.Right = 0.3, 0.8, 0.6, 0.7, 3.2
		}, []string{"row 1 seat 3 stands 15 mm beyond the side of its platform"}}, // 2 + 0.86 + 0.71/2 - 3.2
		{"steps that do not fit", func(d *project.Design) {
			r := &d.Seating.Rows[0]
			r.Riser, r.Front, r.Back = 0.4, 0.8, 0.6
			r.Steps = []project.Steps{
				{Side: project.FrontSide, At: 0.3, Width: 0.8, Tread: 0.3, Rise: 0.2},
				{Side: project.FrontSide, At: 2, Width: 0.8, Tread: 0.3, Rise: 0.4},
				{Side: project.LeftSide, At: 3.2, Width: 0.8, Tread: 0.3, Rise: 0.2}}
		}, []string{
			"steps at the front of row 1 reach 100 mm past the end of the platform",
			"steps at the front of row 1 reach 100 mm outside the room",
			"steps at the front of row 1 are not needed: the platform is one step of 400 mm up",
			"steps at the left of row 1 reach 300 mm outside the room",
		}},
		{"loudspeaker outside the room", func(d *project.Design) { d.Speakers[3].At.Y = -0.1 },
			[]string{"M+110 is 100 mm outside the room"}},
		{"loudspeaker inside a wall", func(d *project.Design) {
			d.Speakers[3].Aim = project.Aim{Fixed: true, Azimuth: -90}
			d.Speakers[3].At.Y = 0.1 // its box is 0.26 deep
		}, []string{"M+110 reaches 160 mm into the wall"}},
		{"loudspeaker above the ceiling", func(d *project.Design) { d.Speakers[0].At.Z = 2.6 },
			[]string{"M+030 is 100 mm above the ceiling"}},
		{"loudspeaker below the floor", func(d *project.Design) { d.Speakers[5].At.Z = 0.1 },
			[]string{"LFE1 reaches 90 mm below the floor"}},
		{"flush model off its wall", func(d *project.Design) {
			d.Speakers[3].Model = "in-wall"
		}, []string{"M+110 is a flush model but sits 340 mm off its wall"}},
		{"flush model off its ceiling, in feet", func(d *project.Design) {
			d.Units = project.Imperial
			d.Speakers[3].Model, d.Speakers[3].Mount = "in-ceiling", project.OnCeiling
			d.Speakers[3].At.Z = 2.5 - 0.3048
		}, []string{`M+110 is a flush model but sits 1' 0" off its ceiling`}},
		{"loudspeaker in a column", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Column, At: d.Speakers[3].At, Length: 0.5, Width: 0.5, Height: 0.6}}
			d.Speakers[3].At.Z += 0.3
		}, []string{"M+110 is inside the column"}},
		{"behind a solid screen", func(d *project.Design) { d.Speakers[2].Mount = project.BehindScreen },
			[]string{"M+000 is behind a screen that is not sound-transparent", "M+000 is mounted behind the screen but reaches 299 mm in front of it"}},
		{"rows overlapping", func(d *project.Design) {
			r := d.Seating.Rows[0]
			r.Distance += 0.5
			d.Seating.Rows = append(d.Seating.Rows, r)
		}, []string{"row 2 overlaps row 1 by 180 mm"}}, // 0.52 + 0.16 - 0.50
		{"row in the next row's platform", func(d *project.Design) {
			r := d.Seating.Rows[0]
			r.Distance, r.Riser, r.Front, r.Back = 4.4, 0.3, 1.1, 0.6
			d.Seating.Rows = append(d.Seating.Rows, r)
		}, []string{"row 1 stands 60 mm in the platform of row 2"}}, // 3.2 + 0.16 - (4.4 - 1.1)
		{"chairs overlapping", func(d *project.Design) { d.Seating.Rows[0].Pitch = 0.6 },
			[]string{"row 1 has chairs that overlap: seats 1 and 2 by 110 mm"}}, // 0.56 + 0.15 - 0.6
		{"screen wider than the room", func(d *project.Design) { d.Screen.Width, d.Screen.Aspect = 4.2, 3 },
			[]string{"screen is 4.300 m wide with its border, the room 4.000 m: 3.900 m at most fits"}},
		{"screen beside the room", func(d *project.Design) { d.Screen.Centre = 3 },
			[]string{"screen reaches 350 mm outside the room"}},
		{"screen above the ceiling", func(d *project.Design) { d.Screen.Bottom, d.Screen.Aspect = 1.2, 2 },
			[]string{"screen reaches 50 mm above the ceiling"}}, // 1.2 + 1.3 + 0.05 - 2.5
		{"screen below the floor", func(d *project.Design) { d.Screen.Bottom = -0.2 },
			[]string{"screen reaches 250 mm below the floor"}},
		{"feature outside the room", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Soffit, Name: "left soffit", At: project.Point{X: 2.5, Y: 0, Z: 2.3}, Length: 5, Width: 0.4, Height: 0.3}}
		}, []string{"left soffit reaches 200 mm outside the room", "left soffit reaches 100 mm above the ceiling"}},
		{"window in its reveal", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Window, At: project.Point{X: 2.5, Y: -0.1, Z: 1}, Length: 1, Width: 0.2, Height: 1}}
		}, nil},
		{"recessed light and vent in a wall", func(d *project.Design) {
			d.Room.Features = []project.Feature{
				{Kind: project.Light, At: project.Point{X: 2.5, Y: 2, Z: 2.48}, Length: 0.1, Width: 0.1, Height: 0.12},
				{Kind: project.Vent, At: project.Point{X: 2.5, Y: -0.05, Z: 2.2}, Length: 0.6, Width: 0.12, Height: 0.15},
			}
		}, nil},
		{"light above the ceiling", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Light, Name: "aisle light", At: project.Point{X: 2.5, Y: 2, Z: 2.6}, Length: 0.1, Width: 0.1, Height: 0.1}}
		}, []string{"aisle light is 100 mm above the ceiling: nothing of it is in the room"}},
		{"vent outside the room", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Vent, At: project.Point{X: 2.5, Y: -0.5, Z: 2.2}, Length: 0.6, Width: 0.12, Height: 0.15}}
		}, []string{"vent is 500 mm outside the room"}},
		{"flush loudspeaker where a light is", func(d *project.Design) {
			d.Speakers[3].Model, d.Speakers[3].Mount = "in-ceiling", project.OnCeiling
			d.Speakers[3].At = project.Point{X: 2.5, Y: 2, Z: 2.5}
			// The box is 0.26 m wide, the light 0.1 m, their middles 0.15 m apart.
			d.Room.Features = []project.Feature{{Kind: project.Light, At: project.Point{X: 2.65, Y: 2, Z: 2.48}, Length: 0.1, Width: 0.1, Height: 0.12}}
		}, []string{"M+110 reaches 30 mm into the light"}},
		{"treatment larger than its wall", func(d *project.Design) { // 5 m by 2.5 m
			panel(d, project.Treatment{Name: "left panel", Wall: 1, From: 4, To: 5.2, Low: 1, High: 2.6})
		}, []string{"left panel reaches 200 mm beyond the end of the left wall", "left panel reaches 100 mm above the ceiling"}},
		{"treatment over a loudspeaker in the wall and one in the ceiling", func(d *project.Design) {
			d.Speakers[3].Model, d.Speakers[3].Mount, d.Speakers[3].At = "in-wall", project.OnWall, project.Point{X: 3, Y: 0, Z: 1.5}
			d.Speakers[4].Model, d.Speakers[4].Mount, d.Speakers[4].At = "in-ceiling", project.OnCeiling, project.Point{X: 3, Y: 2, Z: 2.5}
			panel(d, project.Treatment{Wall: 1, From: 2.5, To: 3.5, Low: 1, High: 2})
			panel(d, project.Treatment{Wall: 1, From: 3.1, To: 3.5, Low: 1, High: 2}) // beside it
			panel(d, project.Treatment{Wall: 0, From: 2.5, To: 3.5, Low: 1.5, High: 2.5})
		}, []string{"treatment 1 covers M+110", "treatment 3 covers M-110"}},
		{"treatment over a door and a light", func(d *project.Design) {
			d.Room.Features = []project.Feature{
				{Kind: project.Door, At: project.Point{X: 3, Y: 0.02}, Length: 0.9, Width: 0.04, Height: 2, Swing: project.InLeft},
				{Kind: project.Light, At: project.Point{X: 2, Y: 2, Z: 2.49}, Length: 0.1, Width: 0.1, Height: 0.1},
				{Kind: project.Light, Name: "pendant", At: project.Point{X: 2.2, Y: 2, Z: 1.8}, Length: 0.1, Width: 0.1, Height: 0.1},
			}
			panel(d, project.Treatment{Wall: 1, From: 3.4, To: 4, Low: 1, High: 2})
			panel(d, project.Treatment{Wall: 0, From: 1.5, To: 2.5, Low: 1.5, High: 2.5})
			panel(d, project.Treatment{Wall: 0, From: 4.5, To: 5.3, Low: 1.5, High: 2.5})
		}, []string{"treatment 1 covers the door", "treatment 2 covers the light", "treatment 3 reaches 300 mm outside the room"}},
		{"seat behind the picture", func(d *project.Design) { d.Screen.Distance = 3.4; d.Speakers = nil },
			[]string{"row 1 seat 1 is behind the picture", "row 1 seat 2 is behind the picture", "row 1 seat 3 is behind the picture"}},
		{"main position outside", func(d *project.Design) {
			d.Seating.Main = project.MainPosition{At: project.Point{X: 2, Y: 2, Z: 2.7}}
		}, []string{"main listening position is 200 mm outside the room"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := file.New()
			tt.edit(d)
			if err := d.Validate(); err != nil {
				t.Fatalf("refused: %v", err)
			}
			var got []string
			for _, f := range fit.Findings(d) {
				got = append(got, f.String())
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("findings (-want +got):\n%s", diff)
			}
		})
	}
}

// A riser so high that a head meets the ceiling is found at the seat it happens
// to, by as much as the crown is over it.
func TestHeadAboveCeiling(t *testing.T) {
	d := file.New()
	r := &d.Seating.Rows[0]
	r.Seats, r.Riser, r.Front, r.Back = 1, 1.4, 1, 1
	crown := place.Other(d, place.Seats(d)[0]).Crown.Z
	if crown <= 2.5 {
		t.Fatalf("crown at %v m is under the ceiling", crown)
	}
	want := fit.Finding{Field: "seating.rows[0].riser_m", Where: "row 1 seat 1",
		Text: fmt.Sprintf("puts a head %.0f mm above the ceiling", 1000*(crown-2.5))}
	found := fit.Findings(d)
	if len(found) != 1 || found[0] != want {
		t.Errorf("got %v, want %v", found, want)
	}
}

// A round column that touches two walls is in the room, and a loudspeaker in the corner
// of the square about it stands free of it; one that reaches into it does not.
func TestARoundColumnIsJudgedAsRound(t *testing.T) {
	d := file.New()
	d.Speakers = nil
	column := func(kind project.FeatureKind, round bool) {
		d.Room.Features = []project.Feature{{Kind: kind, Name: "pillar", At: project.Point{X: 0.3, Y: 0.3}, Length: 0.6, Width: 0.6, Height: 2, Round: round}}
	}
	column(project.Column, true)
	if got := fit.Findings(d); len(got) > 0 {
		t.Errorf("in the corner: %v", got)
	}
	f := d.Room.Features[0]
	corner := geometry.Box{Center: geometry.V(0.56, 0.56, 1), Basis: geometry.WorldBasis(), Half: geometry.V(0.03, 0.03, 0.1)}
	if in := f.Overlap(corner); in != 0 { // its corner is 0.325 m off the axis
		t.Errorf("a box beside the round: %g m in it", in)
	}
	column(project.Column, false)
	if in := d.Room.Features[0].Overlap(corner); in < 0.02 {
		t.Errorf("a box in the square: %g m in it", in)
	}
	if f.Holds(geometry.V(0.55, 0.55, 1), 0) || !f.Holds(geometry.V(0.5, 0.5, 1), 0) {
		t.Error("the round holds what the square does")
	}
}

// roomB has flush sides on walls with soffits 0.6 m deep at 2.350 m.
func roomB(t *testing.T) *project.Design {
	t.Helper()
	data, err := os.ReadFile("../../testdata/rooms/room-b.earline")
	if err != nil {
		t.Fatal(err)
	}
	d, err := file.Decode(data, "room-b.earline")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A side let into the wall at 2.170 m, right under a soffit at 2.350 m: its frame is 20 mm
// too high for it, and the audit had nothing to say.
func TestAFrameThatRunsIntoASoffitIsFound(t *testing.T) {
	d := roomB(t)
	for i := range d.Speakers {
		if d.Speakers[i].Label == "M+090" {
			d.Speakers[i].At.Z = 2.17
		}
	}
	n := 0
	for _, f := range fit.Findings(d) {
		if f.Text == "reaches 20 mm into the soffit left with its frame" {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d found, want the two of M+090: %v", n, fit.Findings(d))
	}
	for i := range d.Speakers {
		if d.Speakers[i].Label == "M+090" {
			d.Speakers[i].At.Z = 2.15
		}
	}
	for _, f := range fit.Findings(d) {
		if strings.Contains(f.Text, "frame") {
			t.Errorf("that just fits: %v", f)
		}
	}
}

// In the face of a soffit a frame is where it belongs; on the wall behind the soffit, or
// with a column over its edge, it is not.
func TestAFrameIsJudgedByWhatCarriesIt(t *testing.T) {
	d := roomB(t)
	at := 0
	for i := range d.Speakers {
		if d.Speakers[i].Name() == "M+090" {
			at = i
		}
	}
	frames := func() (all []string) {
		for _, f := range fit.Findings(d) {
			if strings.Contains(f.Text, "frame") {
				all = append(all, f.Field+" "+f.Text)
			}
		}
		return all
	}
	l := &d.Speakers[at].At
	l.Y, l.Z = 0.6, 2.525
	if got := frames(); len(got) > 0 {
		t.Errorf("in the soffit's face: %v", got)
	}
	l.Y, l.Z = 0, 2.34
	if got := frames(); len(got) != 1 {
		t.Errorf("behind the soffit: %v", got)
	}
	l.Z = 1.2
	d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Name: "pier",
		At: project.Point{X: l.X + 0.13 + 0.1 - 0.03, Y: 0.1}, Length: 0.2, Width: 0.2, Height: 2.35})
	want := fmt.Sprintf("loudspeakers[%d].at.x_m reaches 30 mm into the pier with its frame", at)
	if got := frames(); len(got) != 1 || got[0] != want {
		t.Errorf("beside a pier: %v, want %s", got, want)
	}
}
