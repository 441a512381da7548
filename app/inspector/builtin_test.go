// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"earline/app/field"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
)

// everyDemo runs f on every demo and on a bare room of odd shape.
func everyDemo(t *testing.T, f func(t *testing.T, b *bench)) {
	for _, name := range []string{"small", "two-row", "large"} {
		t.Run(name, func(t *testing.T) { f(t, newBench(t, name)) })
	}
	t.Run("sloped, L-shaped", func(t *testing.T) {
		b := newBench(t, "large")
		if err := b.Do("x", "", func(d *project.Design) {
			d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: 0, Y: 3}, {X: 7, Y: 3}, {X: 7, Y: 9}, {X: 9, Y: 9}, {X: 9, Y: 0}}
			d.Room.Ceiling = project.Ceiling{Slope: project.FrontToBack, Height: 3.2, FarHeight: 2.4}
			d.Room.Features, d.Room.Treatments, d.Room.Surfaces.Wall = nil, nil, nil
		}); err != nil {
			t.Fatal(err)
		}
		f(t, b)
	})
}

// oneStep fails unless the last edit is one step of undo of that name, and takes
// it back.
func oneStep(t *testing.T, b *bench, before *project.Design, label string) {
	t.Helper()
	if got := b.UndoLabel(); got != label {
		t.Errorf("undo would %q, want %q", got, label)
	}
	after := b.Design()
	b.Undo()
	if b.Design() != before {
		t.Errorf("%s: one undo does not take it back", label)
	}
	b.Redo()
	if b.Design() != after {
		t.Errorf("%s: redo does not make it again", label)
	}
	b.in.Update()
}

// Every kind can be added to every room, in one step, at a place about which
// there is nothing to remark.
func TestEveryKindOfFeatureIsAddedWhereItCanBe(t *testing.T) {
	everyDemo(t, func(t *testing.T, b *bench) {
		for _, k := range featureKinds {
			before := b.Design()
			known := fit.Findings(before)
			b.in.addFeature(k)
			fs := b.Design().Room.Features
			if len(fs) != len(before.Room.Features)+1 || fs[b.in.feature].Kind != k {
				t.Fatalf("%s: %d features, %+v shown", k, len(fs), fs[b.in.feature])
			}
			for _, r := range fit.Findings(b.Design()) {
				if k != project.Column && k != project.Soffit && !slices.Contains(known, r) { // these may meet a loudspeaker
					t.Errorf("%s: %s", k, r)
				}
			}
			oneStep(t, b, before, "add a "+string(k))
			b.in.removeFeature()
		}
	})
}

func TestFeaturesAreEdited(t *testing.T) {
	b := newBench(t, "large")
	n := len(b.Design().Room.Features)
	b.in.addFeature(project.Light)
	if len(b.Design().Room.Features) != n+1 {
		t.Fatal("not added")
	}
	now := func() project.Feature { return b.Design().Room.Features[b.in.feature] }
	for _, c := range []struct {
		line, text string
		get        func(project.Feature) unit.Length
		want       float64
	}{
		{"From screen wall", "2.5 m", func(f project.Feature) unit.Length { return f.At.X }, 2.5},
		{"From left wall", "150 cm", func(f project.Feature) unit.Length { return f.At.Y }, 1.5},
		{"Lower edge", "2.9", func(f project.Feature) unit.Length { return f.At.Z }, 2.9},
		{"Size, back", "100 mm", func(f project.Feature) unit.Length { return f.Length }, 0.1},
		{"Size, across", "4 in", func(f project.Feature) unit.Length { return f.Width }, 0.1016},
		{"Size, up", "0.12", func(f project.Feature) unit.Length { return f.Height }, 0.12},
	} {
		before := b.Design()
		enter(b.line(t, builtGroup, c.line), c.text)
		if got := float64(c.get(now())); !near(got, c.want) {
			t.Errorf("%s typed %q: %v, want %v", c.line, c.text, got, c.want)
		}
		label := "move light"
		if c.line[0] == 'S' {
			label = "change the size of light"
		}
		oneStep(t, b, before, label)
	}
	before := b.Design()
	enter(b.line(t, builtGroup, "Turned by"), "30")
	if now().Turn != 30 {
		t.Errorf("turned by %v, want 30", now().Turn)
	}
	oneStep(t, b, before, "turn light")
	before = b.Design()
	enter(b.line(t, builtGroup, "Name"), "star field")
	oneStep(t, b, before, "rename light")

	// A door must have a swing, everything else none.
	kind := b.line(t, builtGroup, "Kind")
	if b.in.groups[builtGroup].form.Line("Swing") != nil {
		t.Error("a light has a swing")
	}
	before = b.Design()
	kind.Choice.SetSelected("door")
	if now().Kind != project.Door || now().Swing != project.InLeft {
		t.Errorf("made a door: %+v", now())
	}
	oneStep(t, b, before, "change the kind of star field")
	b.line(t, builtGroup, "Swing").Choice.SetSelected("sliding")
	if now().Swing != project.Sliding {
		t.Errorf("swing %q, want sliding", now().Swing)
	}
	kind.Choice.SetSelected("vent")
	if now().Kind != project.Vent || now().Swing != "" {
		t.Errorf("made a vent: %+v", now())
	}
}

// A column is made round by a tick: then it has a diameter, and neither a width nor a
// turn; another kind is not round.
func TestAColumnIsMadeRound(t *testing.T) {
	b := newBench(t, "large")
	b.in.addFeature(project.Column)
	now := func() project.Feature { return b.Design().Room.Features[b.in.feature] }
	before := b.Design()
	b.line(t, builtGroup, "Round").Check.SetChecked(true)
	if f := now(); !f.Round || f.Width != 0 || f.Across() != f.Length {
		t.Errorf("ticked: %+v", f)
	}
	oneStep(t, b, before, "change the shape of column")
	for _, name := range []string{"Size, across", "Turned by"} {
		if b.in.groups[builtGroup].form.Line(name) != nil {
			t.Errorf("a round column has %q", name)
		}
	}
	before = b.Design()
	enter(b.line(t, builtGroup, "Diameter"), "450 mm")
	if f := now(); !near(float64(f.Length), 0.45) {
		t.Errorf("diameter: %+v", f)
	}
	oneStep(t, b, before, "change the size of column")
	b.line(t, builtGroup, "Kind").Choice.SetSelected("chimney")
	if f := now(); f.Round || !near(float64(f.Width), 0.45) {
		t.Errorf("made a chimney: %+v", f)
	}
}

func TestFeaturesComeAndGo(t *testing.T) {
	b := newBench(t, "two-row")
	n := len(b.Design().Room.Features)
	b.in.feature = 0
	before := b.Design()
	b.in.duplicateFeature()
	fs := b.Design().Room.Features
	if len(fs) != n+1 || b.in.feature != 1 || fs[1].Kind != fs[0].Kind || fs[1].At == fs[0].At {
		t.Errorf("duplicated: %+v, %d shown", fs, b.in.feature)
	}
	oneStep(t, b, before, "duplicate "+fs[0].Words())
	for range n + 3 {
		b.in.removeFeature()
	}
	if len(b.Design().Room.Features) != 0 {
		t.Errorf("%d features left", len(b.Design().Room.Features))
	}
	for _, l := range []string{"Kind", "Name", "From screen wall", "Material"} {
		if b.in.groups[builtGroup].form.Line(l) != nil {
			t.Errorf("%s is shown though nothing is built in", l)
		}
	}
	b.in.duplicateFeature() // nothing to do, and no panic
	b.in.addFeature(project.Stage)
	if len(b.Design().Room.Features) != 1 || b.in.feature != 0 {
		t.Error("nothing can be added to a room without features")
	}
}

// A material is chosen for a feature, and comes into the design with it.
func TestFeatureMaterialComesFromTheLibrary(t *testing.T) {
	b := newBench(t, "large")
	b.in.addFeature(project.Column)
	if _, had := materialOf(b.Design().Room.Materials, "brick"); had {
		t.Fatal("the demo has brick already")
	}
	before := b.Design()
	l := b.line(t, builtGroup, "Material")
	if l.Choice.Selected != "as the walls" {
		t.Errorf("a new column is %q, want as the walls", l.Choice.Selected)
	}
	l.Choice.SetSelected("Brick, rough stucco")
	m, had := materialOf(b.Design().Room.Materials, "brick")
	if !had || len(m.Absorption) != project.OctaveCount || b.Design().Room.Features[b.in.feature].Material != "brick" {
		t.Errorf("chosen: %+v", m)
	}
	oneStep(t, b, before, "change the material of column")
	l.Choice.SetSelected("as the walls")
	if b.Design().Room.Features[b.in.feature].Material != "" {
		t.Error("it cannot be as the walls again")
	}
	if _, had := materialOf(b.Design().Room.Materials, "brick"); !had {
		t.Error("the material is gone from the design, where it may be wanted again")
	}
}

// Names of chips never run over their plate: they are cut with a mark.
func TestLongNamesAreCut(t *testing.T) {
	newBench(t, "small")
	text := canvas.NewText("", nil)
	text.TextSize = 11
	for _, c := range []struct {
		name string
		cut  bool
	}{{"M+030", false}, {"back soffit", false}, {"the long soffit over the left aisle of the room", true}, {"", false}} {
		got := field.Shorten(c.name, longChip-12, text)
		if w := fyne.MeasureText(got, 11, fyne.TextStyle{}).Width; w > longChip-12 {
			t.Errorf("%q is shown as %q, %v wide", c.name, got, w)
		}
		if (got != c.name) != c.cut {
			t.Errorf("%q is shown as %q", c.name, got)
		}
	}
}

// When corners come and go, what is on the other walls stays there.
func TestWallsKeepWhatIsOnThem(t *testing.T) {
	r := project.Room{Footprint: make([]project.Corner, 5),
		Treatments: []project.Treatment{{Wall: 0}, {Wall: 1}, {Wall: 3}, {Wall: 5}},
		Surfaces:   project.Surfaces{Wall: []project.WallSurface{{Wall: 1, Material: "a"}, {Wall: 2, Material: "b"}, {Wall: 4, Material: "c"}}}}
	b := newBench(t, "large") // six corners, treatments on walls 6 and 2
	b.in.outline = true
	b.in.Update()
	before := b.Design().Room.Treatments
	side := func(d *project.Design, wall int) (at float64) {
		p := d.Room.Polygon()
		u, v := p.Edge(wall - 1)
		return (u.X + v.X) / 2
	}
	buttons := func() (all []*field.Button) { // add and remove of every corner
		for _, o := range test.LaidOutObjects(b.in.groups[roomGroup].whole) {
			if x, ok := o.(*field.Button); ok && x.Text == "" {
				all = append(all, x)
			}
		}
		return all
	}
	test.Tap(buttons()[2*3+1]) // the corner of the shaft, between walls 3 and 4
	if got := len(b.Design().Room.Footprint); got != 5 {
		t.Fatalf("%d corners, want 5", got)
	}
	if got := b.Design().Room.Treatments[0].Wall; got != 5 || side(b.Design(), got) != 0 {
		t.Errorf("the panel behind the screen is on wall %d at x = %v", got, side(b.Design(), got))
	}
	if got := b.Design().Room.Treatments[1].Wall; got != before[1].Wall {
		t.Errorf("the panel on the back wall went to wall %d", got)
	}
	test.Tap(buttons()[0]) // a corner in the middle of wall 1
	if got := b.Design().Room.Treatments[0].Wall; got != 6 || side(b.Design(), got) != 0 {
		t.Errorf("then it is on wall %d at x = %v", got, side(b.Design(), got))
	}
	test.Tap(buttons()[2*0+1]) // the first corner: the screen wall becomes the last
	if got := b.Design().Room.Treatments[0].Wall; got != 5 {
		t.Errorf("without the first corner it is on wall %d of %d", got, len(b.Design().Room.Footprint))
	}
	d := project.Design{Room: r}
	renumber(&d, func(w int) int { return max(w-1, 1) }) // 1 and 2 become one
	r = d.Room
	if len(r.Surfaces.Wall) != 2 || r.Surfaces.Wall[0] != (project.WallSurface{Wall: 1, Material: "a"}) || r.Surfaces.Wall[1].Wall != 3 {
		t.Errorf("surfaces %+v", r.Surfaces.Wall)
	}
	if r.Treatments[0].Wall != 0 || r.Treatments[3].Wall != 4 {
		t.Errorf("treatments %+v", r.Treatments)
	}
}
