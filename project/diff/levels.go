// SPDX-License-Identifier: MIT

package diff

import (
	"reflect"

	"earline/project"
)

// OnlyLevels reports whether two designs differ in nothing but the levels of their light
// groups in the scenes; false when was is nil. What was measured on site alters nothing
// of a design.
func OnlyLevels(was, is *project.Design) bool {
	if was == nil || is == nil || len(was.LightGroups) != len(is.LightGroups) {
		return false
	}
	bare := func(d *project.Design) project.Design {
		out := *d
		out.AsBuilt = project.AsBuilt{}
		out.LightGroups = make([]project.LightGroup, len(d.LightGroups))
		for i, g := range d.LightGroups {
			g.Scenes = project.SceneLevels{}
			out.LightGroups[i] = g
		}
		return out
	}
	return was == is || reflect.DeepEqual(bare(was), bare(is))
}
