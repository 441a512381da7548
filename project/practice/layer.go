// SPDX-License-Identifier: MIT

package practice

import (
	"slices"

	"earline/project"
)

// Layer is a group of loudspeakers that are held to the same heights.
type Layer string

// The layers. Flush are heights that cannot be aimed, Centre is the middle one over
// or under a screen that sound does not pass.
const (
	NoLayer Layer = ""
	Front   Layer = "front"
	Centre  Layer = "centre"
	Wide    Layer = "wide"
	Side    Layer = "side"
	Rear    Layer = "rear"
	Height  Layer = "height"
	Flush   Layer = "flush"
)

// Layers returns all layers, from the screen to the ceiling.
func Layers() []Layer { return []Layer{Front, Centre, Wide, Side, Rear, Height, Flush} }

func isLayer(l Layer) bool { return slices.Contains(Layers(), l) }

// LayerOf returns the layer of a label: Front up to 45 degrees, Wide up to 75, Side up
// to 119, Rear beyond; Height for the labels U. Labels UH, T and B have a height of
// their own each and no layer here, as have subwoofers.
func LayerOf(label string) Layer {
	layer, _, named := parse(label)
	switch {
	case layer == "U":
		return Height
	case layer != "M":
		return NoLayer
	case named <= screenNamed:
		return Front
	case named < 75:
		return Wide
	case named < 120:
		return Side
	}
	return Rear
}

// LayerIn returns the layer of a loudspeaker of d: as LayerOf, but Centre for M+000 at
// a screen that sound does not pass, and Flush for heights that cannot be aimed.
func LayerIn(d *project.Design, l project.Loudspeaker) Layer {
	layer := LayerOf(l.Label)
	switch {
	case layer == Front && l.Label == "M+000" && !d.Screen.Transparent:
		return Centre
	case layer == Height:
		if m, ok := d.Model(l.Model); ok && cannotAim(m) {
			return Flush
		}
	}
	return layer
}

// cannotAim reports whether m sends its sound square out of its wall or ceiling.
func cannotAim(m project.Model) bool { return m.Flush && m.AimRight == 0 && m.AimUp == 0 }
