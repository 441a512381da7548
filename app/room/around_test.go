// SPDX-License-Identifier: MIT

package room

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"earline/app/view"
	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene"
	"earline/scene/bake"
)

// A client is shown around on foot, sits down and gets up, and Escape shows the room as
// it was before.
func TestAClientWalksSitsDownAndGetsUp(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "large", &top)
	full := false
	p.OnAround = func(on bool) { full = on }
	before := p.View.Rig
	p.setAround(true)
	if !full || !p.options.Client || p.View.Rig.Kind != view.Walk {
		t.Fatalf("full screen %v, client %v, %v", full, p.options.Client, p.View.Rig.Kind)
	}
	if eyes := p.View.Rig.Eye.Z; math.Abs(eyes-1.6) > 0.01 {
		t.Errorf("eyes at %v m", eyes)
	}
	p.sitOrRise()
	if p.View.Rig.Kind != view.Walk {
		t.Error("sat down by the door, where no seat is")
	}
	r := s.Result()
	for i := range r.Seats {
		p.sitDown(i)
		if p.View.Rig.Kind != view.Seat || p.View.Rig.Eye != r.Views[i].Eye || p.Options().FromSeat != i {
			t.Fatalf("seat %d: %+v", i, p.View.Rig)
		}
		if said := p.View.Said(); said != r.ClientSentence(i) {
			t.Errorf("seat %d is told %q", i, said)
		}
		p.sitOrRise()
		if p.View.Rig.Kind != view.Walk || p.Options().FromSeat != scene.None || !p.ground().Free(p.around.foot) {
			t.Fatalf("from seat %d one gets up to %+v", i, p.View.Rig)
		}
	}
	p.View.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}) // beside the seat that was left
	if p.View.Rig.Kind != view.Seat {
		t.Error("not sat down again")
	}
	p.Escape()
	if full || p.options.Client || p.View.Rig != before {
		t.Errorf("full screen %v, client %v, %+v", full, p.options.Client, p.View.Rig)
	}
}

// Whoever is shown around is stopped by the walls.
func TestWhoIsShownAroundDoesNotPassThroughAWall(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "small", &top)
	p.setAround(true)
	for range 40 {
		eye := p.stride(p.View.Rig.Eye, geometry.Vec{X: 0.3, Y: 0.2})
		if !s.Design().Room.Polygon().Contains(geometry.Vec2{X: eye.X, Y: eye.Y}) {
			t.Fatalf("outside at %v", eye)
		}
	}
	if p.View.Said() != "" {
		t.Error("the caption is still there")
	}
}

// The camera follows the eyes of a sitter who is tried, and comes back with them.
func TestTheCameraIsAtTheEyesOfWhoIsTried(t *testing.T) {
	top := "Sight"
	p, s, _ := opened(t, "large", &top)
	p.SitIn(6)
	planned, _, _ := s.Sitter()
	before := p.View.Rig.Eye
	s.TrySitter(6, place.Sitter{Percentile: 99, Recline: planned.Recline})
	if up := p.View.Rig.Eye.Z - before.Z; up < 0.03 {
		t.Errorf("the eyes are %v m higher", up)
	}
	s.TrySitter(6, planned)
	if p.View.Rig.Eye != before {
		t.Errorf("at %v, before at %v", p.View.Rig.Eye, before)
	}
}

// A door opens before who walks into it in the light of a scene, and shuts behind them; it
// is open in no other picture.
func TestADoorOpensInTheWalk(t *testing.T) {
	top := "Sight"
	p, s, q := opened(t, "small", &top)
	p.lighting.steps = []bake.Quality{{Shadows: 1, Gather: 1, Bounces: 1}}
	p.setAround(true)
	q.Until(t, p.whole)
	a := p.around
	box := s.Design().Room.Features[0].Box()
	for _, f := range s.Design().Room.Features {
		if f.Kind == project.Door {
			box = f.Box()
		}
	}
	p.View.Rig.LookAt(p.View.Rig.Eye, box.Center)
	shut := a.shut
	p.stride(p.View.Rig.Eye, geometry.Vec{X: 0.001})
	if a.open != 1 || a.shut != shut {
		t.Errorf("before the door it is open by %v", a.open)
	}
	p.View.Rig.Az += math.Pi
	p.stride(p.View.Rig.Eye, geometry.Vec{X: 0.001})
	if a.open != 0 {
		t.Errorf("behind one it is open by %v", a.open)
	}
}
