// SPDX-License-Identifier: MIT

package inspector

import (
	"strings"
	"testing"

	"earline/project"
)

func TestSurfacesAreChosen(t *testing.T) {
	b := newBench(t, "large")
	for _, c := range []struct {
		line, name, id, label string
		get                   func(project.Surfaces) string
	}{
		{"Floor", "Parquet on concrete", "parquet", "change what the floor is made of", func(s project.Surfaces) string { return s.Floor }},
		{"Platforms", "Wood floor", "wood-floor", "change what the platforms are made of", func(s project.Surfaces) string { return s.Platforms }},
		{"Ceiling", "Concrete, smooth", "concrete", "change what the ceiling is made of", func(s project.Surfaces) string { return s.Ceiling }},
		{"Walls", "Brick, rough stucco", "brick", "change what the walls are made of", func(s project.Surfaces) string { return s.Walls }},
	} {
		before := b.Design()
		b.line(t, surfacesGroup, c.line).Choice.SetSelected(c.name)
		if got := c.get(b.Design().Room.Surfaces); got != c.id {
			t.Errorf("%s is of %q, want %q", c.line, got, c.id)
		}
		if m, had := materialOf(b.Design().Room.Materials, c.id); !had || m.Source == "" {
			t.Errorf("%s: the material did not come with its source: %+v", c.line, m)
		}
		oneStep(t, b, before, c.label)
	}
	b.line(t, surfacesGroup, "Platforms").Choice.SetSelected("as the floor")
	b.line(t, surfacesGroup, "Floor").Choice.SetSelected("not known")
	if s := b.Design().Room.Surfaces; s.Floor != "" || s.Platforms != "" {
		t.Errorf("taken back: %+v", s)
	}
}

// Every name in a list of materials is different, also when two materials have
// the same: a choice is held by its words.
func TestMaterialsOfTheSameNameAreTold(t *testing.T) {
	b := newBench(t, "large")
	if err := b.Do("x", "", func(d *project.Design) {
		m := d.Room.Materials[0]
		m.ID = "again"
		d.Room.Materials = append(d.Room.Materials, m)
	}); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, o := range b.line(t, surfacesGroup, "Floor").Choice.Options {
		if seen[o] {
			t.Errorf("%q is there twice", o)
		}
		seen[o] = true
	}
	if len(seen) < 30 {
		t.Errorf("%d materials to choose from", len(seen))
	}
}

func TestEachWallMayBeOfAnotherMaterial(t *testing.T) {
	b := newBench(t, "large") // six walls
	if b.in.walls.forms != nil {
		t.Error("walls are listed though nobody asked")
	}
	b.in.open.eachWall = true
	b.in.Update()
	if got := len(b.in.walls.forms); got != 6 {
		t.Fatalf("%d walls are listed, want 6", got)
	}
	for i, want := range []string{"Left wall", "Back wall A", "Right wall B", "Back wall C", "Right wall D", "Screen wall"} {
		l := b.in.walls.forms[i].Line(want)
		if l == nil {
			t.Fatalf("no line %q", want)
		}
		if l.Choice.Selected != "as the other walls" {
			t.Errorf("%s is %q", want, l.Choice.Selected)
		}
	}
	choose := func(wall int, name string) {
		f := b.in.walls.forms[wall-1]
		f.Line(title(wallName(b.Design(), wall))).Choice.SetSelected(name)
	}
	choose(6, "Concrete, smooth")
	before := b.Design()
	choose(2, "Brick, rough stucco")
	oneStep(t, b, before, "change what the back wall A is made of")
	want := []project.WallSurface{{Wall: 2, Material: "brick"}, {Wall: 6, Material: "concrete"}}
	if got := b.Design().Room.Surfaces.Wall; len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("surfaces %+v, want %+v", got, want)
	}
	choose(2, "Wood floor")
	choose(6, "as the other walls")
	if got := b.Design().Room.Surfaces.Wall; len(got) != 1 || got[0] != (project.WallSurface{Wall: 2, Material: "wood-floor"}) {
		t.Errorf("surfaces %+v", got)
	}
	if got := b.in.wallsSummary(); got != "1 of another material" {
		t.Errorf("the heading says %q", got)
	}
}

func TestTreatmentsComeAndGo(t *testing.T) {
	everyDemo(t, func(t *testing.T, b *bench) {
		n := len(b.Design().Room.Treatments)
		before := b.Design()
		b.in.addTreatment()
		ts := b.Design().Room.Treatments
		if len(ts) != n+1 {
			t.Fatalf("%d treatments, want %d", len(ts), n+1)
		}
		long, high := carrierSize(b.Design(), ts[b.in.panel].Wall)
		if one := ts[b.in.panel]; float64(one.To) > long || float64(one.High) > high || one.Wall == 0 {
			t.Errorf("%+v reaches beyond its wall, %v by %v", one, long, high)
		}
		oneStep(t, b, before, "add a treatment")
		before = b.Design()
		b.in.duplicateTreatment()
		a, c := b.Design().Room.Treatments[b.in.panel-1], b.Design().Room.Treatments[b.in.panel]
		if c.From < a.To && a.From < c.To || c.From < 0 {
			t.Errorf("the duplicate %+v stands on %+v", c, a)
		}
		oneStep(t, b, before, "duplicate "+treatmentName(before, a))
		for range n + 4 {
			b.in.removeTreatment()
		}
		if len(b.Design().Room.Treatments) != 0 || b.in.groups[surfacesGroup].form.Line("On") != nil {
			t.Errorf("%d treatments left", len(b.Design().Room.Treatments))
		}
		b.in.duplicateTreatment()
		b.in.addTreatment()
		if len(b.Design().Room.Treatments) != 1 {
			t.Error("nothing can be added to a bare room")
		}
	})
}

func TestTreatmentsAreEdited(t *testing.T) {
	b := newBench(t, "large")
	b.in.addTreatment()
	now := func() project.Treatment { return b.Design().Room.Treatments[b.in.panel] }
	for _, c := range []struct {
		line string
		text string
		get  func() float64
		want float64
	}{
		{"Along wall, to", "6 m", func() float64 { return float64(now().To) }, 6},
		{"Along wall, from", "4 m", func() float64 { return float64(now().From) }, 4},
		{"Height, to", "8 ft", func() float64 { return float64(now().High) }, 2.4384},
		{"Height, from", "1", func() float64 { return float64(now().Low) }, 1},
	} {
		before := b.Design()
		enter(b.line(t, surfacesGroup, c.line), c.text)
		if !near(c.get(), c.want) {
			t.Errorf("%s: %v, want %v", c.line, c.get(), c.want)
		}
		oneStep(t, b, before, "move an edge of Panel, fabric over mineral wool, 96 kg/m3")
	}
	l := b.line(t, surfacesGroup, "Along wall, from")
	enter(l, "7 m")
	if want := "7.000 m is not possible here. Possible: less than where it ends, 6.000 m"; l.Fault() != want || now().From != 4 {
		t.Errorf("an edge beyond the other: %q, want %q", l.Fault(), want)
	}
	enter(l, "4 m")
	enter(b.line(t, surfacesGroup, "Name"), "left panel")
	enter(b.line(t, surfacesGroup, "Height, from"), "1.2")
	if got := b.UndoLabel(); got != "move an edge of left panel" {
		t.Errorf("undo would %q", got)
	}
	before := b.Design()
	b.line(t, surfacesGroup, "Material").Choice.SetSelected("Foam tile, wedges")
	oneStep(t, b, before, "change the material of left panel")
	if got := b.in.absorbs(now().Material); got != "0.12 at 125 Hz, 0.97 at 1 kHz" {
		t.Errorf("it absorbs %q", got)
	}
	b.line(t, surfacesGroup, "Diffusing").Check.SetChecked(true)
	if m, _ := materialOf(b.Design().Room.Materials, "foam-wedge"); !m.Scatters {
		t.Error("it does not scatter")
	}

	// On the ceiling and back: the size stays, the place is in the room.
	on := b.line(t, surfacesGroup, "On")
	on.Choice.SetSelected("ceiling")
	c := now()
	if c.Wall != 0 || !near(float64(c.To-c.From), 2) || !near(float64(c.High-c.Low), 2.438-1.2) || !near(float64(c.To+c.From)/2, 4.2) || !near(float64(c.High+c.Low)/2, 2.8) {
		t.Errorf("on the ceiling: %+v", c)
	}
	enter(b.line(t, surfacesGroup, "From screen, to"), "5")
	if now().To != 5 {
		t.Errorf("%+v", now())
	}
	on.Choice.SetSelected("right wall B") // half a metre long
	if c := now(); c.Wall != 3 || c.From < 0 || c.To > 0.5 || c.High > 3 {
		t.Errorf("on a short wall: %+v", c)
	}
	if b.in.groups[surfacesGroup].form.Line("From screen, to") != nil {
		t.Error("a panel on a wall has a place on the ceiling")
	}
}

func TestAir(t *testing.T) {
	b := newBench(t, "small")
	if got := b.in.airSummary(); got != "usual: 20 °C, 50 %" {
		t.Errorf("the heading says %q", got)
	}
	b.in.open.air = true
	b.in.Update()
	before := b.Design()
	enter(b.line(t, surfacesGroup, "Humidity"), "35 %")
	if got := b.Design().Room.Air; got != (project.Air{Temperature: 20, Humidity: 35}) {
		t.Errorf("air %+v", got)
	}
	oneStep(t, b, before, "change the air's humidity")
	enter(b.line(t, surfacesGroup, "Temperature"), "18 °C")
	l := b.line(t, surfacesGroup, "Humidity")
	enter(l, "3")
	if !strings.Contains(l.Fault(), "10 % to 100 %") {
		t.Errorf("3 %%: %q", l.Fault())
	}
	enter(l, "")
	enter(b.line(t, surfacesGroup, "Temperature"), "")
	if got := b.Design().Room.Air; got != (project.Air{}) {
		t.Errorf("emptied: %+v, want the usual air", got)
	}
}
