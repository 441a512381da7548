// SPDX-License-Identifier: MIT

package bake_test

import (
	"context"
	"math"
	"reflect"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/light"
	"earline/scene"
	"earline/scene/bake"
)

// baked returns a demo, ready, with its light.
func baked(t testing.TB, name string) (*light.Model, *bake.Light) {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatal("no demo")
	}
	o := scene.Default()
	o.Client, o.Bare = true, true
	list := scene.Build(d, nil, o)
	m := light.Of(d)
	l, err := bake.Of(list, bake.LampsOf(m, list), 0.5).Light(context.Background(), bake.Quick())
	if err != nil {
		t.Fatal(err)
	}
	return m, l
}

func TestTheScenesOfADemo(t *testing.T) {
	m, l := baked(t, "small")
	_, again := baked(t, "small")
	for _, s := range project.LightScenes() {
		list := l.Show(bake.In(m, s))
		if !reflect.DeepEqual(list, again.Show(bake.In(m, s))) {
			t.Errorf("%s: the same room is lit otherwise", s)
		}
		has := map[int]bool{}
		for _, mesh := range list.Meshes {
			has[mesh.Shines] = true
			if len(mesh.Lit) > 0 == mesh.Unlit {
				t.Errorf("%s: %s: %d numbers of light", s, mesh.Name, len(mesh.Lit))
			}
			for _, v := range mesh.Lit {
				if !(v >= 0) || math.IsInf(float64(v), 0) {
					t.Fatalf("%s: %s: light of %g", s, mesh.Name, v)
				}
			}
		}
		if runs := s == project.Show; has[scene.Picture] != runs || has[scene.Canvas] == runs {
			t.Errorf("%s: the picture is seen: %v, the bare screen: %v", s, has[scene.Picture], has[scene.Canvas])
		}
		for i := range m.Design.LightGroups {
			if on := m.Design.LightGroups[i].Scenes.At(s) > 0; has[i+1] && !on {
				t.Errorf("%s: group %d is off, and its lamps shine", s, i+1)
			}
		}
	}
}

// One stop more is twice the light; twice the level of everything is not, since the eye
// adapts, but more than before.
func TestExposureAndTheEye(t *testing.T) {
	m, l := baked(t, "small")
	d := bake.In(m, project.House)
	sum := func(d bake.Dimmed) (all float64) {
		for _, mesh := range l.Show(d).Meshes {
			for _, v := range mesh.Lit {
				all += float64(v)
			}
		}
		return all
	}
	before := sum(d)
	d.Exposure = 1
	if got := sum(d) / before; math.Abs(got-2) > 1e-3 {
		t.Errorf("one stop more shows %g times the light", got)
	}
	d.Exposure = 0
	for i := range d.Levels {
		d.Levels[i] /= 2
	}
	if got := sum(d) / before; got > 0.95 || got < 0.5 {
		t.Errorf("half the light shows %g times as bright", got)
	}
}

// A dimmer, another name or another camera leaves the light as it is; a lamp of more light,
// a colour and whatever moves do not.
func TestWhatTheLightOfARoomDependsOn(t *testing.T) {
	d, _ := file.Demo("small")
	key := func(change func(d *project.Design)) bake.Key {
		c := d.Clone()
		change(c)
		o := scene.Default()
		o.Client, o.Bare = true, true
		list := scene.Build(c, nil, o)
		return bake.KeyOf(list, bake.LampsOf(light.Of(c), list))
	}
	before := key(func(*project.Design) {})
	for name, change := range map[string]func(d *project.Design){
		"level": func(d *project.Design) { d.LightGroups[0].Scenes.House = 0.123 },
		"name":  func(d *project.Design) { d.Name = "another" },
	} {
		if key(change) != before {
			t.Errorf("%s: another key", name)
		}
	}
	for name, change := range map[string]func(d *project.Design){
		"flux":        func(d *project.Design) { d.LightGroups[0].Flux *= 2 },
		"lamp moved":  func(d *project.Design) { d.LightGroups[0].At[0].X += 0.1 },
		"finish":      func(d *project.Design) { d.Room.Finishes.Floor.Reflectance = 0.31 },
		"loudspeaker": func(d *project.Design) { d.Speakers[0].At.Z += 0.1 },
		"row":         func(d *project.Design) { d.Seating.Rows[0].Distance += 0.1 },
	} {
		if key(change) == before {
			t.Errorf("%s: the same key", name)
		}
	}
}

// Who sits down does not see the own head and headrest, which still throw their shadow.
func TestFromASeatTheOwnSitterIsNotSeen(t *testing.T) {
	m, l := baked(t, "small")
	d := bake.In(m, project.House)
	all := len(l.Show(d).Meshes)
	d.FromSeat = 1
	list := l.Show(d)
	if all-len(list.Meshes) != 2 {
		t.Errorf("%d of %d meshes are left", len(list.Meshes), all)
	}
	for _, mesh := range list.Meshes {
		if mesh.Seat == 2 {
			t.Errorf("%s of the own seat is seen", mesh.Name)
		}
	}
}

// The picture lit the room as a cinema's would, whatever projector the design had.
func TestThePictureIsAsBrightAsItsProjector(t *testing.T) {
	m, _ := baked(t, "large")
	d := bake.In(m, project.Show)
	r, err := light.Study(t.Context(), m.Design)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := d.Levels[d.Picture], r.Whites[0].Luminance; got != want || want == 48 {
		t.Errorf("white of %g cd/m², the study of light has %g", got, want)
	}
}
