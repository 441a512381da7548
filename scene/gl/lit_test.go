// SPDX-License-Identifier: MIT

package gl

import (
	"bytes"
	"math"
	"testing"

	"earline/scene"
)

// A mesh that brings its light is as bright as the curve says, whatever way it faces, and
// other light on the same mesh is another picture.
func TestAMeshIsSeenInItsOwnLight(t *testing.T) {
	r := open(t)
	list := func(light, colour float32) *scene.List {
		m := scene.Mesh{Name: "wall", Alpha: 1, Fixed: true, Index: []uint32{0, 1, 2},
			Pos: []float32{-9, -9, 0, 9, -9, 0, 0, 18, 0}, Nor: []float32{0, -1, 0, 0, -1, 0, 0, -1, 0}}
		for range 9 {
			m.Col, m.Lit = append(m.Col, colour), append(m.Lit, light)
		}
		return &scene.List{Meshes: []scene.Mesh{m}}
	}
	cam := scene.Camera{Eye: [3]float32{0, 0, 5}, Up: [3]float32{0, 1, 0}, FOV: 0.5}
	for _, c := range []struct{ light, colour float64 }{{1, 1}, {0.2, 0.8}, {0.02, 0.5}, {0.002, 0.5}, {20, 0.5}, {0, 1}} {
		img, err := r.Draw(Job{W: 16, H: 16, Camera: cam, List: list(float32(c.light), float32(c.colour))})
		if err != nil {
			t.Fatal(err)
		}
		throws := c.colour / 12.92 // IEC 61966-2-1, as it is written there
		if c.colour > 0.04045 {
			throws = math.Pow((c.colour+0.055)/1.055, 2.4)
		}
		x := throws * c.light / 0.6
		want := min(255*math.Sqrt(x*(1+x/25)/(1+x)), 255)
		if got := img.RGBAAt(8, 8); math.Abs(float64(got.R)-want) > 2 || got.R != got.G || got.G != got.B {
			t.Errorf("light %g on %g: %v, want %.0f", c.light, c.colour, got, want)
		}
	}
	short := list(1, 1)
	short.Meshes[0].Lit = short.Meshes[0].Lit[:3]
	if _, err := r.Draw(Job{W: 16, H: 16, Camera: cam, List: short}); err == nil {
		t.Error("a mesh with too little light is drawn")
	}
}

// Dimming changes nothing but the light: a picture that was kept of fixed things must not
// stay on show.
func TestDimmedLightIsSeenAtOnce(t *testing.T) {
	r := open(t)
	got := make(chan Frame, 1)
	r.OnFrame(func(f Frame) { got <- f })
	m := scene.Mesh{Name: "wall", Alpha: 1, Fixed: true, Index: []uint32{0, 1, 2}, Pos: []float32{-9, -9, 0, 9, -9, 0, 0, 18, 0}, Nor: make([]float32, 9), Col: []float32{1, 1, 1, 1, 1, 1, 1, 1, 1}}
	seen := map[uint8]bool{}
	for _, light := range []float32{1, 1, 1, 0.1} {
		lit := m
		for range 9 {
			lit.Lit = append(lit.Lit, light)
		}
		r.Submit(Job{W: 16, H: 16, Camera: scene.Camera{Eye: [3]float32{0, 0, 5}, Up: [3]float32{0, 1, 0}, FOV: 0.5}, List: &scene.List{Meshes: []scene.Mesh{lit}}})
		f := <-got
		if f.Err != nil {
			t.Fatal(f.Err)
		}
		seen[f.Img.RGBAAt(8, 8).R] = true
	}
	if len(seen) != 2 {
		t.Errorf("bright and dim look like %v", seen)
	}
}

// A dimmer moves what is drawn only in its light: the things stay, and the picture is the
// one that would be drawn from nothing.
func TestADimmerGivesTheThingsOtherLight(t *testing.T) {
	wall := func(x float32) scene.Mesh {
		return scene.Mesh{Name: "wall", Alpha: 1, Fixed: true, Index: []uint32{0, 1, 2}, Pos: []float32{x, -9, 0, x + 5, -9, 0, x, 18, 0}, Nor: make([]float32, 9), Col: []float32{1, 1, 1, 1, 1, 1, 1, 1, 1}}
	}
	meshes := []scene.Mesh{wall(-4), wall(0), {Name: "lamp", Alpha: 1, Fixed: true, Unlit: true, Shines: 1, Index: []uint32{0, 1, 2}, Pos: []float32{-1, -1, 1, 1, -1, 1, 0, 1, 1}}}
	list := func(light ...float32) *scene.List {
		l := &scene.List{}
		for i, m := range meshes {
			if i < 2 {
				for range m.Pos {
					m.Lit = append(m.Lit, light[i])
				}
			} else {
				for range m.Pos {
					m.Col = append(m.Col, light[0]) // a lamp is as bright as its level
				}
			}
			l.Meshes = append(l.Meshes, m)
		}
		return l
	}
	inPainter(t, func(p *painter) error {
		j := Job{W: 32, H: 16, Camera: scene.Camera{Eye: [3]float32{0, 0, 5}, Up: [3]float32{0, 1, 0}, FOV: 1}}
		var things []*thing
		for i, l := range []*scene.List{list(1, 0.5), list(0.1, 0.5), list(0.1, 0.5), list(0.1, 0.5), list(0.3, 0.9)} {
			if err := p.show(l); err != nil {
				return err
			}
			if things == nil {
				things = p.stage.fixed.things
			}
			got, want := blank(nil, j.W, j.H), blank(nil, j.W, j.H)
			if err := p.draw(p.stage, nil, j, got); err != nil {
				return err
			}
			afresh := j
			afresh.List = l
			if err := p.drawOnce(afresh, want); err != nil {
				return err
			}
			if !bytes.Equal(got.Pix, want.Pix) {
				t.Errorf("step %d is not as drawn afresh", i)
			}
			if &p.stage.fixed.things[0] != &things[0] {
				t.Errorf("step %d has new things", i)
			}
		}
		return nil
	})
}
