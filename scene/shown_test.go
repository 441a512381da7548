// SPDX-License-Identifier: MIT

package scene

import (
	"math"
	"testing"

	"earline/project"
	"earline/project/file"
)

// meshNamed returns the mesh of that name; nil for none.
func meshNamed(l *List, name string) *Mesh {
	for i := range l.Meshes {
		if l.Meshes[i].Name == name {
			return &l.Meshes[i]
		}
	}
	return nil
}

// reaches returns how far a mesh reaches across the room and upright. The picture world keeps the room's
// right as one of its axes.
func reaches(m *Mesh) (wide, high float64) {
	lo, hi := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i, v := range m.Pos {
		lo[i%3], hi[i%3] = min(lo[i%3], float64(v)), max(hi[i%3], float64(v))
	}
	return max(hi[0]-lo[0], hi[2]-lo[2]), hi[1] - lo[1] // y is up
}

// A 1.85:1 picture of constant height stands in the 2.39:1 frame with masks at its sides;
// the shape that uses less of the imager is darker. Sizes by geometry: 1.85/2.39 × 4.200 m.
func TestTheChosenShapeIsOnTheScreenBetweenMasks(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	o := Default()
	wide := Build(d, nil, o)
	if meshNamed(wide, "masks") != nil {
		t.Error("masks over a picture that fills the screen")
	}
	o.Shape = 1
	flat := Build(d, nil, o)
	w, h := reaches(meshNamed(flat, "picture"))
	if want := 4.2 * 1.85 / 2.39; math.Abs(w-want) > 0.002 || math.Abs(h-4.2/2.39) > 0.002 {
		t.Errorf("the picture is %.3f m by %.3f m, want %.3f m by %.3f m", w, h, want, 4.2/2.39)
	}
	masks := meshNamed(flat, "masks")
	if masks == nil {
		t.Fatal("no masks")
	}
	if w, _ := reaches(masks); math.Abs(w-4.2) > 0.002 {
		t.Errorf("masks reach over %.3f m of 4.200 m", w)
	}
	sum := func(l *List) (all float64) {
		m := meshNamed(l, "picture")
		for _, c := range m.Col {
			all += float64(c)
		}
		return all / float64(len(m.Col))
	}
	if !(sum(wide) < 0.9*sum(flat)) {
		t.Errorf("the wide picture, of 0.55 of the luminance, is drawn %.3f bright, the other %.3f", sum(wide), sum(flat))
	}
	o.Shape = 99
	if got := Build(d, nil, o); len(meshNamed(got, "picture").Pos) != len(meshNamed(wide, "picture").Pos) {
		t.Error("a shape that there is not does not show the first")
	}
}

// Without shapes and without a projector the screen is full, as bright as can be.
func TestAScreenWithoutShapesIsFull(t *testing.T) {
	d, ok := file.Demo("small")
	if !ok {
		t.Fatal("no demo")
	}
	d = d.Clone()
	d.Picture, d.Projector = project.Picture{}, project.Projector{}
	s := shownOf(d, 0)
	if s.Bright != 1 || math.Abs(s.Frame.Width-float64(d.Screen.Width)) > 1e-9 {
		t.Errorf("%+v", s)
	}
}

// Dimming a light group does not have the whole room drawn again.
func TestDimmingKeepsWhatIsDrawn(t *testing.T) {
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	var b Builder
	b.Build(d, nil, Default())
	was := &b.fixed[0]
	next := d.Clone()
	next.LightGroups[0].Scenes.Show = 0.5
	b.Build(next, nil, Default())
	if was != &b.fixed[0] {
		t.Error("the room is built again")
	}
}
