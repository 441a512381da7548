// SPDX-License-Identifier: MIT

package room

import (
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/view"
	"earline/project"
	"earline/scene"
	"earline/scene/bake"
	"earline/scene/tour"
)

// A tour plays on the whole screen from viewpoint to viewpoint, says what each seat gets,
// pauses, goes to the next, and Escape shows the room as it was before.
func TestATourPlaysPausesAndEnds(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}}
	full := false
	p.OnAround = func(on bool) { full = on }
	before := p.View.Rig
	p.playTour()
	q.Until(t, func() bool { return p.playing != nil })
	if !full || !p.options.Client {
		t.Fatalf("full screen %v, client %v", full, p.options.Client)
	}
	p.pass(0.1)
	if p.playing.at != 0 {
		t.Error("it goes on before there is light")
	}
	q.Until(t, p.lights)
	p.pass(0.1)
	if p.playing.at != 0.1 || p.View.Said() != "From the door" {
		t.Errorf("at %v s it says %q", p.playing.at, p.View.Said())
	}
	key := func(name fyne.KeyName) { p.View.TypedKey(&fyne.KeyEvent{Name: name}) }
	key(fyne.KeySpace)
	p.pass(0.1)
	if p.playing.at != 0.1 || p.View.Said() != howPaused {
		t.Errorf("paused at %v s, says %q", p.playing.at, p.View.Said())
	}
	key(fyne.KeySpace)
	y := p.playing
	plan := y.seq.(*tour.Tour)
	for range 2 {
		key(fyne.KeyRight)
	}
	for range 400 {
		if p.pass(0.1); p.View.Rig.Kind == view.Seat && plan.At(y.at).Stays {
			break
		}
	}
	seat := plan.At(y.at).Seat
	if seat == scene.None || p.Options().FromSeat != seat {
		t.Fatalf("at %v s in seat %d, drawn from seat %d", y.at, seat, p.Options().FromSeat)
	}
	if want := "In the main seat. " + s.Result().ClientSentence(seat); p.View.Said() != want {
		t.Errorf("says %q, want %q", p.View.Said(), want)
	}
	for range 400 {
		p.pass(0.1)
	}
	if y.at != plan.Length() || p.View.Said() != howEnded {
		t.Errorf("at %v s of %v it says %q", y.at, plan.Length(), p.View.Said())
	}
	key(fyne.KeyReturn)
	if p.pass(0.1); y.at != 0.1 {
		t.Errorf("begun again it is at %v s", y.at)
	}
	p.Escape()
	if full || p.options.Client || p.playing != nil || p.View.Guided || p.View.Rig != before {
		t.Errorf("full screen %v, client %v, %+v", full, p.options.Client, p.View.Rig)
	}
}

// Whoever changes the room, or the view, ends what plays.
func TestAnEditEndsTheTour(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.playTour()
	q.Until(t, func() bool { return p.playing != nil })
	if err := s.Do("move", "", func(d *project.Design) { d.Seating.Rows[0].Distance += 0.1 }); err != nil {
		t.Fatal(err)
	}
	if p.playing != nil {
		t.Error("the tour of another room goes on")
	}
	p.playTour()
	q.Until(t, func() bool { return p.playing != nil })
	p.SetView(view.Plan)
	if p.playing != nil || p.View.Rig.Kind != view.Plan {
		t.Errorf("%v", p.View.Rig.Kind)
	}
}

// The lights come on one after another, and the room ends in the light of the show.
func TestTheEntrancePlays(t *testing.T) {
	top := "Sight"
	p, _, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}}
	p.SitIn(1)
	p.playEntrance()
	q.Until(t, func() bool { return p.playing != nil })
	q.Until(t, p.lights)
	y := p.playing
	if p.View.Rig.Kind != view.Seat || p.look.seat != 1 {
		t.Errorf("seen from %v %d", p.View.Rig.Kind, p.look.seat)
	}
	w := order{p.session.Design(), nil, p.Options()}
	for _, m := range p.lit(w, &p.lighting.room).Meshes {
		for _, v := range m.Lit {
			if v > 0.31 { // what is outside the room has a light of its own
				t.Fatalf("it is not dark at the beginning: %g on %s", v, m.Name)
			}
		}
	}
	for y.at < y.seq.Length() {
		p.pass(0.1)
	}
	q.Until(t, func() bool { return !y.mixing })
	runs := false
	for _, m := range p.lit(w, &p.lighting.room).Meshes {
		runs = runs || m.Shines == scene.Picture
	}
	if !runs {
		t.Error("no picture runs at the end")
	}
}

// A view is kept from a seat, on foot and from outside, and found again; it costs no light.
func TestAViewIsKeptAndFoundAgain(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}}
	p.setClient(true)
	q.Until(t, p.whole)
	light := p.lighting.room.ready.light
	p.keepView() // from outside
	p.SitIn(2)
	p.keepView()
	p.SetView(view.Overview)
	p.setAround(true)
	eye := p.View.Rig.Eye
	p.keepView()
	if p.lighting.room.ready.light != light || p.lit(order{s.Design(), nil, p.Options()}, &p.lighting.room) == nil {
		t.Error("a view that is kept puts the light out")
	}
	all := s.Design().Viewpoints
	if len(all) != 3 || all[0].Kind != project.Free || all[1].Kind != project.Seated || all[2].Kind != project.Standing || all[2].Scene != project.House {
		t.Fatalf("%+v", all)
	}
	p.Escape()
	p.LookFrom(2)
	if p.View.Rig.Kind != view.Walk || p.View.Rig.Eye.Dist(eye) > 0.002 {
		t.Errorf("%+v", p.View.Rig)
	}
	p.LookFrom(1)
	if p.View.Rig.Kind != view.Seat || p.look.seat != 2 {
		t.Errorf("%v %d", p.View.Rig.Kind, p.look.seat)
	}
	p.SetView(view.Plan)
	if p.keepable() == nil {
		t.Error("a drawing is kept as a viewpoint")
	}
	if !s.Undo() || len(s.Design().Viewpoints) != 2 {
		t.Error("not one step of undo")
	}
}
