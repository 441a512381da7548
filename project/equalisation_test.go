// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"earline/project"
	"earline/project/diff"
	"earline/project/file"
)

func equalised(t *testing.T) *project.Design {
	t.Helper()
	d := start(t)
	d.Identify()
	d.Equalisation = project.Equalisation{
		Target: project.Target{Name: "Ours", Points: []project.TargetPoint{{Frequency: 20, Level: 6}, {Frequency: 80}}},
		Filters: []project.Filter{{Of: project.AllSubwoofers, Kind: project.Peak, Frequency: 42, Gain: -6, Q: 4},
			{Of: d.Speakers[0].ID, Kind: project.HighPass, Frequency: 18, Q: 0.7}},
	}
	return d
}

func TestAnEqualisationIsKeptInVersionTwo(t *testing.T) {
	d := equalised(t)
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	again, err := file.Decode(data, "again.earline")
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(again.Equalisation, d.Equalisation) || !strings.Contains(string(data), `"version": 2`) {
		t.Errorf("got %+v, want %+v", again.Equalisation, d.Equalisation)
	}
}

func TestBadFiltersAndTargetsGetOneLineEach(t *testing.T) {
	for want, spoil := range map[string]func(*project.Equalisation){
		`equalisation.filters[0].of: "nobody", allowed: "subwoofers" or the id of one of loudspeakers`: func(e *project.Equalisation) { e.Filters[0].Of = "nobody" },
		`equalisation.filters[0].kind: "notch", allowed: "peak", "low shelf", "high shelf"`:            func(e *project.Equalisation) { e.Filters[0].Kind = "notch" },
		`equalisation.filters[0].hz: 0 Hz, allowed: 5 Hz to 20000 Hz`:                                  func(e *project.Equalisation) { e.Filters[0].Frequency = 0 },
		`equalisation.filters[0].q: 0, allowed: 0.1 to 30`:                                             func(e *project.Equalisation) { e.Filters[0].Q = 0 },
		`equalisation.filters[0].gain_db: 13 dB, allowed: -30 dB to 12 dB`:                             func(e *project.Equalisation) { e.Filters[0].Gain = 13 },
		`equalisation.filters[1].gain_db: -3 dB, allowed: none: a high-pass has no gain`:               func(e *project.Equalisation) { e.Filters[1].Gain = -3 },
		`equalisation.target.points[1].hz: 20 Hz, allowed: more than the point before, 20 Hz`:          func(e *project.Equalisation) { e.Target.Points[1].Frequency = 20 },
		`equalisation.target.points[0].db: 40 dB, allowed: -20 dB to 20 dB`:                            func(e *project.Equalisation) { e.Target.Points[0].Level = 40 },
		`equalisation.filters[21].of: 21 filters of "subwoofers", allowed: at most 20 each`: func(e *project.Equalisation) {
			for range 21 {
				e.Filters = append(e.Filters, e.Filters[0])
			}
		},
		`equalisation.filters[0].gain_db: not a number`: func(e *project.Equalisation) { e.Filters[0].Gain = math.NaN() },
	} {
		d := equalised(t)
		spoil(&d.Equalisation)
		err := d.Validate()
		faults := project.Faults(err)
		found := false
		for _, f := range faults {
			found = found || strings.HasPrefix(f.Error(), want)
		}
		if !found {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

func TestAFilterGoesWithItsLoudspeaker(t *testing.T) {
	d := equalised(t)
	d.Speakers = d.Speakers[1:]
	d.Identify()
	if err := d.Validate(); err != nil || len(d.Equalisation.Filters) != 1 {
		t.Errorf("%v, %d filters left, want 1", err, len(d.Equalisation.Filters))
	}
}

func TestACopyOfAnEqualisationIsItsOwn(t *testing.T) {
	d := equalised(t)
	c := d.Clone()
	c.Equalisation.Filters[0].Gain, c.Equalisation.Target.Points[0].Level = 1, 1
	if d.Equalisation.Filters[0].Gain != -6 || d.Equalisation.Target.Points[0].Level != 6 {
		t.Error("the copy shares what it should not")
	}
	changes := diff.Compare(d, c)
	if len(changes) != 2 || !strings.Contains(changes[1].What, "filter 1 gain") {
		t.Errorf("changes: %v", changes)
	}
}

// The line between two points is straight over the logarithm of frequency: half-way in
// octaves is half-way in dB.
func TestATargetIsStraightOverOctaves(t *testing.T) {
	d := equalised(t)
	for f, want := range map[float64]float64{10: 6, 20: 6, 40: 3, 80: 0, 200: 0} {
		if got := d.Equalisation.Target.At(f); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g Hz: %g dB, want %g", f, got, want)
		}
	}
	if (project.Target{}).At(50) != 0 || (project.Target{}).Called() != "flat" {
		t.Error("no points are not flat")
	}
}
