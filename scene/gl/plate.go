// SPDX-License-Identifier: MIT

package gl

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"earline/scene"
)

// Sizes of a label in points; Job.Scale turns them into pixels.
const (
	textSize = 11
	padX     = 4.5
	padY     = 2
	radius   = 4
	rim      = 1.25 // of a selected label, in its ink
)

const (
	plateAlpha = 0.86
	maxRunes   = 60  // a longer text is cut
	maxPlates  = 512 // kept ready
)

// plates keeps labels ready drawn, since a picture repeats most of those before
// it. One goroutine at a time.
type plates struct {
	regular, bold *opentype.Font
	faces         map[faceKey]font.Face
	ready         map[plateKey]*plate
	picture       uint64

	keys     *image.RGBA // the legend last drawn, of what and at what scale
	keyed    []scene.Key
	keyScale float32
	corner   image.Rectangle // where it lies in the picture, free of labels
}

type faceKey struct {
	bold  bool
	scale float32
}

type plateKey struct {
	text       string
	ink, plate scene.RGB
	face       faceKey
}

type plate struct {
	img  *image.RGBA
	used uint64 // the picture that last wanted it
}

func newPlates() (*plates, error) {
	regular, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("gl: font: %w", err)
	}
	bold, err := opentype.Parse(gobold.TTF)
	if err != nil {
		return nil, fmt.Errorf("gl: bold font: %w", err)
	}
	return &plates{regular: regular, bold: bold,
		faces: make(map[faceKey]font.Face), ready: make(map[plateKey]*plate)}, nil
}

// next begins another picture and forgets what the last did not use, if much
// is kept.
func (p *plates) next() {
	if len(p.ready) > maxPlates {
		for k, v := range p.ready {
			if v.used != p.picture {
				delete(p.ready, k)
			}
		}
	}
	if len(p.faces) > 16 { // a window dragged between screens, many times
		clear(p.faces)
	}
	p.picture++
}

// plate returns l drawn at scale pixels a point (0 is 1), not to be changed.
func (p *plates) plate(l scene.Label, scale float32) *image.RGBA {
	switch {
	case !(scale > 0):
		scale = 1
	case scale > 8:
		scale = 8
	}
	k := plateKey{cut(l.Text), l.Ink, l.Plate, faceKey{l.Bold, scale}}
	v := p.ready[k]
	if v == nil {
		v = &plate{img: render(k, p.face(k.face))}
		p.ready[k] = v
	}
	v.used = p.picture
	return v.img
}

func cut(s string) string {
	if utf8.RuneCountInString(s) <= maxRunes {
		return s
	}
	return string([]rune(s)[:maxRunes-1]) + "…"
}

func (p *plates) face(k faceKey) font.Face {
	if f := p.faces[k]; f != nil {
		return f
	}
	ttf := p.regular
	if k.bold {
		ttf = p.bold
	}
	f, err := opentype.NewFace(ttf, &opentype.FaceOptions{
		Size: textSize * float64(k.scale), DPI: 72, Hinting: font.HintingFull})
	if err != nil { // none is known for a parsed font; guard makes it the frame's error
		panic(err)
	}
	p.faces[k] = f
	return f
}

// render draws a plate with round corners and its text.
func render(k plateKey, face font.Face) *image.RGBA {
	s := float64(k.face.scale)
	m := face.Metrics()
	text := font.MeasureString(face, k.text).Ceil()
	padX, padY := int(math.Round(padX*s)), int(math.Round(padY*s))
	w, h := text+2*padX, m.Ascent.Ceil()+m.Descent.Ceil()+2*padY
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	alpha := plateAlpha
	if k.face.bold {
		alpha = 1
	}
	for y := range h {
		for x := range w {
			d := roundBox(float64(x)+0.5-float64(w)/2, float64(y)+0.5-float64(h)/2,
				float64(w)/2, float64(h)/2, radius*s)
			c := k.plate
			if k.face.bold {
				c = blend(k.plate, k.ink, float32(clamp(d+rim*s+0.5)))
			}
			img.Set(x, y, paint(c, alpha*clamp(0.5-d)))
		}
	}
	d := font.Drawer{Dst: img, Src: image.NewUniform(paint(k.ink, 1)), Face: face,
		Dot: fixed.P(padX, padY+m.Ascent.Ceil())}
	d.DrawString(k.text)
	return img
}

// roundBox is the distance of (x, y) from a box about the origin with half
// sizes w and h and corners of radius r; negative inside.
func roundBox(x, y, w, h, r float64) float64 {
	r = min(r, w, h)
	x, y = math.Abs(x)-w+r, math.Abs(y)-h+r
	return math.Hypot(max(x, 0), max(y, 0)) + min(max(x, y), 0) - r
}

func clamp(x float64) float64 { return min(max(x, 0), 1) }

func blend(a, b scene.RGB, t float32) scene.RGB {
	return scene.RGB{R: a.R + (b.R-a.R)*t, G: a.G + (b.G-a.G)*t, B: a.B + (b.B-a.B)*t}
}

// paint is c at opacity alpha as the image package has it.
func paint(c scene.RGB, alpha float64) color.RGBA {
	q := func(v float32) uint8 { return uint8(math.Round(255 * alpha * clamp(float64(v)))) }
	return color.RGBA{q(c.R), q(c.G), q(c.B), uint8(math.Round(255 * alpha))}
}
