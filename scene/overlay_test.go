// SPDX-License-Identifier: MIT

package scene_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/scene"
)

// more returns the names of what a picture with o has beyond one without, and
// fails for meshes and lines that the renderer cannot draw.
func more(t *testing.T, d *project.Design, o scene.Options) (names []string, l *scene.List) {
	t.Helper()
	r := audited(d)
	plain := scene.Build(d, r, scene.Default())
	l = scene.Build(d, r, o)
	had := map[string]bool{}
	for _, m := range plain.Meshes {
		had[m.Name] = true
	}
	for _, n := range plain.Lines {
		had[n.Name] = true
	}
	for _, m := range l.Meshes {
		if had[m.Name] {
			continue
		}
		names = append(names, m.Name)
		if len(m.Nor) != len(m.Pos) || len(m.Col) != len(m.Pos) || len(m.Index)%3 != 0 || !finite(m.Pos) || !finite(m.Nor) || !(m.Alpha > 0 && m.Alpha <= 1) {
			t.Errorf("mesh %s: %d positions, %d normals, %d colours, %d indices, alpha %v", m.Name, len(m.Pos), len(m.Nor), len(m.Col), len(m.Index), m.Alpha)
		}
		for i := 0; i < len(m.Index); i += 3 {
			a, b, c := int(m.Index[i]), int(m.Index[i+1]), int(m.Index[i+2])
			n, ok := at(m.Pos, b).Sub(at(m.Pos, a)).Cross(at(m.Pos, c).Sub(at(m.Pos, a))).Unit()
			if ok && n.Dot(at(m.Nor, a)) < -0.1 {
				t.Errorf("mesh %s: triangle %d is inside out", m.Name, i/3)
				break
			}
		}
	}
	for _, n := range l.Lines {
		if had[n.Name] {
			continue
		}
		names = append(names, n.Name)
		if len(n.Pos)%6 != 0 || len(n.Col) != len(n.Pos) || !finite(n.Pos) {
			t.Errorf("lines %s: %d numbers", n.Name, len(n.Pos))
		}
	}
	return names, l
}

func hasLabel(l *scene.List, text string) bool {
	return slices.ContainsFunc(l.Labels, func(x scene.Label) bool { return x.Text == text })
}

func TestMeasureGivesThePlace(t *testing.T) {
	d := demo(t, "large")
	d.Speakers[3].At = project.PointOf(geometry.V(1.25, 2.5, 0.75))
	got := scene.Measure(d, place.Item{Kind: place.SpeakerItem, Index: 3}, scene.Axes{X: true, Z: true})
	want := []scene.Dim{
		{From: geometry.V(0, 2.5, 0.75), To: geometry.V(1.25, 2.5, 0.75), Text: "1.250 m"},
		{From: geometry.V(1.25, 2.5, 0), To: geometry.V(1.25, 2.5, 0.75), Text: "0.750 m"},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
	d.Units = project.Imperial
	d.Screen.Bottom = 30 * unit.Inch
	got = scene.Measure(d, place.Item{Kind: place.ScreenItem}, scene.Axes{Y: true, Z: true})
	if len(got) != 1 || got[0].Text != `2' 6"` {
		t.Errorf("the screen's lower edge: %+v, want 2' 6\" and nothing across", got)
	}
	d.Seating.Rows[0].Riser = 0
	got = scene.Measure(d, place.Item{Kind: place.RowItem}, scene.Axes{X: true, Y: true, Z: true})
	if len(got) != 1 || math.Abs(got[0].To.X-float64(d.Seating.Rows[0].Distance)) > 1e-12 {
		t.Errorf("a row on the floor: %+v, want its distance alone", got)
	}
	for _, it := range []place.Item{{}, {Kind: place.SpeakerItem, Index: 99}, {Kind: place.RowItem, Index: -1}} {
		if got := scene.Measure(d, it, scene.Axes{X: true}); got != nil {
			t.Errorf("%+v: %+v", it, got)
		}
	}
}

func TestDimensionsGuidesAndHotItemsAreDrawn(t *testing.T) {
	for name, d := range designs(t) {
		o := scene.Default()
		o.Dims = append(scene.Measure(d, place.Item{Kind: place.SpeakerItem}, scene.Axes{X: true, Y: true, Z: true}),
			scene.Dim{From: geometry.V(0, 0, 0), To: geometry.V(1, 0, 0), Text: "level", Guide: true},
			scene.Dim{To: geometry.V(math.NaN(), 0, 0), Text: "nowhere"}, scene.Dim{Text: "no length"})
		for _, hot := range []place.Item{{Kind: place.SpeakerItem}, {Kind: place.RowItem}, {Kind: place.ScreenItem}} {
			o.Hovered = hot
			names, l := more(t, d, o)
			if !slices.Contains(names, "dimensions") || !slices.Contains(names, "hot") {
				t.Errorf("%s, %+v: drawn beyond the room: %v", name, hot, names)
			}
			if !hasLabel(l, "level") || hasLabel(l, "nowhere") || hasLabel(l, "no length") {
				t.Errorf("%s: labels of dimensions", name)
			}
		}
		o.Hovered = place.Item{Kind: place.SpeakerItem, Index: 99}
		o.Client = true
		if names, _ := more(t, d, o); len(names) > 0 {
			t.Errorf("%s: the client sees %v", name, names)
		}
	}
}

// What every rule finds can be drawn, and shows its value.
func TestEveryRemarkCanBeDrawn(t *testing.T) {
	for name, d := range designs(t) {
		r := audited(d)
		done := map[string]bool{}
		for _, m := range practice.Check(d, r, practice.Standard{}).Remarks {
			kind := fmt.Sprint(m.Rule, m.OK, m.Mark.Kind)
			if done[kind] { // one of each will do
				continue
			}
			done[kind] = true
			o := scene.Default()
			o.Mark = &m
			names, l := more(t, d, o)
			if drawn := len(names) > 0; drawn != (m.Mark.Kind != practice.NoMark) {
				t.Errorf("%s: %s: %v draws %v", name, m.Text, m.Mark, names)
			}
			if m.Mark.Label != "" && m.Mark.Kind != practice.NoMark && !hasLabel(l, m.Mark.Label) {
				t.Errorf("%s: %s: no label %q", name, m.Text, m.Mark.Label)
			}
		}
	}
}

func TestOddMarksDrawNothingBad(t *testing.T) {
	d := demo(t, "small")
	nan := geometry.V(math.NaN(), 0, 0)
	for kind := practice.NoMark; kind <= practice.PointMark+1; kind++ {
		for _, m := range []practice.Mark{{Kind: kind}, {Kind: kind, At: nan}, {Kind: kind, From: geometry.V(1, 0, 0), To: geometry.V(1, 0, 0)},
			{Kind: kind, From: geometry.V(1, 0, 0), To: geometry.V(-1, 0, 0), Normal: geometry.V(0, 0, 1)}, {Kind: kind, Normal: nan}} {
			o := scene.Default()
			o.Mark = &practice.Remark{Mark: m, Speakers: []int{-1, 99}}
			more(t, d, o)
		}
	}
}

// An arc of azimuths keeps its height and its distance from the axis.
func TestAnArcTurnsAboutItsNormal(t *testing.T) {
	d := demo(t, "small")
	o := scene.Default()
	o.Mark = &practice.Remark{Mark: practice.Mark{Kind: practice.ArcMark, At: geometry.V(0, 0, 1),
		From: geometry.V(2, 0, 2), To: geometry.V(0, 2, 2), Normal: geometry.V(0, 0, 1)}}
	l := scene.Build(d, nil, o)
	m := mesh(l, "mark")
	if m == nil {
		t.Fatal("nothing is drawn")
	}
	most := 0.0
	for i := range len(m.Pos) / 3 {
		p := at(m.Pos, i)
		if p.Dist(geometry.V(0, 0, 1)) < 1e-6 {
			continue
		}
		if math.Abs(p.Z-2) > 1e-5 || math.Abs(math.Hypot(p.X, p.Y)-2) > 1e-5 || p.X < -1e-5 || p.Y < -1e-5 {
			t.Fatalf("the rim passes %v", p)
		}
		most = max(most, min(p.X, p.Y))
	}
	if most < 1.3 {
		t.Errorf("the rim goes no farther than %v between its ends, want about 1.41", most)
	}
}

func TestAProposalIsDrawnWhereItDiffers(t *testing.T) {
	d := demo(t, "large")
	o := scene.Default()
	o.Ghost = d.Clone()
	if names, _ := more(t, d, o); len(names) > 0 {
		t.Errorf("a proposal that changes nothing draws %v", names)
	}
	o.Ghost.Speakers[5].At.Z += 0.5
	names, l := more(t, d, o)
	if !slices.Equal(names, []string{"proposed loudspeakers", "proposed moves"}) {
		t.Errorf("one loudspeaker moved: %v", names)
	}
	m := mesh(l, "proposed loudspeakers")
	want := place.Speakers(o.Ghost)[5].Box
	if got := middle(m); got.Dist(want.Center) > 0.01 {
		t.Errorf("drawn at %v, want %v", got, want.Center)
	}
	for _, change := range []func(*project.Design){
		func(d *project.Design) { d.Seating.Rows[1].Riser += 0.2 },
		func(d *project.Design) { d.Seating.Rows = d.Seating.Rows[:1] },
		func(d *project.Design) { d.Seating.Rows[0].Seats += 2 },
		func(d *project.Design) { d.Screen.Bottom += 0.1 },
		func(d *project.Design) { d.Speakers = d.Speakers[2:] },
		func(d *project.Design) { d.Speakers[0].Copy = "new" },
	} {
		o.Ghost = d.Clone()
		change(o.Ghost)
		if names, _ := more(t, d, o); len(names) == 0 {
			t.Error("a change is not drawn")
		}
	}
	o.Ghost = d.Clone() // of no use, and no reason to fail
	o.Ghost.Speakers[0].At.X = unit.Length(math.NaN())
	o.Ghost.Speakers[0].Copy = "new"
	o.Ghost.Seating.Rows[0].Distance = unit.Length(math.Inf(1))
	more(t, d, o)
	o.Client = true
	if names, _ := more(t, d, o); len(names) > 0 {
		t.Errorf("the client sees %v", names)
	}
}

func middle(m *scene.Mesh) (v geometry.Vec) {
	n := len(m.Pos) / 3
	for i := range n {
		v = v.Add(at(m.Pos, i).Mul(1 / float64(n)))
	}
	return v
}

func TestGrabFindsWhatMoves(t *testing.T) {
	d := demo(t, "large")
	r := audited(d)
	const w, h = 900, 600
	cam := scene.LongSection(d, 1.5)
	grab := func(p geometry.Vec, dy float64, n scene.Nameplates) (place.Item, bool) {
		x, y, _, _ := cam.Project(scene.World(p), w, h)
		return scene.Grab(d, &r.Room, cam, float64(x), float64(y)+dy, w, h, n)
	}
	seat := place.Seats(d)[0]
	if it, ok := grab(seat.Local(-0.2, 0, 0.3), 0, scene.Nameplates{}); !ok || it != (place.Item{Kind: place.RowItem, Index: 0}) {
		t.Errorf("a chair of row 1: %+v", it)
	}
	centre, _, _ := d.Screen.Picture()
	low := centre
	low.Z = float64(d.Screen.Bottom) + 0.05
	if it, ok := grab(low, 0, scene.Nameplates{}); !ok || it.Kind != place.ScreenItem {
		t.Errorf("the screen on edge: %+v", it)
	}
	if it, ok := grab(geometry.V(7.5, 2, 0.1), 0, scene.Nameplates{}); ok {
		t.Errorf("a riser: %+v", it)
	}
	// In the long section M+090 hides M-090, whose label gives way upwards.
	near := index(t, d, "M+090")
	far := index(t, d, "M-090")
	d.Speakers[far].At.X, d.Speakers[far].At.Z = d.Speakers[near].At.X, d.Speakers[near].At.Z
	r = audited(d)
	n := scene.Nameplates{Scale: 1, Bold: scene.None}
	box := place.Speakers(d)[near]
	top := box.At.Vec().Add(geometry.V(0, 0, box.Box.Half.X+0.05))
	for _, c := range []struct {
		dy   float64
		want int
	}{{0, near}, {-18, far}} {
		if it, ok := grab(top, c.dy, n); !ok || it != (place.Item{Kind: place.SpeakerItem, Index: c.want}) {
			t.Errorf("%v pixels below the label's place: %+v, want loudspeaker %d", c.dy, it, c.want)
		}
	}
	n.Bold = far // what is selected takes the place of others
	if it, _ := grab(top, 0, n); it.Index != far {
		t.Errorf("with M-090 selected: %+v", it)
	}
}

func index(t *testing.T, d *project.Design, name string) int {
	t.Helper()
	for i, l := range d.Speakers {
		if l.Name() == name {
			return i
		}
	}
	t.Fatalf("no loudspeaker %s", name)
	return 0
}
