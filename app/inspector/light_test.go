// SPDX-License-Identifier: MIT

package inspector

import (
	"testing"

	"earline/project"
)

func TestLightGroupsComeAndGo(t *testing.T) {
	everyDemo(t, func(t *testing.T, b *bench) {
		n := len(b.Design().LightGroups)
		before := b.Design()
		b.in.addLights()
		if len(b.Design().LightGroups) != n+1 {
			t.Fatalf("%d groups, want %d", len(b.Design().LightGroups), n+1)
		}
		oneStep(t, b, before, "add lights")
		name := b.in.lightsName()
		before = b.Design()
		b.in.duplicateLights()
		oneStep(t, b, before, "duplicate "+name)
		for _, k := range []project.LightKind{project.Strip, project.Stars, project.StepLight, project.Downlight} {
			if err := b.in.lampsAre(k); err != nil || b.Design().LightGroups[b.in.lights].Kind != k {
				t.Errorf("cannot be made %s: %v", k, err)
			}
		}
		for range n + 4 {
			b.in.removeLights()
		}
		if len(b.Design().LightGroups) != 0 || b.in.groups[lightGroups].form.Line("Name") != nil {
			t.Errorf("%d groups left", len(b.Design().LightGroups))
		}
		b.in.duplicateLights()
	})
}

// A level is typed in percent; one more lamp is as bright as the others; what is not
// possible is said and changes nothing.
func TestLightIsEdited(t *testing.T) {
	b := newBench(t, "large")
	now := func() *project.LightGroup { return &b.Design().LightGroups[b.in.lights] }
	enter(b.line(t, lightGroups, "Preshow"), "35 %")
	if !near(now().Scenes.Preshow, 0.35) {
		t.Errorf("preshow is %g", now().Scenes.Preshow)
	}
	enter(b.line(t, lightGroups, "Show"), "120")
	if b.line(t, lightGroups, "Show").Fault() == "" || now().Scenes.Show != 0 {
		t.Error("120 % is taken")
	}
	enter(b.line(t, lightGroups, "Height"), "3.3 m")
	if !near(float64(now().At[0].Z), 3.3) {
		t.Errorf("the first lamp is %v", now().At[0])
	}
	each, lamps := now().Flux/now().Measure(), len(now().At)
	b.in.addLamp()
	if len(now().At) != lamps+1 || !near(now().Flux/now().Measure(), each) || b.in.lamp != 1 {
		t.Errorf("%d lamps of %g lm each, the one shown is %d", len(now().At), now().Flux/now().Measure(), b.in.lamp+1)
	}
	for range lamps + 4 {
		b.in.removeLamp()
	}
	if len(now().At) != 1 {
		t.Errorf("%d lamps left of a group that must have one", len(now().At))
	}
}
