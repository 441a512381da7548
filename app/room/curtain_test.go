// SPDX-License-Identifier: MIT

package room

import (
	"strings"
	"testing"

	"earline/app/view"
	"earline/project"
	"earline/scene/bake"
)

// found keeps the room as found beside the plan, with its second row farther back.
func found(t *testing.T, d *project.Design) {
	t.Helper()
	d.Keep(project.Variant{Name: "As found", Role: project.Existing})
	d.Variants[0].Seating.Rows[1].Distance += 0.3
}

// The curtain shows the room as found, each room in its own light, in the client view
// alone; it is worked out for nobody once the curtain is gone.
func TestTheCurtainShowsTheRoomAsFoundInItsOwnLight(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "large", &top)
	if err := p.curtainable(); err == nil || !strings.Contains(err.Error(), "no other design") {
		t.Errorf("got %v", err)
	}
	if err := s.Do("keep", "", func(d *project.Design) { found(t, d) }); err != nil {
		t.Fatal(err)
	}
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}}
	p.toggleCurtain()
	before, at := p.Curtain()
	if before == nil || before.Variant.Name != "As found" || at != 0.5 || !p.options.Client {
		t.Fatalf("%v at %v, client view %v", before, at, p.options.Client)
	}
	other := &p.lighting.other
	q.Until(t, func() bool { return p.whole() && other.ready != nil && other.ready.of.d == before })
	if other.ready.light == p.lighting.room.ready.light || p.Lighting() != "" {
		t.Errorf("one light for both rooms, or %q", p.Lighting())
	}
	p.View.MoveCurtain(0.7)
	p.View.MoveCurtain(2)
	if _, at := p.Curtain(); at <= 0.9 || at >= 1 {
		t.Errorf("at %v", at)
	}
	// In another view that is no drawing it stays; in a drawing there is none.
	p.SitIn(6)
	if b, _ := p.Curtain(); b == nil {
		t.Error("no curtain from a seat")
	}
	p.SetView(view.Plan)
	if b, _ := p.Curtain(); b != nil {
		t.Error("a curtain before a drawing")
	}
	p.SetView(view.Overview)
	p.Escape()
	if b, _ := p.Curtain(); b != nil || other.stop != nil {
		t.Error("a curtain beside the engineering, or light worked out for nobody")
	}
	p.toggleCurtain()
	p.toggleCurtain()
	if b, _ := p.Curtain(); b != nil || !p.options.Client {
		t.Error("the curtain does not go")
	}
}

// A design that is dropped takes the curtain with it.
func TestTheCurtainGoesWithItsDesign(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "large", &top)
	p.lighting.scene = ""
	if err := s.Do("keep", "", func(d *project.Design) { found(t, d) }); err != nil {
		t.Fatal(err)
	}
	p.toggleCurtain()
	if err := s.Do("drop", "", func(d *project.Design) { d.Drop(0) }); err != nil {
		t.Fatal(err)
	}
	if b, _ := p.Curtain(); b != nil {
		t.Error("left of the curtain is a design that is gone")
	}
	p.Redraw()
}

// The light says how far it is, and nothing once it is there or given up.
func TestTheLightSaysHowFarItIs(t *testing.T) {
	top := "Sight"
	p, _, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}, {Shadows: 2, Gather: 4, Bounces: 1}}
	seen := map[string]bool{}
	p.Progress = func() {
		words, _, _ := strings.Cut(p.Lighting(), ":")
		seen[words] = true
	}
	if p.Lighting() != "" {
		t.Errorf("before: %q", p.Lighting())
	}
	p.setClient(true)
	q.Until(t, p.whole)
	if !seen["Working out the light"] || !seen["Refining the light"] || p.Lighting() != "" {
		t.Errorf("said %v, at last %q", seen, p.Lighting())
	}
}
