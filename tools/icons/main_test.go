// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/png"
	"os"
	"testing"
)

// The window's own icon is drawn from the SVG: icons ../assets/icon.svg ../assets/icon.png 128.
func TestIconOfTheWindowIsTheSVG(t *testing.T) {
	kept, err := os.ReadFile("../../assets/icon.png")
	if err != nil {
		t.Fatal(err)
	}
	was, now := decode(t, kept), decode(t, draw(t, 128))
	if was.Bounds() != now.Bounds() {
		t.Fatalf("icon.png has %v, want %v", was.Bounds(), now.Bounds())
	}
	for y := range 128 {
		for x := range 128 {
			if was.At(x, y) != now.At(x, y) {
				t.Fatalf("icon.png differs from icon.svg at %d, %d: draw it again", x, y)
			}
		}
	}
}

// Lines of the icon were as wide in the smallest size as in the largest: an ear of 16
// pixels was a blob.
func TestSmallIconLooksLikeTheLargeOne(t *testing.T) {
	const small, large = 16, 512
	a, b := decode(t, draw(t, small)), decode(t, draw(t, large))
	const most = 25 // of 255, a tenth, for edges that fall otherwise onto the pixels; the blob was 220 off
	worst := 0.0
	for y := range small {
		for x := range small {
			const n = large / small
			var mean float64
			for j := range n {
				for i := range n {
					_, g, _, _ := b.At(x*n+i, y*n+j).RGBA()
					mean += float64(g) / 257 / (n * n)
				}
			}
			_, g, _, _ := a.At(x, y).RGBA()
			worst = max(worst, mean-float64(g)/257, float64(g)/257-mean)
		}
	}
	if worst > most {
		t.Errorf("a pixel of the small icon differs by %.0f of 255", worst)
	}
}

// Every picture in the icon of Windows is where its entry says, in the size it says.
func TestIconOfWindows(t *testing.T) {
	icon, err := windows(read(t))
	if err != nil {
		t.Fatal(err)
	}
	n := int(binary.LittleEndian.Uint16(icon[4:]))
	if n == 0 {
		t.Fatal("no pictures")
	}
	for i := range n {
		entry := icon[6+16*i:]
		length, at := binary.LittleEndian.Uint32(entry[8:]), binary.LittleEndian.Uint32(entry[12:])
		size := int(entry[0])
		if size == 0 {
			size = 256
		}
		if got := decode(t, icon[at:at+length]).Bounds().Dx(); got != size {
			t.Errorf("picture %d is %d pixels wide, its entry says %d", i, got, size)
		}
	}
}

func read(t *testing.T) []byte {
	t.Helper()
	svg, err := os.ReadFile("../../assets/icon.svg")
	if err != nil {
		t.Fatal(err)
	}
	return svg
}

func draw(t *testing.T, size int) []byte {
	t.Helper()
	picture, err := drawn(read(t), size)
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

func decode(t *testing.T, picture []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	return img
}
