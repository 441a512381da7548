// SPDX-License-Identifier: MIT

package light

import (
	"context"
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/projecttest"
)

func study(t testing.TB, d *project.Design) *Result {
	t.Helper()
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	r, err := Study(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// room returns a demo with these groups alone.
func room(t testing.TB, name string, groups ...project.LightGroup) *project.Design {
	d, ok := file.Demo(name)
	if !ok {
		t.Fatal("no demo")
	}
	d = d.Clone()
	d.LightGroups = groups
	return d
}

// Worked by hand: 0.1 lx on a matt white screen is 0.0318 cd/m², and a white of 48 over it
// 1508 to 1.
func TestStrayLightAndTheContrastItLeaves(t *testing.T) {
	d := room(t, "small")
	d.Screen.Gain, d.Projector, d.ProjectorModels, d.Picture = 1, project.Projector{}, nil, project.Picture{}
	r := study(t, d)
	geomtest.Within(t, "stray", r.Stray(0.1), 0.0318, 0.00005)
	geomtest.Within(t, "left", Left(48, r.Stray(0.1)), 1508, 0.5)
	if !math.IsInf(Left(48, 0), 1) {
		t.Error("no stray light leaves a limit")
	}
	if r.Projected || len(r.Whites) != 1 || r.Whites[0].Luminance != 48 {
		t.Errorf("without a projector white is %+v", r.Whites)
	}
}

// A downlight over an open floor: candelas over the square of its height.
func TestADownlightOnTheFloor(t *testing.T) {
	d := room(t, "small", project.LightGroup{Kind: project.Downlight, At: []project.Point{{X: 1.5, Y: 0.9, Z: 2.4}}, Flux: 600, Beam: 60})
	m := Of(d)
	lux := make([]float64, m.Layers)
	m.Direct(lux, geometry.Vec{X: 1.5, Y: 0.9}, geometry.Vec{Z: 1})
	n := math.Log(0.5) / math.Log(math.Cos(math.Pi/6))
	geomtest.Within(t, "lux", lux[0], 600*(n+1)/(2*math.Pi)/(2.4*2.4), 0.01*lux[0])
	geomtest.Within(t, "the picture's", lux[1], lux[1], 0)
	if !(lux[1] > 0) {
		t.Error("the picture does not light the floor before it")
	}
}

// Half the light of every group is half of everything: a scene is a sum.
func TestScenesAddUp(t *testing.T) {
	cove := project.LightGroup{Kind: project.Strip, Path: []project.Point{{X: 1, Y: 0.2, Z: 2.5}, {X: 5, Y: 0.2, Z: 2.4}}, Flux: 800, Tilt: 180,
		Scenes: project.SceneLevels{House: 0.7, Show: 0.1}}
	down := project.LightGroup{Kind: project.Downlight, At: []project.Point{{X: 3, Y: 1, Z: 2.6}, {X: 4, Y: 3, Z: 2.6}}, Flux: 900, Beam: 50,
		Scenes: project.SceneLevels{House: 0.2}}
	both, first, second := study(t, room(t, "two-row", cove, down)), study(t, room(t, "two-row", cove)), study(t, room(t, "two-row", down))
	levels := both.Levels(project.House)
	if levels[both.Model.Picture] != 0 {
		t.Error("a scene has the picture in it")
	}
	cove.Flux *= 0.7
	dimmed := study(t, room(t, "two-row", cove))
	for i, s := range both.all() {
		geomtest.Within(t, "sum", s.In(levels), 0.7*first.all()[i].Lux[0]+0.2*second.all()[i].Lux[0], 1e-9)
		geomtest.Within(t, "dimmed", dimmed.all()[i].Lux[0], 0.7*first.all()[i].Lux[0], 1e-6)
		if s.Straight[0] > s.Lux[0] {
			t.Errorf("%s gets %g straight, %g in all", s.Name, s.Straight[0], s.Lux[0])
		}
	}
}

// The room mirrored left to right is lit mirrored.
func TestAMirroredRoomIsLitMirrored(t *testing.T) {
	one := project.LightGroup{Kind: project.Downlight, At: []project.Point{{X: 3.2, Y: 1.1, Z: 2.65}}, Flux: 500, Beam: 60, Tilt: 20, Azimuth: 30}
	other := one
	other.At, other.Azimuth = []project.Point{{X: 3.2, Y: 4.2 - 1.1, Z: 2.65}}, -30
	strip := project.LightGroup{Kind: project.Strip, Path: []project.Point{{X: 1, Y: 0.1, Z: 2.4}, {X: 5, Y: 0.1, Z: 2.4}}, Flux: 500, Tilt: 180}
	mirrored := strip
	mirrored.Path = []project.Point{{X: 1, Y: 4.1, Z: 2.4}, {X: 5, Y: 4.1, Z: 2.4}}
	d := room(t, "two-row", one, other, strip, mirrored)
	d.Room.Finishes.Joinery, d.Room.Finishes.Treatments = project.Finish{}, project.Finish{} // the door is on one side alone
	r := study(t, d)
	across := 13
	for i := range r.Screen {
		k := i/across*across + across - 1 - i%across
		for layer, twin := range []int{1, 0, 3, 2, 4} {
			geomtest.Within(t, "picture", r.Screen[i].Lux[layer], r.Screen[k].Lux[twin], 1e-4*(1e-3+r.Screen[i].Lux[layer]))
		}
	}
	for i := range r.Seats {
		k := i/3*3 + 2 - i%3
		geomtest.Within(t, "seat", r.Seats[i].Lux[0], r.Seats[k].Lux[1], 1e-4*(1e-3+r.Seats[i].Lux[0]))
	}
}

// A lamp aimed at the picture is named as the one that gives it most; one let 30 mm into
// the ceiling or a riser is not dark.
func TestTheLampThatBleedsIsFound(t *testing.T) {
	steps := project.LightGroup{Name: "Step lights", Kind: project.StepLight, Flux: 30, Tilt: 80, Azimuth: 0,
		At: []project.Point{{X: 3.76, Y: 0.3, Z: 0.12}, {X: 3.76, Y: 3.9, Z: 0.12}}, Scenes: project.SceneLevels{Show: 0.5}}
	steps.At[1].X, steps.At[1].Y = 2.2, 2.1 // before the first row
	down := project.LightGroup{Kind: project.Downlight, At: []project.Point{{X: 4.5, Y: 2.1, Z: 2.7}}, Flux: 500, Beam: 40, Scenes: project.SceneLevels{House: 1}}
	r := study(t, room(t, "two-row", steps, down))
	worst := r.Lamps[0]
	for _, l := range r.Lamps {
		if l.Lux > worst.Lux {
			worst = l
		}
	}
	if worst.Layer != 0 || worst.Lamp != 1 || r.Lamps[0].Lux == 0 {
		t.Errorf("%+v of %+v", worst, r.Lamps)
	}
	if s := Over(r.Seats, []float64{0, 1, 0}); s.Most < 1 {
		t.Errorf("a downlight let into the ceiling gives the seats %+v", s)
	}
	said := strings.Join(r.BleedWords(project.Show), "\n")
	if !strings.Contains(said, "; lamp 2, at") {
		t.Error(said)
	}
}

// Any room with any light gets an answer of numbers that are some; asking changes nothing.
func TestAnyRoomIsAnswered(t *testing.T) {
	for seed := range uint64(12) {
		d := projecttest.Room(seed)
		r := geomtest.Rand(t)
		point := func() project.Point {
			return project.Point{X: unit.Length(geomtest.Between(r, -1, 9)), Y: unit.Length(geomtest.Between(r, -1, 7)), Z: unit.Length(geomtest.Between(r, -0.5, 4))}
		}
		d.LightGroups = []project.LightGroup{
			{Kind: project.Strip, Path: []project.Point{point(), point(), point()}, Flux: 900, Tilt: 120, Azimuth: 10, Scenes: project.SceneLevels{House: 1, Show: 0.1}},
			{Kind: project.Downlight, At: []project.Point{point(), point()}, Flux: 900, Beam: 5},
			{Kind: project.Stars, Flux: 20, Scenes: project.SceneLevels{Show: 1}},
			{Kind: project.Stars, Flux: 20, Area: []project.Corner{{X: -50, Y: -50}, {X: 90, Y: -50}, {X: 90, Y: 90}}},
		}
		res := study(t, d)
		data, err := json.Marshal(res.Report())
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		for _, s := range project.LightScenes() {
			text += strings.Join(res.BleedWords(s), "") + res.SceneWords(s)
		}
		if bad := regexp.MustCompile(`NaN|Inf|%!`).FindString(text); bad != "" {
			t.Errorf("room %d: %s in %s", seed, bad, text)
		}
		for _, s := range res.all() {
			for k, v := range s.Lux {
				if !(v >= 0) || v < s.Straight[k] {
					t.Errorf("room %d: %s: %g lx, %g straight", seed, s.Name, v, s.Straight[k])
				}
			}
		}
		if back := res.Returned(); !(back >= 0 && back < 1) {
			t.Errorf("room %d: the picture gets back %g of itself", seed, back)
		}
	}
}

// Asking once more for light is as fast as the last time: nothing is set aside.
func TestDirectSetsNothingAside(t *testing.T) {
	m := Of(room(t, "large", project.LightGroup{Kind: project.Strip, Path: []project.Point{{X: 1, Y: 1, Z: 3}, {X: 5, Y: 1, Z: 3}}, Flux: 100, Tilt: 180}))
	lux := make([]float64, m.Layers)
	if n := testing.AllocsPerRun(20, func() { m.Direct(lux, geometry.Vec{X: 3, Y: 3, Z: 1}, geometry.Vec{Z: 1}) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func TestStudyStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Study(ctx, room(t, "small")); err == nil {
		t.Error("went on")
	}
}

func TestALampBeyondTheWallIsNamedAndNotOnlyDark(t *testing.T) {
	spot := project.LightGroup{Name: "Spot", Kind: project.Downlight, At: []project.Point{{X: 2, Y: 1, Z: 2}}, Flux: 100, Beam: 40}
	if r := study(t, room(t, "small", spot)); len(r.Misplaced) > 0 {
		t.Error(r.Misplaced)
	}
	spot.At[0].Y = -1
	if got, want := study(t, room(t, "small", spot)).Notes()[0], "Spot is 1.000 m outside the room: little of its light comes into the room, or none."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
