// SPDX-License-Identifier: MIT

package inspector

import (
	"testing"

	"earline/project"
	"earline/project/picture"
)

// A projector that is added hangs in the room, with a lens that reaches the screen.
func TestAProjectorIsAddedWhereItsLensReaches(t *testing.T) {
	for _, demo := range []string{"small", "two-row", "large"} {
		b := newBench(t, demo)
		if b.Design().Projector.Given() {
			b.in.removeProjector()
		}
		before := b.Design()
		b.in.addProjector()
		oneStep(t, b, before, "add a projector")
		d := b.Design()
		r := picture.Of(d)
		at := d.Projector.At
		if !r.Projected || float64(at.Z) > d.Room.CeilingAt(float64(at.X), float64(at.Y)) {
			t.Fatalf("%s: %+v", demo, d.Projector)
		}
		for i := range r.Shapes {
			f := &r.Shapes[i].Fills[r.Chosen()]
			if !f.Throw.ZoomFits(&r.Model) || !f.Throw.ShiftFits() {
				t.Errorf("%s: %s asks for %.3f and %s", demo, r.Shapes[i].Called, f.Throw.Ratio, f.Throw.ShiftWords())
			}
		}
		b.in.removeProjector()
		if b.Design().Projector.Given() {
			t.Error("it is not removed")
		}
	}
}

func TestTheProjectorIsEdited(t *testing.T) {
	b := newBench(t, "large")
	p := func() project.Projector { return b.Design().Projector }
	enter(b.line(t, projectorGroup, "From screen wall"), "7,2 m")
	enter(b.line(t, projectorGroup, "Height of lens"), "2.8 m")
	b.line(t, projectorGroup, "Fixed to").Choice.SetSelected("behind a port")
	enter(b.line(t, projectorGroup, "Port glass"), "0.92")
	if p().At.X != 7.2 || p().At.Z != 2.8 || p().Mount != project.PortMount || p().Port != 0.92 {
		t.Errorf("%+v", p())
	}
	if b.in.groups[projectorGroup].form.Line("Stretch of lens") != nil {
		t.Error("a stretch without an anamorphic lens")
	}
	b.line(t, projectorGroup, "Fills screen by").Choice.SetSelected("anamorphic lens")
	enter(b.line(t, projectorGroup, "Stretch of lens"), "1.25")
	if p().Fill != project.Anamorphic || p().Stretch != 1.25 {
		t.Errorf("%+v", p())
	}
	if l := b.line(t, projectorGroup, "Stretch of lens"); true {
		enter(l, "3")
		if l.Fault() == "" || p().Stretch != 1.25 {
			t.Error("a stretch of 3 is taken")
		}
		enter(l, "usual")
		if p().Stretch != 0 {
			t.Error("it is not taken back")
		}
	}
	enter(b.line(t, projectorGroup, "Port glass"), "none")
	if p().Port != 0 {
		t.Error("the port is not taken back")
	}

	b.in.open.projector = true
	b.in.Update()
	before := len(b.Design().ProjectorModels)
	b.in.newProjectorModel()
	enter(b.line(t, projectorGroup, "Light, stated"), "3200 lm")
	enter(b.line(t, projectorGroup, "Left, calibrated"), "75")
	enter(b.line(t, projectorGroup, "Noise"), "")
	d := b.Design()
	m, ok := d.ProjectorModel(p().Model)
	if !ok || len(d.ProjectorModels) != before+1 || m.Light != 3200 || m.Calibrated != 0.75 || m.Noise != 0 || d.ProjectorModels[0].Light != 2700 {
		t.Errorf("%+v", d.ProjectorModels)
	}
	names := b.line(t, projectorGroup, "Model").Choice
	names.SetSelectedIndex(0)
	if p().Model != d.ProjectorModels[0].ID {
		t.Error("the model is not changed")
	}
}

func TestShapesOfPictureComeAndGo(t *testing.T) {
	b := newBench(t, "large")
	for len(b.Design().Picture.Aspects) > 0 {
		b.in.removeShape()
	}
	before := b.Design()
	b.in.addShape()
	oneStep(t, b, before, "add a shape of picture")
	if a := b.Design().Picture.Aspects; len(a) != 1 || a[0].Aspect != b.Design().Screen.Aspect {
		t.Fatalf("%+v", a)
	}
	b.in.addShape()
	enter(b.line(t, shapesGroup, "Name"), "Television")
	enter(b.line(t, shapesGroup, "Width, of height 1"), "1.78")
	enter(b.line(t, shapesGroup, "Share of viewing"), "40 %")
	if got, want := b.Design().Picture.Aspects[1], (project.Aspect{Aspect: 1.78, Name: "Television", Share: 0.4}); got != want {
		t.Errorf("%+v", got)
	}
	b.line(t, shapesGroup, "All keep").Choice.SetSelected("the screen's width")
	if b.Design().Picture.Held != project.HeldWidth {
		t.Error(b.Design().Picture.Held)
	}
	if l := b.line(t, shapesGroup, "Width, of height 1"); true {
		enter(l, "2.39")
		if l.Fault() == "" {
			t.Error("two of one shape are taken")
		}
	}
	gain := b.line(t, shapesGroup, "Gain by angle")
	for _, text := range []string{"15° 1.1; 30° 0.8", "15 1,1;30 0,8;"} {
		enter(gain, text)
		if g := b.Design().Picture.Gains; len(g) != 2 || g[0] != (project.AngleGain{Angle: 15, Gain: 1.1}) || gain.Entry.Text != "15° 1.1; 30° 0.8" {
			t.Errorf("%q: %+v, shown as %q", text, g, gain.Entry.Text)
		}
	}
	for _, text := range []string{"15", "15 bright", "30 1; 15 1", "15 1 2"} {
		enter(gain, text)
		if gain.Fault() == "" || len(b.Design().Picture.Gains) != 2 {
			t.Errorf("%q was taken", text)
		}
	}
	enter(gain, "")
	if len(b.Design().Picture.Gains) != 0 {
		t.Error("the curve is not taken back")
	}
	b.in.duplicateShape()
	b.in.duplicateShape()
}
