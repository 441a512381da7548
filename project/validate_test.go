// SPDX-License-Identifier: MIT

package project_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
)

// corner is short for the tests below.
func corner(x, y float64) project.Corner {
	return project.Corner{X: unit.Length(x), Y: unit.Length(y)}
}

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

// Impossible values are refused, each by one exact line.
func TestValidate(t *testing.T) {
	nan := unit.Length(math.NaN())
	tests := []struct {
		name string
		edit func(*project.Design)
		want []string
	}{
		{"untouched", func(d *project.Design) {}, nil},
		{"NaN", func(d *project.Design) { d.Screen.Width = nan },
			[]string{"screen.width_m: not a number, allowed: 0.2 m to 50 m"}},
		{"infinite", func(d *project.Design) { d.Screen.Gain = math.Inf(1) },
			[]string{"screen.gain: infinite, allowed: 0.05 to 20"}},
		{"zero size", func(d *project.Design) { d.Models[0].Depth = 0 },
			[]string{"loudspeaker_models[0].depth_m: 0 m, allowed: 0.01 m to 5 m"}},
		{"negative size", func(d *project.Design) { d.Chairs[0].PanWidth = -0.5 },
			[]string{"chair_models[0].pan_width_m: -0.5 m, allowed: 0.2 m to 3 m"}},
		{"a round soffit", func(d *project.Design) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Soffit, Length: 0.3, Height: 1, Round: true})
		}, []string{"room.features[0].round: true for a soffit, allowed: for a column only"}},
		{"a round column wider than long", func(d *project.Design) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Length: 0.3, Width: 0.4, Height: 1, Round: true})
		}, []string{"room.features[0].width_m: 0.4 m of a round column of 0.3 m, allowed: as length_m, its diameter, or left out"}},
		{"a round column without a width", func(d *project.Design) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Length: 0.3, Height: 1, Round: true})
		}, nil},
		{"a square column without a width", func(d *project.Design) {
			d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Column, Length: 0.3, Height: 1})
		}, []string{"room.features[0].width_m: 0 m, allowed: 0.001 m to 100 m"}},
		{"two corners", func(d *project.Design) { d.Room.Footprint = d.Room.Footprint[:2] },
			[]string{"room.footprint: 2 entries, allowed: 3 to 64"}},
		{"self-crossing footprint", func(d *project.Design) {
			d.Room.Footprint = []project.Corner{corner(0, 0), corner(5, 4), corner(5, 0), corner(0, 4)}
		}, []string{"room.footprint: the wall from corner 0 to 1 meets the wall from corner 2 to 3, allowed: walls that meet at their ends only"}},
		{"footprint without area", func(d *project.Design) {
			d.Room.Footprint = []project.Corner{corner(0, 0), corner(5, 0), corner(5, 0.1), corner(0, 0.1)}
		}, []string{"room.footprint: 0.5 square metres of floor, allowed: 1 or more"}},
		{"absorption over 1", func(d *project.Design) { d.Room.Materials[0].Absorption[2] = 1.2 },
			[]string{"room.materials[0].absorption[2]: 1.2, allowed: 0 to 1"}},
		{"too few octaves", func(d *project.Design) { d.Room.Materials[0].Absorption = []float64{0.1} },
			[]string{"room.materials[0].absorption: 1 entry, allowed: 8, for the octaves 63 Hz to 8 kHz"}},
		{"surface of nothing known", func(d *project.Design) { d.Room.Surfaces.Floor = "moss" },
			[]string{`room.surfaces.floor: "moss", allowed: the id of one of room.materials`}},
		{"panel on no wall", func(d *project.Design) {
			d.Room.Treatments = []project.Treatment{{Material: d.Room.Materials[0].ID, Wall: 9, To: 1, High: 1}}
		}, []string{"room.treatments[0].wall: 9, allowed: 0 to 4"}},
		{"panel of no width", func(d *project.Design) {
			d.Room.Treatments = []project.Treatment{{Material: d.Room.Materials[0].ID, From: 2, To: 1, High: 1}}
		}, []string{"room.treatments[0].to_m: 1 m, allowed: more than 2 m"}},
		{"absurd power", func(d *project.Design) { d.Models[0].Power = 1e9 },
			[]string{"loudspeaker_models[0].power_w: 1e+09 W, allowed: 0.1 W to 100000 W"}},
		{"polar data of uneven length", func(d *project.Design) {
			c := []project.PolarCurve{{Frequency: 1000, Level: []float64{0}}}
			d.Models[0].Polar = project.Polar{Angles: []float64{-90, 90}, Horizontal: c, Vertical: []project.PolarCurve{{Frequency: 1000, Level: []float64{0, 0}}}}
		}, []string{"loudspeaker_models[0].polar.horizontal[0].level_db: 1 entry, allowed: 2, one an angle"}},
		{"polar angles that go back", func(d *project.Design) {
			c := []project.PolarCurve{{Frequency: 1000, Level: []float64{0, 0}}}
			d.Models[0].Polar = project.Polar{Angles: []float64{90, -90}, Horizontal: c, Vertical: c}
		}, []string{"loudspeaker_models[0].polar.angles_deg[1]: -90°, allowed: more than the angle before, 90°"}},
		{"dry air", func(d *project.Design) { d.Room.Air = project.Air{Temperature: 20, Humidity: 1} },
			[]string{"room.air.humidity_percent: 1 %, allowed: 10 % to 100 %"}},
		{"crossover out of range", func(d *project.Design) { d.Playback.Crossover = 5000 },
			[]string{"playback.crossover_hz: 5000 Hz, allowed: 20 Hz to 300 Hz"}},
		{"corner given twice", func(d *project.Design) {
			d.Room.Footprint = append(d.Room.Footprint, d.Room.Footprint[3])
		}, []string{"room.footprint[4]: same place as corner 3, allowed: corners 1 mm apart or more"}},
		{"room in millimetres", func(d *project.Design) { d.Room.Footprint[1].X, d.Room.Footprint[2].X = 5000, 5000 },
			[]string{"room.footprint[1].x_m: 5000 m, allowed: 0 m to 100 m", "room.footprint[2].x_m: 5000 m, allowed: 0 m to 100 m"}},
		{"NaN corner", func(d *project.Design) { d.Room.Footprint[0].Y = nan },
			[]string{"room.footprint[0].y_m: not a number, allowed: 0 m to 100 m"}},
		{"slope without far height", func(d *project.Design) { d.Room.Ceiling.Slope = project.LeftToRight },
			[]string{"room.ceiling.far_height_m: 0 m, allowed: 0.5 m to 30 m"}},
		{"unknown slope", func(d *project.Design) { d.Room.Ceiling.Slope = "up" },
			[]string{`room.ceiling.slope: "up", allowed: "flat", "front to back", "left to right"`}},
		{"swing of a window", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Window, Length: 1, Width: 1, Height: 1, Swing: project.Sliding}}
		}, []string{`room.features[0].swing: "sliding", allowed: for a door only`}},
		{"door without swing", func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Door, Length: 1, Width: 1, Height: 1}}
		}, []string{`room.features[0].swing: "", allowed: "in, hinged left", "in, hinged right", "out, hinged left", "out, hinged right", "sliding"`}},
		{"aspect", func(d *project.Design) { d.Screen.Aspect = 0.9 },
			[]string{"screen.aspect: 0.9, allowed: 1 to 4"}},
		{"no rows", func(d *project.Design) { d.Seating.Rows, d.Seating.Main.Row = nil, 0 },
			[]string{"seating.rows: 0 entries, allowed: 1 to 40"}},
		{"no seats", func(d *project.Design) { d.Seating.Rows[0].Seats = 0 },
			[]string{"seating.rows[0].seats: 0, allowed: 1 to 400"}},
		{"500 seats", func(d *project.Design) {
			d.Seating.Rows[0].Seats = 250
			d.Seating.Rows = append(d.Seating.Rows, d.Seating.Rows[0])
		}, []string{"seating.rows: 500 seats in all, allowed: 1 to 400"}},
		{"unknown chair", func(d *project.Design) { d.Seating.Rows[0].Chair = "stool" },
			[]string{`seating.rows[0].chair: "stool", allowed: the id of a chair model`}},
		{"recline outside the chair's range", func(d *project.Design) { d.Seating.Rows[0].Recline = 70 },
			[]string{"seating.rows[0].recline_deg: 70°, allowed: 8° to 60°"}},
		{"riser without platform", func(d *project.Design) { d.Seating.Rows[0].Riser = 0.3 },
			[]string{"seating.rows[0].platform_front_m: a platform of no depth, allowed: platform_front_m + platform_back_m above 0 m on a riser"}},
		{"row bent into a ring", func(d *project.Design) { d.Seating.Rows[0].Curve = 0.5 },
			[]string{"seating.rows[0].curve_radius_m: a row that turns through 197°, allowed: at most half a circle"}},
		{"percentile", func(d *project.Design) { d.Seating.Sitters.Others = 100 },
			[]string{"seating.sitters.others_percentile: 100, allowed: 1 to 99"}},
		{"share", func(d *project.Design) { d.Seating.Sitters.Women = 50 },
			[]string{"seating.sitters.women_share: 50, allowed: 0 to 1"}},
		{"main row", func(d *project.Design) { d.Seating.Main.Row = 2 },
			[]string{"seating.main_position.row: 2, allowed: 1 to 1, or 0 for the point at"}},
		{"no rows, of which the main row was to be \"1 to 0\"", func(d *project.Design) { d.Seating.Rows = nil },
			[]string{"seating.rows: 0 entries, allowed: 1 to 40"}},
		{"unknown model", func(d *project.Design) { d.Speakers[0].Model = "" },
			[]string{`loudspeakers[0].model: "", allowed: the id of a loudspeaker model`}},
		{"id twice", func(d *project.Design) { d.Models[1].ID = d.Models[0].ID; d.Speakers[2].Model = "compact" },
			[]string{`loudspeaker_models[1].id: "compact" again, allowed: an id of its own`}},
		{"label twice", func(d *project.Design) { d.Speakers[1].Label = "M+030" },
			[]string{`loudspeakers[1].copy: M+030 again, allowed: a copy that tells it from loudspeakers[0]`}},
		{"label of another kind", func(d *project.Design) { d.Speakers[0].Label = "Left" },
			[]string{`loudspeakers[0].label: "Left", allowed: a label of Rec. ITU-R BS.2051, such as M+030, U-045, T+000, M+SC or LFE1`}},
		{"no driver", func(d *project.Design) { d.Models[0].Drivers = nil },
			[]string{"loudspeaker_models[0].drivers: 0 entries, allowed: 1 to 8"}},
		{"driver beside the box", func(d *project.Design) { d.Models[0].Drivers[0].Up = 0.2 },
			[]string{"loudspeaker_models[0].drivers[0].up_m: 0.2 m, allowed: -0.17 m to 0.17 m"}},
		{"line end in a name", func(d *project.Design) { d.Name = "a\nb" },
			[]string{`name: "a\nb", allowed: text without control characters`}},
		{"several at once", func(d *project.Design) { d.Units = "feet"; d.Criteria.Margin = -1 },
			[]string{`units: "feet", allowed: "metric", "imperial"`, "criteria.margin_m: -1 m, allowed: 0 m to 1 m"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := file.New()
			tt.edit(d)
			var got []string
			err := d.Validate()
			for _, f := range project.Faults(err) {
				got = append(got, f.Error())
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("faults (-want +got):\n%s", diff)
			}
			if err != nil && err.Error() != strings.Join(tt.want, "\n") {
				t.Errorf("error text %q", err)
			}
		})
	}
	many := file.New()
	for len(many.Speakers) <= project.MaxSpeakers {
		many.Speakers = append(many.Speakers, many.Speakers[0])
	}
	var f *project.Fault
	if err := many.Validate(); !errors.As(err, &f) || f.Field != "loudspeakers" || f.Found != "65 entries" {
		t.Errorf("65 loudspeakers: %v", err)
	}
}

// Every label of Rec. ITU-R BS.2051 is accepted as it stands there. Source:
// testdata/bs2051_layouts.tsv (see testdata/README.md).
func TestLabelsOfTheStandard(t *testing.T) {
	f, err := os.Open("../testdata/bs2051_layouts.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma = '\t'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 100 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		d := file.New()
		d.Speakers[0].Label, d.Speakers[0].Copy = row[2], "x"
		if err := d.Validate(); err != nil {
			t.Error(err)
		}
	}
	for _, bad := range []string{"", "M", "M+30", "M030", "M+181", "M-180", "M+0300", "m+030", "T+090", "LFE", "LFE0", "X+000", "M+030 ", "M−030"} {
		d := file.New()
		d.Speakers[0].Label = bad
		if d.Validate() == nil {
			t.Errorf("label %q is accepted", bad)
		}
	}
}

// Nothing a number can hold makes Validate or, once accepted, anything else
// panic or speak of NaN.
func TestValidateAnyNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := demo(&testing.T{}, "large")
		odd := func(name string) float64 {
			return rapid.OneOf(rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 5e-324, 0, -1}),
				rapid.Float64Range(-120, 120)).Draw(t, name)
		}
		r := &d.Seating.Rows[rapid.IntRange(0, 2).Draw(t, "row")]
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			switch rapid.IntRange(0, 9).Draw(t, "what") {
			case 0:
				r.Distance = unit.Length(odd("distance"))
			case 1:
				r.Curve = unit.Length(odd("curve"))
			case 2:
				r.Recline = unit.Degrees(odd("recline"))
			case 3:
				d.Room.Footprint[rapid.IntRange(0, 5).Draw(t, "corner")].X = unit.Length(odd("x"))
			case 4:
				d.Screen.Bottom = unit.Length(odd("bottom"))
			case 5:
				d.Speakers[rapid.IntRange(0, 8).Draw(t, "speaker")].At = project.Point{X: unit.Length(odd("x")), Y: unit.Length(odd("y")), Z: unit.Length(odd("z"))}
			case 6:
				d.Room.Features[0].Turn = unit.Degrees(odd("turn"))
			case 7:
				d.Chairs[0].MaxRecline = unit.Degrees(odd("max"))
			case 8:
				d.Screen.Aspect = odd("aspect")
			case 9:
				r.Seats = int(rapid.Int64().Draw(t, "seats"))
			}
		}
		if d.Validate() != nil {
			return
		}
		for _, f := range fit.Findings(d) {
			if s := f.String(); strings.Contains(s, "NaN") || strings.Contains(s, "no length") || strings.Contains(s, "%!") {
				t.Fatalf("finding %q", s)
			}
		}
	})
}

// Nine measured models made every edit copy a million levels.
func TestAnEditCopiesNoMeasuredDirectivity(t *testing.T) {
	d := demo(t, "small")
	level := make([]float64, 1000)
	d.Models[0].Polar = project.Polar{Angles: level, Horizontal: []project.PolarCurve{{Frequency: 1000, Level: level}}}
	if c := d.Clone(); &c.Models[0].Polar.Horizontal[0].Level[0] != &level[0] {
		t.Error("the levels are copied")
	}
}
