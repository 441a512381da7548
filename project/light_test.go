// SPDX-License-Identifier: MIT

package project_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"earline/geometry"
	"earline/geometry/geomtest"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
)

// lit returns the starter room with a group of each kind.
func lit() *project.Design {
	d := file.New()
	d.Room.Finishes = project.Finishes{Floor: project.Finish{Reflectance: 0.1}, Wall: []project.WallFinish{{Wall: 2, Reflectance: 0.3}}}
	all := project.SceneLevels{House: 1, Preshow: 0.3, Cleaning: 1}
	d.LightGroups = []project.LightGroup{
		{Name: "Cove", Kind: project.Strip, Path: []project.Point{{X: 0, Y: 0.1, Z: 2.2}, {X: 3, Y: 0.1, Z: 2.2}, {X: 3, Y: 1.1, Z: 2.2}}, Flux: 1200, Colour: 2700, Tilt: 180, Scenes: all},
		{Kind: project.Downlight, At: []project.Point{{X: 2, Y: 1, Z: 2.4}}, Flux: 600, Beam: 40, Scenes: all},
		{Kind: project.StepLight, At: []project.Point{{X: 3, Y: 0.2, Z: 0.1}}, Flux: 10, Scenes: project.SceneLevels{Show: 0.2}},
		{Kind: project.Stars, Flux: 30, Scenes: all},
	}
	return d
}

func TestLightThatCannotBe(t *testing.T) {
	if err := lit().Validate(); err != nil {
		t.Fatal(err)
	}
	for want, edit := range map[string]func(d *project.Design){
		`light_groups[0].flux_lm: 0 lm, allowed: 0.01 lm to 500000 lm`:                              func(d *project.Design) { d.LightGroups[0].Flux = 0 },
		`light_groups[0].path: 0 entries, allowed: 2 to 200`:                                        func(d *project.Design) { d.LightGroups[0].Path = nil },
		`light_groups[0].path: 0 m of strip, allowed: 0.01 m or more`:                               func(d *project.Design) { d.LightGroups[0].Path = make([]project.Point, 2) },
		`light_groups[1].at: 0 entries, allowed: 1 to 500`:                                          func(d *project.Design) { d.LightGroups[1].At = nil },
		`light_groups[1].beam_deg: 0°, allowed: 5° to 160°`:                                         func(d *project.Design) { d.LightGroups[1].Beam = 0 },
		`light_groups[1].path: 3 entries in a group of kind "downlight", allowed: for a strip only`: func(d *project.Design) { d.LightGroups[1].Path = d.LightGroups[0].Path },
		`light_groups[1].kind: "spot", allowed: "strip", "downlight", "step", "star"`:               func(d *project.Design) { d.LightGroups[1].Kind = "spot" },
		`light_groups[1].scenes.show: 1.2, allowed: 0 to 1`:                                         func(d *project.Design) { d.LightGroups[1].Scenes.Show = 1.2 },
		`light_groups[1].scenes.house: not a number, allowed: 0 to 1`:                               func(d *project.Design) { d.LightGroups[1].Scenes.House = math.NaN() },
		`light_groups[2].colour_k: 27 K, allowed: 1000 K to 20000 K`:                                func(d *project.Design) { d.LightGroups[2].Colour = 27 },
		`light_groups[3].tilt_deg: 10°, allowed: nothing: stars shine square out of their ceiling`:  func(d *project.Design) { d.LightGroups[3].Tilt = 10 },
		`light_groups[3].area: 2 entries, allowed: 3 to 64`:                                         func(d *project.Design) { d.LightGroups[3].Area = make([]project.Corner, 2) },
		`light_groups[3].area: an outline that is not simple, or encloses nothing`:                  func(d *project.Design) { d.LightGroups[3].Area = make([]project.Corner, 3) },
		`light_groups: 1000 lamps in all, allowed: 0 to 500; a strip stands for a line of many`: func(d *project.Design) {
			d.LightGroups = d.LightGroups[1:3]
			d.LightGroups[0].At, d.LightGroups[1].At = make([]project.Point, 500), make([]project.Point, 500)
		},
		`light_groups: 41 entries, allowed: 0 to 40`:                          func(d *project.Design) { d.LightGroups = slices.Repeat(d.LightGroups[2:3], 41) },
		`room.finishes.floor.reflectance: 1.2, allowed: 0.01 to 0.98`:         func(d *project.Design) { d.Room.Finishes.Floor.Reflectance = 1.2 },
		`room.finishes.wall[0].wall: 9, allowed: 1 to 4`:                      func(d *project.Design) { d.Room.Finishes.Wall[0].Wall = 9 },
		`room.finishes.wall[1].wall: 2 again, allowed: each wall once`:        func(d *project.Design) { d.Room.Finishes.Wall = slices.Repeat(d.Room.Finishes.Wall, 2) },
		`light_groups[0].id: "a b", allowed: 1 to 32 letters, digits, - or _`: func(d *project.Design) { d.LightGroups[0].ID = "a b" },
		`light_groups: 600 m of strip in all, allowed: 0 m to 400 m`: func(d *project.Design) {
			d.LightGroups[0].Path = []project.Point{{X: -100}, {X: 100}, {X: -100}, {X: 100}}
		},
		`light_groups[0].path[1].x_m: 101 m, allowed: -100 m to 100 m`:        func(d *project.Design) { d.LightGroups[0].Path[1].X = 101 },
		`light_groups[2].tilt_deg: 190°, allowed: 0° to 180°`:                 func(d *project.Design) { d.LightGroups[2].Tilt = 190 },
		`light_groups[2].area: 1 entry in a group of kind "step", allowed: f`: func(d *project.Design) { d.LightGroups[2].Area = make([]project.Corner, 1) },
	} {
		d := lit()
		edit(d)
		if err := d.Validate(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %s, got %v", want, err)
		}
	}
}

// What is written comes back; a copy shares nothing with it; groups get ids.
func TestLightIsKept(t *testing.T) {
	d := lit()
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	again, err := file.Decode(data, "")
	if err != nil {
		t.Fatal(err)
	}
	d.Identify()
	if !reflect.DeepEqual(again.LightGroups, d.LightGroups) || !reflect.DeepEqual(again.Room.Finishes, d.Room.Finishes) {
		t.Errorf("came back as %+v %+v", again.LightGroups, again.Room.Finishes)
	}
	if id := again.LightGroups[3].ID; id != "l4" {
		t.Errorf("the last is %q", id)
	}
	c := again.Clone()
	c.LightGroups[0].Path[0].X, c.LightGroups[1].At[0].X, c.LightGroups[1].Flux, c.Room.Finishes.Wall[0].Wall = 7, 7, 7, 1
	if !reflect.DeepEqual(again.LightGroups, d.LightGroups) || !reflect.DeepEqual(again.Room.Finishes, d.Room.Finishes) {
		t.Error("a copy shares lamps with it")
	}
}

// Straight down unless tilted; tilted to the screen, to the left, straight up.
func TestWhereALampLooks(t *testing.T) {
	for _, tt := range []struct {
		tilt, azimuth unit.Degrees
		want          geometry.Vec
	}{{0, 0, geometry.Vec{Z: -1}}, {90, 0, geometry.Vec{X: -1}}, {90, 90, geometry.Vec{Y: -1}}, {90, 180, geometry.Vec{X: 1}}, {180, 0, geometry.Vec{Z: 1}}} {
		g := project.LightGroup{Tilt: tt.tilt, Azimuth: tt.azimuth}
		geomtest.WithinVec(t, "aim", g.Aim(), tt.want, 1e-12)
	}
	g := lit().LightGroups[0]
	geomtest.Within(t, "length", g.Length(), 4, 1e-12)
}

func TestAKindOfLightThatIsNoneIsFaultedOnce(t *testing.T) {
	d := lit()
	d.LightGroups[1].Kind = "spot"
	if err := d.Validate(); err == nil || strings.Contains(err.Error(), "\n") {
		t.Errorf("not one line: %v", err)
	}
}

func TestAThousandLampsInOneGroupAreFaultedOnce(t *testing.T) {
	d := lit()
	d.LightGroups[1].At = slices.Repeat(d.LightGroups[1].At, 1000)
	if err := d.Validate(); err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "light_groups[1].at: 1000 entries, allowed: 1 to 500") {
		t.Errorf("not one line: %v", err)
	}
}
