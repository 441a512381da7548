// SPDX-License-Identifier: MIT

package export

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/scene"
	"earline/scene/gl"
)

// besideFound returns a demo room with a room as found beside it, whose second row is
// farther back.
func besideFound(t *testing.T) *project.Design {
	t.Helper()
	d, ok := file.Demo("large")
	if !ok {
		t.Fatal("no demo")
	}
	d.Keep(project.Variant{Name: "As found", Role: project.Existing})
	d.Variants[0].Seating.Rows[1].Distance += 0.3
	return d
}

// blankOf draws nothing, of the size that is wanted, and keeps what was asked for.
func blankOf(jobs *[]gl.Job) func(gl.Job) (*image.RGBA, error) {
	return func(j gl.Job) (*image.RGBA, error) {
		*jobs = append(*jobs, j)
		if !j.Part.Empty() {
			return image.NewRGBA(image.Rect(0, 0, j.Part.Dx(), j.Part.Dy())), nil
		}
		return image.NewRGBA(image.Rect(0, 0, j.W, j.H)), nil
	}
}

// Left of the curtain is the same seat of the room as found: the camera is where the eyes
// are there, and looks the same way.
func TestACurtainIsSeenFromTheSameSeatOnBothSides(t *testing.T) {
	d := besideFound(t)
	found := &d.Variants[0]
	v, err := scene.Named(d, nil, "seat:2.3", 1.6)
	if err != nil {
		t.Fatal(err)
	}
	o := v.Apply(scene.Default())
	o.Client = true
	var jobs []gl.Job
	s := Still{W: 64, H: 40, Design: d, Camera: v.Camera, Options: o, Before: found, Curtain: 0.3}
	data, err := s.PNG(t.Context(), blankOf(&jobs), nil)
	if err != nil {
		t.Fatal(err)
	}
	if img, err := png.Decode(bytes.NewReader(data)); err != nil || img.Bounds() != image.Rect(0, 0, 64, 40) {
		t.Errorf("%v, %v", img.Bounds(), err)
	}
	c := jobs[0].Curtain
	if len(jobs) != 1 || c == nil || c.At != 0.3 || c.Left != "As found" || c.Right != "Plan" {
		t.Fatalf("%d pictures, %+v", len(jobs), c)
	}
	was, _ := scene.Named(found, nil, "seat:2.3", 1.6)
	if c.Camera.Eye != was.Camera.Eye || c.Camera.Eye == v.Camera.Eye {
		t.Errorf("the eye is at %v, want %v", c.Camera.Eye, was.Camera.Eye)
	}
	if a, b := c.Camera.At.Sub(c.Camera.Eye), v.Camera.At.Sub(v.Camera.Eye); a.Sub(b).Len() > 1e-5 {
		t.Errorf("looks along %v, not %v", a, b)
	}
	// Where the room as found has no such seat, and outside, it is the same place.
	found.Seating.Rows = found.Seating.Rows[:1]
	if same, i := scene.SameSeat(d, found, v.Seat, v.Camera); same != v.Camera || i != scene.None {
		t.Errorf("%+v, seat %d", same, i)
	}
}

// A still says how far it is, up to all of it, and is given up with its context.
func TestAStillTellsHowFarItIsAndCanBeGivenUp(t *testing.T) {
	d, _ := file.Demo("small")
	v, _ := scene.Named(d, nil, "seat:1.1", 1.6)
	o := v.Apply(scene.Default())
	o.Client = true
	var jobs []gl.Job
	s := Still{W: 64, H: 40, Design: d, Camera: v.Camera, Options: o, Light: project.House}
	last := 0.0
	if _, err := s.PNG(t.Context(), blankOf(&jobs), func(share float64) {
		if share < last || share > 1 {
			t.Errorf("after %v it is %v", last, share)
		}
		last = share
	}); err != nil || last != 1 || len(jobs) != 1 {
		t.Errorf("at last %v, %d pictures, %v", last, len(jobs), err)
	}
	lit := false
	for _, m := range jobs[0].List.Meshes {
		lit = lit || len(m.Lit) > 0
	}
	if !lit {
		t.Error("no light")
	}
	ctx, cancel := context.WithCancel(t.Context())
	s.Fine = true
	if data, err := s.PNG(ctx, blankOf(&jobs), func(float64) { cancel() }); data != nil || !errors.Is(err, context.Canceled) || len(jobs) != 1 {
		t.Errorf("given up: %d bytes, %v, %d pictures", len(data), err, len(jobs))
	}
}

// A black picture said nothing of why it was black.
func TestARoomInTheDarkSaysWhatIsLit(t *testing.T) {
	d, _ := file.Demo("small")
	s := Still{W: 64, H: 40, Design: d, Options: scene.Default(), Light: project.Preshow}
	for i := range d.LightGroups {
		d.LightGroups[i].Scenes.Preshow = 0
	}
	var jobs []gl.Job
	refused := func(want string) {
		t.Helper()
		if _, err := s.PNG(t.Context(), blankOf(&jobs), nil); err == nil || !strings.Contains(err.Error(), want) || len(jobs) > 0 {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	refused("light_groups: in the scene preshow every light group is at level 0, allowed: house, show")
	d.LightGroups = nil
	refused("light_groups: none, allowed: one at least")
}
