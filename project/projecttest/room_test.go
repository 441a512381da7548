// SPDX-License-Identifier: MIT

package projecttest

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
)

// Every room drawn is a valid design, and always the same one.
func TestRoomsAreValid(t *testing.T) {
	for _, o := range []Rooms{{}, {Convex: true}, {Inside: true, Seats: 6, Speakers: 4}} {
		for seed := range uint64(500) {
			d := o.Room(seed)
			if err := d.Validate(); err != nil {
				t.Fatalf("%+v, room %d: %v", o, seed, err)
			}
			if !reflect.DeepEqual(d, o.Room(seed)) {
				t.Fatalf("%+v, room %d is another one the second time", o, seed)
			}
			if o.Inside {
				b := &builder{d: d, poly: d.Room.Polygon()}
				for _, r := range d.Seating.Rows {
					if !b.fits(r) {
						t.Fatalf("room %d: somebody is outside", seed)
					}
				}
				for _, l := range d.Speakers {
					if !b.driversInside(l) {
						t.Fatalf("room %d: a driver of %s is outside", seed, l.Name())
					}
				}
				if !b.pictureInside() {
					t.Fatalf("room %d: the picture is not inside", seed)
				}
			}
			if o.Convex && !d.Room.Polygon().Convex() {
				t.Fatalf("room %d is not convex", seed)
			}
		}
	}
}

// rapid draws them too.
func TestDrawnRoomsAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if err := Draw(t).Validate(); err != nil {
			t.Fatal(err)
		}
	})
}

// Rooms with a projector are the same rooms, and valid; most projectors are in the room.
func TestRoomsWithAProjector(t *testing.T) {
	inside := 0
	for seed := range uint64(200) {
		d := Rooms{Projector: true}.Room(seed)
		if err := d.Validate(); err != nil {
			t.Fatalf("room %d: %v", seed, err)
		}
		if _, ok := place.Cabinet(d); ok && d.Room.Polygon().Contains(vec2(d.Projector.At.Vec())) {
			inside++
		}
		d.ProjectorModels, d.Projector = nil, project.Projector{}
		if !reflect.DeepEqual(d, Room(seed)) {
			t.Fatalf("room %d is another one", seed)
		}
	}
	if inside < 100 {
		t.Errorf("%d of 200 projectors are in the room", inside)
	}
}

// What rooms have, the rooms drawn have: each of these in many of 500.
func TestRoomsHaveWhatRoomsHave(t *testing.T) {
	const rooms, least = 500, 15
	have := map[string]int{}
	outside := 0
	for seed := range uint64(rooms) {
		d := Room(seed)
		seen := map[string]bool{
			"concave": !d.Room.Polygon().Convex(), "clockwise": d.Room.Polygon().Area() < 0, "anticlockwise": d.Room.Polygon().Area() > 0,
			"not from the origin": d.Room.Footprint[0] != project.Corner{},
			"solid screen":        !d.Screen.Transparent, "1 row": len(d.Seating.Rows) == 1, "4 rows": len(d.Seating.Rows) >= 4,
			"slope": d.Room.Ceiling.Slope != project.Flat,
		}
		for _, f := range d.Room.Features {
			seen[string(f.Kind)] = true
			seen["turned"] = seen["turned"] || f.Turn != 0
		}
		for _, r := range d.Seating.Rows {
			c, _ := d.Chair(r.Chair)
			seen["curved"] = seen["curved"] || r.Curve > 0
			seen["staggered"] = seen["staggered"] || r.Stagger != 0
			seen["riser"] = seen["riser"] || r.Riser > 0
			seen["far reclined"] = seen["far reclined"] || r.Recline > 30
			seen["armless"] = seen["armless"] || c.ArmWidth == 0
			seen["no headrest"] = seen["no headrest"] || c.Headrest == 0
			for _, p := range heads(d, r) {
				if !d.Room.Polygon().Contains(vec2(p)) {
					outside++
				}
			}
		}
		for _, l := range d.Speakers {
			seen[string(l.Mount)], seen[l.Model] = true, true
			seen["aimed up"] = seen["aimed up"] || l.Aim.Elevation == 90
			seen["aimed down"] = seen["aimed down"] || l.Aim.Elevation == -90
			seen["beyond the wall"] = seen["beyond the wall"] || !d.Room.Polygon().Contains(vec2(l.At.Vec()))
			for _, f := range d.Room.Features {
				if faceGap(f.Box(), l.At.Vec()) < 1e-9 {
					seen["flush in a "+string(f.Kind)] = true
				}
			}
		}
		for what, is := range seen {
			if is {
				have[what]++
			}
		}
	}
	for _, what := range []string{"concave", "clockwise", "anticlockwise", "not from the origin", "solid screen", "1 row", "4 rows", "slope",
		"soffit", "column", "door", "stage", "light", "vent", "window", "turned",
		"curved", "staggered", "riser", "far reclined", "armless", "no headrest",
		"wall", "ceiling", "floor", "behind screen", "box", "flush", "tilted", "stage", "single", "sub", "aimed up", "aimed down", "beyond the wall",
		"flush in a soffit", "flush in a column", "flush in a door"} {
		if have[what] < least {
			t.Errorf("%d of %d rooms have %q", have[what], rooms, what)
		}
	}
	if outside > 500 {
		t.Errorf("%d ears, eyes and seats are outside", outside)
	}
	t.Log(have, "ears, eyes and seats outside:", outside)
}

func vec2(p geometry.Vec) geometry.Vec2 { return geometry.Vec2{X: p.X, Y: p.Y} }

// faceGap returns how far p, over or beside a face of box, is from its surface.
func faceGap(box geometry.Box, p geometry.Vec) float64 {
	l := box.Basis.Local(p.Sub(box.Center))
	return math.Abs(max(math.Abs(l.X)-box.Half.X, math.Abs(l.Y)-box.Half.Y, math.Abs(l.Z)-box.Half.Z))
}
