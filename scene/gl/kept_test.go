// SPDX-License-Identifier: MIT

package gl

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"earline/geometry"
	"earline/project"
	"earline/project/file"
	"earline/project/sight"
	"earline/scene"
)

// A picture drawn over what was kept is the one drawn whole, byte for byte: over every
// view, at one and four samples, after edits that leave the fixed things and such that
// do not, turns of the camera, and at other sizes.
func TestKeptPicturesAreAsDrawnWhole(t *testing.T) {
	for _, name := range []string{"large", "two-row"} {
		d, ok := file.Demo(name)
		if !ok {
			t.Fatal("no demo")
		}
		for _, view := range []string{"overview", "plan", "long", "cross", "seat:1.2", "ear:2.1:M+030", "walk:3,2,1.7,30"} {
			for _, samples := range []int{1, 4} {
				if samples == 4 && name != "large" {
					continue // the slow ones once
				}
				t.Run(fmt.Sprintf("%s %s, %d samples", name, view, samples), func(t *testing.T) {
					inPainter(t, func(p *painter) error { return comparePictures(t, p, d.Clone(), view, samples) })
				})
			}
		}
	}
}

// comparePictures edits d and looks at it, and compares what is on show with the same
// drawn whole.
func comparePictures(t *testing.T, p *painter, d *project.Design, name string, samples int) error {
	o := scene.Default()
	o.Cones, o.Speaker = true, 1
	job := Job{W: 160, H: 100, Samples: samples, Scale: 1}
	var list *scene.List
	var failed error
	build := func() {
		r := sight.Audit(d)
		v, err := scene.Named(d, r, name, float32(job.W)/float32(job.H))
		failed = errors.Join(failed, err)
		job.Camera, list = v.Camera, scene.Build(d, r, v.Apply(o))
	}
	// look compares, and says whether the picture was drawn over a kept one.
	look := func(step string) (kept bool, err error) {
		target, err := p.target(job)
		if err != nil {
			return false, err
		}
		now := taken{p.stage.fixed, job.Camera}
		kept = target.of == now
		got, want := blank(nil, job.W, job.H), blank(nil, job.W, job.H)
		if err := p.draw(p.stage, nil, job, got); err != nil {
			return false, err
		}
		whole := job
		whole.List = list
		last := target.last // a picture in between does not count
		if err := p.drawOnce(whole, want); err != nil {
			return false, err
		}
		target.last = last
		if !bytes.Equal(got.Pix, want.Pix) {
			n := 0
			for i := range got.Pix {
				if got.Pix[i] != want.Pix[i] {
					n++
				}
			}
			t.Errorf("%s (over a kept picture: %v): %d of %d bytes differ from the picture drawn whole", step, kept, n, len(got.Pix))
		}
		return kept, nil
	}
	steps := []struct {
		name string
		do   func()
		show bool // a new list
		kept bool // the picture is drawn over a kept one
	}{
		{"first", build, true, false},
		{"again", func() {}, false, false},
		{"the third time", func() {}, false, true},
		{"a loudspeaker moved", func() { d.Speakers[1].At.Z += 0.2; build() }, true, true},
		{"moved again, another selected", func() { d.Speakers[1].At.Z -= 0.3; o.Speaker = 0; build() }, true, true},
		{"rays off", func() { o.Rays = scene.NoRays; build() }, true, true},
		{"rays on", func() { o.Rays = scene.All; build() }, true, true},
		{"a row moved", func() { d.Seating.Rows[0].Distance += 0.05; build() }, true, false},
		{"the room higher", func() { d.Room.Ceiling.Height += 0.1; build() }, true, false},
		{"camera turned", func() { job.Camera.At = job.Camera.At.Add(scene.World(geometry.V(0.1, 0.2, 0))) }, false, false},
		{"camera turned on", func() { job.Camera.At = job.Camera.At.Add(scene.World(geometry.V(0.1, 0.2, 0))) }, false, false},
		{"at rest", func() {}, false, false},
		{"still at rest", func() {}, false, true},
		{"larger", func() { job.W, job.H = 200, 110 }, false, false},
		{"as large", func() {}, false, false},
		{"as large still", func() {}, false, true},
		{"as before", func() { job.W, job.H = 160, 100 }, false, false},
	}
	for _, s := range steps {
		if s.do(); failed != nil {
			return failed
		}
		if s.show {
			if err := p.show(list); err != nil {
				return err
			}
		}
		kept, err := look(s.name)
		if err != nil {
			return err
		}
		if kept != s.kept {
			t.Errorf("%s: drawn over a kept picture: %v, want %v", s.name, kept, s.kept)
		}
	}
	return nil
}
