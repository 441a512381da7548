// SPDX-License-Identifier: MIT

package gl

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl32"

	"earline/geometry"
	"earline/geometry/unit"
	"earline/scene"
)

// picture draws l from c on 200 x 120 pixels at the given samples.
func picture(t *testing.T, l *scene.List, c scene.Camera, samples int) *image.RGBA {
	t.Helper()
	img, err := open(t).Draw(Job{W: 200, H: 120, Camera: c, List: l, Samples: samples})
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// find returns how many pixels pass and where their middle is.
func find(img *image.RGBA, pass func(c color.RGBA) bool) (n int, x, y float64) {
	for j := range img.Rect.Dy() {
		for i := range img.Rect.Dx() {
			if pass(img.RGBAAt(i, j)) {
				n, x, y = n+1, x+float64(i), y+float64(j)
			}
		}
	}
	return n, x / float64(n), y / float64(n)
}

func isRed(c color.RGBA) bool   { return c.R > 128 && c.G < 100 && c.B < 100 }
func isGreen(c color.RGBA) bool { return c.G > 128 && c.R < 100 && c.B < 100 }

// near fails unless got is within 4 steps of want in every channel: room for
// rounding, none for a wrong colour.
func near(t *testing.T, what string, got color.RGBA, r, g, b uint8) {
	t.Helper()
	off := func(a, b uint8) bool { return math.Abs(float64(a)-float64(b)) > 4 }
	if off(got.R, r) || off(got.G, g) || off(got.B, b) {
		t.Errorf("%s is %v, want about {%d %d %d}", what, got, r, g, b)
	}
}

func TestPictureIsNeitherMirroredNorUpsideDown(t *testing.T) {
	for _, samples := range []int{1, 4} {
		l := &scene.List{Meshes: []scene.Mesh{
			quad(mgl32.Vec3{-1, 0, -4}, 0.3, red),
			quad(mgl32.Vec3{0, 0.8, -4}, 0.3, green),
		}}
		img := picture(t, l, ahead(), samples)
		if n, x, y := find(img, isRed); n < 50 || x > 80 || math.Abs(y-59.5) > 2 {
			t.Errorf("samples %d: left mesh is %d pixels about (%.0f, %.0f), want left of the middle", samples, n, x, y)
		}
		if n, x, y := find(img, isGreen); n < 50 || y > 50 || math.Abs(x-99.5) > 2 {
			t.Errorf("samples %d: upper mesh is %d pixels about (%.0f, %.0f), want above the middle", samples, n, x, y)
		}
	}
}

// Rec. ITU-R BS.2051 puts M+030 to the left of one who faces the screen and
// U+030 above it.
func TestFrontLeftLoudspeakerIsOnTheLeft(t *testing.T) {
	ear := geometry.V(4, 2, 1.1)
	place := func(az, el float64) mgl32.Vec3 {
		return scene.World(ear.Add(geometry.Direction(az*unit.Degree, el*unit.Degree).Mul(3)))
	}
	cam := scene.Camera{Eye: scene.World(ear), At: scene.World(ear.Add(geometry.V(-1, 0, 0))), Up: mgl32.Vec3{0, 1, 0}, FOV: 1.4}
	l := &scene.List{Meshes: []scene.Mesh{quad(place(30, 0), 0.2, red), quad(place(30, 30), 0.2, green)}}
	img := picture(t, l, cam, 1)
	n, x, y := find(img, isRed)
	if n < 20 || x > 90 {
		t.Errorf("M+030 is %d pixels about x = %.0f of 200, want the left half", n, x)
	}
	if m, _, up := find(img, isGreen); m < 20 || up > y-10 {
		t.Errorf("U+030 is %d pixels about y = %.0f, want above M+030's %.0f", m, up, y)
	}
}

func TestParallelProjection(t *testing.T) {
	l := &scene.List{Meshes: []scene.Mesh{quad(mgl32.Vec3{-1, 0.5, -4}, 0.5, red)}}
	cam := ahead()
	cam.FOV, cam.Height = 0, 4
	// 30 pixels a metre: the square is 30 x 30 about (70, 45).
	n, x, y := find(picture(t, l, cam, 1), isRed)
	if math.Abs(float64(n)-900) > 62 || math.Abs(x-69.5) > 1 || math.Abs(y-44.5) > 1 {
		t.Errorf("square is %d pixels about (%.1f, %.1f), want 900 about (69.5, 44.5)", n, x, y)
	}
}

func TestOpaqueEverywhere(t *testing.T) {
	for _, samples := range []int{1, 4} {
		img, err := open(t).Draw(Job{W: 320, H: 200, Camera: corner(), List: cinema(), Samples: samples})
		if err != nil {
			t.Fatal(err)
		}
		if n, x, y := find(img, func(c color.RGBA) bool { return c.A != 255 }); n > 0 {
			t.Errorf("samples %d: %d pixels about (%.0f, %.0f) let through what lies behind the view", samples, n, x, y)
		}
	}
}

func TestBackdropRunsFromSkyToGround(t *testing.T) {
	img := picture(t, &scene.List{Sky: blue, Ground: green}, ahead(), 1)
	near(t, "top", img.RGBAAt(100, 0), 0, 1, 254)
	near(t, "middle", img.RGBAAt(100, 60), 0, 128, 127)
	near(t, "foot", img.RGBAAt(100, 119), 0, 254, 1)
}

// The glass is nearer than one opaque mesh and farther than another, which
// comes later in the list.
func TestTranslucentBlendsAndHidesNothing(t *testing.T) {
	glass := quad(mgl32.Vec3{0, 0, -3}, 0.8, blue)
	glass.Alpha = 0.5
	l := &scene.List{Meshes: []scene.Mesh{
		glass,
		quad(mgl32.Vec3{0, 0, -5}, 5, red),
		quad(mgl32.Vec3{0, 0, -2}, 0.1, green),
	}}
	for _, samples := range []int{1, 4} {
		img := picture(t, l, ahead(), samples)
		near(t, "red behind the glass", img.RGBAAt(80, 60), 128, 0, 128)
		near(t, "red beside the glass", img.RGBAAt(20, 60), 255, 0, 0)
		near(t, "green before the glass", img.RGBAAt(100, 60), 0, 255, 0)
	}
}

// Two panes, listed in either order and neither at the origin, must blend as
// seen: the nearer one counts for half, the farther for a quarter.
func TestTranslucentIsSortedFarToNear(t *testing.T) {
	a, b := quad(mgl32.Vec3{0, 0, -3}, 2, green), quad(mgl32.Vec3{0, 0, -6}, 4, red)
	a.Alpha, b.Alpha = 0.5, 0.5
	back := ahead()
	back.Eye, back.At = mgl32.Vec3{0, 0, -9}, mgl32.Vec3{}
	for _, order := range [][]scene.Mesh{{a, b}, {b, a}} {
		l := &scene.List{Meshes: order}
		near(t, "green over red", picture(t, l, ahead(), 1).RGBAAt(100, 60), 64, 128, 0)
		near(t, "red over green", picture(t, l, back, 1).RGBAAt(100, 60), 128, 64, 0)
	}
}

// Of a thing that fades one sees the front, not what lies behind it in the same thing;
// what stands behind it shines through.
func TestAThingFadesAsAWhole(t *testing.T) {
	m, back := quad(mgl32.Vec3{0, 0, -3}, 2, green), quad(mgl32.Vec3{0, 0, -4}, 3, red)
	n := uint32(len(m.Pos) / 3)
	for _, i := range back.Index {
		m.Index = append(m.Index, i+n) // listed last: without depth it would lie over the front
	}
	m.Pos, m.Nor, m.Col = append(m.Pos, back.Pos...), append(m.Nor, back.Nor...), append(m.Col, back.Col...)
	m.Alpha, m.Whole = 0.5, true
	l := &scene.List{Meshes: []scene.Mesh{m, quad(mgl32.Vec3{0, 0, -6}, 5, blue)}}
	for _, samples := range []int{1, 4} {
		near(t, "the front over blue", picture(t, l, ahead(), samples).RGBAAt(100, 60), 0, 128, 128)
	}
	m.Whole = false
	l = &scene.List{Meshes: []scene.Mesh{m, quad(mgl32.Vec3{0, 0, -6}, 5, blue)}}
	near(t, "both over blue", picture(t, l, ahead(), 1).RGBAAt(100, 60), 128, 64, 64)
}

func TestInsideMeshVanishesFromItsBack(t *testing.T) {
	m := quad(mgl32.Vec3{0, 0, -3}, 1, red)
	away := turned(m)
	for _, c := range []struct {
		name   string
		mesh   scene.Mesh
		inside bool
		want   bool
	}{
		{"two-sided from the front", m, false, true},
		{"two-sided from the back", away, false, true},
		{"inside from the front", m, true, true},
		{"inside from the back", away, true, false},
	} {
		c.mesh.OneSided = c.inside
		img := picture(t, &scene.List{Meshes: []scene.Mesh{c.mesh}}, ahead(), 1)
		if got := isRed(img.RGBAAt(100, 60)); got != c.want {
			t.Errorf("%s: drawn %v, want %v", c.name, got, c.want)
		}
	}
}

func TestOnTopShowsThrough(t *testing.T) {
	wall := quad(mgl32.Vec3{0, 0, -2}, 5, blue)
	far := quad(mgl32.Vec3{-1, 0, -4}, 0.5, red)
	far.OnTop = true
	// It still hides itself properly: its nearer part is listed first.
	ball := join(quad(mgl32.Vec3{1, 0, -4}, 0.3, green), quad(mgl32.Vec3{1, 0, -5}, 0.6, red))
	ball.Unlit, ball.OnTop = true, true
	ray := scene.Lines{Pos: []float32{-9, -1.5, -8, 9, -1.5, -8}, Col: []float32{0, 1, 0, 0, 1, 0}, OnTop: true}
	under := scene.Lines{Pos: []float32{-9, 1.5, -8, 9, 1.5, -8}, Col: []float32{1, 0, 0, 1, 0, 0}}
	l := &scene.List{Meshes: []scene.Mesh{far, ball, wall}, Lines: []scene.Lines{ray, under}}
	img := picture(t, l, ahead(), 1)
	near(t, "mesh on top", img.RGBAAt(72, 60), 255, 0, 0)
	near(t, "near part of a mesh on top", img.RGBAAt(127, 60), 0, 255, 0)
	lower := image.NewRGBA(image.Rect(0, 0, 200, 20))
	draw.Draw(lower, lower.Rect, img, image.Pt(0, 70), draw.Src)
	if n, _, _ := find(lower, isGreen); n < 190 || n > 410 {
		t.Errorf("line on top covers %d pixels, want one or two in each of 200 columns", n)
	}
	for y := range 55 {
		if isRed(img.RGBAAt(100, y)) {
			t.Errorf("a line that is not on top shows through at y = %d", y)
		}
	}
}

// From straight above or from the front, a ball must look round and lit: its
// top brighter than its foot, no face of it dark for being turned.
func TestLightComesFromAbove(t *testing.T) {
	l := &scene.List{Meshes: []scene.Mesh{ball(mgl32.Vec3{0, 0, -4}, mgl32.Vec3{1, 1, 1}, scene.RGB{R: 0.5, G: 0.5, B: 0.5}, 24)}}
	img := picture(t, l, ahead(), 1)
	top, foot := img.RGBAAt(100, 40), img.RGBAAt(100, 80)
	if top.R < foot.R+20 || foot.R < 40 || top.R > 200 {
		t.Errorf("grey ball: top %v, foot %v; want the top clearly brighter, neither black nor white", top, foot)
	}
	// The same seen as an open shell from within: both sides are lit.
	inside := l.Meshes[0]
	inside.OneSided = false
	cam := ahead()
	cam.Eye, cam.At = mgl32.Vec3{0, 0, -4}, mgl32.Vec3{0, 0, -5}
	img = picture(t, &scene.List{Meshes: []scene.Mesh{inside}}, cam, 1)
	if c := img.RGBAAt(100, 60); c.R < 40 {
		t.Errorf("back of a two-sided face is %v, want it lit", c)
	}
}

func TestBadInputIsAnErrorAndDoesNoHarm(t *testing.T) {
	r := open(t)
	good := quad(mgl32.Vec3{0, 0, -3}, 1, red)
	edit := func(f func(m *scene.Mesh)) *scene.List {
		m := good
		f(&m)
		m.Name = "chair 3"
		return &scene.List{Meshes: []scene.Mesh{good, m}}
	}
	job := Job{W: 20, H: 20, Camera: ahead()}
	for _, c := range []struct {
		name string
		edit func(j *Job)
		want string
	}{
		{"index past the end", func(j *Job) {
			j.List = edit(func(m *scene.Mesh) { m.Index = []uint32{0, 1, 4} })
		}, "chair 3"},
		{"half a triangle", func(j *Job) { j.List = edit(func(m *scene.Mesh) { m.Index = []uint32{0, 1} }) }, "chair 3"},
		{"no colours", func(j *Job) { j.List = edit(func(m *scene.Mesh) { m.Col = nil }) }, "chair 3"},
		{"no normals", func(j *Job) { j.List = edit(func(m *scene.Mesh) { m.Unlit, m.Nor = false, nil }) }, "chair 3"},
		{"half a line", func(j *Job) {
			j.List = &scene.List{Lines: []scene.Lines{{Name: "rays", Pos: make([]float32, 3), Col: make([]float32, 3)}}}
		}, "rays"},
		{"no size", func(j *Job) { j.W = 0 }, "0 x 20"},
		{"vast", func(j *Job) { j.H = 1 << 30 }, "1073741824"},
		{"camera in its own target", func(j *Job) { j.Camera.At = j.Camera.Eye }, "camera"},
		{"camera without a scale", func(j *Job) { j.Camera.FOV, j.Camera.Height = 0, 0 }, "camera"},
	} {
		j := job
		j.List = &scene.List{Meshes: []scene.Mesh{good}}
		c.edit(&j)
		img, err := r.Draw(j)
		if err == nil || img != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: image %v, error %v; want an error with %q", c.name, img != nil, err, c.want)
		}
	}
	job.List = edit(func(m *scene.Mesh) { *m = scene.Mesh{} }) // empty is not wrong
	if img, err := r.Draw(job); err != nil || !isRed(img.RGBAAt(10, 10)) {
		t.Errorf("a good job after bad ones: %v", err)
	}
}

// A dashed line is one segment: in pixels it has its dashes, its gaps and as much of
// each as is asked for, and a whole line among the same lines has none.
func TestADashedLineIsBroken(t *testing.T) {
	const dashes, share = 5, 0.6
	l := &scene.List{Lines: []scene.Lines{{
		Pos:  []float32{-1, 0.02, -4, 1, 0.02, -4, -1, -0.5, -4, 1, -0.5, -4},
		Col:  []float32{1, 0, 0, 1, 0, 0, 0, 1, 0, 0, 1, 0},
		Dash: []float32{0, share, dashes, share, 0, 1, 0, 1},
	}}}
	for _, onTop := range []bool{false, true} {
		l.Lines[0].OnTop = onTop
		img := picture(t, l, ahead(), 1)
		runs, drawn, last := 0, 0, false
		for x := range 200 {
			on := false
			for y := range 120 {
				on = on || isRed(img.RGBAAt(x, y))
			}
			if on {
				drawn++
				if !last {
					runs++
				}
			}
			last = on
		}
		whole, _, _ := find(img, isGreen)
		if runs != dashes || whole < 20 || math.Abs(float64(drawn)-share*float64(whole)) > dashes {
			t.Errorf("on top %v: %d dashes of %d pixels in all, want %d of about %.0f; the whole line has %d",
				onTop, runs, drawn, dashes, share*float64(whole), whole)
		}
	}
	l.Lines[0].Dash = l.Lines[0].Dash[:5]
	if _, err := open(t).Draw(Job{W: 20, H: 20, Camera: ahead(), List: l}); err == nil {
		t.Error("dashes that do not fit the lines are drawn")
	}
}
