// SPDX-License-Identifier: MIT

package file

import (
	"reflect"
	"testing"

	"earline/project"
)

// Viewpoints and the times of the entrance need version 2, and come back as they were.
func TestViewpointsAreKept(t *testing.T) {
	d, _ := Demo("small")
	d = d.Clone()
	d.Viewpoints = []project.Viewpoint{{Name: "By the door", Kind: project.Standing, At: project.Point{X: 1, Y: 1}, Heading: -30, Pitch: 2, Scene: project.House, Stay: 8},
		{Name: "Best seat", Kind: project.Seated, Seat: "r1.1", Scene: project.Show}}
	d.Entrance = project.Entrance{Each: 2, Down: 5}
	data, err := Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Decode(data, "x")
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(again.Viewpoints, d.Viewpoints) || again.Entrance != d.Entrance {
		t.Errorf("came back as %+v, %+v", again.Viewpoints, again.Entrance)
	}
	for _, d := range []*project.Design{{Viewpoints: d.Viewpoints}, {Entrance: d.Entrance}} {
		if v := lowest(d); v != 2 {
			t.Errorf("version %d", v)
		}
	}
}
