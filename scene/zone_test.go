// SPDX-License-Identifier: MIT

package scene_test

import (
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene"
)

// Sub zones are outlined with their names where they are, on the platform where
// there is one, whichever corner comes first; nobody who is shown the room as a
// client sees them.
func TestSubZonesAreOutlined(t *testing.T) {
	d := demo(t, "large") // platforms 0.32 m high from x = 4.28, 0.66 m from 5.93
	d.SubZones = []project.SubZone{
		{Name: "front", From: project.Corner{X: 0.3, Y: 5}, To: project.Corner{X: 0.9, Y: 1}, Height: 0.25},
		{From: project.Corner{X: 7.9, Y: 0.5}, To: project.Corner{X: 7.9, Y: 4}, Height: 0.9},
	}
	l := scene.Build(d, nil, scene.Default())
	var lines *scene.Lines
	for i := range l.Lines {
		if l.Lines[i].Name == "sub zones" {
			lines = &l.Lines[i]
		}
	}
	if lines == nil || len(lines.Pos) != 2*4*6 {
		t.Fatalf("lines %+v, want two rectangles", lines)
	}
	for i, want := range []struct{ x0, x1, y0, y1, z float64 }{{0.3, 0.9, 1, 5, 0}, {7.87, 7.93, 0.5, 4, 0.66}} {
		for v := 8 * i; v < 8*i+8; v++ {
			p := at(lines.Pos, v)
			const tol = 1e-5 // m, float32
			if !within(p.X, want.x0, tol) && !within(p.X, want.x1, tol) || !within(p.Y, want.y0, tol) && !within(p.Y, want.y1, tol) {
				t.Errorf("zone %d has a corner at %v", i+1, p)
			}
			if p.Z < want.z || p.Z > want.z+0.02 {
				t.Errorf("zone %d lies %v m up, want just over %v", i+1, p.Z, want.z)
			}
		}
	}
	names := map[string]bool{}
	for _, n := range l.Labels {
		names[n.Text] = true
	}
	if !names["front"] || !names["subwoofer zone 2"] {
		t.Errorf("labels %v", names)
	}
	o := scene.Default()
	o.Client = true
	for _, n := range scene.Build(d, nil, o).Lines {
		if n.Name == "sub zones" {
			t.Error("the client sees them")
		}
	}
}

func within(got, want, tol float64) bool { return got >= want-tol && got <= want+tol }

// What is open to be edited is outlined in the picture; what is not there gives
// nothing.
func TestWhatIsOpenedIsOutlined(t *testing.T) {
	d := demo(t, "large")
	outline := func(items ...place.Item) *scene.Lines {
		o := scene.Default()
		o.Opened = items
		l := scene.Build(d, nil, o)
		for i := range l.Lines {
			if l.Lines[i].Name == "opened" {
				return &l.Lines[i]
			}
		}
		return nil
	}
	for _, c := range []struct {
		kind     place.ItemKind
		index    int
		segments int
		at       geometry.Vec // some corner
	}{
		{place.FeatureItem, 0, 12, geometry.V(0, 0, 3.18)},           // the left soffit
		{place.TreatmentItem, 1, 4, geometry.V(8.4-0.045, 0.5, 0.8)}, // on the back wall
		{place.ZoneItem, 0, 4, geometry.V(0.45, 0.4, 0.012)},         // a line, drawn 60 mm wide
	} {
		l := outline(place.Item{Kind: c.kind, Index: c.index})
		if l == nil || len(l.Pos) != 6*c.segments || !l.OnTop {
			t.Fatalf("kind %d: %+v, want %d segments on top", c.kind, l, c.segments)
		}
		found := false
		for v := range len(l.Pos) / 3 {
			found = found || at(l.Pos, v).Dist(c.at) < 1e-5
		}
		if !found {
			t.Errorf("kind %d: no corner at %v", c.kind, c.at)
		}
		for _, none := range []int{-1, 99} {
			if outline(place.Item{Kind: c.kind, Index: none}) != nil {
				t.Errorf("kind %d: there is no number %d", c.kind, none)
			}
		}
	}
	if outline() != nil {
		t.Error("nothing is open and something is outlined")
	}
}
