// SPDX-License-Identifier: MIT

package scene_test

import (
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/place"
	"earline/scene"
)

// Where a thing is drawn, there it is picked - in perspective and parallel
// views alike.
func TestPickFindsWhatIsDrawn(t *testing.T) {
	d := demo(t, "large")
	r := audited(d)
	seats := place.Seats(d)
	cams := map[string]scene.Camera{"overview": scene.Overview(d, 1.5), "plan": scene.Plan(d, 1.5), "long": scene.LongSection(d, 1.5), "cross": scene.CrossSection(d, 1.5)}
	pick := func(cam scene.Camera, p geometry.Vec) (scene.Hit, bool) {
		x, y, _, ok := cam.Project(scene.World(p), wide, high)
		if !ok {
			t.Fatalf("%v is not in the picture", p)
		}
		return scene.Pick(d, &r.Room, cam, float64(x), float64(y), wide, high)
	}
	for name, cam := range cams {
		for i, s := range seats {
			// The top of the head: nothing stands before it but what is nearer.
			hit, ok := pick(cam, r.Bodies[i].Crown.Add(geometry.V(0, 0, -0.02)))
			if !ok {
				t.Errorf("%s: nothing at the head in row %d seat %d", name, s.Row, s.Number)
				continue
			}
			if name == "plan" && hit.Kind == place.SeatItem && (hit.Seat != i || hit.Row != s.Row) {
				t.Errorf("plan: seat %d of row %d at the head in row %d seat %d", hit.Seat, hit.Row, s.Row, s.Number)
			}
		}
	}
	// Close up each loudspeaker is met on its own front.
	for k, p := range r.Speakers {
		eye := p.At.Vec().Add(p.Front.W.Mul(0.3))
		at := p.At.Vec()
		cam := scene.Camera{Eye: scene.World(eye), At: scene.World(at), Up: scene.World(p.Front.U.Neg()), FOV: 0.5}
		hit, ok := scene.Pick(d, &r.Room, cam, wide/2, high/2, wide, high)
		if !ok || hit.Kind != place.SpeakerItem || hit.Speaker != k || hit.Seat != scene.None || hit.At.Dist(at) > 1e-3 {
			t.Errorf("before %s: %+v, %v", p.Name(), hit, ok)
		}
	}
	if hit, ok := scene.Pick(d, &r.Room, cams["overview"], 1, 1, wide, high); ok {
		t.Errorf("the sky is %+v", hit)
	}
	plain := project.Design{}
	if hit, ok := scene.Pick(&plain, nil, scene.Camera{}, 1, 1, 0, 0); ok {
		t.Errorf("nothing is %+v", hit)
	}
}

// From a seat one picks what is in front, not one's own head; the screen; and
// a window, which hides no sight.
func TestPickFromASeat(t *testing.T) {
	d := demo(t, "small")
	r := audited(d)
	v, err := scene.Named(d, r, "seat:1.2", 1.5)
	if err != nil {
		t.Fatal(err)
	}
	if hit, ok := scene.Pick(d, &r.Room, v.Camera, wide/2, high/2, wide, high); !ok || hit.Kind != place.ScreenItem {
		t.Errorf("the middle of the view is %+v, %v; want the screen", hit, ok)
	}
	for i, f := range d.Room.Features {
		if f.Kind != project.Window {
			continue
		}
		at := f.Box().Center
		eye := place.MainPoint(d)
		eye.Z += 0.7
		dir, _ := at.Sub(eye).Unit()
		cam := scene.Camera{Eye: scene.World(eye), At: scene.World(eye.Add(dir)), Up: scene.World(geometry.V(0, 0, 1)), FOV: 1}
		if hit, ok := scene.Pick(d, nil, cam, wide/2, high/2, wide, high); !ok || hit.Kind != place.FeatureItem || hit.Feature != i {
			t.Errorf("towards the window: %+v, %v", hit, ok)
		}
	}
	// A loudspeaker behind a screen that lets sound through comes first.
	large := demo(t, "large")
	for k, p := range place.Speakers(large) {
		if p.Mount != project.BehindScreen || !large.Screen.Transparent {
			continue
		}
		eye := place.MainPoint(large)
		cam := scene.Camera{Eye: scene.World(eye.Add(geometry.V(0, 0, 0.6))), At: scene.World(p.At.Vec()), Up: scene.World(geometry.V(0, 0, 1)), FOV: 1}
		if hit, ok := scene.Pick(large, nil, cam, wide/2, high/2, wide, high); ok && hit.Kind == place.ScreenItem {
			t.Errorf("towards %s (%d): %+v", p.Name(), k, hit)
		}
	}
}
