// SPDX-License-Identifier: MIT

package pair_test

import (
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/fit"
	"earline/project/pair"
	"earline/project/place"
	"earline/project/projecttest"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

func speaker(t testing.TB, d *project.Design, name string) place.Item {
	t.Helper()
	for i, l := range d.Speakers {
		if l.Name() == name {
			return place.Item{Kind: place.SpeakerItem, Index: i}
		}
	}
	t.Fatalf("no loudspeaker %s", name)
	return place.Item{}
}

func TestLeftAndRightArePartners(t *testing.T) {
	d := demo(t, "large")
	d.Speakers[speaker(t, d, "M-135").Index].At.X = 7.5
	for name, want := range map[string]string{
		"M+090": "M-090", "M-090 b": "M+090 b", "U+045": "U-045",
		"M+135": "M-135", // by its label: they hang at different distances
		"LFE1":  "LFE2",  // by its place
	} {
		p, ok := pair.Of(d, speaker(t, d, name))
		if !ok || d.Speakers[p.Other].Name() != want {
			t.Errorf("%s: partner %d, %v, want %s", name, p.Other, ok, want)
		}
		if apart := name == "M+135"; p.Mirrored == apart {
			t.Errorf("%s: mirrored %v", name, p.Mirrored)
		}
	}
	if p, ok := pair.Of(d, speaker(t, d, "M+000")); ok {
		t.Errorf("M+000 has the partner %s", d.Speakers[p.Other].Name())
	}
	if _, ok := pair.Of(d, place.Item{Kind: place.SpeakerItem, Index: 99}); ok {
		t.Error("what is not there has a partner")
	}
	lights := place.Item{Kind: place.FeatureItem, Index: 4}
	if p, ok := pair.Of(d, lights); !ok || p.Other != 5 {
		t.Errorf("the downlights are no pair: %+v, %v", p, ok)
	}
}

// Seen: every left/right pair had to be typed twice; dragging one said "mirrors
// M-110" and moved one only.
func TestTheOtherOfAPairFollows(t *testing.T) {
	base := demo(t, "large")
	it := speaker(t, base, "M+090")
	rapid.Check(t, func(t *rapid.T) {
		var links pair.Links
		d := base.Clone()
		at := rapid.Float64Range(0, 5)
		l := &d.Speakers[it.Index]
		l.At = project.PointOf(geometry.V(at.Draw(t, "x"), at.Draw(t, "y"), at.Draw(t, "z")))
		l.Aim = project.Aim{Fixed: rapid.Bool().Draw(t, "fixed"), Azimuth: unit.Degrees(rapid.IntRange(-180, 180).Draw(t, "azimuth"))}
		l.Tuning.Gain = -3
		along := links.Follow(base, d)
		if len(along) != 1 {
			t.Fatalf("%d pairs followed", len(along))
		}
		o := d.Speakers[along[0].Other]
		if want := pair.Speaker(*l, along[0].Line); o.At != want.At || o.Aim != want.Aim || o.Tuning != want.Tuning {
			t.Fatalf("%+v, its partner %+v", *l, o)
		}
		if again := pair.Speaker(pair.Speaker(*l, along[0].Line), along[0].Line); again.Aim != l.Aim {
			t.Fatalf("mirrored twice: %+v", again)
		}
	})
}

func TestAPairSetApartIsEditedOneByOne(t *testing.T) {
	base := demo(t, "large")
	it := speaker(t, base, "M+090")
	p, _ := pair.Of(base, it)
	back, _ := pair.Of(base, place.Item{Kind: it.Kind, Index: p.Other})
	var links pair.Links
	links.Set(base, back, false) // whichever of the two is shown
	d := base.Clone()
	d.Speakers[it.Index].At.Z += 0.1
	if along := links.Follow(base, d); len(along) != 0 {
		t.Error("the other followed")
	}
	links.Set(base, p, true)
	if along := links.Follow(base, d); len(along) != 1 {
		t.Error("together again, the other did not follow")
	}
}

// An edit that touches both, adds or removes stands as it is.
func TestFollowLeavesOtherEditsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := projecttest.Draw(t)
		var links pair.Links
		d := base.Clone()
		for i := range d.Speakers {
			d.Speakers[i].At.Z += 0.1
		}
		want := d.Clone()
		links.Follow(base, d)
		for i := range d.Speakers {
			if d.Speakers[i] != want.Speakers[i] {
				t.Fatalf("%s was moved to %+v", d.Speakers[i].Name(), d.Speakers[i].At)
			}
		}
		if len(base.Speakers) > 0 {
			d = base.Clone()
			d.Speakers = d.Speakers[1:]
			if along := links.Follow(base, d); len(along) > 0 {
				t.Fatal("a removal moved something")
			}
		}
	})
}

// Seen: Duplicate of a soffit landed wholly outside the room, behind the back wall,
// and both were called "soffit".
func TestADuplicatedSoffitIsTheOneOppositeWithANameOfItsOwn(t *testing.T) {
	d := demo(t, "large")
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 8.4, Y: 0}, {X: 8.4, Y: 5.6}, {X: 0, Y: 5.6}}
	soffit := d.Room.Features[0]
	d.Room.Features = []project.Feature{soffit}
	c := pair.Partner(d, 0)
	if want := 5.4; c.At.X != soffit.At.X || c.At.Z != soffit.At.Z || float64(c.At.Y) != want || c.Name != "right soffit" {
		t.Errorf("the duplicate is %q at %v, want the right soffit at y = %v", c.Name, c.At, want)
	}
	d.Room.Features[0].Name = ""
	d.Room.Features = append(d.Room.Features, pair.Partner(d, 0))
	if got := d.Room.Features[1].Name; got != "soffit 2" {
		t.Errorf("the duplicate of a soffit is called %q", got)
	}
	p, ok := pair.Of(d, place.Item{Kind: place.FeatureItem, Index: 1})
	if !ok || p.Other != 0 {
		t.Error("the two are no pair")
	}
	if c := pair.Partner(d, 1); c.Name != "soffit 3" {
		t.Errorf("the third is called %q", c.Name)
	}
}

// A duplicate is in the room, wherever the first stands in it.
func TestADuplicateIsInTheRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := projecttest.Rooms{Convex: true}.Draw(t)
		for i, f := range d.Room.Features {
			at := geometry.Vec2{X: float64(f.At.X), Y: float64(f.At.Y)}
			if !d.Room.Polygon().Contains(at) || d.Room.Polygon().Distance(at) < 0.01 {
				continue
			}
			c := pair.Partner(d, i)
			if q := (geometry.Vec2{X: float64(c.At.X), Y: float64(c.At.Y)}); !d.Room.Polygon().Contains(q) && d.Room.Polygon().Distance(q) > 0.1 {
				t.Fatalf("%s at %v is duplicated to %v", f.Words(), f.At, c.At)
			}
			with := d.Clone()
			with.Room.Features = append(with.Room.Features, c)
			if err := with.Validate(); err != nil {
				t.Fatal(err)
			}
			_ = fit.Findings(with)
		}
	})
}

// Labels are those of Rec. ITU-R BS.2051-3 (2022), table of loudspeaker labels:
// positive azimuths are on the left.
func TestLabel(t *testing.T) {
	for label, want := range map[string]string{
		"M+090": "M-090", "U-045": "U+045", "UH+110": "UH-110", "M+SC": "M-SC",
		"M+000": "M+000", "M+180": "M+180", "T+000": "T+000", "LFE1": "LFE1",
	} {
		if got := pair.Label(label); got != want {
			t.Errorf("Label(%q) = %q, want %q", label, got, want)
		}
	}
}
