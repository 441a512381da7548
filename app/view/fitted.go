// SPDX-License-Identifier: MIT

package view

import (
	"encoding/binary"
	"image"
)

// fitted returns a picture of w by h pixels made of one of another size, until the right
// one is drawn: as the camera will show it, which keeps the height of what it shows and
// the middle of it. At the sides the edge is repeated. Stretched, a room would swim while
// one pulls at a pane.
func fitted(from *image.RGBA, w, h int) *image.RGBA {
	size := from.Rect.Size()
	if size.X < 1 || size.Y < 1 || w < 1 || h < 1 {
		return from
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	columns := make([]int, w) // of from, as bytes into its line
	for x := range columns {
		at := ((2*x+1-w)*size.Y/h + size.X) / 2
		columns[x] = 4 * min(max(at, 0), size.X-1)
	}
	for y := range h {
		line := from.Pix[(2*y+1)*size.Y/(2*h)*from.Stride:]
		to := out.Pix[y*out.Stride:][:4*w]
		for x, at := range columns {
			binary.NativeEndian.PutUint32(to[4*x:], binary.NativeEndian.Uint32(line[at:]))
		}
	}
	return out
}
