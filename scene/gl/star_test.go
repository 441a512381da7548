// SPDX-License-Identifier: MIT

package gl

import (
	"image"
	"testing"

	"github.com/go-gl/mathgl/mgl32"

	"earline/scene"
)

// sky is a dark ceiling 3 m high, 10 by 10 m, with stars at its corners and one in its
// middle that lies so deep.
func sky(deep float32) *scene.List {
	m := scene.Mesh{Name: "stars", Alpha: 1, Unlit: true, OneSided: true, Fixed: true}
	add := func(x, z, deep float32) {
		const half = 0.003
		first := uint32(len(m.Pos) / 3)
		for _, c := range [4][2]float32{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			m.Pos = append(m.Pos, x+half*c[0], 3, z+half*c[1])
			m.Nor = append(m.Nor, 0, -1, 0)
			m.Col = append(m.Col, 1, 1, 1)
			m.Deep = append(m.Deep, deep)
		}
		m.Index = append(m.Index, first, first+1, first+2, first, first+2, first+3)
	}
	for _, c := range [4][2]float32{{-5, -5}, {5, -5}, {5, 5}, {-5, 5}} {
		add(c[0], c[1], 0)
	}
	add(0, 0, deep)
	return &scene.List{Meshes: []scene.Mesh{m}}
}

// brightest returns where a picture is brightest, and how bright.
func brightest(img *image.RGBA) (x, y, bright int) {
	for j := range img.Rect.Dy() {
		for i := range img.Rect.Dx() {
			if g := int(img.RGBAAt(i, j).G); g > bright {
				x, y, bright = i, j, g
			}
		}
	}
	return x, y, bright
}

// up looks straight up at the ceiling's middle from x.
func up(x float32) scene.Camera {
	return scene.Camera{Eye: mgl32.Vec3{x, 1.4, 0}, At: mgl32.Vec3{x, 3, 0}, Up: mgl32.Vec3{0, 0, 1}, FOV: 1.2}
}

// A star is a soft point in its place; as one walks on, a deep one comes along.
func TestDeepStarsComeAlong(t *testing.T) {
	r := open(t)
	at := func(deep, x float32) (px int) {
		l := sky(deep)
		img, err := r.Draw(Job{W: 201, H: 201, Camera: up(x), List: l, Samples: 1})
		if err != nil {
			t.Fatal(err)
		}
		px, _, bright := brightest(img)
		if bright < 120 {
			t.Fatalf("a star is %d bright", bright)
		}
		return px
	}
	if x := at(1.5, 0); x < 99 || x > 101 {
		t.Errorf("from its home a star is at %d of 201 pixels, want the middle", x)
	}
	flat, deep := at(0, 0.5)-100, at(1.6, 0.5)-100 // 1.6 m behind 1.6 m: half as far off
	if flat*flat < 30*30 || (2*deep-flat)*(2*deep-flat) > 9 {
		t.Errorf("half a metre on, a flat star is %d pixels off and a deep one %d, want half of it", flat, deep)
	}
}

// From above the ceiling is not seen, and so are its stars; bad ones are refused.
func TestStarsAreNotSeenFromAbove(t *testing.T) {
	r := open(t)
	above := scene.Camera{Eye: mgl32.Vec3{0, 6, 0}, At: mgl32.Vec3{}, Up: mgl32.Vec3{0, 0, 1}, FOV: 1.5}
	img, err := r.Draw(Job{W: 101, H: 101, Camera: above, List: sky(1)})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, bright := brightest(img); bright > 2 {
		t.Errorf("a star is seen from above, %d bright", bright)
	}
	bad := sky(1)
	bad.Meshes[0].Deep = bad.Meshes[0].Deep[:7]
	if _, err := r.Draw(Job{W: 16, H: 16, Camera: above, List: bad}); err == nil {
		t.Error("stars with too few depths are drawn")
	}
}
