// SPDX-License-Identifier: MIT

package tour

import (
	"earline/project"
	"earline/project/light"
	"earline/scene/bake"
)

// Light is on its way from one scene to another.
type Light struct {
	From, To project.Scene
	Share    float64 // of the way, from 0 to 1
}

// Dimmed returns how that light sets the layers of a model's design.
func (l Light) Dimmed(m *light.Model) bake.Dimmed {
	to := bake.In(m, l.To)
	if l.Share >= 1 || l.From == l.To {
		return to
	}
	return bake.In(m, l.From).Towards(to, l.Share)
}
