// SPDX-License-Identifier: MIT

package project

import (
	"earline/geometry"
)

// Masking is which borders of the picture move from shape to shape; "" is not said.
type Masking string

// The maskings.
const (
	MaskNone      Masking = "none"
	MaskSides     Masking = "sides"
	MaskTopBottom Masking = "top and bottom"
	MaskAll       Masking = "all"
)

// MovesSides reports whether the borders at the sides move.
func (m Masking) MovesSides() bool { return m == MaskSides || m == MaskAll }

// MovesTopBottom reports whether the borders above and below move.
func (m Masking) MovesTopBottom() bool { return m == MaskTopBottom || m == MaskAll }

// MaskingBox is a box that a mask moves out of.
type MaskingBox struct {
	Side string // "left", "right", "upper", "lower"
	geometry.Box
}

// MaskingBoxes returns the boxes round the screen that its masks move out of: each
// Picture.MaskingBox wide and as deep, from the back of the screen's sheet forward, along
// the outer edges of its border. None where nothing moves or the size is not known.
func (d *Design) MaskingBoxes() []MaskingBox {
	size, m := float64(d.Picture.MaskingBox), d.Picture.Masking
	if !(size > 0) {
		return nil
	}
	sheet := d.Screen.Sheet()
	half := size / 2
	at := func(side string, y, z, halfY, halfZ float64) MaskingBox {
		c := geometry.Vec{X: sheet.Center.X - sheet.Half.X + half, Y: sheet.Center.Y + y, Z: sheet.Center.Z + z}
		return MaskingBox{side, geometry.Box{Center: c, Basis: geometry.WorldBasis(), Half: geometry.Vec{X: half, Y: halfY, Z: halfZ}}}
	}
	var out []MaskingBox
	w, h := sheet.Half.Y, sheet.Half.Z
	if m.MovesSides() {
		out = append(out, at("left", -w-half, 0, half, h), at("right", w+half, 0, half, h))
		w += size // those above and below reach over these
	}
	if m.MovesTopBottom() {
		out = append(out, at("upper", 0, h+half, w, half), at("lower", 0, -h-half, w, half))
	}
	return out
}
