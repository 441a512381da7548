// SPDX-License-Identifier: MIT

package settle

import (
	"math"
	"strconv"
	"strings"
)

// layers are the groups of loudspeakers that are settled together, from the screen to
// the ceiling, and how a line calls them.
var layers = []struct{ id, words string }{
	{"front", "Fronts"}, {"wide", "Wides"}, {"side", "Sides"}, {"rear", "Rears"}, {"height", "Heights"},
}

// layerOf returns the group of a label; a label that belongs to none is its own.
func layerOf(label string) string {
	bed, named := strings.CutPrefix(label, "M")
	az, err := strconv.Atoi(bed)
	a := math.Abs(float64(az))
	switch {
	case strings.HasPrefix(label, "U"), strings.HasPrefix(label, "T+"):
		return "height"
	case !named:
		return label
	case strings.HasSuffix(label, "SC"), err == nil && a <= 45:
		return "front"
	case err != nil:
		return label
	case a < 75:
		return "wide"
	case a < 120:
		return "side"
	}
	return "rear"
}
