// SPDX-License-Identifier: MIT

package practice_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// mirror returns d with left and right exchanged about the room's middle plane.
func mirror(d *project.Design) *project.Design {
	m := d.Clone()
	_, hi := d.Room.Polygon().Bounds()
	flip := func(y *unit.Length) { *y = unit.Length(hi.Y) - *y }
	for i := range m.Room.Footprint {
		flip(&m.Room.Footprint[i].Y)
	}
	for i := range m.Room.Features {
		f := &m.Room.Features[i]
		flip(&f.At.Y)
		f.Turn = -f.Turn
		f.Swing = map[project.Swing]project.Swing{project.InLeft: project.InRight, project.InRight: project.InLeft,
			project.OutLeft: project.OutRight, project.OutRight: project.OutLeft, project.Sliding: project.Sliding}[f.Swing]
	}
	flip(&m.Screen.Centre)
	for i := range m.Seating.Rows {
		flip(&m.Seating.Rows[i].Centre)
		m.Seating.Rows[i].Stagger = -m.Seating.Rows[i].Stagger
	}
	for i := range m.Models {
		m.Models[i].AimRight = -m.Models[i].AimRight
		for k := range m.Models[i].Drivers {
			m.Models[i].Drivers[k].Right = -m.Models[i].Drivers[k].Right
		}
	}
	for i := range m.Speakers {
		s := &m.Speakers[i]
		flip(&s.At.Y)
		s.Aim.Azimuth = -s.Aim.Azimuth
		if !strings.HasSuffix(s.Label, "000") && !strings.HasSuffix(s.Label, "180") {
			s.Label = strings.NewReplacer("+", "-", "-", "+").Replace(s.Label)
		}
	}
	return m
}

// A mirrored room gets the mirrored remarks: same rules, same verdicts, same
// measures (azimuths with the other sign), mirrored seats.
func TestMirroredRoom(t *testing.T) {
	rnd := geomtest.Rand(t)
	for n := range 30 {
		d := demo(t, []string{"small", "two-row", "large"}[n%3])
		between := func(lo, hi float64) unit.Length { return unit.Length(geomtest.Between(rnd, lo, hi)) }
		for i := range d.Speakers {
			d.Speakers[i].At.Y += between(-0.1, 0.1)
			d.Speakers[i].At.X += between(-0.1, 0.1)
			d.Speakers[i].At.Z += between(-0.1, 0.1)
		}
		for i := range d.Seating.Rows {
			d.Seating.Rows[i].Stagger = between(-0.2, 0.2)
			d.Seating.Rows[i].Curve = between(4, 9)
		}
		d.Screen.Centre += between(-0.1, 0.1)
		d.Room.Features = append(d.Room.Features, project.Feature{Kind: project.Door, Name: "way in", Swing: project.InLeft,
			At: project.Point{X: 2 + between(-1, 1), Y: 0.02}, Length: 0.9, Width: 0.04, Height: 2})

		a, b := remarks(d, false), remarks(mirror(d), true)
		if len(a) != len(b) {
			t.Fatalf("%d remarks, %d mirrored", len(a), len(b))
		}
		for i := range a {
			if a[i].what != b[i].what || math.Abs(a[i].v-b[i].v) > 1e-6 {
				t.Fatalf("room %d:\n got %+v\nwant %+v mirrored", n, b[i], a[i])
			}
		}
	}
}

type told struct {
	what string
	v    float64
}

// remarks returns what Check tells of d, sorted, seats counted from the other
// side when mirrored.
func remarks(d *project.Design, mirrored bool) []told {
	seats := place.Seats(d)
	var out []told
	for _, m := range practice.Check(d, nil, practice.Standard{}).Remarks {
		var who []string
		for _, i := range m.Seats {
			if m.OK {
				break // the worst of seats equally good may be either
			}
			s := seats[i]
			n := s.Number
			if mirrored {
				n = d.Seating.Rows[s.Row-1].Seats + 1 - n
			}
			who = append(who, fmt.Sprintf("%d.%d", s.Row, n))
		}
		slices.Sort(who)
		speakers := slices.Clone(m.Speakers)
		slices.Sort(speakers)
		v := m.Measured
		if m.Rule == "azimuth" {
			v = math.Abs(v)
		}
		out = append(out, told{fmt.Sprint(m.Rule, m.OK, m.Severity, who, speakers, m.Rows), v})
	}
	slices.SortFunc(out, func(a, b told) int { return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.v, b.v)) })
	return out
}

// Designs that nobody would draw are answered without panic, with numbers only.
func TestOddDesigns(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	edits := map[string]func(*project.Design){
		"untouched":       func(d *project.Design) {},
		"nothing at all":  func(d *project.Design) { *d = project.Design{} },
		"no rows":         func(d *project.Design) { d.Seating.Rows = nil },
		"no seats":        func(d *project.Design) { d.Seating.Rows[0].Seats = 0; d.Seating.Rows[1].Seats = -3 },
		"unknown chair":   func(d *project.Design) { d.Seating.Rows[0].Chair = "?" },
		"no loudspeakers": func(d *project.Design) { d.Speakers = nil },
		"unknown model":   func(d *project.Design) { d.Speakers[0].Model = "?" },
		"no drivers":      func(d *project.Design) { d.Models[0].Drivers = nil },
		"no outline":      func(d *project.Design) { d.Room.Footprint = nil },
		"flat outline":    func(d *project.Design) { d.Room.Footprint = d.Room.Footprint[:2] },
		"labels": func(d *project.Design) {
			for i := range d.Speakers {
				d.Speakers[i].Label = []string{"", "+", "M", "M+", "M+999", "M-000", "U+1e3", "é+030", "UH+180", "T+000", "M+SC", "LFE9"}[i%12]
			}
		},
		"one label": func(d *project.Design) {
			for i := range d.Speakers {
				d.Speakers[i].Label, d.Speakers[i].Copy = "M+110", ""
			}
		},
		"all at the main position": func(d *project.Design) {
			for i := range d.Speakers {
				d.Speakers[i].At = project.PointOf(place.MainPoint(d))
			}
		},
		"NaN": func(d *project.Design) {
			d.Speakers[0].At.X = unit.Length(nan)
			d.Speakers[1].At.Z = unit.Length(inf)
			d.Models[1].CoverageH = unit.Degrees(nan)
		},
		"no screen":          func(d *project.Design) { d.Screen = project.Screen{} },
		"behind the picture": func(d *project.Design) { d.Screen.Distance = 6 },
		"rows in one place":  func(d *project.Design) { d.Seating.Rows[1] = d.Seating.Rows[0] },
		"rows turned round":  func(d *project.Design) { slices.Reverse(d.Seating.Rows) },
		"deep platform":      func(d *project.Design) { d.Seating.Rows[1].Riser = 9 },
		"no platform":        func(d *project.Design) { d.Seating.Rows[1].Front, d.Seating.Rows[1].Back = 0, 0 },
		"doors": func(d *project.Design) {
			d.Room.Features = []project.Feature{{Kind: project.Door, Swing: project.InLeft}, {Kind: project.Door, Swing: "?", At: project.Point{X: 3, Y: 2}}, {Kind: project.Soffit}, {Kind: "?"}}
		},
	}
	zero := 0.0
	std := practice.Standard{Changes: map[string]practice.Change{"step-height": {Max: &zero}, "azimuth": {Max: &zero}}}
	for name, edit := range edits {
		t.Run(name, func(t *testing.T) {
			d := demo(t, "two-row")
			edit(d)
			for _, s := range []practice.Standard{{}, std} {
				r := practice.Check(d, nil, s)
				for _, m := range r.Remarks {
					if math.IsNaN(m.Measured) || math.IsInf(m.Measured, 0) || m.Text == "" {
						t.Errorf("%+v", m)
					}
				}
				r.Lines(true)
			}
		})
	}
}

// An audit of another design is not believed.
func TestAuditOfAnotherDesign(t *testing.T) {
	d := demo(t, "two-row")
	want := practice.Check(d, nil, practice.Standard{}).Lines(true)
	if got := practice.Check(d, sight.Audit(demo(t, "large")), practice.Standard{}).Lines(true); !slices.Equal(got, want) {
		t.Errorf("other lines")
	}
}
