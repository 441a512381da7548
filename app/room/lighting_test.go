// SPDX-License-Identifier: MIT

package room

import (
	"strings"
	"testing"

	"earline/project"
	"earline/scene"
	"earline/scene/bake"
)

// whole reports whether there is nothing better to come.
func (p *Picture) whole() bool {
	l := &p.lighting.room
	return l.ready != nil && l.ready.whole && l.ready.of == l.of
}

// The client view begins in the light of a drawing, and is in the light of a scene once
// that is worked out; other scenes, exposures and seats only mix it anew, also when only
// a level was changed meanwhile.
func TestTheClientViewIsInTheLightOfAScene(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}, {Shadows: 1, Gather: 2, Bounces: 1}}
	w := func() order { return order{p.session.Design(), nil, p.Options()} }
	if p.lit(w(), &p.lighting.room) != nil || p.lighting.room.stop != nil {
		t.Fatal("an engineering view is lit")
	}
	p.setClient(true)
	if p.lit(w(), &p.lighting.room) != nil {
		t.Error("light is there before it is worked out")
	}
	q.Until(t, p.whole)
	brightness := func(l *scene.List) (sum float64) {
		if l == nil {
			t.Fatal("no light")
		}
		for _, m := range l.Meshes {
			for _, v := range m.Lit {
				sum += float64(v)
			}
		}
		return sum
	}
	house := brightness(p.lit(w(), &p.lighting.room))
	light := p.lighting.room.ready.light
	p.Expose(1)
	if got := brightness(p.lit(w(), &p.lighting.room)); got < 1.9*house {
		t.Errorf("a stop brighter: %g, before %g", got, house)
	}
	p.Expose(0)
	p.SetLight(project.Preshow)
	if brightness(p.lit(w(), &p.lighting.room)) >= house {
		t.Errorf("%s is brighter than house light", p.lighting.scene)
	}
	p.SitIn(1)
	for _, m := range p.lit(w(), &p.lighting.room).Meshes {
		if m.Seat == 2 {
			t.Error("the own sitter is before the camera")
		}
	}
	if p.lighting.room.ready.light != light {
		t.Error("scene, exposure or seat worked the light out anew")
	}
	if err := s.Do("dim", "", func(d *project.Design) { d.LightGroups[0].Scenes.Preshow = 0.77 }); err != nil {
		t.Fatal(err)
	}
	q.Until(t, p.whole)
	if p.lighting.room.ready.light != light {
		t.Error("another level worked the light out anew")
	}
	if err := s.Do("move", "", func(d *project.Design) { d.Seating.Rows[0].Distance += 0.1 }); err != nil {
		t.Fatal(err)
	}
	if p.lit(w(), &p.lighting.room) != nil {
		t.Error("a moved row is in the light of before")
	}
	p.setClient(false)
	if p.lighting.room.stop != nil || p.lit(w(), &p.lighting.room) != nil {
		t.Error("light goes on being worked out for nobody")
	}
}

// A viewpoint that was kept while the light was refined threw the client back to the even
// light of a drawing.
func TestKeepingAViewpointPutTheLightOut(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}, {Shadows: 1, Gather: 64, Bounces: 2}}
	lit := func() *scene.List {
		return p.lit(order{p.session.Design(), nil, p.Options()}, &p.lighting.room)
	}
	b := &p.lighting.room
	p.setClient(true)
	q.Until(t, func() bool { return b.ready != nil })
	if p.whole() {
		t.Fatal("nothing is left to refine")
	}
	if err := s.Do("keep", "", func(d *project.Design) {
		d.Viewpoints = append(d.Viewpoints, project.Viewpoint{Name: "Here", Kind: project.Standing})
	}); err != nil {
		t.Fatal(err)
	}
	if lit() == nil {
		t.Error("the light is out")
	}
	q.Until(t, p.whole)
	if lit() == nil {
		t.Error("the light is out when it is refined")
	}
}

// A black picture says why it is black.
func TestAllLightsOffIsSaid(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}}
	if err := s.Do("off", "", func(d *project.Design) {
		for i := range d.LightGroups {
			d.LightGroups[i].Scenes.Preshow = 0
		}
	}); err != nil {
		t.Fatal(err)
	}
	p.SetLight(project.Preshow)
	q.Until(t, p.whole)
	if got := p.Lighting(); got != "Dark in the scene preshow: every light group is at level 0" {
		t.Errorf("said %q", got)
	}
	p.SetLight(project.Show) // the picture shines
	if got := p.Lighting(); got != "" {
		t.Errorf("said %q", got)
	}
}

func TestARoomWithoutLampsHasNoScenes(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "small", &top)
	if err := s.Do("remove", "", func(d *project.Design) { d.LightGroups = nil }); err != nil {
		t.Fatal(err)
	}
	p.setClient(true)
	if p.lighting.room.stop != nil {
		t.Error("the light of no lamps is worked out")
	}
	if err := p.lightable(); err == nil || !strings.Contains(err.Error(), "light groups") {
		t.Errorf("got %v", err)
	}
}
