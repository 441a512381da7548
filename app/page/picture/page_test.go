// SPDX-License-Identifier: MIT

package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/page/pagetest"
	"earline/app/session"
	"earline/project"
	"earline/project/light"
	"earline/project/picture"
)

// screen is what the picture of the room shows, without one.
type screen struct {
	shape int
	beam  bool
}

func (s *screen) Shape() int       { return s.shape }
func (s *screen) ShowShape(i int)  { s.shape = i }
func (s *screen) Beam() bool       { return s.beam }
func (s *screen) ShowBeam(on bool) { s.beam = on }

// opened shows the page of a demo at a topic.
func opened(t *testing.T, demo string, at topic) (*pagetest.Bench, *picturePage, *screen) {
	t.Helper()
	b := pagetest.Open(t, demo)
	s := &screen{}
	p := newPage(b.Session, b.Frame, s)
	b.Show(p)
	b.Press(t, at.String())
	return b, p, s
}

// texts returns all that stands in the table.
func texts(p *picturePage) (all []string) {
	for _, r := range p.grid.Rows() {
		all = append(all, strings.Join(r.Cells, " | "))
	}
	return all
}

// holds fails the test unless the table has that text somewhere.
func holds(t *testing.T, p *picturePage, what string) {
	t.Helper()
	if !slices.ContainsFunc(texts(p), func(s string) bool { return strings.Contains(s, what) }) {
		t.Errorf("not shown: %q", what)
	}
}

// The table that a client is shown: each shape by zoom, by an anamorphic lens and scaled,
// against the reference, and what the plan does marked.
func TestTheThreeWaysToFillTheScreenStandSideBySide(t *testing.T) {
	b, p, _ := opened(t, "large", shapesTopic)
	r := picture.Of(b.Session.Design())
	for i := range r.Shapes {
		for k, fill := range picture.Fills() {
			f := &r.Shapes[i].Fills[k]
			mark := ""
			if k == r.Chosen() {
				mark = "*"
			}
			holds(t, p, fmt.Sprintf("%s%s | %.1f | %.1f | ", fill, mark, f.New, f.Aged))
			holds(t, p, fmt.Sprintf("%.0f %% | %d×%d", 100*f.Used, f.Wide, f.High))
		}
	}
	holds(t, p, picture.Caution)
	if c := p.chart.Shown(); len(c.Series) != 3 || len(c.Series[0].Y) != len(r.Shapes) || len(c.Bands) != 1 {
		t.Errorf("%d series, %d bands", len(c.Series), len(c.Bands))
	}
}

// A line of a shape puts that on the screen; the table of seats is then of it. A line of a
// seat selects the seat.
func TestAShapeThatIsChosenIsOnTheScreen(t *testing.T) {
	b, p, s := opened(t, "large", shapesTopic)
	p.choose(slices.IndexFunc(p.rows, func(r row) bool { return r.shape == 1 }))
	if s.shape != 1 || p.shape.Selected != p.result.Shapes[1].Called {
		t.Errorf("shape %d, %q", s.shape, p.shape.Selected)
	}
	b.Press(t, "Seats")
	v := p.seen.Seats[0].Shapes[1]
	holds(t, p, fmt.Sprintf("1.1 | %.1f° | %.1f°", v.Across, v.Top))
	holds(t, p, p.seen.Because)
	p.shape.SetSelected(p.result.Shapes[0].Called)
	holds(t, p, fmt.Sprintf("1.1 | %.1f° | ", p.seen.Seats[0].Shapes[0].Across))
	p.choose(slices.IndexFunc(p.rows, func(r row) bool { return r.seat == 2 }))
	if b.Session.Chosen.Seat != 2 {
		t.Error("the seat is not selected")
	}
	p.beam.SetChecked(true)
	if !s.beam {
		t.Error("the beam is not drawn")
	}
}

// What the lens cannot do is said.
func TestALensThatCannotReachIsTold(t *testing.T) {
	b, p, _ := opened(t, "large", lensTopic)
	holds(t, p, "within")
	if err := b.Session.Do("move", "", func(d *project.Design) { d.Projector.At.X = 3 }); err != nil {
		t.Fatal(err)
	}
	holds(t, p, "beyond its zoom")
	if p.head.Text == "Nothing falls short." {
		t.Error(p.head.Text)
	}
}

// A slider sets the level in the scene on show: what is left of the contrast follows at
// once, and all of a drag is one step of undo.
func TestALightGroupIsDimmedWhileOneLooks(t *testing.T) {
	b, p, _ := opened(t, "large", lightTopic)
	fresh := func() bool { _, state := b.Session.Known.Light.Get(); return state == session.Fresh }
	b.Queue.Until(t, fresh)
	b.Press(t, "Preshow")
	before := texts(p)
	was := b.Session.Design().LightGroups[0].Scenes.Preshow
	if got := levelAt(p.dimmers.all[0].slider.Value); math.Abs(got-was) > 0.01 {
		t.Errorf("the slider shows %g, the level is %g", got, was)
	}
	for _, place := range []float64{0.4, 0.5, 0.6} {
		p.dimmers.all[0].slider.SetValue(place)
		if !fresh() {
			t.Fatal("a level has the light worked out again")
		}
	}
	d := b.Session.Design()
	if d.LightGroups[0].Scenes.Preshow != 0.36 || d.LightGroups[0].Scenes.Show != 0 {
		t.Errorf("%+v", d.LightGroups[0].Scenes)
	}
	if slices.Equal(texts(p), before) {
		t.Error("the table stands still")
	}
	want, err := light.Study(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	stray := want.Stray(light.Over(want.Screen, want.Levels(project.Preshow)).Mean)
	holds(t, p, light.Figures(stray)+" cd/m² | "+light.Contrast(light.Left(want.Whites[0].Luminance, stray)))
	if label := b.Session.Doc.UndoLabel(); label != "dim Downlights in preshow" {
		t.Errorf("undo %q", label)
	}
	b.Session.Undo()
	if got := b.Session.Design().LightGroups[0].Scenes.Preshow; got != was || b.Session.Doc.UndoLabel() != "" {
		t.Errorf("one step of undo leaves %g", got)
	}
	if !slices.Equal(texts(p), before) {
		t.Error("the table does not go back")
	}
}

// Left, Right, Home and End dim a group by the keyboard.
func TestADimmerHasTheKeyboard(t *testing.T) {
	b, p, _ := opened(t, "large", lightTopic)
	b.Queue.Until(t, func() bool { _, state := b.Session.Known.Light.Get(); return state == session.Fresh })
	slider := p.dimmers.all[0].slider
	slider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	if got := b.Session.Design().LightGroups[0].Scenes.Show; got != 1 {
		t.Errorf("End sets %g", got)
	}
	slider.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if got := b.Session.Design().LightGroups[0].Scenes.Show; got != 0 {
		t.Errorf("Home sets %g", got)
	}
}

// A room with neither projector nor lamps says what it takes and where to add them.
func TestARoomWithoutProjectorSaysWhatItTakes(t *testing.T) {
	b, p, _ := opened(t, "large", shapesTopic)
	if err := b.Session.Do("strip", "", func(d *project.Design) {
		d.Projector, d.ProjectorModels, d.LightGroups = project.Projector{}, nil, nil
	}); err != nil {
		t.Fatal(err)
	}
	holds(t, p, " lm | ")
	if p.head.Text != "The plan has no projector." || !p.beam.Disabled() {
		t.Errorf("%q", p.head.Text)
	}
	b.Press(t, "Lens")
	holds(t, p, "The plan has no projector.")
	b.Press(t, "Room light")
	b.Queue.Until(t, func() bool { _, state := b.Session.Known.Light.Get(); return state == session.Fresh })
	p.Update()
	holds(t, p, "The plan has no light groups.")
	b.Press(t, "Seats")
	if strings.Contains(strings.Join(texts(p), ""), "NaN") {
		t.Error("a figure that is none")
	}
}

// Another document begins at the first topic, in the show.
func TestAnotherDocumentBeginsAnew(t *testing.T) {
	b, p, _ := opened(t, "large", lightTopic)
	b.Press(t, "House")
	p.Forget()
	b.Session.Open(pagetest.Demo(t, "two-row"))
	p.Update()
	if p.topic != shapesTopic || p.dimmers.scene != project.Show {
		t.Errorf("%s, %s", p.topic, p.dimmers.scene)
	}
	b.Press(t, "Room light")
	if n := len(b.Session.Design().LightGroups); len(p.dimmers.all) != n {
		t.Errorf("%d dimmers for %d groups", len(p.dimmers.all), n)
	}
}

// Every level that a slider can show is the one that it was set from.
func TestALevelIsWhereItsSliderStands(t *testing.T) {
	one := newDimmer(func(float64) { t.Error("showing a level sets it") })
	for _, level := range []float64{0, 0.0025, 0.02, 0.1, 0.5, 1} {
		one.show("Stars", level)
		if got := levelAt(one.slider.Value); math.Abs(got-level) > 0.011 {
			t.Errorf("%g is shown at %g", level, got)
		}
	}
	if placeOf(levelAt(0.3)) != 0.3 {
		t.Error(placeOf(levelAt(0.3)))
	}
	for level, want := range map[float64]string{0: "off", 0.0025: "0.25 %", 0.02: "2 %", 0.094: "9.4 %", 1: "100 %"} {
		if got := levelText(level); got != want {
			t.Errorf("%g: %q", level, got)
		}
	}
}
