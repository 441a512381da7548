// SPDX-License-Identifier: MIT

package view

import (
	"image"
	"image/color"
	"testing"
)

// While one pulled at a pane the last picture was stretched, and the room with it.
func TestTheLastPictureIsNotStretchedWhileAPaneIsResized(t *testing.T) {
	// A square of 40 pixels in the middle of the picture.
	from := image.NewRGBA(image.Rect(0, 0, 200, 100))
	for y := 30; y < 70; y++ {
		for x := 80; x < 120; x++ {
			from.Set(x, y, color.White)
		}
	}
	for _, size := range []image.Point{{200, 50}, {100, 100}, {300, 100}, {400, 200}, {57, 131}, {1, 1}} {
		got := fitted(from, size.X, size.Y)
		if got.Rect.Size() != size {
			t.Fatalf("%v has the size %v", size, got.Rect.Size())
		}
		lo, hi := size, image.Pt(-1, -1)
		for y := range size.Y {
			for x := range size.X {
				if got.RGBAAt(x, y).R > 0 {
					lo.X, lo.Y, hi.X, hi.Y = min(lo.X, x), min(lo.Y, y), max(hi.X, x), max(hi.Y, y)
				}
			}
		}
		// 40 pixels of 100 is what the camera shows of the square at any height.
		want := 40 * size.Y / 100
		for name, n := range map[string]int{"wide": hi.X - lo.X + 1, "high": hi.Y - lo.Y + 1} {
			if size.X >= want && size.Y > 1 && (n < want-1 || n > want+1) {
				t.Errorf("%v: the square is %d pixels %s, want %d", size, n, name, want)
			}
		}
		if off := lo.X + hi.X - (size.X - 1); size.Y > 1 && (off < -2 || off > 2) {
			t.Errorf("%v: the square lies %d half pixels beside the middle", size, off)
		}
	}
}
