// SPDX-License-Identifier: MIT

package settle

import "earline/project/practice"

// layerWords are how a line calls the loudspeakers of a layer.
var layerWords = map[string]string{
	string(practice.Front): "Fronts", string(practice.Wide): "Wides", string(practice.Side): "Sides",
	string(practice.Rear): "Rears", string(practice.Height): "Heights",
}

// layerOf returns the layer of a label, whose loudspeakers are settled together; a label
// that belongs to none is its own.
func layerOf(label string) string {
	if l := practice.LayerOf(label); l != practice.NoLayer {
		return string(l)
	}
	return label
}
