// SPDX-License-Identifier: MIT

package view

import (
	"fyne.io/fyne/v2"
	"github.com/go-gl/mathgl/mgl32"

	"earline/app/words"
	"earline/scene"
	"earline/scene/gl"
)

// Curtain has another list left of it.
type Curtain struct {
	List *scene.List
	// By is how far its camera is from that of the picture, in the picture world: from a
	// seat that stands elsewhere there.
	By          mgl32.Vec3
	At          float64 // share of the width that lies left of it
	Left, Right string  // what is seen there
}

// Pixels returns how large the picture is; zeros before it is on show.
func (v *Viewport) Pixels() (w, h int) { return v.pw, v.ph }

// SetCurtain hangs a curtain with the next picture; nil takes it away.
func (v *Viewport) SetCurtain(c *Curtain) {
	if c != nil {
		said := *c
		said.List, said.Left, said.Right = spoken(c.List), words.Of(c.Left), words.Of(c.Right)
		c = &said
	}
	v.curtain = c
}

// MoveCurtain brings the curtain to that share of the width.
func (v *Viewport) MoveCurtain(at float64) {
	if v.curtain == nil {
		return
	}
	const least = 0.02 // so that it can still be grasped
	at = clamp(at, least, 1-least)
	moved := *v.curtain
	moved.At = at
	v.curtain = &moved
	if v.OnCurtain != nil {
		v.OnCurtain(at)
	}
	v.submit(1)
	v.Settle()
}

// curtainAt returns where the curtain is.
func (v *Viewport) curtainAt() float64 {
	if v.curtain == nil {
		return 0
	}
	return v.curtain.At
}

// onCurtain reports whether p is on the curtain's edge.
func (v *Viewport) onCurtain(p fyne.Position) bool {
	w := v.Size().Width
	if v.curtain == nil || w <= 0 {
		return false
	}
	off := p.X - float32(v.curtain.At)*w
	return max(off, -off) <= grip
}

// job returns the curtain as the renderer takes it, for a camera.
func (c *Curtain) job(from scene.Camera) *gl.Curtain {
	if c == nil {
		return nil
	}
	from.Eye, from.At = from.Eye.Add(c.By), from.At.Add(c.By)
	return &gl.Curtain{List: c.List, Camera: from, At: float32(c.At), Left: c.Left, Right: c.Right, Grip: true}
}
