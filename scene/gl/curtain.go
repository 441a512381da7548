// SPDX-License-Identifier: MIT

package gl

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"earline/scene"
)

// Curtain divides a picture upright: left of it another list is seen, such as the room
// before.
type Curtain struct {
	List   *scene.List // must not change afterwards
	Camera scene.Camera
	At     float32 // share of the picture's width that lies left of it, 0 to 1
	// Left and Right say beside the edge what is seen there; empty for nothing.
	Left, Right string
	// Grip draws where to take hold of the edge.
	Grip bool
}

// edge returns where the curtain is in a picture so many pixels wide.
func (c *Curtain) edge(wide int) int {
	if c == nil {
		return 0
	}
	return int(math.Round(clamp(float64(c.At)) * float64(wide)))
}

// drawCurtain draws the curtain's edge over img, and the words beside it.
func (p *plates) drawCurtain(img *image.RGBA, c *Curtain, scale float32) {
	if c == nil {
		return
	}
	if !(scale > 0) {
		scale = 1
	}
	px := func(points float32) int { return max(int(math.Round(float64(points*scale))), 1) }
	wide, high := img.Rect.Dx(), img.Rect.Dy()
	x, gap := c.edge(wide), px(10)
	put := func(r image.Rectangle, c color.Color) {
		draw.Draw(img, r.Intersect(img.Rect), image.NewUniform(c), image.Point{}, draw.Src)
	}
	half := px(1)
	put(image.Rect(x-2*half, 0, x+2*half, high), color.RGBA{20, 20, 22, 255}) // seen on white too
	put(image.Rect(x-half, 0, x+half, high), color.RGBA{245, 245, 245, 255})
	if c.Grip {
		tall, across := px(22), px(4)
		put(image.Rect(x-across-half, high/2-tall-half, x+across+half, high/2+tall+half), color.RGBA{20, 20, 22, 255})
		put(image.Rect(x-across, high/2-tall, x+across, high/2+tall), color.RGBA{245, 245, 245, 255})
	}
	name := func(text string, left bool) {
		if text == "" {
			return
		}
		l := p.plate(scene.Label{Text: text, Ink: scene.RGB{R: 0.97, G: 0.97, B: 0.97}, Plate: scene.RGB{R: 0.08, G: 0.08, B: 0.09}}, 1.35*scale)
		at := image.Pt(x+gap, gap)
		if left {
			at.X = x - gap - l.Rect.Dx()
		}
		if r := l.Rect.Add(at); r.In(img.Rect) { // else its side is drawn shut
			draw.Draw(img, r, l, image.Point{}, draw.Over)
		}
	}
	name(c.Left, true)
	name(c.Right, false)
}
