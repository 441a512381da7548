// SPDX-License-Identifier: MIT

package gltf_test

import (
	"bytes"
	"math"
	"testing"

	khronos "github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"earline/project"
	"earline/project/file"
	"earline/project/projecttest"
	"earline/scene/gltf"
)

func demo(t testing.TB) *project.Design {
	t.Helper()
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no large demo")
	}
	return d
}

func read(t testing.TB, data []byte) *khronos.Document {
	t.Helper()
	doc := new(khronos.Document)
	if err := khronos.NewDecoder(bytes.NewReader(data)).Decode(doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// Read back by the library's own reader: every wall, row, feature and loudspeaker is a
// node, under a group, in metres with y up.
func TestEveryPartOfTheRoomIsANode(t *testing.T) {
	d := demo(t)
	data, err := gltf.Encode(d, true)
	if err != nil {
		t.Fatal(err)
	}
	doc := read(t, data)
	count := map[string]int{}
	for _, root := range doc.Scenes[0].Nodes {
		names := map[string]bool{}
		for _, c := range doc.Nodes[root].Children {
			if n := doc.Nodes[c].Name; n == "" || names[n] && doc.Nodes[root].Name != "Lights" {
				t.Errorf("%s: %q a second time, or without a name", doc.Nodes[root].Name, n)
			} else {
				names[n] = true
			}
			count[doc.Nodes[root].Name]++
		}
	}
	lights := 0
	for _, f := range d.Room.Features {
		if f.Kind == project.Light {
			lights++
		}
	}
	for group, want := range map[string]int{
		"Loudspeakers": len(d.Speakers), "Seating": len(d.Seating.Rows), "People": len(d.Seating.Rows),
		"Built in": len(d.Room.Features), "Treatment": len(d.Room.Treatments), "Lights": lights + 1, // and one in the middle of the room
	} {
		if count[group] != want {
			t.Errorf("%s: %d nodes, want %d", group, count[group], want)
		}
	}
	if want := len(d.Room.Footprint) + 3; count["Room"] < want { // ceiling, floor, screen
		t.Errorf("Room: %d nodes, want %d and the platforms", count["Room"], want)
	}

	lo, hi := [3]float32{1e9, 1e9, 1e9}, [3]float32{-1e9, -1e9, -1e9}
	for _, n := range doc.Nodes {
		if n.Mesh == nil || n.Name != "floor" {
			continue
		}
		for _, p := range doc.Meshes[*n.Mesh].Primitives {
			pos, err := modeler.ReadPosition(doc, doc.Accessors[p.Attributes[khronos.POSITION]], nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range pos {
				for k := range v {
					lo[k], hi[k] = min(lo[k], v[k]), max(hi[k], v[k])
				}
			}
		}
	}
	a, b := d.Room.Polygon().Bounds()
	// x of the model runs across the room, z back, y up to the floor's face.
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"width", float64(hi[0] - lo[0]), b.Y - a.Y}, {"length", float64(hi[2] - lo[2]), b.X - a.X},
	} {
		if math.Abs(c.got-c.want) > 1e-3 {
			t.Errorf("%s of the floor %.4f m, want %.4f", c.what, c.got, c.want)
		}
	}
	if lo[1] >= 0 || hi[1] < 0 || hi[1] > 0.01 {
		t.Errorf("the floor lies from %.3f to %.3f up", lo[1], hi[1])
	}
}

// What the format asks for and validators check: normals of length 1, colours from 0 to
// 1, indices within their vertices, in all kinds of rooms.
func TestModelsOfAllRoomsAreWellFormed(t *testing.T) {
	for seed := range uint64(25) {
		data, err := gltf.Encode(projecttest.Room(seed), seed%2 == 0)
		if err != nil {
			t.Fatalf("room %d: %v", seed, err)
		}
		doc := read(t, data)
		for _, m := range doc.Meshes {
			for _, p := range m.Primitives {
				normals, err := modeler.ReadNormal(doc, doc.Accessors[p.Attributes[khronos.NORMAL]], nil)
				if err != nil {
					t.Fatal(err)
				}
				for _, n := range normals {
					if l := math.Hypot(math.Hypot(float64(n[0]), float64(n[1])), float64(n[2])); math.Abs(l-1) > 1e-5 {
						t.Fatalf("room %d, %s: normal of length %v", seed, m.Name, l)
					}
				}
				index, err := modeler.ReadIndices(doc, doc.Accessors[*p.Indices], nil)
				if err != nil {
					t.Fatal(err)
				}
				for _, i := range index {
					if int(i) >= len(normals) {
						t.Fatalf("room %d, %s: index %d of %d", seed, m.Name, i, len(normals))
					}
				}
			}
		}
	}
}

func TestTheSameRoomGivesTheSameBytes(t *testing.T) {
	one, err := gltf.Encode(demo(t), false)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if again, err := gltf.Encode(demo(t), false); err != nil || !bytes.Equal(one, again) {
			t.Fatal("other bytes", err)
		}
	}
}

func BenchmarkEncode(b *testing.B) {
	d := demo(b)
	for b.Loop() {
		if _, err := gltf.Encode(d, false); err != nil {
			b.Fatal(err)
		}
	}
}
