// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"image"
	"image/color"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

func isYellow(c color.RGBA) bool { return c.R > 150 && c.G > 150 && c.B < 90 }

// note is a label that stands out in any picture here.
func note(at mgl32.Vec3, text string) scene.Label {
	return scene.Label{At: at, Text: text, Ink: black, Plate: scene.RGB{R: 1, G: 1}}
}

func TestLabelIsDrawnAtItsPoint(t *testing.T) {
	l := &scene.List{Labels: []scene.Label{note(mgl32.Vec3{-1, 0.5, -4}, "M+030")}}
	x, y, _, _ := ahead().Project(l.Labels[0].At, 200, 120)
	for _, samples := range []int{1, 4} {
		n, gx, gy := find(picture(t, l, ahead(), samples), isYellow)
		if n < 200 || gx < float64(x)-3 || gx > float64(x)+3 || gy < float64(y)-3 || gy > float64(y)+3 {
			t.Errorf("samples %d: plate is %d pixels about (%.0f, %.0f), want about (%.0f, %.0f)", samples, n, gx, gy, x, y)
		}
	}
}

func TestLabelBehindSomethingIsLeftOut(t *testing.T) {
	at := mgl32.Vec3{0, 0, -4}
	glass := quad(mgl32.Vec3{0, 0, -2}, 1, blue)
	glass.Alpha = 0.5
	ontop := quad(mgl32.Vec3{0, 0, -2}, 1, blue)
	ontop.OnTop = true
	parallel := ahead()
	parallel.FOV, parallel.Height = 0, 4
	for _, c := range []struct {
		name   string
		mesh   scene.Mesh
		hidden bool
		want   bool
	}{
		{"in the open", quad(mgl32.Vec3{0, 0, -6}, 1, blue), true, true},
		{"behind a wall", quad(mgl32.Vec3{0, 0, -2}, 1, blue), true, false},
		{"behind a wall but always shown", quad(mgl32.Vec3{0, 0, -2}, 1, blue), false, true},
		{"on a surface", quad(at, 1, blue), true, true},
		{"behind glass", glass, true, true},
		{"behind what is drawn on top", ontop, true, true},
		{"beside a wall", quad(mgl32.Vec3{1.5, 0, -2}, 1, blue), true, true},
	} {
		label := note(at, "row 2 seat 3")
		label.Hidden = c.hidden
		l := &scene.List{Meshes: []scene.Mesh{c.mesh}, Labels: []scene.Label{label}}
		for _, samples := range []int{1, 4} {
			for name, cam := range map[string]scene.Camera{"perspective": ahead(), "parallel": parallel} {
				n, _, _ := find(picture(t, l, cam, samples), isYellow)
				if (n > 200) != c.want {
					t.Errorf("%s, %s, samples %d: plate is %d pixels, want it shown: %v", c.name, name, samples, n, c.want)
				}
			}
		}
	}
}

func TestLabelsOutsideThePictureAreLeftOut(t *testing.T) {
	l := &scene.List{Labels: []scene.Label{
		note(mgl32.Vec3{0, 0, 4}, "behind the eye"),
		note(mgl32.Vec3{9, 0, -4}, "right of it"),
		note(mgl32.Vec3{0, 0, -200}, "too far"),
		note(mgl32.Vec3{0, 0, -4}, ""),
		note(mgl32.Vec3{0, 0, -4}, strings.Repeat("too wide ", 40)),
	}}
	if n, _, _ := find(picture(t, l, ahead(), 1), isYellow); n > 0 {
		t.Errorf("%d pixels of plates that have no place", n)
	}
}

func lay(t *testing.T, labels []scene.Label, size image.Point, scale float32) []mark {
	t.Helper()
	p, err := newPlates()
	if err != nil {
		t.Fatal(err)
	}
	return p.lay(image.Rectangle{Max: size}, labels, ahead(), scale, nil)
}

// Whatever the crowd, no text covers text and all plates lie in the picture.
func TestLabelsNeverOverlap(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		var labels []scene.Label
		for i := range 60 {
			at := mgl32.Vec3{rnd.Float32()*4 - 2, rnd.Float32()*2 - 1, -2 - 4*rnd.Float32()}
			l := note(at, fmt.Sprintf("row %d seat %d", i/8, i%8))
			l.Bold = i == 7
			labels = append(labels, l)
		}
		size := image.Pt(300+rnd.IntN(600), 200+rnd.IntN(400))
		marks := lay(t, labels, size, 0.7+2*rnd.Float32())
		if len(marks) < 5 {
			t.Fatalf("only %d of %d labels laid on %v", len(marks), len(labels), size)
		}
		for i, m := range marks {
			if !m.at.In(image.Rectangle{Max: size}) {
				t.Fatalf("plate at %v, outside the picture of %v", m.at, size)
			}
			if slices.ContainsFunc(marks[:i], func(o mark) bool { return o.at.Overlaps(m.at) }) {
				t.Fatalf("plate at %v overlaps another", m.at)
			}
		}
	}
}

// Of labels at one spot the selected one stays there, then the nearer ones,
// and what is left over is the farthest.
func TestCrowdedLabelsDropTheFarthest(t *testing.T) {
	var labels []scene.Label
	for i := range 40 { // more than find a place about it
		labels = append(labels, note(mgl32.Vec3{0, 0, -2 - float32(i)}, fmt.Sprint("seat ", i)))
	}
	labels[6].Bold = true
	var got []string
	for _, m := range lay(t, labels, image.Pt(400, 300), 1) {
		got = append(got, m.label.Text)
	}
	want := []string{"seat 6"}
	for i := range len(got) {
		if i != 6 {
			want = append(want, fmt.Sprint("seat ", i))
		}
	}
	if len(got) < 6 || len(got) > 30 || !slices.Equal(got, want[:len(got)]) {
		t.Errorf("laid %q, want the selected one and then the nearest", got)
	}
}

func TestPlateGrowsWithScale(t *testing.T) {
	p, err := newPlates()
	if err != nil {
		t.Fatal(err)
	}
	l := note(mgl32.Vec3{}, "LFE1 0.41 m")
	one, two := p.plate(l, 1).Rect.Size(), p.plate(l, 2).Rect.Size()
	if d := two.Sub(one.Mul(2)); d.X < -6 || d.X > 6 || d.Y < -4 || d.Y > 4 {
		t.Errorf("plate is %v at scale 1 and %v at 2, want double", one, two)
	}
	if a, b := p.plate(l, 0), p.plate(l, 1); a != b {
		t.Error("scale 0 is not scale 1, or the plate was drawn twice")
	}
	// A thousand different labels, a picture each, do not pile up.
	for i := range 1000 {
		p.next()
		p.plate(note(mgl32.Vec3{}, fmt.Sprint(i)), 1)
	}
	if len(p.ready) > maxPlates+1 {
		t.Errorf("%d plates kept, want at most %d", len(p.ready), maxPlates+1)
	}
}
