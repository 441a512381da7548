// SPDX-License-Identifier: MIT

package tour_test

import (
	"math"
	"strings"
	"testing"

	"earline/project"
	"earline/project/light"
	"earline/project/place"
	"earline/scene"
	"earline/scene/bake"
	"earline/scene/tour"
)

// The lights come on one after another, from the lowest to the highest, are as in house
// light, and end as in the show with the picture running; nothing jumps.
func TestTheLightsReceivePeople(t *testing.T) {
	for _, name := range []string{"small", "two-row", "large"} {
		d := demo(t, name)
		r := place.Of(d)
		m := light.Of(d)
		e, err := tour.EntranceOf(r, tour.Pose{Seat: scene.None})
		if err != nil {
			t.Fatal(err)
		}
		_, before := e.Show(m, 0)
		for _, v := range before.Levels {
			if v != 0 {
				t.Errorf("%s: it begins with %v", name, before.Levels)
			}
		}
		began := map[int]float64{}
		house := bake.In(m, project.House)
		reached := false
		const step = 0.05
		for s := step; s <= e.Length(); s += step {
			_, now := e.Show(m, s)
			same := true
			for i, v := range now.Levels {
				most := 1.0
				if i == now.Picture {
					most = m.White()
				}
				if math.IsNaN(v) || math.Abs(v-before.Levels[i]) > 0.12*most {
					t.Fatalf("%s: layer %d jumps from %g to %g at %.2f s", name, i, before.Levels[i], v, s)
				}
				if _, on := began[i]; !on && v > 0 {
					began[i] = s
				}
				same = same && math.Abs(v-house.Levels[i]) < 1e-9
			}
			reached = reached || same
			before = now
		}
		if !reached {
			t.Errorf("%s: never as in house light", name)
		}
		show := bake.In(m, project.Show)
		for i, v := range before.Levels {
			if math.Abs(v-show.Levels[i]) > 1e-9 {
				t.Errorf("%s: layer %d ends at %g, in the show it is %g", name, i, v, show.Levels[i])
			}
		}
		for i := range d.LightGroups {
			for k := range d.LightGroups {
				a, b := d.LightGroups[i], d.LightGroups[k]
				if a.Scenes.House > 0 && b.Scenes.House > 0 && a.Kind != project.Stars && b.Kind == project.Stars && began[i] >= began[k] {
					t.Errorf("%s: the stars come on at %.2f s, %s at %.2f s", name, began[k], d.LightName(i), began[i])
				}
			}
		}
		if e.Says(0) != "" || e.Says(e.Length()) != "The picture starts" {
			t.Errorf("%s: says %q, %q", name, e.Says(0), e.Says(e.Length()))
		}
		last := 0.0
		for s := 0.0; s < e.Length(); s = e.Next(s) {
			if s > 0 && s <= last {
				t.Fatalf("%s: next is %v", name, s)
			}
			last = s
		}
	}
}

// The times that are chosen are kept.
func TestTheEntranceTakesTheTimesChosen(t *testing.T) {
	d := demo(t, "small")
	length := func() float64 {
		e, err := tour.EntranceOf(place.Of(d), tour.Pose{Seat: scene.None})
		if err != nil {
			t.Fatal(err)
		}
		return e.Length()
	}
	before := length()
	usual := d.Entrance.Usual()
	d.Entrance = project.Entrance{House: usual.House + 10, Down: usual.Down + 3}
	if by := length() - before; math.Abs(by-13) > 1e-9 {
		t.Errorf("%v s longer, want 13", by)
	}
}

// A room without lamps has no entrance, and says why.
func TestARoomWithoutLampsHasNoEntrance(t *testing.T) {
	d := demo(t, "small")
	for i := range d.LightGroups {
		d.LightGroups[i].Scenes.House = 0
	}
	for _, want := range []string{"light_groups: in the scene house every light group is at level 0, allowed: ", "light_groups: none, allowed: one at least"} {
		if _, err := tour.EntranceOf(place.Of(d), tour.Pose{}); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("got %v, want %s", err, want)
		}
		d.LightGroups = nil
	}
}

func TestFramesCountForTheirTime(t *testing.T) {
	for _, tt := range []struct {
		length float64
		fps    int
		want   int
	}{{1, 25, 25}, {1.01, 25, 26}, {0, 25, 1}, {0.2, 10, 2}, {26.6, 20, 532}} {
		if got := tour.Frames(tt.length, tt.fps); got != tt.want {
			t.Errorf("%v s at %d: %d, want %d", tt.length, tt.fps, got, tt.want)
		}
	}
}
