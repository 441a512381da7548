// SPDX-License-Identifier: MIT

package gl

import (
	"image"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/scene"
)

// sheet is a lit square of 2 x half metres across, which faces +z of the picture world at
// the origin, in n x n parts.
func sheet(of scene.Material, half float32, n int) *scene.List {
	m := scene.Mesh{Name: "sheet", Alpha: 1, Fixed: true}
	for i := range n + 1 {
		for j := range n + 1 {
			m.Pos = append(m.Pos, half*(2*float32(j)/float32(n)-1), half*(2*float32(i)/float32(n)-1), 0)
			m.Nor = append(m.Nor, 0, 0, 1)
			m.Col = append(m.Col, 0.60, 0.45, 0.35)
			m.Lit = append(m.Lit, 0.5, 0.5, 0.5)
			m.Mat = append(m.Mat, of)
		}
	}
	for i := range n {
		for j := range n {
			a := uint32(i*(n+1) + j)
			b := a + uint32(n) + 1
			m.Index = append(m.Index, a, a+1, b+1, a, b+1, b)
		}
	}
	return &scene.List{Meshes: []scene.Mesh{m}}
}

// before is a camera so many metres before the sheet.
func before(far float32) scene.Camera {
	return scene.Camera{Eye: mgl32.Vec3{0.013, 0.007, far}, At: mgl32.Vec3{0.013, 0.007, 0}, Up: mgl32.Vec3{0, 1, 0}, FOV: 1}
}

// difference returns by how much a channel differs at most, and each channel in the mean.
func difference(a, b *image.RGBA) (most float64, mean [3]float64) {
	for i := range a.Pix {
		d := float64(a.Pix[i]) - float64(b.Pix[i])
		most = max(most, math.Abs(d))
		if k := i % 4; k < 3 {
			mean[k] += d / float64(len(a.Pix)/4)
		}
	}
	return most, mean
}

func drawn(t *testing.T, r *Renderer, l *scene.List, c scene.Camera, samples int) *image.RGBA {
	t.Helper()
	img, err := r.Draw(Job{W: 160, H: 120, Camera: c, List: l, Samples: samples})
	if err != nil {
		t.Fatal(err)
	}
	return img
}

var materials = []scene.Material{scene.Cloth, scene.Carpet, scene.Timber, scene.Leather, scene.Paint, scene.Metal, scene.Lacquer}

// From near, a picture at rest shows what things are made of, each otherwise; while the
// camera moves nothing does.
func TestOnlyAPictureAtRestShowsMaterials(t *testing.T) {
	r := open(t)
	moving := drawn(t, r, sheet(scene.NoMaterial, 2, 1), before(0.3), 1)
	plain := drawn(t, r, sheet(scene.NoMaterial, 2, 1), before(0.3), 4)
	var seen []*image.RGBA
	for _, k := range materials {
		if most, _ := difference(moving, drawn(t, r, sheet(k, 2, 1), before(0.3), 1)); most != 0 {
			t.Errorf("material %d shows by %g while the camera moves", k, most)
		}
		still := drawn(t, r, sheet(k, 2, 1), before(0.3), 4)
		most, mean := difference(still, plain)
		least := map[scene.Material]float64{scene.Paint: 1, scene.Metal: 1, scene.Lacquer: 0} // hints
		if want, ok := least[k]; !ok && most < 4 || most < want {
			t.Errorf("material %d shows by no more than %g", k, most)
		}
		for _, d := range mean {
			if math.Abs(d) > 4 {
				t.Errorf("material %d changes the mean colour by %g of 255", k, mean)
			}
		}
		for i, other := range seen {
			if most, _ := difference(still, other); most < 4 && k < scene.Paint {
				t.Errorf("materials %d and %d look alike", k, materials[i])
			}
		}
		seen = append(seen, still)
	}
}

// From afar a pattern is finer than a pixel: it must neither shimmer nor change the colour.
func TestFarMaterialsKeepTheirColour(t *testing.T) {
	r := open(t)
	for _, far := range []float32{15, 40, 110} {
		plain := drawn(t, r, sheet(scene.NoMaterial, 100, 1), before(far), 4)
		for _, k := range materials {
			most, mean := difference(drawn(t, r, sheet(k, 100, 1), before(far), 4), plain)
			for _, d := range mean {
				if math.Abs(d) > 1 {
					t.Errorf("material %d at %g m differs by %.2f of 255", k, far, mean)
				}
			}
			if far > 100 && most > 1 {
				t.Errorf("material %d at %g m is uneven by %g of 255", k, far, most)
			}
		}
	}
}

// A pattern is made of the place alone: however a surface is divided, it looks the same.
func TestMaterialsHaveNoSeamWhereASurfaceIsDivided(t *testing.T) {
	r := open(t)
	for _, k := range materials {
		most, _ := difference(drawn(t, r, sheet(k, 2, 1), before(0.5), 4), drawn(t, r, sheet(k, 2, 7), before(0.5), 4))
		if most > 3 {
			t.Errorf("material %d differs by %g of 255 where it is divided otherwise", k, most)
		}
	}
}

// Boards are grained along their longer side: along the grain the picture changes less than
// across it.
func TestTimberIsGrainedAlong(t *testing.T) {
	r := open(t)
	change := func(k scene.Material) (across, up float64) {
		img := drawn(t, r, sheet(k, 2, 1), before(0.4), 4)
		for y := 1; y < 120; y++ {
			for x := 1; x < 160; x++ {
				c := float64(img.RGBAAt(x, y).G)
				across += math.Abs(c - float64(img.RGBAAt(x-1, y).G))
				up += math.Abs(c - float64(img.RGBAAt(x, y-1).G))
			}
		}
		return across, up
	}
	if across, up := change(scene.Timber); across < 2*up {
		t.Errorf("upright grain changes by %.0f across and %.0f along", across, up)
	}
	level := scene.Timber.Along(geometry.Vec{Y: 1}) // the room's y is the picture's x
	if across, up := change(level); up < 2*across {
		t.Errorf("level grain changes by %.0f along and %.0f across", across, up)
	}
}

// Lacquer mirrors what is where a look off it goes, cloth nothing, and nothing mirrors in
// the dark.
func TestLacquerMirrorsTheRoom(t *testing.T) {
	r := open(t)
	around := &scene.Around{Lo: mgl32.Vec3{-3, -3, -3}, Hi: mgl32.Vec3{3, 3, 3}, Side: 4, Light: make([]float32, 6*3*4*4)}
	for face, c := range map[int]mgl32.Vec3{4: {3, 0, 0}, 0: {0, 0, 6}} { // red towards +z, blue towards +x
		for i := range 4 * 4 {
			copy(around.Light[3*(face*16+i):], c[:])
		}
	}
	of := func(k scene.Material, c scene.Camera, light float32) (red, blue float64) {
		l := sheet(k, 3, 1)
		l.Around = around
		for i := range l.Meshes[0].Lit {
			l.Meshes[0].Lit[i] = light
			l.Meshes[0].Col[i] = 0.2
		}
		c.FOV = 0.1
		p := drawn(t, r, l, c, 4).RGBAAt(80, 60)
		return float64(p.R) - float64(p.G), float64(p.B) - float64(p.G)
	}
	aslant := scene.Camera{Eye: mgl32.Vec3{-2.5, 0, 0.5}, Up: mgl32.Vec3{0, 1, 0}}
	if red, blue := of(scene.Lacquer, before(2), 5); red < 15 || blue > 5 {
		t.Errorf("straight before it lacquer mirrors %g red and %g blue, want red", red, blue)
	}
	red, blue := of(scene.Lacquer, aslant, 5)
	if red > 5 || blue < 60 {
		t.Errorf("aslant lacquer mirrors %g red and %g blue, want much blue", red, blue)
	}
	if red, blue := of(scene.Cloth, aslant, 5); red != 0 || blue != 0 {
		t.Errorf("cloth mirrors %g red and %g blue", red, blue)
	}
	if red, blue := of(scene.Lacquer, aslant, 0); red > 1 || blue > 1 {
		t.Errorf("where no light comes lacquer mirrors %g red and %g blue", red, blue)
	}
	around.Light = around.Light[:6]
	if _, err := r.Draw(Job{W: 16, H: 16, Camera: aslant, List: &scene.List{Around: around}}); err == nil {
		t.Error("a surround with too few cells is drawn")
	}
}

// What a window does: the same room moves, rests and moves again.
func TestMaterialsComeAndGoWithRest(t *testing.T) {
	r := open(t)
	got := make(chan Frame, 1)
	r.OnFrame(func(f Frame) { got <- f })
	draw := func(samples int, l *scene.List) *image.RGBA {
		r.Submit(Job{W: 64, H: 48, Camera: before(0.3), List: l, Samples: samples})
		f := <-got
		if f.Err != nil {
			t.Fatal(f.Err)
		}
		out := *f.Img
		out.Pix = append([]byte(nil), f.Img.Pix...)
		return &out
	}
	moving := draw(1, sheet(scene.Carpet, 2, 3))
	rests := draw(4, nil)
	if most, _ := difference(moving, draw(1, nil)); most != 0 {
		t.Errorf("a carpet that moves again differs by %g", most)
	}
	if most, _ := difference(rests, draw(4, nil)); most != 0 {
		t.Errorf("a carpet that rests again differs by %g", most)
	}
	if most, _ := difference(rests, moving); most < 8 {
		t.Errorf("at rest a carpet shows by %g", most)
	}
	short := sheet(scene.Carpet, 2, 1)
	short.Meshes[0].Mat = short.Meshes[0].Mat[:2]
	if _, err := r.Draw(Job{W: 16, H: 16, Camera: before(1), List: short}); err == nil {
		t.Error("a mesh with too few materials is drawn")
	}
}
