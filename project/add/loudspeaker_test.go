// SPDX-License-Identifier: MIT

package add_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/add"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/pair"
	"earline/project/place"
	"earline/project/projecttest"
)

func findings(d *project.Design) map[string]bool {
	out := map[string]bool{}
	for _, f := range fit.Findings(d) {
		out[f.String()] = true
	}
	return out
}

// own is the start room as the user made it: 5.2 by 3.9 m, 2.5 m high.
func own() *project.Design {
	d := file.New()
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 5.2, Y: 0}, {X: 5.2, Y: 3.9}, {X: 0, Y: 3.9}}
	d.Screen.Centre, d.Seating.Rows[0].Centre = 1.95, 1.95
	d.Speakers = nil
	return d
}

// Seen: 6 of 6 added loudspeakers were wrong: M+090 166 mm into the wall, U+045 184 mm
// through the ceiling.
func TestAddedLoudspeakersStandBeforeTheirWall(t *testing.T) {
	d := own()
	before := findings(d)
	for n := range 18 {
		l, err := add.Loudspeaker(d)
		if err != nil {
			t.Errorf("the %dth: %v", n+1, err)
			break
		}
		d.Speakers = append(d.Speakers, l)
		if err := d.Validate(); err != nil {
			t.Fatal(err)
		}
		for f := range findings(d) {
			if !before[f] {
				t.Errorf("after %s: %s", l.Name(), f)
			}
		}
	}
	for _, l := range d.Speakers {
		az, el, _ := geometry.AzEl(l.At.Vec().Sub(place.MainPoint(d)))
		t.Logf("%s on the %s at %v: azimuth %v, elevation %v", l.Name(), l.Mount, l.At, unit.FromRadians(az), unit.FromRadians(el))
		if strings.HasPrefix(l.Label, "M+") && pair.Label(l.Label) != l.Label {
			if p, ok := pair.Of(d, speakerItem(d, l.Name())); !ok || !p.Mirrored {
				t.Errorf("%s has no mirror image", l.Name())
			}
		}
	}
}

func speakerItem(d *project.Design, name string) place.Item {
	for i, l := range d.Speakers {
		if l.Name() == name {
			return place.Item{Kind: place.SpeakerItem, Index: i}
		}
	}
	return place.Item{}
}

// The first stand exactly where their labels say, where nothing is in the way.
func TestAddedLoudspeakersStandWhereTheirLabelSays(t *testing.T) {
	d := own()
	for label, want := range map[string][2]float64{"M+110": {110, 10}, "M+090": {90, 10}, "U+045": {45, 45}} {
		for {
			l, err := add.Loudspeaker(d)
			if err != nil {
				t.Fatal(err)
			}
			d.Speakers = append(d.Speakers, l)
			if l.Label != label && len(d.Speakers) < 12 {
				continue
			}
			break
		}
		at := d.Speakers[speakerItem(d, label).Index]
		az, el, _ := geometry.AzEl(at.At.Vec().Sub(place.MainPoint(d)))
		const tol = 0.1 // degrees: places are rounded to the millimetre
		if math.Abs(float64(unit.FromRadians(az))-want[0]) > tol || math.Abs(float64(unit.FromRadians(el))-want[1]) > tol {
			t.Errorf("%s stands at azimuth %v, elevation %v", label, unit.FromRadians(az), unit.FromRadians(el))
		}
		d = own()
	}
}

// An added loudspeaker makes nothing to remark upon that was not there, stands in
// nothing and no door's way, or is refused with the reason.
func TestAnAddedLoudspeakerBreaksNothing(t *testing.T) {
	added := 0
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Draw(t)
		before := findings(d)
		for range 3 {
			l, err := add.Loudspeaker(d)
			if err != nil {
				if strings.Contains(err.Error(), "\n") || err.Error() == "" {
					t.Fatalf("refused in %q", err)
				}
				return
			}
			added++
			stood := place.Parts(d)
			d.Speakers = append(d.Speakers, l)
			if err := d.Validate(); err != nil {
				t.Fatal(err)
			}
			for f := range findings(d) {
				if !before[f] {
					t.Fatalf("after %s at %v: %s", l.Name(), l.At, f)
				}
			}
			b := place.OneSpeaker(d, l, place.MainPoint(d))
			for _, p := range stood {
				const touch = 0.002 + 1e-9 // m
				if in := 0.0; p.Box != nil && !b.Spec.Flush {
					if in = geometry.Overlap(*p.Box, b.Box); in > touch {
						t.Fatalf("%s stands %v m in %s", l.Name(), in, p)
					}
				}
			}
		}
	})
	if added == 0 {
		t.Error("none was added in any room")
	}
}

func TestADuplicateStandsBesideTheFirst(t *testing.T) {
	d := file.New()
	for i := range d.Speakers {
		l, err := add.Beside(d, i)
		if err != nil {
			t.Errorf("%s: %v", d.Speakers[i].Name(), err)
			continue
		}
		with := d.Clone()
		with.Speakers = append(with.Speakers, l)
		if fs := fit.Findings(with); len(fs) > 0 || with.Validate() != nil || l.Copy != "b" {
			t.Errorf("%s at %v: %v", l.Name(), l.At, fs)
		}
	}
}

func TestWithoutAModelNothingIsAdded(t *testing.T) {
	d := file.New()
	d.Speakers, d.Models = nil, nil
	if _, err := add.Loudspeaker(d); err == nil {
		t.Error("added a loudspeaker of no model")
	}
}
