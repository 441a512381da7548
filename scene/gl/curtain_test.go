// SPDX-License-Identifier: MIT

package gl

import (
	"context"
	"errors"
	"image"
	"testing"

	"earline/scene"
)

// Left of the curtain is the other room from its own camera, right of it the room on
// show, as each is drawn alone; and without a curtain all is as before.
func TestACurtainShowsEachRoomOnItsSide(t *testing.T) {
	r := open(t)
	room, other := cinema(), cinema()
	other.Meshes, other.Sky = other.Meshes[1:], scene.RGB{R: 0.9, G: 0.2, B: 0.1}
	from := corner()
	from.Eye[0] += 0.3
	j := Job{W: 120, H: 80, Camera: corner(), Scale: 1, List: room}
	still := func(j Job) *image.RGBA {
		t.Helper()
		img, err := r.Draw(j)
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	bare := func(l *scene.List) *scene.List {
		return &scene.List{Meshes: l.Meshes, Lines: l.Lines, Sky: l.Sky, Ground: l.Ground}
	}
	j.List = bare(room)
	whole := still(j)
	left := j
	left.List, left.Camera = bare(other), from
	before := still(left)
	for _, at := range []float32{-1, 0, 0.25, 0.5, 1, 2} {
		j.Curtain = &Curtain{List: left.List, Camera: from, At: at}
		got := still(j)
		edge := j.Curtain.edge(j.W)
		for y := range j.H {
			for x := range j.W {
				want := whole
				switch {
				case x >= edge-3 && x <= edge+3:
					continue // the edge itself
				case x < edge:
					want = before
				}
				if got.RGBAAt(x, y) != want.RGBAAt(x, y) {
					t.Fatalf("curtain at %v: pixel %d, %d is %v, want %v", at, x, y, got.RGBAAt(x, y), want.RGBAAt(x, y))
				}
			}
		}
	}
	// On show, it goes as it came: told where the rooms differ, which a graphics card draws
	// a little otherwise.
	x, y := 0, 0
	for whole.RGBAAt(x, y) == before.RGBAAt(x, y) {
		if x++; x == j.W/2-5 {
			x, y = 0, y+1
		}
		if y == j.H {
			t.Fatal("the rooms look the same")
		}
	}
	frames := make(chan Frame, 1)
	r.OnFrame(func(f Frame) { frames <- f })
	for i, hung := range []bool{false, true, true, false} {
		s := j
		s.Curtain, s.List = nil, nil
		if i == 0 {
			s.List = j.List
		}
		if hung {
			s.Curtain = &Curtain{List: left.List, Camera: from, At: 0.5}
		}
		r.Submit(s)
		f := <-frames
		if f.Err != nil {
			t.Fatal(f.Err)
		}
		if got := f.Img.RGBAAt(x, y) == before.RGBAAt(x, y); got != hung {
			t.Errorf("step %d: the other room is seen: %v", i, got)
		}
	}
}

// A picture drawn in parts is the one drawn whole, but for the noise of the backdrop.
func TestPartsMakeUpThePicture(t *testing.T) {
	r := open(t)
	l := cinema()
	j := Job{W: 90, H: 70, Camera: corner(), Scale: 1, List: &scene.List{Meshes: l.Meshes, Sky: scene.RGB{B: 1}, Ground: scene.RGB{R: 1}}}
	for _, c := range []*Curtain{nil, {List: l, Camera: corner(), At: 0.4}} {
		j.Curtain = c
		whole, err := r.Draw(j)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []image.Rectangle{image.Rect(0, 0, 40, 30), image.Rect(40, 0, 90, 30), image.Rect(0, 30, 40, 70), image.Rect(40, 30, 90, 70)} {
			p := j
			p.Part = part
			got, err := r.Draw(p)
			if err != nil {
				t.Fatal(err)
			}
			off := 0
			for y := part.Min.Y; y < part.Max.Y; y++ {
				for x := part.Min.X; x < part.Max.X; x++ {
					if edge := c.edge(j.W); c != nil && x >= edge-3 && x <= edge+3 {
						continue
					}
					a, b := got.RGBAAt(x-part.Min.X, y-part.Min.Y), whole.RGBAAt(x, y)
					if d := max(apart(a.R, b.R), apart(a.G, b.G), apart(a.B, b.B)); d > 1 {
						off++
					}
				}
			}
			// Where a corner of a triangle falls on the middle of a pixel, rounding decides.
			if most := part.Dx() * part.Dy() / 200; off > most {
				t.Errorf("%v: %d pixels differ, %d may", part, off, most)
			}
		}
	}
}

func apart(a, b uint8) int { return max(int(a), int(b)) - min(int(a), int(b)) }

// A fine picture has the size that was asked for and looks like the plain one; it can be
// given up between parts, and says how far it is.
func TestAFinePictureIsThePlainOneSmoothed(t *testing.T) {
	r := open(t)
	l := cinema()
	j := Job{W: 1100, H: 60, Camera: corner(), Samples: 4, Scale: 1, List: &scene.List{Meshes: l.Meshes, Sky: l.Sky, Ground: l.Ground}}
	plain, err := r.Draw(j)
	if err != nil {
		t.Fatal(err)
	}
	var told []float64
	fine, err := Fine(context.Background(), r.Draw, j, func(share float64) { told = append(told, share) })
	if err != nil {
		t.Fatal(err)
	}
	if fine.Rect != plain.Rect || len(told) != 2 || told[1] != 1 {
		t.Fatalf("%v, told %v", fine.Rect, told)
	}
	sum := 0
	for i := range fine.Pix {
		sum += apart(fine.Pix[i], plain.Pix[i])
	}
	if mean := float64(sum) / float64(len(fine.Pix)); mean > 1 {
		t.Errorf("on average %.2f of 255 apart", mean)
	}
	ctx, cancel := context.WithCancel(context.Background())
	if _, err := Fine(ctx, r.Draw, j, func(float64) { cancel() }); !errors.Is(err, context.Canceled) {
		t.Errorf("given up: %v", err)
	}
}
