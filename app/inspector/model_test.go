// SPDX-License-Identifier: MIT

package inspector

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"earline/project"
)

// opened returns a bench with the sections of loudspeakers and rows open.
func opened(t *testing.T, demo string) *bench {
	b := newBench(t, demo)
	b.in.open.tuning, b.in.open.model, b.in.open.chair = true, true, true
	b.in.Update()
	return b
}

// words returns all the text that wraps and is shown in a group.
func (b *bench) words(group int) (all []string) {
	for _, o := range test.LaidOutObjects(b.in.groups[group].whole) {
		if w, ok := o.(*widget.Label); ok {
			all = append(all, w.Text)
		}
	}
	return all
}

func TestModelsAreEditedForAllWhoUseThem(t *testing.T) {
	b := opened(t, "large")
	b.in.speaker = slices.IndexFunc(b.Design().Speakers, func(l project.Loudspeaker) bool { return l.Label == "M+030" })
	b.in.Update()
	if want := "Also used by M-030, M+000: a change changes them too."; !slices.Contains(b.words(speakersGroup), want) {
		t.Errorf("%q is not said in %q", want, b.words(speakersGroup))
	}
	m := func() project.Model { return *b.in.model() }
	for _, c := range []struct {
		line, text string
		get        func() float64
		want       float64
	}{
		{"Box width", "400 mm", func() float64 { return float64(m().Width) }, 0.4},
		{"Box height", "70 cm", func() float64 { return float64(m().Height) }, 0.7},
		{"Box depth", "0.3", func() float64 { return float64(m().Depth) }, 0.3},
		{"Coverage, horiz.", "100", func() float64 { return float64(m().CoverageH) }, 100},
		{"Coverage, vert.", "55°", func() float64 { return float64(m().CoverageV) }, 55},
		{"Built-in aim, right", "-5", func() float64 { return float64(m().AimRight) }, -5},
		{"Built-in aim, up", "10", func() float64 { return float64(m().AimUp) }, 10},
		{"Sensitivity", "95.5 dB", func() float64 { return m().Sensitivity }, 95.5},
		{"Impedance", "4", func() float64 { return m().Impedance }, 4},
		{"Power, continuous", "300 W", func() float64 { return m().Power }, 300},
		{"Low cut-off, −3 dB", "50", func() float64 { return m().Cutoff }, 50},
		{"Mass", "30 kg", func() float64 { return m().Mass }, 30},
	} {
		before := b.Design()
		enter(b.line(t, speakersGroup, c.line), c.text)
		if !near(c.get(), c.want) {
			t.Errorf("%s typed %q: %v, want %v", c.line, c.text, c.get(), c.want)
		}
		oneStep(t, b, before, "change the model Three-way front")
	}
	b.line(t, speakersGroup, "Enclosure").Choice.SetSelected("ported")
	if m().Enclosure != project.Ported {
		t.Errorf("enclosure %q", m().Enclosure)
	}
	if b.in.groups[speakersGroup].form.Line("Peak excursion") != nil {
		t.Error("the excursion of a model that is no subwoofer")
	}
	enter(b.line(t, speakersGroup, "Impedance"), "")
	if l := b.line(t, speakersGroup, "Impedance"); m().Impedance != 0 || l.Entry.Text != "not known" {
		t.Errorf("emptied: %v shown as %q", m().Impedance, l.Entry.Text)
	}
	l := b.line(t, speakersGroup, "Box height")
	enter(l, "0.3 m")
	if want := "driver 3 would lie beyond the front"; l.Fault() != want || m().Height != 0.7 {
		t.Errorf("a box too low for its drivers: %q, want %q", l.Fault(), want)
	}
}

func TestANewModelIsForThisLoudspeakerAlone(t *testing.T) {
	b := opened(t, "large")
	n := len(b.Design().Models)
	before := b.Design()
	b.in.newModel()
	if got := len(b.Design().Models); got != n+1 {
		t.Fatalf("%d models, want %d", got, n+1)
	}
	if got := b.in.model(); got.ID != "front-2" || got.Name != "Three-way front 2" {
		t.Errorf("the new model is %q, %q", got.ID, got.Name)
	}
	oneStep(t, b, before, "new model from Three-way front")
	if len(b.in.modelUsers()) != 0 || usedBy(b.in.modelUsers()) != "" {
		t.Errorf("others use it too: %v", b.in.modelUsers())
	}
	enter(b.line(t, speakersGroup, "Box width"), "0.5")
	if old, _ := b.Design().Model("front"); old.Width != 0.36 {
		t.Errorf("the model it is from is %v wide now", old.Width)
	}
	b.in.newModel()
	if got := b.in.model().ID; got != "front-2-2" {
		t.Errorf("a model of a model is %q", got)
	}
}

func TestDriversComeAndGo(t *testing.T) {
	b := opened(t, "large")
	n := len(b.in.model().Drivers)
	if len(b.in.drivers.forms) != n {
		t.Fatalf("%d drivers are listed, want %d", len(b.in.drivers.forms), n)
	}
	before := b.Design()
	enter(b.in.drivers.forms[1].Line("    up"), "20")
	if got := b.in.model().Drivers[1].Up; !near(float64(got), 0.02) {
		t.Errorf("driver 2 is %v up, want 20 mm", got)
	}
	oneStep(t, b, before, "change driver 2 of Three-way front")
	b.in.drivers.forms[0].Line("1: band").Choice.SetSelected("full")
	if b.in.model().Drivers[0].Band != project.Full {
		t.Error("the band stays")
	}
	before = b.Design()
	b.in.addDriver()
	if len(b.in.model().Drivers) != n+1 || len(b.in.drivers.forms) != n+1 {
		t.Errorf("%d drivers, %d listed", len(b.in.model().Drivers), len(b.in.drivers.forms))
	}
	oneStep(t, b, before, "add a driver to Three-way front")
	for range n + 2 {
		b.in.removeDriver(0)
	}
	if len(b.in.model().Drivers) != 1 {
		t.Errorf("%d drivers, want the last one to stay", len(b.in.model().Drivers))
	}
	// Another loudspeaker, another list.
	b.in.speaker = slices.IndexFunc(b.Design().Speakers, func(l project.Loudspeaker) bool { return l.Label == "LFE1" })
	b.in.Update()
	if got, want := len(b.in.drivers.forms), len(b.in.model().Drivers); got != want {
		t.Errorf("%d drivers are listed of the subwoofer, want %d", got, want)
	}
}

func TestTuning(t *testing.T) {
	b := opened(t, "two-row")
	name := b.Design().Speakers[0].Name()
	for _, c := range []struct {
		line, text string
		want       project.Tuning
	}{
		{"Delay", "3.2 ms", project.Tuning{Delay: 3.2}},
		{"Gain", "-1.5", project.Tuning{Delay: 3.2, Gain: -1.5}},
		{"Crossover", "100 Hz", project.Tuning{Delay: 3.2, Gain: -1.5, Crossover: 100}},
		{"Crossover", "common", project.Tuning{Delay: 3.2, Gain: -1.5}},
	} {
		before := b.Design()
		enter(b.line(t, speakersGroup, c.line), c.text)
		if got := b.Design().Speakers[0].Tuning; got != c.want {
			t.Errorf("%s: %+v, want %+v", c.line, got, c.want)
		}
		oneStep(t, b, before, "tune "+name)
	}
	b.line(t, speakersGroup, "Polarity inverted").Check.SetChecked(true)
	if got := b.in.tuningSummary(); got != "3.2 ms, -1.5 dB, inverted" {
		t.Errorf("the heading says %q", got)
	}
	l := b.line(t, speakersGroup, "Delay")
	enter(l, "-2")
	if l.Fault() != "-2 ms is not possible here. Possible: 0 ms to 1000 ms" {
		t.Errorf("a delay of -2 ms: %q", l.Fault())
	}
}

func TestChairsAreEditedForAllWhoUseThem(t *testing.T) {
	b := opened(t, "large")
	if want := "Also used by row 2, row 3: a change changes them too."; !slices.Contains(b.words(rowsGroup), want) {
		t.Errorf("%q is not said in %q", want, b.words(rowsGroup))
	}
	c := func() project.Chair { return *b.in.chair() }
	name := c().Name
	for _, e := range []struct {
		line, text string
		get        func() float64
		want       float64
	}{
		{"Seat height", "430 mm", func() float64 { return float64(c().PanHeight) }, 0.43},
		{"Seat depth", "0.5", func() float64 { return float64(c().PanDepth) }, 0.5},
		{"Seat width", "55 cm", func() float64 { return float64(c().PanWidth) }, 0.55},
		{"Back height", "0.6", func() float64 { return float64(c().BackHeight) }, 0.6},
		{"Back thickness", "0.2", func() float64 { return float64(c().BackThickness) }, 0.2},
		{"Headrest height", "0.11", func() float64 { return float64(c().Headrest) }, 0.11},
		{"Headrest width", "0.25", func() float64 { return float64(c().HeadrestWidth) }, 0.25},
		{"Arm width", "0.1", func() float64 { return float64(c().ArmWidth) }, 0.1},
		{"Arms above seat", "0.22", func() float64 { return float64(c().ArmHeight) }, 0.22},
		{"Recline to", "50", func() float64 { return float64(c().MaxRecline) }, 50},
		{"Footrest reach", "0.4", func() float64 { return float64(c().Footrest) }, 0.4},
	} {
		before := b.Design()
		enter(b.line(t, rowsGroup, e.line), e.text)
		if !near(e.get(), e.want) {
			t.Errorf("%s typed %q: %v, want %v", e.line, e.text, e.get(), e.want)
		}
		oneStep(t, b, before, "change the chair "+name)
	}
	l := b.line(t, rowsGroup, "Recline to")
	enter(l, "15")
	if want := "row 1 reclines by 20°"; l.Fault() != want {
		t.Errorf("a chair that does not recline as far as its row: %q, want %q", l.Fault(), want)
	}
	enter(b.line(t, rowsGroup, "Headrest height"), "0")
	if b.in.groups[rowsGroup].form.Line("Headrest width") != nil {
		t.Error("a headrest that is not there has a width")
	}
	if err := b.Do("x", "", func(d *project.Design) { d.Chairs[0].HeadrestWidth = 0 }); err != nil {
		t.Fatal(err)
	}
	enter(b.line(t, rowsGroup, "Headrest height"), "0.12")
	if c().Headrest != 0.12 || c().HeadrestWidth <= 0 {
		t.Errorf("a headrest again: %+v", c())
	}
	before := b.Design()
	b.line(t, rowsGroup, "Upholstery").Choice.SetSelected("Chairs, cloth, empty")
	if c().Upholstery != "chair-cloth" {
		t.Errorf("upholstery %q", c().Upholstery)
	}
	oneStep(t, b, before, "change the chair "+name)

	before = b.Design()
	b.in.newChair()
	if got := b.Design().Seating.Rows; got[0].Chair == got[1].Chair || c().Name != name+" 2" || len(b.in.chairUsers()) != 0 {
		t.Errorf("rows %+v", got)
	}
	oneStep(t, b, before, "new model from "+name)
}

// What limits a subwoofer and what its sensitivity holds for are entered with its model.
func TestASubwoofersLimitsAreEdited(t *testing.T) {
	b := opened(t, "large")
	b.in.speaker = slices.IndexFunc(b.Design().Speakers, func(l project.Loudspeaker) bool { return l.Label == "LFE1" })
	b.in.Update()
	enter(b.line(t, speakersGroup, "Peak excursion"), "14 mm")
	b.line(t, speakersGroup, "Sensitivity is for").Choice.SetSelected("half space")
	if m := b.in.model(); m.Excursion != 14 || m.Space != project.HalfSpace {
		t.Errorf("%v mm, %q", m.Excursion, m.Space)
	}
	enter(b.line(t, speakersGroup, "Peak excursion"), "")
	b.line(t, speakersGroup, "Sensitivity is for").Choice.SetSelected("not said: free field")
	if m := b.in.model(); m.Excursion != 0 || m.Space != "" {
		t.Errorf("emptied: %v mm, %q", m.Excursion, m.Space)
	}
}
